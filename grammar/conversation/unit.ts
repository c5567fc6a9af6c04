import type { ValueSaid } from '#shared/statement';
import { numbersIn } from '../numbers.ts';
import { convert, unitTrie } from '../units.ts';
import { amended, askedAbout, SHORT, type AnswerReader } from './open.ts';

/** "Quarts." to "seven of what?": the number said before, now with its unit (R8). */
export const unitAnswer: AnswerReader = (a) => {
  const before = askedAbout(a);
  if (before?.about.kind !== 'check' || a.words.tokens.length > SHORT) return null;
  const check = a.roster.byKey.get(before.about.check)?.check ?? null;
  if (check === null) return null;
  const list = a.words.tokens.map((t) => t.word);
  let codes: readonly string[] | null = null;
  for (let i = 0; i < list.length; i += 1) codes ??= unitTrie().longest(list, i)?.item ?? null;
  const number = numbersIn(list)[0] ?? null;
  if (codes === null && number === null) return null;
  const unitWords = list
    .filter((w) => !/^(in|its|it|is|they|are|those|of|course|us|ones|no|um|uh)$/.test(w))
    .join(' ');
  const values = before.values.map((value): ValueSaid => {
    if (value.trouble === null) return value;
    const low = number?.value ?? value.low;
    const high = number?.high ?? value.high;
    if (low === null || high === null) return value;
    for (const measure of check.measures) {
      if (measure.unit === undefined) continue;
      if (value.measure !== null && measure.id !== value.measure) continue;
      // A measure has one unit only: a bare number is in that.
      for (const code of codes ?? [measure.unit]) {
        const from = convert(low, code, measure.unit);
        const to = convert(high, code, measure.unit);
        if (from === null || to === null) continue;
        return {
          ...value,
          low,
          high,
          measure: measure.id,
          unit: code,
          inUnit: { low: from, high: to, unit: measure.unit },
          trouble: null,
          span: {
            ...value.span,
            words:
              number === null
                ? `${value.span.words.replace(/[.,]+$/, '')} ${unitWords}`
                : unitWords,
          },
        };
      }
    }
    return { ...value, low, high, unit: codes?.[0] ?? null, trouble: 'wrong-unit' };
  });
  return amended(a, { values }, `answers "${a.question.text}" with the unit`);
};
