import type { Decision } from '../decide.ts';
import type { Member } from '../matches/roster.ts';
import { SIDE_WORDS, stem } from '../names.ts';
import type { CandidateInput } from '../scores/around.ts';
import type { Token } from '../tokens.ts';
import { quantitiesIn } from '../values.ts';
import { ownWords } from './said.ts';
import type { Scoring } from './scoring.ts';

/**
 * The present station outranks a better match elsewhere, unless the words name the other
 * place: somebody who stands at the engine and says "cap secure" means the cap before them.
 */
export function hereFirst(s: Scoring, decisions: readonly Decision[]): Decision[] {
  const here = s.scene.station;
  if (here === null) return [...decisions];
  const taken = new Set(decisions.map((d) => d.index));
  return decisions.map((d) => {
    const input = s.inputs.candidates[d.index];
    const member = input?.member ?? null;
    if (d.kind !== 'result' || input === undefined || member === null || member.check === null)
      return d;
    if (member.station.id === here || isSpokenOf(input) || namesStation(s, member.station.id))
      return d;
    const own = ownWords(input);
    // A whole name is the other one's own, whatever is called a little like it here; but "hub" alone,
    // at the tail rotor, is the hub that is there, and not the main rotor's that is called so as well.
    const whole = (input.features[0] ?? 0) >= WHOLE;
    const noun = own.length === 1 ? stem(s.words.tokens[own[0] ?? 0]?.word ?? '') : '';
    if (own.length === 0 || (whole && (noun === '' || SIDE_WORDS.has(noun)))) return d;
    const same = s.inputs.candidates.flatMap((c, index) =>
      c.member !== null &&
      c.member.check !== null &&
      c.member.station.id === here &&
      !taken.has(index) &&
      own.every((t) => shareAt(c, t) > 0) &&
      (!whole || endsIn(c.member, noun))
        ? [index]
        : [],
    );
    // Two that are called so here: the scores know better than a guess (R5).
    return same.length === 1 ? { ...d, index: same[0] ?? d.index } : d;
  });
}

/**
 * "The exhaust is cracked", said at the switches: a fault is at what the words name, and not at the
 * next thing here that nobody named. Which of several it is, or whether it is that one, is asked (R5);
 * the fault itself is never lost (R4).
 */
export function namedFirst(s: Scoring, decisions: readonly Decision[]): Decision[] {
  const named = s.inputs.candidates.flatMap((c, index) =>
    c.member !== null && c.member.check !== null && isNamed(c) ? [index] : [],
  );
  if (named.length === 0 || named.length > MOST_NAMED) return [...decisions];
  const asked = new Set(s.scene.question?.options.map((o) => o.candidate?.check));
  const lately = new Set(s.scene.talk.turns.slice(-TURNS_BACK).flatMap((t) => Object.keys(t.said)));
  const isFaultAt = (d: Decision, input: CandidateInput | undefined): boolean =>
    d.kind === 'result' && d.finding !== 'no' && input !== undefined && isNamed(input);
  const byName = decisions.some((d) => {
    const input = s.inputs.candidates[d.index];
    return isFaultAt(d, input) && input !== undefined && ownWords(input).length > 0;
  });
  // "Disc has a groove": the pads, which are called a little like it and not named, are not asked about beside it.
  const heard = decisions.filter((d) => {
    const input = s.inputs.candidates[d.index];
    const key = input?.member?.check?.id ?? '';
    const nameless =
      isFaultAt(d, input) &&
      input !== undefined &&
      ownWords(input).length === 0 &&
      (s.scores.candidates[d.index]?.finding ?? 1) < FAINT;
    return !(byName && nameless && d.finding === 'asked') || asked.has(key) || lately.has(key);
  });
  const strays = heard.filter((d) => {
    const input = s.inputs.candidates[d.index];
    const key = input?.member?.check?.id;
    if (d.kind !== 'result' || d.finding === 'no' || input === undefined || key === undefined)
      return false;
    const meant = (input.features[0] ?? 0) > 0 || (input.features[MEANING] ?? 0) > 0;
    return !meant && !isSpokenOf(input) && !asked.has(key) && !lately.has(key);
  });
  const [stray] = strays;
  if (stray === undefined) return heard;
  // A name may have been misheard, so that the place where the scores saw it stays among those asked about.
  const rest = heard.map((d) =>
    strays.includes(d) ? { ...d, good: 'no' as const, finding: 'asked' as const } : d,
  );
  const told = rest.some(
    (d) => d.kind === 'result' && d.finding !== 'no' && named.includes(d.index),
  );
  if (told) return rest;
  return [
    ...rest.filter((d) => !named.includes(d.index)),
    ...named.map((index) => ({ ...stray, index, good: 'no' as const, finding: 'asked' as const })),
  ];
}
/** Feature of a candidate: how near the words come to it in meaning, or by what people call it. */
const MEANING = 8;
/** Share of a name, and worth of a word of people, from which a thing is named at all. */
const AT_ALL = 0.5;
const CALLED = 0.8;
const isNamed = (c: CandidateInput): boolean =>
  (c.features[0] ?? 0) >= AT_ALL || (c.features[MEANING] ?? 0) >= CALLED;
/** How near the words come to it, by its name or by what they mean. */
export const nearness = (c: CandidateInput | undefined): number =>
  Math.max(c?.features[0] ?? 0, c?.features[MEANING] ?? 0);
/** Share of a fault under which a thing that is not named is left out beside one that is. */
const FAINT = 0.3;
/** More than these cannot be asked about in one breath. */
const MOST_NAMED = 3;
/** What was talked of in these may be meant without its name. */
const TURNS_BACK = 3;

