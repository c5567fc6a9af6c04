import { UNIT_WORDS } from './speech.ts';

/** UCUM codes as they are written behind a figure. A code that is not here is written as it stands. */
const UNIT_SIGNS: Readonly<Record<string, string>> = {
  '[qt_us]': 'qt',
  '[gal_us]': 'US gal',
  L: 'L',
  '[psi]': 'psi',
  bar: 'bar',
  kPa: 'kPa',
  '[in_i]': 'in',
  mm: 'mm',
  cm: 'cm',
  '[ft_i]': 'ft',
  Cel: '°C',
  '[degF]': '°F',
  V: 'V',
  A: 'A',
  '[lb_av]': 'lb',
  kg: 'kg',
  '%': '%',
  deg: '°',
  h: 'h',
  min: 'min',
  s: 's',
};

export function unitSign(code: string): string {
  return UNIT_SIGNS[code] ?? code;
}

/** A value in figures with its usual sign: "24 psi", "6.5 qt". Hundredths are enough for any gauge on an aircraft. */
export function figures(value: number, unit: string | null): string {
  const rounded = String(Math.round(value * 100) / 100);
  if (unit === null) return rounded;
  const sign = unitSign(unit);
  return sign === '°' || sign === '%' ? `${rounded}${sign}` : `${rounded} ${sign}`;
}

/** Both ends of what was said: "24 psi", or "6 to 7 qt". */
export function figuresOf({
  low,
  high,
  unit,
}: {
  readonly low: number;
  readonly high: number;
  readonly unit: string;
}): string {
  return low === high ? figures(low, unit) : `${figures(low, null)} to ${figures(high, unit)}`;
}

/**
 * A limit as it is written: "between 26 and 31 p s i", as it is spoken and as older
 * records have it, becomes "limits 26 to 31 psi".
 */
export function limitWritten(limit: string): string {
  let text = limit;
  for (const [code, words] of Object.entries(UNIT_WORDS))
    if (text.endsWith(` ${words}`))
      text = `${text.slice(0, -words.length - 1)} ${unitSign(code)}`.replace(/ (?=[°%]$)/, '');
  return text.replace(/^between (\S+) and /, 'limits $1 to ');
}

interface Said {
  readonly said: string;
  readonly inUnit?: { readonly low: number; readonly high: number; readonly unit: string };
}

/** In figures where it has any, otherwise as it was said. */
export function saidFigures({ said, inUnit }: Said): string {
  return inUnit === undefined ? said : figuresOf(inUnit);
}

/** A value, or each of a row with its place: "24 psi", "70 psi at 3, 60 psi at 4". */
export function eachFigures(
  value: Said & { readonly each?: readonly (Said & { readonly instance: string | null })[] },
): string {
  const each = value.each ?? [];
  // One alone stands at the place that its finding names.
  return each.length < 2
    ? saidFigures(value)
    : each.map((e) => atPlace(saidFigures(e), e)).join(', ');
}

/** "60 psi at 4"; the value alone where its place is not known. */
export function atPlace(
  figures: string,
  { instance }: { readonly instance: string | null },
): string {
  return instance === null ? figures : `${figures} at ${instance}`;
}
