import { DECIDE, type Decision } from '../decide.ts';
import { placeWordsOf } from '../matches/heardas.ts';
import type { Member } from '../matches/roster.ts';
import { isPlural, stem } from '../names.ts';
import { ownWords } from './said.ts';
import type { Scoring } from './scoring.ts';
import { isMirror, sideless } from './twins.ts';

/** More than these cannot be told in one breath. */
const MOST_TIED = 3;

/** Doubts about the same words: two checks fit, and which is asked (R5). */
export function tiedOf(s: Scoring, results: readonly Decision[]): Decision[] {
  // Two checks of one name at one station cannot be told apart by anything said.
  for (const d of results) {
    const twin = twinOf(s, d.index);
    if (twin !== null) return [d, { ...d, index: twin }];
  }
  const mirrored = mirroredOf(s, results);
  if (mirrored.length > 0) return mirrored;
  const shared = sharedOf(s, results);
  if (shared.length > 0) return shared.slice(0, MOST_TIED);
  const doubts = results.filter(
    (d) => d.doubt && (s.scores.candidates[d.index]?.result ?? 1) < DECIDE.result,
  );
  return doubts.length > 1 ? doubts.slice(0, MOST_TIED) : [];
}

/**
 * "The disc has a groove", and there is one left and one right, at two stations: of one thing that nobody gave
 * a side not both are told. Which it is, is asked (R5); the present station is taken before (`oneOfTwo`).
 */
function mirroredOf(s: Scoring, results: readonly Decision[]): Decision[] {
  const { sides, all, other } = placeWordsOf(s.words.tokens);
  if (all.includes(true) || other.includes(true) || sides.some((x) => x !== null)) return [];
  const told = results.filter((d) => d.finding !== 'no' || d.good === 'counts' || d.value);
  for (const [i, a] of told.entries())
    for (const b of told.slice(i + 1)) {
      const [one, two] = [a, b].map((d) => s.inputs.candidates[d.index]?.member ?? null);
      if (!isMirror(one ?? null, two ?? null)) continue;
      return saysSeveral(s, a) || saysSeveral(s, b) ? [] : [a, b];
    }
  return [];
}

/**
 * "The cap is not on properly", and there are three caps: one fault, told by a noun that several checks
 * share and none is called by alone. At which of them is asked (R5), not told of each.
 */
function sharedOf(s: Scoring, results: readonly Decision[]): Decision[] {
  const { sides, all, other, plural } = placeWordsOf(s.words.tokens);
  if (all.includes(true) || other.includes(true) || sides.some((x) => x !== null)) return [];
  const faults = results.filter((d) => d.finding !== 'no' && d.good === 'no' && !d.value);
  const ownOf = (d: Decision): number[] => {
    const input = s.inputs.candidates[d.index];
    return input === undefined || (input.features[0] ?? 0) >= WHOLE ? [] : ownWords(input);
  };
  const [first] = faults;
  if (first === undefined || faults.length < 2 || faults.length < results.length) return [];
  const own = ownOf(first);
  const one = own.length > 0 && own.every((t) => plural[t] !== true);
  const same = faults.every((d) => ownOf(d).join(' ') === own.join(' '));
  const apart = new Set(faults.map((d) => s.inputs.candidates[d.index]?.member?.check?.id));
  return one && same && apart.size === faults.length ? faults : [];
}
/** Share of a name from which it is said whole. */
const WHOLE = 0.97;

/** "Tyres" of a left tyre and a right one are both; "pads" of the left pads need not be. */
function saysSeveral(s: Scoring, d: Decision): boolean {
  const input = s.inputs.candidates[d.index];
  const name = (input?.member?.check?.name ?? '').toLowerCase().split(' ');
  return (input === undefined ? [] : ownWords(input)).some((t) => {
    const word = s.words.tokens[t]?.word ?? '';
    return isPlural(word) && name.some((w) => !isPlural(w) && stem(w) === stem(word));
  });
}

/** Of left and right of one thing, with no side said, the one at the present station is meant. */
export function oneOfTwo(s: Scoring, decisions: readonly Decision[]): Decision[] {
  const here = s.scene.station;
  if (
    here === null ||
    mirroredOf(
      s,
      decisions.filter((d) => d.kind === 'result'),
    ).length === 0
  )
    return [...decisions];
  const memberOf = (d: Decision): Member | null => s.inputs.candidates[d.index]?.member ?? null;
  return decisions.filter(
    (d) =>
      d.kind !== 'result' ||
      memberOf(d)?.station.id === here ||
      !decisions.some(
        (e) =>
          e.kind === 'result' &&
          memberOf(e)?.station.id === here &&
          isMirror(memberOf(d), memberOf(e)),
      ),
  );
}

/** The other check at its station that has the same name but for the side, which nobody said. */
function twinOf({ inputs }: Scoring, index: number): number | null {
  const input = inputs.candidates[index];
  const own = input?.member ?? null;
  if (input === undefined || own === null || own.check === null) return null;
  const recent = RECENT.some((k) => (input.features[k] ?? 0) > 0);
  if (recent || (input.features[0] ?? 0) === 0 || inputs.tokens.some((t) => t.side)) return null;
  const name = sideless(own);
  const found = inputs.candidates.findIndex(
    (c, i) =>
      i !== index &&
      c.member !== null &&
      c.member.check !== null &&
      c.member.station === own.station &&
      sideless(c.member) === name,
  );
  return found < 0 ? null : found;
}
/** Features of a candidate (scores/inputs.ts): named in one of the last three utterances. */
const RECENT = [12, 13, 14] as const;
