import type { Observation, Span } from '#shared/statement';
import type { Clause } from './clauses.ts';
import { leftovers } from './leftovers.ts';
import { stem } from './names.ts';
import type { ItemPiece } from './pieces.ts';
import { speaking } from './predicates.ts';
import type { Speaker } from './speaker.ts';
import { phraseWords } from './tokens.ts';
import { quantitiesIn } from './values.ts';

/** A name heard less surely than this is asked about before it counts: a wrong check spoken for can kill. */
export const SURE_MATCH = 0.86;

const UNIT_WORD = /^(psi|quarts?|gallons?|volts?|litres?|percent|celsius)$/;

/** Words beside a good verdict that were not understood, or a name not surely heard, are asked about (R5). */
export function doubt(
  speaker: Speaker,
  observation: Observation,
  clause: Clause,
  item: ItemPiece | null,
): Observation {
  if (observation.force !== 'result' || observation.doubtful !== null) return observation;
  if (item !== null && item.match < SURE_MATCH) {
    return {
      ...observation,
      doubtful: `took "${speaker.span(item.from, item.to).words}" for "${item.entry.text}"`,
    };
  }
  const unsure = clause.preds.find((p) => p.match < (item === null ? 1 : SURE_MATCH));
  if (unsure !== undefined)
    return {
      ...observation,
      doubtful: `not sure of "${speaker.span(unsure.from, unsure.to).words}"`,
    };
  const spans = observation.values.map((v) => v.span);
  const found = observation.conditions.some((c) => c.present);
  let rest: string[];
  if (found) {
    // A finding stands with its details; words before its end that were not understood may put it on the wrong thing, or into talk.
    const last = clause.preds.filter((p) => speaking(p)).at(-1);
    const start = clause.from;
    const end = Math.max(last?.to ?? clause.from, item?.to ?? clause.from);
    rest = leftovers({ ...clause, to: end }, speaker.tokens, start, spans);
  } else rest = leftovers(clause, speaker.tokens, clause.from, spans);
  const own = aspectWords(speaker, observation);
  rest = rest.filter((word) => !own.has(stem(word)));
  if (rest.length > 0)
    return { ...observation, doubtful: `"${rest.join(' ')}" was not understood` };
  if (strayUnit(speaker, clause, spans))
    return { ...observation, doubtful: 'a unit without its number' };
  return observation;
}

/** Words of the author's own aspects of the check: always understood. */
export function aspectWords(speaker: Speaker, observation: Observation): ReadonlySet<string> {
  if (observation.about.kind !== 'check') return new Set();
  const entry = speaker.compiled.names.byId.get(observation.about.check);
  return new Set(
    (entry?.check.aspects ?? [])
      .flatMap((a) => [a.name, ...a.say])
      .flatMap((name) => phraseWords(name).map(stem)),
  );
}

/** "Oil quarts, that's fine": the number was lost, and it might have been out of limits (R8). */
export function strayUnit(speaker: Speaker, clause: Clause, values: readonly Span[]): boolean {
  for (let i = clause.from; i < clause.to; i += 1) {
    if (!UNIT_WORD.test(speaker.tokens[i]?.word ?? '')) continue;
    const at = speaker.tokens[i]?.at ?? -1;
    if (
      !values.some((v) => v.from <= at && at < v.to) &&
      clause.items.every((it) => i < it.from || i >= it.to)
    ) {
      const number = quantitiesIn(speaker.tokens, clause.from, clause.to).some(
        (q) => q.from <= i && i < q.to,
      );
      if (!number) return true;
    }
  }
  return false;
}
