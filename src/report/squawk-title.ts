import type { Catalogue } from '#shared/catalogue';
import { atPlace, figures } from '#shared/figures';
import { soft } from '#shared/names';
import type { Fault } from '#shared/squawk';

/** A sign's or a condition's name in trade English: "flat-spot" becomes "flat spot". */
export function conditionWords(
  said: Fault['conditions'][number],
  catalogue: Catalogue | null,
): string {
  const sign = said.sign === null ? null : signName(said.sign, catalogue);
  const name = sign ?? said.condition.replaceAll('-', ' ');
  const extent =
    said.extent === null
      ? null
      : said.extent.of === null
        ? `${said.extent.count} places`
        : `${said.extent.count} of ${said.extent.of}`;
  return [said.degree, name, extent === null ? null : `(${extent})`]
    .filter((p) => p !== null)
    .join(' ');
}

function signName(id: string, catalogue: Catalogue | null): string | null {
  if (catalogue === null) return null;
  const own = catalogue.stations.flatMap((s) => s.checks.flatMap((c) => c.signs));
  for (const sign of [...catalogue.signs, ...own]) {
    if (typeof sign !== 'string' && sign.id === id) return sign.name;
  }
  return null;
}

/** The part with its side, such as "left main tyre"; null when it could not be told. */
export function partWords(fault: Fault): string | null {
  if (fault.part === null) return null;
  const part = soft(fault.part);
  const side = fault.side;
  return side === null || part.toLowerCase().includes(side.toLowerCase())
    ? part
    : `${side} ${part}`;
}

/** One line for a list: "Left main tyre: flat spot, cords showing". The words as said when no part could be told. */
export function squawkTitle(fault: Fault, catalogue: Catalogue | null): string {
  const part = partWords(fault);
  if (part === null) return capital(fault.words);
  const what = [
    ...fault.conditions.map((c) => conditionWords(c, catalogue)),
    ...(fault.value === null ? [] : [faultValue(fault.value)]),
  ];
  return capital(what.length === 0 ? `${part}: “${fault.words}”` : `${part}: ${what.join(', ')}`);
}

/** In figures with the usual unit; as it was said where no figure could be told. */
export function faultValue({ unit, each = [], ...value }: NonNullable<Fault['value']>): string {
  const told = ({ said, inUnit }: Pick<NonNullable<Fault['value']>, 'said' | 'inUnit'>) =>
    inUnit === null ? said : figures(inUnit, unit);
  return each.length === 0 ? told(value) : each.map((e) => atPlace(told(e), e)).join(', ');
}

export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
