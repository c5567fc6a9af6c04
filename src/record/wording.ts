import { instancesOf, ONCE, type Catalogue, type Check } from '#shared/catalogue';
import { nameAt, placeOf } from '#shared/names';
import { joined } from '#shared/speech';
import type { Observation } from '#shared/statement';

/** A check by its id; null when the catalogue has none of that id. */
export function checkOf(catalogue: Catalogue, id: string): Check | null {
  return placeOf(catalogue, id)?.check ?? null;
}

/** Station of a check by its id; null when there is none. */
export function stationOf(catalogue: Catalogue, check: string): string | null {
  return placeOf(catalogue, check)?.station.id ?? null;
}

export function stationName(catalogue: Catalogue, id: string): string {
  return catalogue.stations.find((s) => s.id === id)?.name ?? id;
}

/** Whether the places of a check have names of their own, such as left and right, rather than numbers. */
export function hasNamedPlaces(check: Check): boolean {
  return instancesOf(check).some((i) => i !== ONCE && !/^\d+$/.test(i));
}

/** What an observation is about, as it is spoken. */
export function aboutText(catalogue: Catalogue, said: Observation): string {
  const about = said.about;
  switch (about.kind) {
    case 'check': {
      const check = checkOf(catalogue, about.check);
      return check === null ? about.check : nameAt(check, about.which.instances);
    }
    case 'station':
      return stationName(catalogue, about.station);
    case 'unplaced':
      return about.part;
  }
}

/** Words as heard, without the punctuation round them. */
export function bare(words: string): string {
  return words.replace(/^[\s\p{P}]+|[\s\p{P}]+$/gu, '');
}

/** The condition words of an observation, "chafed", for a question about it. */
export function faultText(said: Observation): string {
  const present = said.conditions.filter((c) => c.present).map((c) => bare(c.span.words));
  if (present.length > 0) return joined(present, 'and');
  return bare(said.values[0]?.span.words ?? said.verdict?.span.words ?? said.span.words);
}

/**
 * Names told apart by their first differing words, the common end said once:
 * "left brake line" and "right brake line" become "left or right brake line".
 */
export function choice(names: readonly string[]): string {
  const split = names.map((n) => n.split(' '));
  const shortest = Math.min(...split.map((w) => w.length));
  let common = 0;
  while (
    common < shortest - 1 &&
    split.every((w) => w[w.length - 1 - common] === split[0]?.[split[0].length - 1 - common])
  ) {
    common += 1;
  }
  if (common === 0) return joined(names, 'or');
  const heads = split.map((w) => w.slice(0, w.length - common).join(' '));
  const tail = split[0]?.slice(-common).join(' ') ?? '';
  return `${joined(heads, 'or')} ${tail}`;
}
