import { instancesOf, ONCE, type Catalogue, type Check, type Station } from './catalogue.ts';
import { joined } from './speech.ts';

/** A check by its id, with its station; null when the catalogue has none of that id. */
export function placeOf(
  catalogue: Catalogue,
  id: string,
): { readonly check: Check; readonly station: Station } | null {
  for (const station of catalogue.stations) {
    const check = station.checks.find((c) => c.id === id);
    if (check !== undefined) return { check, station };
  }
  return null;
}

/** "brake line", or "left brake line" when one place of it is meant. */
export function nameAt(check: Check, instances: readonly string[]): string {
  const places = instances.filter((i) => i !== ONCE);
  if (places.length === 0 || places.length === instancesOf(check).length) return check.name;
  const name = places.length === 1 ? singular(check.name) : check.name;
  return places.every((p) => /^\d+$/.test(p))
    ? `${name} ${joined(places, 'and')}`
    : `${joined(places, 'and')} ${soft(name)}`;
}

/** "Skid tubes" as one of them is called. A word that does not look like a plural stays. */
export function singular(name: string): string {
  return name
    .replace(/ies$/, 'y')
    .replace(/(ch|sh|x|ss)es$/, '$1')
    .replace(/([^sui])s$/, '$1');
}

/** A name inside a sentence: "Brake line" becomes "brake line", "VHF antenna" stays. */
export function soft(name: string): string {
  return /^\p{Lu}(?!\p{Lu})/u.test(name) ? name.charAt(0).toLowerCase() + name.slice(1) : name;
}
