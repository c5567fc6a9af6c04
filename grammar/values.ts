import type { Catalogue, Check, Measure } from '#shared/catalogue';
import type { ValueSaid } from '#shared/statement';
import { quantitiesFor } from './differential.ts';
import { lexicon } from './lexicon.ts';
import { numbersIn, type NumberSaid } from './numbers.ts';
import { stems } from './names.ts';
import { stepIn } from './steps.ts';
import { spanOf, type Token } from './tokens.ts';
import { convert, onlyUnit, unitTrie } from './units.ts';

/** A number with its unit words, before it is known which measure it belongs to. */
export interface Quantity {
  readonly from: number;
  readonly to: number;
  readonly number: NumberSaid;
  readonly units: readonly string[];
  /** Nobody said the unit; it is the only one that figures said like this can be in. */
  readonly supplied?: boolean;
}

const AWAY = new Set([
  'aft',
  'forward',
  'above',
  'below',
  'from',
  'inboard',
  'outboard',
  'behind',
  'ahead',
  'in',
  'up',
  'down',
  'out',
  'back',
  'left',
  'right',
  'long',
  'wide',
  'deep',
  'of',
  'across',
  'away',
  'apart',
  'inch',
]);
const LENGTH = new Set(['[in_i]', '[ft_i]', 'mm', 'cm', 'm', '[mil_i]']);

/** Numbers with units in tokens [from, to); of two of which the second corrects the first only that. */
export function quantitiesIn(tokens: readonly Token[], from: number, to: number): Quantity[] {
  const all = figuresIn(tokens, from, to);
  return all.flatMap((first, i): Quantity[] => {
    const before = all[i - 1];
    const kept = before !== undefined && isCorrected(tokens, before, first);
    const next = all[i + 1];
    if (next !== undefined && isCorrected(tokens, first, next)) return [];
    return [kept && first.units.length === 0 ? { ...first, units: before.units } : first];
  });
}

/** "Four quarts, well, four and a half", "two two five, no, two fifteen": words of correcting lead from one to the other. */
function isCorrected(tokens: readonly Token[], first: Quantity, second: Quantity): boolean {
  const other = second.units.length > 0 && first.units.length > 0;
  if (other && !second.units.some((u) => first.units.includes(u))) return false;
  const between = tokens.slice(first.to, second.from).map((t) => t.word);
  return lexicon().hedges.figures.some((cue) => {
    const words = cue.split(' ');
    return words.length <= between.length && between.slice(-words.length).join(' ') === cue;
  });
}

function figuresIn(tokens: readonly Token[], from: number, to: number): Quantity[] {
  const words = tokens.slice(from, to).map((t) => t.word);
  const trie = unitTrie();
  return rowsIn(tokens, from, to).flatMap((row) =>
    numbersIn(words.slice(row.from - from, row.to - from)).map((said) => {
      const number = { ...said, from: said.from + row.from, to: said.to + row.from };
      // "Six point two-ish quarts", "twenty odd litres".
      const loose = lexicon().hedges.loosely.includes(words[number.to - from] ?? '');
      const end = number.to + (loose ? 1 : 0);
      const unit = trie.longest(words, end - from);
      return {
        from: number.from,
        to: unit === null ? number.to : unit.to + from,
        number: loose ? { ...number, approximate: true } : number,
        units: unit?.item ?? [],
      };
    }),
  );
}

/** Where a written comma or stop parts figures: "small one, twenty" is not a hundred and twenty. */
function rowsIn(
  tokens: readonly Token[],
  from: number,
  to: number,
): { from: number; to: number }[] {
  const starts = [from];
  for (let i = from + 1; i < to; i += 1) {
    const before = tokens[i - 1];
    if (before !== undefined && before.at !== tokens[i]?.at && /[,;:.!?\u2026]$/.test(before.raw))
      starts.push(i);
  }
  return starts.map((at, k) => ({ from: at, to: starts[k + 1] ?? to }));
}

/** "two inches aft of": a length that says where, not how much. */
export function saysWhere(quantity: Quantity, tokens: readonly Token[]): boolean {
  return quantity.units.some((u) => LENGTH.has(u)) && AWAY.has(tokens[quantity.to]?.word ?? '');
}

function fits(measure: Measure, code: string): boolean {
  return (
    measure.unit !== undefined && (measure.unit === code || convert(1, code, measure.unit) !== null)
  );
}

/**
 * The values said about one check, tokens [from, to).
 *
 * A number without a unit is a value only where the check is measured (`no-unit`);
 * one of the wrong kind is kept with its trouble (R8).
 */
