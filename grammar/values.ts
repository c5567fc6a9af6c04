import type { Catalogue, Check, Gauge, Measure } from '#shared/catalogue';
import type { ValueSaid } from '#shared/statement';
import { lexicon } from './lexicon.ts';
import { numbersIn, type NumberSaid } from './numbers.ts';
import { stems } from './names.ts';
import { phraseWords, spanOf, type Token } from './tokens.ts';
import { Trie } from './trie.ts';
import { convert, unitTrie } from './units.ts';

/** A number with its unit words, before it is known which measure it belongs to. */
export interface Quantity {
  readonly from: number;
  readonly to: number;
  readonly number: NumberSaid;
  readonly units: readonly string[];
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

/** Numbers with units in tokens [from, to). */
export function quantitiesIn(tokens: readonly Token[], from: number, to: number): Quantity[] {
  const words = tokens.slice(from, to).map((t) => t.word);
  const trie = unitTrie();
  return numbersIn(words).map((number) => {
    let end = number.to;
    if (words[end] === 'of' || words[end] === 'a') end += 0;
    const unit = trie.longest(words, end);
    return {
      from: number.from + from,
      to: (unit?.to ?? number.to) + from,
      number: { ...number, from: number.from + from, to: number.to + from },
      units: unit?.item ?? [],
    };
  });
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
  for (const quantity of quantitiesIn(tokens, from, to)) {
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
    };
    if (quantity.units.length === 0) {
      if (open.length === 0) continue;
      const named =
        namedMeasure(open, tokens, from, quantity.from) ??
        (open.length === 1 ? open[0] : undefined);
      out.push({
        ...base,
        measure: named?.id ?? null,
        unit: null,
        inUnit: null,
        trouble: 'no-unit',
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
    const pick = pairs.find((p) => p.measure === named) ?? pairs[0];
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
  return out;
}

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

interface Step {
  readonly index: number;
  readonly name: string;
  readonly from: number;
  readonly to: number;
  readonly approximate: boolean;
}

const gaugeTries = new WeakMap<Gauge, Trie<number>>();
function gaugeTrie(gauge: Gauge): Trie<number> {
  let trie = gaugeTries.get(gauge);
  if (trie !== undefined) return trie;
  trie = new Trie();
  gauge.steps.forEach((step, index) => {
    for (const phrase of [step.name, ...step.say]) {
      const words = phraseWords(phrase).filter((w) => w !== 'the');
      trie?.add(words, index);
    }
  });
  gaugeTries.set(gauge, trie);
  return trie;
}

/** The step of a gauge that is said; "between", "just past" and "just short of" are half steps. */
function stepIn(gauge: Gauge, tokens: readonly Token[], from: number, to: number): Step | null {
  const at: number[] = [];
  const words: string[] = [];
  for (let i = from; i < to; i += 1) {
    const word = tokens[i]?.word ?? '';
    if (word === 'the') continue;
    words.push(word);
    at.push(i);
  }
  const trie = gaugeTrie(gauge);
  const hits: { index: number; from: number; to: number }[] = [];
  for (let i = 0; i < words.length;) {
    const hit = trie.longest(words, i);
    if (hit === null) {
      i += 1;
      continue;
    }
    hits.push({ index: hit.item, from: hit.from, to: hit.to });
    i = hit.to;
  }
  // The last one said stands: "past the first knuckle, no, the second knuckle" is split before it comes here.
  const last = hits[hits.length - 1];
  if (last === undefined) return null;
  const { numbers } = lexicon();
  const ends = (list: readonly string[], end: number): number | null => {
    let best: number | null = null;
    for (const phrase of list) {
      const own = phraseWords(phrase).filter((w) => w !== 'the');
      if (own.every((w, k) => words[end - own.length + k] === w))
        best = Math.min(best ?? end, end - own.length);
    }
    return best;
  };
  const name = gauge.steps[last.index]?.name ?? '';
  const first = hits[hits.length - 2];
  if (
    first !== undefined &&
    words[last.from - 1] === 'and' &&
    ends(numbers.between, first.from) !== null
  ) {
    const other = gauge.steps[first.index]?.name ?? '';
    return {
      index: (first.index + last.index) / 2,
      name: `between ${other} and ${name}`,
      from: at[first.from - 1] ?? from,
      to: (at[last.to - 1] ?? to - 1) + 1,
      approximate: false,
    };
  }
  const past = ends(numbers.past, last.from);
  const short = ends(numbers.short, last.from);
  const about = ends(numbers.about, last.from);
  const shift = past !== null ? 0.5 : short !== null ? -0.5 : 0;
  const start = past ?? short ?? about ?? last.from;
  return {
    index: Math.max(0, last.index + shift),
    name: shift === 0 ? name : `${shift > 0 ? 'past' : 'short of'} ${name}`,
    from: at[start] ?? from,
    to: (at[last.to - 1] ?? to - 1) + 1,
    approximate: about !== null,
  };
}

/** Where the steps of any gauge are said in more than one word, such as "second knuckle". */
export function stepsIn(
  catalogue: Catalogue,
  tokens: readonly Token[],
): { from: number; to: number }[] {
  const at = tokens.flatMap((t, i) => (t.word === 'the' ? [] : [i]));
  const words = at.map((i) => tokens[i]?.word ?? '');
  const out: { from: number; to: number }[] = [];
  for (const gauge of catalogue.gauges) {
    const trie = gaugeTrie(gauge);
    for (let i = 0; i < words.length; i += 1) {
      const hit = trie.longest(words, i);
      if (hit === null || hit.to - i < 2) continue;
      out.push({ from: at[i] ?? 0, to: (at[hit.to - 1] ?? 0) + 1 });
    }
  }
  return out;
}
