import type { DraftMeasure } from './draft.ts';

/** Units as checklists write them, and their UCUM codes. Longer writings first. */
const UNITS: readonly (readonly [string, string])[] = [
  ['(?:u\\.?s\\.? )?gal(?:lon)?s?', '[gal_us]'],
  ['(?:u\\.?s\\.? )?(?:quarts?|qts?)', '[qt_us]'],
  ['pints?|pts?', '[pt_us]'],
  ['psi|lbs?/sq\\.? ?in', '[psi]'],
  ['bar', 'bar'],
  ['kpa', 'kPa'],
  ['inch(?:es)?|ins?|″|"', '[in_i]'],
  ['mm|millimet(?:re|er)s?', 'mm'],
  ['cm|centimet(?:re|er)s?', 'cm'],
  ['f(?:ee|oo)?t', '[ft_i]'],
  ['volts?|v', 'V'],
  ['lit(?:re|er)s?|ltrs?|l', 'L'],
  ['ml|millilit(?:re|er)s?', 'mL'],
  ['(?:deg(?:rees)? ?|° ?)c(?:elsius)?|celsius', 'Cel'],
  ['(?:deg(?:rees)? ?|° ?)f(?:ahrenheit)?|fahrenheit', '[degF]'],
  ['kgs?|kilograms?', 'kg'],
  ['lbs?|pounds?', '[lb_av]'],
  ['percent|%', '%'],
  ['amps?', 'A'],
];
const ANY_UNIT = UNITS.map(([said]) => said).join('|');
const NUMBER = '\\d+(?:[.,]\\d+)?';
/** A unit, as the source of a pattern with the flags i and u. */
export const UNIT = `(?:${ANY_UNIT})(?![\\p{L}\\d])`;
const LEAST =
  '(?:min(?:imum)?\\.?(?: of)?|at least|(?:not|no|never) less than|not below|above|over|≥|>=|>)';
const MOST =
  '(?:max(?:imum)?\\.?(?: of)?|at most|(?:not|no|never) more than|(?:must |shall )?not (?:to )?exceed(?:ing)?|not over|not above|below|under|up to|less than|(?:no [\\p{L} ]+ )?(?:deeper|longer|wider|larger) than|≤|<=|<)';
const AFTER_LEAST = '(?:min(?:imum)?|or more|at least)(?![\\p{L}])';
const AFTER_MOST = '(?:max(?:imum)?|or less|at most)(?![\\p{L}])';

const RANGE = pattern(
  `(?:between )?(?<low>${NUMBER})\\s*(?:${UNIT})?\\s*(?:to|–|-|—|and)\\s*(?<high>${NUMBER})\\s*(?<unit>${UNIT})`,
);
const BOTH = pattern(
  `(?<low>${NUMBER})\\s*(?:${UNIT})\\s*${AFTER_LEAST}[,;/ ]+(?:and )?(?<high>${NUMBER})\\s*(?<unit>${UNIT})\\s*${AFTER_MOST}`,
);
const LOW = pattern(`${LEAST}\\s*(?<low>${NUMBER})\\s*(?<unit>${UNIT})`);
const LOW_AFTER = pattern(`(?<low>${NUMBER})\\s*(?<unit>${UNIT})\\s*\\(?${AFTER_LEAST}`);
const HIGH = pattern(`${MOST}\\s*(?<high>${NUMBER})\\s*(?<unit>${UNIT})`);
const HIGH_AFTER = pattern(`(?<high>${NUMBER})\\s*(?<unit>${UNIT})\\s*\\(?${AFTER_MOST}`);
const ONE = pattern(`(?<![\\p{L}\\d.])(?<one>${NUMBER})\\s*(?<unit>${UNIT})`);
/** A number that is said to be a limit, and nothing that it counts. */
const UNITLESS = pattern(
  `(?:${LEAST}|${MOST})\\s*${NUMBER}(?!\\s*(?:${UNIT}|[.,]?\\d))|(?<![\\p{L}\\d.])${NUMBER}\\s*(?:min(?:imum)?|max(?:imum)?)(?![\\p{L}])`,
);
const TIME = /^\s*(s|sec(ond)?s?|min(ute)?s|h(ou)?rs?|h|days?|months?|times?)(?![\p{L}])/iu;

function pattern(source: string): RegExp {
  return new RegExp(source, 'iu');
}

const number = (text: string | undefined): number | null =>
  text === undefined ? null : Number(text.replace(',', '.'));

function codeOf(unit: string): string {
  const said = unit.trim();
  return UNITS.find(([p]) => new RegExp(`^(?:${p})$`, 'iu').test(said))?.[1] ?? said;
}

/** The limits in some words, in their order, and a limit to which no unit is given. */
export function measuresIn(
  words: string,
  name: string,
): { readonly measures: readonly DraftMeasure[]; readonly unitless: string | null } {
  let rest = words;
  const measures: DraftMeasure[] = [];
  for (const one of [BOTH, RANGE, LOW_AFTER, LOW, HIGH_AFTER, HIGH, ONE]) {
    for (let hit = one.exec(rest); hit !== null; hit = one.exec(rest)) {
      const { low, high, one: exact, unit = '' } = hit.groups ?? {};
      const [a, b] = [number(low ?? exact), number(high ?? exact)];
      const before = rest.slice(0, hit.index);
      // Cut out, so that no number is read twice; the length stays, so that places do.
      rest = before + '\u0000'.repeat(hit[0].length) + rest.slice(hit.index + hit[0].length);
      measures.push({
        name: measureName(before, name, codeOf(unit)),
        unit: codeOf(unit),
        low: a,
        high: b,
        said: hit[0].trim(),
      });
    }
  }
  const bare = UNITLESS.exec(rest);
  const counted = bare !== null && TIME.test(rest.slice(bare.index + bare[0].length));
  return { measures, unitless: bare === null || counted ? null : bare[0].trim() };
}

const NOUNS =
  /(pressure|quantity|level|extension|thickness|deflection|play|depth|tension|voltage|temperature|clearance|travel|weight|scratches)/gi;
const BY_UNIT: Readonly<Record<string, string>> = {
  '[psi]': 'pressure',
  bar: 'pressure',
  kPa: 'pressure',
  '[qt_us]': 'quantity',
  '[gal_us]': 'quantity',
  '[pt_us]': 'quantity',
  L: 'quantity',
  mL: 'quantity',
  V: 'voltage',
  Cel: 'temperature',
  '[degF]': 'temperature',
};

/** What is measured: the last such noun before the number, or what the unit says. */
function measureName(before: string, name: string, unit: string): string {
  const nouns = `${name} ${before}`.match(NOUNS);
  return (nouns?.at(-1) ?? BY_UNIT[unit] ?? 'measured value').toLowerCase();
}
