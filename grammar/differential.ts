import { instancesOf, type Check } from '#shared/catalogue';
import { numbersIn, type NumberSaid } from './numbers.ts';
import type { Token } from './tokens.ts';
import { convert, unitTrie } from './units.ts';
import { quantitiesIn, type Quantity } from './values.ts';

/*
 * "Seventy six over eighty": a differential test of a cylinder. The second figure
 * is the pressure that was put in and no value of the cylinder; taken for one, a
 * cylinder that holds 60 would be read as good at 80 (R8). The test is made with
 * 80 psi, so that its figures are in psi also where nobody says so: common
 * practice, no source. The unit is then marked as supplied.
 */

const PRESSURE = '[psi]';
/** What the first figure is out of, psi. Of any other figure after "over" nothing is concluded. */
const REFERENCE = 80;

/** Whether a check is measured in a pressure; of anything else "over" says nothing here. */
export const isOfPressure = (check: Check): boolean =>
  check.measures.some((m) => m.unit !== undefined && convert(1, PRESSURE, m.unit) !== null);

/** Numbers with units in tokens [from, to), the two figures of a differential test as one. */
export function quantitiesFor(
  checks: readonly Check[],
  tokens: readonly Token[],
  from: number,
  to: number,
): Quantity[] {
  const tests = checks.some(isOfPressure) ? testsIn(tokens, from, to) : [];
  if (tests.length === 0) return quantitiesIn(tokens, from, to);
  const out: Quantity[] = [];
  let at = from;
  for (const test of [...tests, null]) {
    const row = at === from ? [] : rowFrom(tokens, at, test?.from ?? to);
    const rest = quantitiesIn(tokens, row.at(-1)?.to ?? at, test?.from ?? to);
    // The number of a place is no value: "number two, sixty over eighty".
    out.push(...row, ...rest.filter((q) => !isPlace(q, checks, tokens)));
    if (test === null) break;
    out.push(test);
    at = test.to;
  }
  return out;
}

/** Words that the number of a place follows. */
const PLACE = /^(number|cylinders?|all)$/;

function isPlace(
  { from, units, number }: Quantity,
  checks: readonly Check[],
  tokens: readonly Token[],
): boolean {
  if (units.length > 0) return false;
  if (PLACE.test(tokens[from - 1]?.word ?? '')) return true;
  return checks.some((c) => instancesOf(c).includes(String(number.value)));
}

function testsIn(tokens: readonly Token[], from: number, to: number): Quantity[] {
  const words = tokens.map((t) => t.word);
  const out: Quantity[] = [];
  for (let i = from; i < to; i += 1) {
    const after = out.at(-1)?.to ?? from;
    const written = /^(\d+)\/80$/.exec(words[i] ?? '');
    const said =
      words[i] === 'over' && isReference(words, i + 1, to) ? before(words, after, i) : null;
    const number = written === null ? said : figure(i, Number(written[1]));
    if (number === null || number.value > REFERENCE) continue;
    // "Cylinder two over eighty": more than eighty of the second one.
    if (number.value < LOWEST && PLACE.test(words[number.from - 1] ?? '')) continue;
    const end = written === null ? i + 2 : i + 1;
    const unit = unitTrie().longest(words, end);
    const units = unit?.item ?? [PRESSURE];
    // "Over eighty" of something else.
    if (!units.includes(PRESSURE)) continue;
    out.push({
      from: number.from,
      to: unit?.to ?? end,
      number,
      units: [PRESSURE],
      ...(unit === null ? { supplied: true } : {}),
    });
  }
  return out;
}

const figure = (at: number, value: number): NumberSaid => ({
  from: at,
  to: at + 1,
  value,
  high: value,
  approximate: false,
  part: false,
});

/** "eighty", and not "eighty five". What is said next may be the next cylinder's: "eighty seventy four". */
function isReference(words: readonly string[], at: number, to: number): boolean {
  if (words[at] !== 'eighty' && words[at] !== String(REFERENCE)) return false;
  const [one] = at + 1 < to ? numbersIn(words.slice(at, at + 2)) : [];
  return one === undefined || one.value === REFERENCE || one.value > REFERENCE + 9;
}

/** The lowest figure that goes on with a row, psi: one digit is sooner the number of a cylinder. */
const LOWEST = 10;

/** The figures that go on from a test without their "over eighty": ", seventy four, and seventy five". */
function rowFrom(tokens: readonly Token[], from: number, to: number): Quantity[] {
  const words = tokens.map((t) => t.word);
  const out: Quantity[] = [];
  let at = from;
  for (;;) {
    if (words[at] === 'and') at += 1;
    const number = numberFrom(words, at, to);
    if (number === null || number.value < LOWEST) return out;
    const unit = unitTrie().longest(words, number.to);
    if (unit !== null && !unit.item.includes(PRESSURE)) return out;
    at = unit?.to ?? number.to;
    const supplied = unit === null ? { supplied: true } : {};
    out.push({ from: number.from, to: at, number, units: [PRESSURE], ...supplied });
  }
}

/** Words that a figure up to eighty may have: "seventy six point five". */
const LONGEST = 4;

/** The figure that ends before `end`: as much before it as is one number up to the reference. */
function before(words: readonly string[], from: number, end: number): NumberSaid | null {
  const whole = numbersIn(words.slice(from, end)).at(-1);
  if (whole !== undefined && whole.to === end - from && whole.high <= REFERENCE)
    return { ...whole, from: whole.from + from, to: end };
  // "Number two seventy six over eighty": the place has run into the figure.
  for (let at = Math.max(from, end - LONGEST); at < end; at += 1) {
    const number = wholly(words, at, end);
    if (number !== null) return number;
  }
  return null;
}

/** The longest figure up to the reference that begins at `at`: figures of a row run into each other. */
function numberFrom(words: readonly string[], at: number, to: number): NumberSaid | null {
  for (let end = Math.min(to, at + LONGEST); end > at; end -= 1) {
    const number = wholly(words, at, end);
    if (number !== null) return number;
  }
  return null;
}

/** Words [from, to) as one figure up to the reference. */
function wholly(words: readonly string[], from: number, to: number): NumberSaid | null {
  const [number] = numbersIn(words.slice(from, to));
  return number?.from === 0 && number.to === to - from && number.high <= REFERENCE
    ? { ...number, from, to }
    : null;
}
