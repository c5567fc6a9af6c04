import { ONCE } from '#shared/catalogue';
import { joined } from '#shared/speech';
import { aspectName, type Spot } from './atlas.ts';
import type { CheckCoverage } from '#shared/coverage';

/** The words of a speaker inside a sentence of ours. */
export function quoted(words: string): string {
  return `“${bare(words)}”`;
}

/** Words as heard, without the punctuation round them. */
export function bare(words: string): string {
  return words.replace(/^[\s\p{P}]+|[\s\p{P}]+$/gu, '');
}

/** "left", "1 and 3", or nothing for a check that is made once. */
export function placesText(instances: readonly string[]): string {
  return joined(
    instances.filter((i) => i !== ONCE),
    'and',
  );
}

/** The name of a check with places: "left brake line", "rivet line 2". */
export function nameAt(spot: Spot, instances: readonly string[]): string {
  const places = placesText(instances);
  if (places === '' || instances.length === spot.instances.length) return spot.check.name;
  return instances.every((i) => /^\d+$/.test(i))
    ? `${spot.check.name} ${places}`
    : `${places} ${spot.check.name}`;
}

/** Ids grouped by what is lacking at the same places: "slack" at 1 and 2. */
function grouped(pairs: readonly { instance: string; what: string }[]): string[] {
  if (pairs.length === 0) return [];
  // Most checks are made once: nothing to group, and walks have thousands of them.
  if (pairs.every((p) => p.instance === ONCE)) {
    return [
      joined(
        pairs.map((p) => p.what),
        'and',
      ),
    ];
  }
  const places = new Map<string, string[]>();
  for (const { instance, what } of pairs) {
    places.set(what, [...(places.get(what) ?? []), instance]);
  }
  const byPlaces = new Map<string, string[]>();
  for (const [what, instances] of places) {
    const key = placesText(instances);
    byPlaces.set(key, [...(byPlaces.get(key) ?? []), what]);
  }
  return [...byPlaces].map(
    ([key, whats]) => `${joined(whats, 'and')}${key === '' ? '' : ` ${key}`}`,
  );
}

type Lacking = {
  readonly [K in keyof CheckCoverage['missing']]: Readonly<CheckCoverage['missing'][K]>;
};

const ACT_WORDS = {
  look: 'looking',
  feel: 'feeling',
  move: 'moving',
  measure: 'measuring',
  listen: 'listening',
} as const;

/** What is lacking of a check, each as it is spoken: "slack", "left", "level". */
export function lackingText(spot: Spot, missing: Lacking): readonly string[] {
  const measureName = (id: string) =>
    (spot.check.measures.find((m) => m.id === id)?.name ?? id).toLowerCase();
  const instances = missing.instances.filter((i) => i !== ONCE);
  return [
    ...(instances.length > 0 ? [placesText(instances)] : []),
    ...grouped(
      missing.aspects.map((a) => ({
        instance: a.instance,
        what: aspectName(spot, a.aspect).toLowerCase(),
      })),
    ),
    ...grouped(
      missing.measures
        .filter((m) => !instances.includes(m.instance))
        .map((m) => ({ instance: m.instance, what: measureName(m.measure) })),
    ),
    ...(missing.acts.length > 0
      ? [
          joined(
            missing.acts.map((a) => ACT_WORDS[a]),
            'or',
          ),
        ]
      : []),
  ];
}
