import type { Statement } from '#shared/statement';
import { DECIDE } from '../decide.ts';
import type { CandidateInput } from '../scores/around.ts';
import type { Scored } from '../scores/scored.ts';
import { likeliest, plain } from './observed.ts';
import { conditionAt, partOf, severitiesIn, spanIn, unnamedCondition } from './said.ts';
import type { Scoring } from './scoring.ts';

/** A finding that fits nothing on the list is kept all the same (R4). */
export function unplacedOf(
  s: Scoring,
  scored: Scored,
  input: CandidateInput,
  placed: boolean,
): Statement | null {
  const { words } = s;
  const span = spanIn(words, 0, words.tokens.length);
  if (scored.finding >= DECIDE.unplaced && !placed) {
    const conditions = input.conditions.flatMap((_, i) => {
      const match = s.inputs.conditions[i];
      const [none = 1, present = 0] = scored.conditions[i] ?? [];
      return match === undefined || present < none
        ? []
        : [
            {
              ...conditionAt(match.id, true, null, s.roster.catalogue, match.sign),
              span: spanIn(words, match.from, match.to),
            },
          ];
    });
    const first = s.inputs.conditions.find(
      (_, i) => (scored.conditions[i]?.[1] ?? 0) >= (scored.conditions[i]?.[0] ?? 1),
    );
    const id = unnamedCondition(scored, s.labels);
    const kept =
      conditions.length > 0
        ? conditions.slice(0, 1)
        : id === null
          ? []
          : [{ ...conditionAt(id, true, null, s.roster.catalogue), span }];
    return {
      ...plain(s, scored.finding, []),
      force: 'result',
      about: { kind: 'unplaced', part: partOf(words, first ?? null), span },
      candidates: likeliest(s, 3),
      verdict: kept.length > 0 ? null : { good: false, aspects: [], actOnly: false, span },
      conditions: kept,
      squawk: s.squawk,
      severity: severitiesIn(words.tokens)[0] ?? null,
    };
  }
  if (scored.ask < DECIDE.unclear) return null;
  return {
    v: 1,
    id: s.nextId(),
    heard: s.heard.id,
    kind: 'not-understood',
    chatter: false,
    span,
    why: ['it sounds like a result, and what of is open (R5)'],
  };
}
