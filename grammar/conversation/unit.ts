import type { ValueSaid } from '#shared/statement';
import { placeWordsOf } from '../matches/heardas.ts';
import { numbersIn } from '../numbers.ts';
import { convert, onlyUnit, unitTrie } from '../units.ts';
import { optionIn } from './options.ts';
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
  // "The left one", to how much it is of what, is a place, and no number.
  if (
    number !== null &&
    codes === null &&
    placeWordsOf(a.words.tokens).sides.some((x) => x !== null)
  )
    return null;
  // "The second one" is no second, and no one.
  if (placeWordsOf(a.words.tokens).orders.some((n) => n !== null)) return null;
  // "Twenty four" and "yes" to "24 what? Volts?": what was offered is taken.
  const offered =
    codes === null && optionIn(a.question, a.words.tokens) !== null && a.question.kind === 'unit';
  if (codes === null && number === null && !offered) return null;
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
            words: offered
              ? value.span.words
              : number === null
                ? `${value.span.words.replace(/[.,]+$/, '')} ${unitWords}`
                : unitWords,
          },
        };
      }
    }
    return { ...value, low, high, unit: codes?.[0] ?? null, trouble: 'wrong-unit' };
  });
  return amended(
    a,
    { values: values.map((v) => (codes === null ? supplied(v) : v)) },
    `answers "${a.question.text}" with the unit`,
  );
};

/** Nobody said the unit by its name. */
const supplied = (value: ValueSaid): ValueSaid =>
  value.trouble === null && value.unit !== null ? { ...value, supplied: true } : value;

/** "Level", or "the second one", to "24: is that level or pressure?" */
export const measureAnswer: AnswerReader = (a) => {
  const before = askedAbout(a);
  const check =
    before?.about.kind === 'check' ? (a.roster.byKey.get(before.about.check)?.check ?? null) : null;
  const picked = optionIn(a.question, a.words.tokens);
  const measure = picked === null ? undefined : check?.measures[picked];
  if (before === null || measure === undefined) return unitAnswer(a);
  const values = before.values.map((value): ValueSaid => {
    if (value.measure !== null || value.low === null || value.high === null) return value;
    if (measure.unit === undefined) return { ...value, measure: measure.id };
    const unit = value.unit ?? onlyUnit(measure);
    const low = unit === null ? null : convert(value.low, unit, measure.unit);
    const high = unit === null ? null : convert(value.high, unit, measure.unit);
    return {
      ...value,
      measure: measure.id,
      unit,
      ...(value.unit === null && unit !== null ? { supplied: true } : {}),
      inUnit: low === null || high === null ? null : { low, high, unit: measure.unit },
      trouble: unit === null ? 'no-unit' : low === null ? 'wrong-unit' : null,
    };
  });
  return amended(a, { values }, `answers "${a.question.text}": ${measure.name}`);
};
