import { ucum } from '@atomic-ehr/ucum';

/** Is it a unit of the Unified Code for Units of Measure (UCUM)? */
export function isUnit(code: string): boolean {
  // The library looks codes up in a plain object, which also answers to its own inherited names.
  if (code.split(/[./*^()\d]+/).some((part) => part in {})) return false;
  try {
    return ucum.validate(code).valid;
  } catch {
    return false;
  }
}

/** Units as an author is likely to write them, and their codes. */
const CODES: Readonly<Record<string, string>> = {
  psi: '[psi]',
  quart: '[qt_us]',
  quarts: '[qt_us]',
  qt: '[qt_us]',
  gallon: '[gal_us]',
  gallons: '[gal_us]',
  gal: '[gal_us]',
  inch: '[in_i]',
  inches: '[in_i]',
  in: '[in_i]',
  foot: '[ft_i]',
  feet: '[ft_i]',
  ft: '[ft_i]',
  pound: '[lb_av]',
  pounds: '[lb_av]',
  lb: '[lb_av]',
  volt: 'V',
  volts: 'V',
  celsius: 'Cel',
  '°c': 'Cel',
  c: 'Cel',
  fahrenheit: '[degF]',
  '°f': '[degF]',
  f: '[degF]',
  litre: 'L',
  litres: 'L',
  liter: 'L',
  liters: 'L',
  hour: 'h',
  hours: 'h',
  percent: '%',
  knots: '[kn_i]',
  degrees: 'deg',
};

/** The sentence for a unit that does not exist, with the code that was probably meant. */
export function unknownUnit(said: string): string {
  const key = said.toLowerCase();
  const code = Object.hasOwn(CODES, key) ? CODES[key] : undefined;
  return code === undefined
    ? `"${said}" is not a UCUM unit; expected a code such as [qt_us], [psi], [in_i], Cel, V or [gal_us].`
    : `"${said}" is not a UCUM unit; write "${code}".`;
}