/**
 * "Nose gear good bar the tyre, which is low": a fault of one of several things that are called so is at
 * the one of the station that the same words name, and at no other (R4, R5).
 */
export function atNamedStation(s: Scoring, decisions: readonly Decision[]): Decision[] {
  const named = s.inputs.candidates.flatMap((c) =>
    c.member !== null && c.member.check === null && (c.features[0] ?? 0) >= WHOLE
      ? [{ station: c.member.station.id, at: ownWords(c) }]
      : [],
  );
  const [place] = named;
  if (place === undefined || named.length > 1) return [...decisions];
  const { station } = place;
  const placeOf = (d: Decision): string | null => {
    const member = s.inputs.candidates[d.index]?.member ?? null;
    return member === null || member.check === null ? null : member.station.id;
  };
  const wordsFor = (d: Decision): string => {
    const input = s.inputs.candidates[d.index];
    const own = input === undefined ? [] : ownWords(input);
    return own.map((t) => stem(s.words.tokens[t]?.word ?? '')).join(' ');
  };
  const faults = decisions.filter((d) => d.kind === 'result' && d.finding !== 'no');
  const there = faults.filter((d) => placeOf(d) === station);
  const [meant] = there.length === 0 ? calledSoAt(s, place, faults, wordsFor) : there;
  if (meant === undefined || there.length > 1) return [...decisions];
  const noun = wordsFor(meant).split(' ').at(-1) ?? '';
  const stray = faults.filter(
    (d) => placeOf(d) !== station && noun !== '' && wordsFor(d).split(' ').at(-1) === noun,
  );
  if (stray.length === 0) return [...decisions];
  const counts = [meant, ...stray].some((d) => d.finding === 'counts');
  const kept = decisions.filter((d) => !stray.includes(d));
  return (kept.some((d) => d.index === meant.index) ? kept : [...kept, meant]).map((d) =>
    d === meant && counts ? { ...d, good: 'no', finding: 'counts' } : d,
  );
}

/** The faults moved to the one check of a station that is called as they are, no side being said of them. */
function calledSoAt(
  s: Scoring,
  { station, at }: { station: string; at: readonly number[] },
  faults: readonly Decision[],
  wordsFor: (d: Decision) => string,
): Decision[] {
  const [first] = faults;
  const said = first === undefined ? [] : wordsFor(first).split(' ');
  if (first === undefined || said.some((w) => w === '' || SIDE_WORDS.has(w))) return [];
  // "The tail skid is cracked": the word that would name the station is the thing's own.
  const input = s.inputs.candidates[first.index];
  if (input === undefined || ownWords(input).some((t) => at.includes(t))) return [];
  const same = s.inputs.candidates.flatMap((c, index) =>
    c.member !== null &&
    c.member.check !== null &&
    c.member.station.id === station &&
    wordsFor({ ...first, index })
      .split(' ')
      .at(-1) === said.at(-1)
      ? [{ ...first, index }]
      : [],
  );
  return same.length === 1 ? same : [];
}

/** Whether one of its names is a name of such a thing: "tail rotor hub" of a hub, "hub bolts" of none. */
export function endsIn(member: Member, noun: string): boolean {
  return member.names.some((words) => words.length > 1 && words.at(-1) === noun);
}

/** Share of a name from which it is said whole. */
const WHOLE = 0.97;

export const shareAt = (c: CandidateInput, token: number): number =>
  c.marks.find((m) => m.lag === 0 && m.token === token)?.name ?? 0;

/** Features of a candidate (scores/inputs.ts): named in one of the last utterances. */
const RECENT = [12, 13, 14] as const;
export const isSpokenOf = (c: CandidateInput): boolean =>
  RECENT.some((k) => (c.features[k] ?? 0) > 0);

/** Share of a station's name from which the words go there. */
const NAMED = 0.6;
function namesStation(s: Scoring, station: string): boolean {
  return s.inputs.candidates.some(
    (c) =>
      c.member !== null &&
      c.member.check === null &&
      c.member.station.id === station &&
      (c.features[0] ?? 0) >= NAMED,
  );
}

/** From here a value that names nothing is of what the scores hold it for, wherever one stands. */
const SURE = 0.95;

/**
 * A unit or a number alone never carries anybody to another station: a value goes elsewhere
 * only where the words name what it is of, it was just spoken of, or nothing else is likely
 * ("stick says five quarts", in front of the engine).
 */
export function valuesHere(s: Scoring, decisions: readonly Decision[]): Decision[] {
  const bare = isBareNumber(s.words.tokens);
  return decisions.filter((d) => {
    const input = s.inputs.candidates[d.index];
    const member = input?.member ?? null;
    if (d.kind !== 'result' || input === undefined || member === null) return true;
    if (bare && !d.value) return false;
    if (!d.value || ownWords(input).length > 0) return true;
    const here = s.scene.station;
    const asked = s.scene.question?.options.some((o) => o.candidate?.check === member.check?.id);
    const sure = d.sure >= SURE && (s.scores.candidates[d.index]?.value ?? 0) >= SURE;
    return (
      here === null || member.station.id === here || isSpokenOf(input) || asked === true || sure
    );
  });
}

/** Numbers and units and nothing else: of themselves they say of nothing how it is. */
export function isBareNumber(tokens: readonly Token[]): boolean {
  const said = quantitiesIn(tokens, 0, tokens.length);
  return (
    said.length > 0 &&
    tokens.every(
      (t, i) =>
        said.some((q) => i >= q.from && i < q.to) ||
        /^(um|uh|er|so|and|about|its|it|is|at|of|the|a|okay|ok|say|reads|reading|just|over|under)$/.test(
          t.word,
        ),
    )
  );
}
