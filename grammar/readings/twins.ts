import type { Member } from '../matches/roster.ts';
import { SIDE_WORDS, stem } from '../names.ts';
import type { Token } from '../tokens.ts';
import type { Scoring } from './scoring.ts';

/** Left and right of one thing where each is a check of its own, often at a station of its own. */

/** The words of its own name without those that tell a side. */
export const sideless = (m: Member): string =>
  (m.names[0] ?? []).filter((w) => !SIDE_WORDS.has(w)).join(' ');

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

/** Where the side is said that the one has and the other has not; -1 where it is not. */
function sideAt(stems: readonly string[], one: Member, other: Member): number {
  const own = new Set((one.names[0] ?? []).filter((w) => SIDE_WORDS.has(w)));
  const theirs = new Set(other.names[0] ?? []);
  return stems.findIndex((w) => own.has(w) && !theirs.has(w));
}