export function valuesOf(
  check: Check,
  catalogue: Catalogue,
  tokens: readonly Token[],
  raw: readonly string[],
  from: number,
  to: number,
  free: (quantity: Quantity) => boolean,
): ValueSaid[] {
  const out: ValueSaid[] = [];
  const taken = new Set<string>();
  for (const measure of check.measures) {
    if (measure.gauge === undefined) continue;
    const gauge = catalogue.gauges.find((g) => g.id === measure.gauge);
    if (gauge === undefined) continue;
    const step = stepIn(gauge, tokens, from, to);
    if (step === null) continue;
    taken.add(measure.id);
    out.push({
      measure: measure.id,
      low: null,
      high: null,
      unit: null,
      inUnit: null,
      step: { gauge: gauge.id, index: step.index, name: step.name },
      approximate: step.approximate,
      trouble: null,
      span: spanOf(tokens, raw, step.from, step.to),
    });
  }
  for (const quantity of quantitiesFor([check], tokens, from, to)) {
    if (!free(quantity) || saysWhere(quantity, tokens)) continue;
    const covered = out.some(
      (v) =>
        v.step !== null &&
        v.span.from <= (tokens[quantity.from]?.at ?? 0) &&
        v.span.to > (tokens[quantity.from]?.at ?? 0),
    );
    if (covered) continue;
    const open = check.measures.filter((m) => m.unit !== undefined && !taken.has(m.id));
    const span = spanOf(tokens, raw, quantity.from, quantity.to);
    const { number } = quantity;
    const base = {
      low: number.value,
      high: number.high,
      step: null,
      approximate: number.approximate,
      span,
      ...(quantity.supplied === true ? { supplied: true } : {}),
    };
    if (quantity.units.length === 0) {
      if (open.length === 0) continue;
      const named =
        namedMeasure(open, tokens, from, quantity.from) ??
        (open.length === 1 ? open[0] : undefined);
      // The only unit that it can be in is supplied, and marked so.
      const only = named === undefined ? null : onlyUnit(named);
      out.push({
        ...base,
        measure: named?.id ?? null,
        unit: only,
        inUnit: only === null ? null : { low: number.value, high: number.high, unit: only },
        trouble: only === null ? 'no-unit' : null,
        ...(only === null ? {} : { supplied: true }),
      });
      continue;
    }
    const usual = quantity.units[0] ?? null;
    const pairs = open.flatMap((m) =>
      quantity.units.filter((u) => fits(m, u)).map((u) => ({ measure: m, unit: u })),
    );
    if (pairs.length === 0) {
      const measured = check.measures.some((m) => m.unit !== undefined);
      out.push({
        ...base,
        measure: measured && open.length === 1 ? (open[0]?.id ?? null) : null,
        unit: usual,
        inUnit: null,
        trouble: measured ? 'wrong-unit' : 'no-measure',
      });
      continue;
    }
    const named = namedMeasure(
      pairs.map((p) => p.measure),
      tokens,
      from,
      quantity.from,
    );
    // "Mil" of pads in millimetres, "gallons" of a tank in imperial ones: the measure's own unit first.
    const own = pairs.filter((p) => p.measure === named);
    const among = own.length > 0 ? own : pairs;
    const pick = among.find((p) => p.unit === p.measure.unit) ?? among[0];
    if (pick?.measure.unit === undefined) continue;
    taken.add(pick.measure.id);
    const low = convert(number.value, pick.unit, pick.measure.unit);
    const high = convert(number.high, pick.unit, pick.measure.unit);
    out.push({
      ...base,
      measure: pick.measure.id,
      unit: pick.unit,
      inUnit: low === null || high === null ? null : { low, high, unit: pick.measure.unit },
      trouble: null,
    });
  }
  return lastSaid(out, tokens);
}

/**
 * "Five. No, six. Six quarts": a figure without a unit gives way to one of the same measure that has it,
 * and the same figure said twice is said once. "Seven over eighty bar" are two.
 */
function lastSaid(values: readonly ValueSaid[], tokens: readonly Token[]): ValueSaid[] {
  const sound = values.filter((v) => v.trouble === null && v.step === null);
  const isJoined = (from: number, to: number): boolean =>
    tokens.some((t) => t.at >= from && t.at < to && t.word === 'over');
  const givesWay = (v: ValueSaid, w: ValueSaid): boolean =>
    w.measure === v.measure &&
    (v.low === w.low || (v.span.from < w.span.from && !isJoined(v.span.to, w.span.from)));
  return values.filter((v) => {
    // "Eleven, no, twelve point nine volts": one whose unit was only supplied gives way like one without.
    if (v.supplied === true) return !sound.some((w) => w.supplied !== true && givesWay(v, w));
    if (v.trouble === null) return true;
    return !sound.some((w) => (v.trouble === 'no-unit' ? givesWay(v, w) : isTwice(v, w)));
  });
}

const isTwice = (v: ValueSaid, w: ValueSaid): boolean =>
  v.low === w.low && v.high === w.high && v.unit === w.unit;

/** The measure whose name stands nearest before the number. */
function namedMeasure(
  measures: readonly Measure[],
  tokens: readonly Token[],
  from: number,
  at: number,
): Measure | undefined {
  if (measures.length < 2) return measures[0];
  const words = tokens.slice(from, at).flatMap((t) => stems(t.word));
  let best: { measure: Measure; place: number } | undefined;
  for (const measure of measures) {
    for (const name of [measure.name, ...measure.say]) {
      for (const word of stems(name)) {
        const place = words.lastIndexOf(word);
        const shared = measures.filter((m) =>
          [m.name, ...m.say].some((n) => stems(n).includes(word)),
        ).length;
        if (place >= 0 && shared === 1 && (best === undefined || place > best.place))
          best = { measure, place };
      }
    }
  }
  return best?.measure;
}
