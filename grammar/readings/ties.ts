import { DECIDE, type Decision } from '../decide.ts';
import type { Member } from '../matches/roster.ts';
import { SIDE_WORDS } from '../names.ts';
import type { Scoring } from './scoring.ts';

/** More than these cannot be told in one breath. */
const MOST_TIED = 3;

/** Doubts about the same words: two checks fit, and which is asked (R5). */
export function tiedOf(s: Scoring, results: readonly Decision[]): Decision[] {
  // Two checks of one name at one station cannot be told apart by anything said.
  for (const d of results) {
    const twin = twinOf(s, d.index);
    if (twin !== null) return [d, { ...d, index: twin }];
  }
  const doubts = results.filter(
    (d) => d.doubt && (s.scores.candidates[d.index]?.result ?? 1) < DECIDE.result,
  );
  return doubts.length > 1 ? doubts.slice(0, MOST_TIED) : [];
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
const sideless = (m: Member): string =>
  (m.names[0] ?? []).filter((w) => !SIDE_WORDS.has(w)).join(' ');
