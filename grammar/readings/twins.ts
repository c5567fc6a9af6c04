import type { Member } from '../matches/roster.ts';
import { SIDE_WORDS, stem, withoutSides } from '../names.ts';
import type { Token } from '../tokens.ts';
import type { Scoring } from './scoring.ts';
import { isTalk } from './talk.ts';

/** Left and right of one thing where each is a check of its own, often at a station of its own. */

/** The words of its own name without those that tell a side. */
export const sideless = (m: Member): string => withoutSides(m.names[0] ?? []).join(' ');

/** Two checks that differ in their side only. */
export function isMirror(one: Member | null, two: Member | null): boolean {
  if (one === null || two === null || one.check === null || two.check === null) return false;
  if (one.check === two.check || sideless(one) !== sideless(two)) return false;
  return (one.names[0] ?? []).join(' ') !== (two.names[0] ?? []).join(' ');
}

/**
 * "Left tyre good, right tyre good": both are named whole, one behind the other, and each is read by
 * itself; in one breath the scores take one of them for the whole. Null where that is not so.
 */
export function twinsApart({ inputs, words }: Scoring): readonly (readonly Token[])[] | null {
  const whole = inputs.candidates.flatMap(({ member, features }) =>
    member !== null && member.check !== null && (features[0] ?? 0) >= WHOLE ? [member] : [],
  );
  const stems = words.tokens.map((t) => stem(t.word));
  for (const [i, one] of whole.entries())
    for (const two of whole.slice(i + 1)) {
      if (!isMirror(one, two)) continue;
      const cut = Math.max(sideAt(stems, one, two), sideAt(stems, two, one));
      const first = Math.min(sideAt(stems, one, two), sideAt(stems, two, one));
      const noun = new Set(sideless(one).split(' '));
      const named = (from: number, to: number): boolean =>
        stems.slice(from, to).some((w) => noun.has(w));
      if (first < 0 || !named(first, cut) || !named(cut, stems.length)) continue;
      return [words.tokens.slice(0, cut), words.tokens.slice(cut)];
    }
  return null;
}
/** Share of a name from which it is said whole. */
const WHOLE = 0.97;

/**
 * "Left tyre worn, right one's fine": the second has its side and no noun, and what is said of it is said of
 * the first one's mirror. Null where that is not so, or another thing is named behind the second side.
 */
export function otherApart({ inputs, words }: Scoring): readonly (readonly Token[])[] | null {
  const { tokens } = words;
  if (isTalk(inputs) || tokens.length > LONGEST_PAIR) return null;
  const stems = tokens.map((t) => stem(t.word));
  const whole = inputs.candidates.filter(
    (c) => (c.member?.check ?? null) !== null && (c.features[0] ?? 0) >= WHOLE,
  );
  for (const { member: one } of whole) {
    if (one === null || isAll(one)) continue;
    const mirrors = inputs.candidates.flatMap(({ member: two }) =>
      two !== null && !isAll(two) && isMirror(one, two) ? [two] : [],
    );
    const [two] = mirrors;
    if (two === undefined || mirrors.length > 1) continue;
    const [first, cut] = [sideAt(stems, one, two), sideAt(stems, two, one)];
    const noun = new Set(sideless(one).split(' '));
    const isNoun = (i: number): boolean => noun.has(stems[i] ?? '');
    const said = tokens.flatMap((t, i) => (isNoun(i) ? [{ t, i }] : []));
    if (first < 0 || cut <= first || said.length === 0) continue;
    if (said.some(({ i }) => i < first || i > cut)) continue;
    let from = cut + 1;
    if (/^(one|side|hand)$/.test(tokens[from]?.word ?? '')) from += 1;
    const rest = tokens.slice(from);
    const others = inputs.candidates.some(
      (c) =>
        c.member !== one &&
        c.member !== two &&
        c.marks.some((m) => m.lag === 0 && m.name >= WHOLE && m.token >= from),
    );
    if (rest.length === 0 || others) continue;
    // "Left disc good, right too": the same is said of it.
    const same = rest.every((t) => SAME.test(t.word));
    let end = cut;
    while (end > 0 && /^(and|but|the|while|whereas)$/.test(tokens[end - 1]?.word ?? '')) end -= 1;
    const again = same ? tokens.slice(first + 1, end) : [...said.map(({ t }) => t), ...rest];
    return [tokens.slice(0, end), [...tokens.slice(cut, cut + 1), ...again]];
  }
  return null;
}
const SAME = /^(too|also|same|likewise|ditto|as|well|the|is|it|are|again)$/;
/** More words than this say more than one thing of each. */
const LONGEST_PAIR = 14;

/** Where the side is said that the one has and the other has not; -1 where it is not. */
function sideAt(stems: readonly string[], one: Member, other: Member): number {
  const own = new Set((one.names[0] ?? []).filter((w) => SIDE_WORDS.has(w)));
  const theirs = new Set(other.names[0] ?? []);
  return stems.findIndex((w) => own.has(w) && !theirs.has(w));
}

/**
 * "Both tyres good", "left and right tyres good", where the left one and the right one are checks of their
 * own: each is read with its side in the place of "both". Null where no pair is meant, or more than one may be.
 */
export function bothApart({ inputs, words }: Scoring): readonly (readonly Token[])[] | null {
  const { tokens } = words;
  const sides = tokens.findIndex(
    (t, i) =>
      SIDE_WORDS.has(t.word) &&
      tokens[i + 1]?.word === 'and' &&
      SIDE_WORDS.has(tokens[i + 2]?.word ?? ''),
  );
  const at = sides < 0 ? tokens.findIndex((t) => t.word === 'both') : sides;
  if (at < 0 || tokens.length > LONGEST_BOTH || isTalk(inputs)) return null;
  let from = sides < 0 ? at + 1 : at + 3;
  while (/^(the|of|my|our)$/.test(tokens[from]?.word ?? '')) from += 1;
  const members = inputs.candidates.flatMap(({ member }) =>
    member !== null && member.check !== null ? [member] : [],
  );
  /** How many words behind "both" are the pair's name without its side. */
  const named = (m: Member): number => {
    const name = new Set(m.names.flat().filter((w) => !SIDE_WORDS.has(w)));
    let n = 0;
    while (name.has(stem(tokens[from + n]?.word ?? ''))) n += 1;
    return n;
  };
  const most = Math.max(0, ...members.map(named));
  const pairs = members.flatMap((one, i) =>
    members
      .slice(i + 1)
      .flatMap((two) =>
        named(one) === most && named(two) === most && isMirror(one, two) ? [[one, two]] : [],
      ),
  );
  const noun = tokens[from + most - 1]?.word ?? '';
  const alone = members.some((m) => named(m) === most && !pairs.flat().includes(m) && isAll(m));
  const [pair] = pairs;
  if (most === 0 || !/s$/.test(noun) || pairs.length !== 1 || pair === undefined || alone)
    return null;
  return pair.map((m) => {
    const other = pair.find((p) => p !== m);
    const side = (m.names[0] ?? []).find(
      (w) => SIDE_WORDS.has(w) && other?.names[0]?.includes(w) !== true,
    );
    return [
      ...tokens.slice(0, at),
      ...tokens.slice(at, at + 1).map((t) => ({ ...t, word: side ?? t.word })),
      // "Left ailerons" is one aileron.
      ...tokens.slice(from).map((t, i) => (i < most ? { ...t, word: stem(t.word) } : t)),
    ];
  });
}
/** More words than this say more than one thing of both. */
const LONGEST_BOTH = 9;
/** A check of several places is "both" by itself. */
const isAll = (m: Member): boolean => m.instances.length > 1;
