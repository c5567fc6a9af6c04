import type { Span } from '#shared/statement';
import type { Clause } from './clauses.ts';
import { lexicon } from './lexicon.ts';
import { isNoFigure, isNumberWord } from './numbers.ts';
import { phraseWords, type Token } from './tokens.ts';

let known: Set<string> | null = null;

/** Words that are understood or harmless wherever they stand. */
export function harmless(): ReadonlySet<string> {
  if (known !== null) return known;
  const lex = lexicon();
  const lists: readonly (readonly string[])[] = [
    lex.fillers.words,
    lex.places.at,
    lex.places.on,
    lex.places.parts,
    ...Object.values(lex.degrees),
    ...Object.values(lex.acts),
    ...Object.values(lex.sides.sides),
    ...lex.sides.ordinals,
    lex.sides.all,
    lex.sides.again,
    lex.sides.this,
    lex.negation.before,
    ...lex.units.map((u) => u.say),
    ...lex.aspects.map((a) => a.names),
    ...Object.values(lex.numbers).map((v) => (Array.isArray(v) ? v : Object.values(v).flat())),
  ];
  known = new Set(lists.flat().flatMap((phrase) => phraseWords(phrase)));
  return known;
}

/** Words of the clause from `start` on that nothing has explained. */
export function leftovers(
  clause: Clause,
  tokens: readonly Token[],
  start: number,
  values: readonly Span[] = [],
): string[] {
  const plain = harmless();
  const out: string[] = [];
  const pieces = [...clause.items, ...clause.stations, ...clause.preds, ...clause.places];
  for (let i = Math.max(start, clause.from); i < clause.to; i += 1) {
    const word = tokens[i]?.word ?? '';
    if (plain.has(word) || isNumberWord(word) || (/^\d/.test(word) && !isNoFigure(word))) continue;
    if (pieces.some((p) => p.from <= i && i < p.to)) continue;
    const at = tokens[i]?.at ?? -1;
    if (values.some((v) => v.from <= at && at < v.to)) continue;
    if (clause.cues.some((c) => c.from <= i && i < c.to)) continue;
    out.push(word);
  }
  return out;
}
