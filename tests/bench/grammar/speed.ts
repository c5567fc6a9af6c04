import { Catalogue } from '#shared/catalogue';
import { FIRST_SCENE } from '#shared/scene';
import { plainWords, random } from '../channel.ts';
import { heardOf, ourReader } from './ours.ts';
import { matchesOf, PEERS, phrasesOf } from './peers.ts';

const PLACES =
  'upper lower forward aft inner outer main auxiliary left right front rear centre side rotating fixed'.split(
    ' ',
  );
const KINDS =
  'oil fuel brake drive tail rotor engine cabin skid gear hydraulic pitch trim control exhaust intake vent cooling starter generator'.split(
    ' ',
  );
const PARTS =
  'line hose bracket hinge bolt bearing seal cover panel pump valve filter cable rod link mount clamp fitting strut door latch light duct guard cap tank belt disc pad spring'.split(
    ' ',
  );

/** A catalogue with this many phrases: half of them names, half other names. Seeded. */
export function syntheticCatalogue(phrases: number): Catalogue {
  const checks = Array.from({ length: phrases / 2 }, (_, i) => {
    const part = PARTS[i % PARTS.length] ?? '';
    const kind = KINDS[Math.floor(i / PARTS.length) % KINDS.length] ?? '';
    const place = PLACES[Math.floor(i / PARTS.length / KINDS.length) % PLACES.length] ?? '';
    return {
      id: `check-${i}`,
      name: `${place} ${kind} ${part}`,
      say: [`${kind} ${part} ${place}`],
      aspects: i % 3 === 0 ? ['condition', 'security'] : ['condition'],
    };
  });
  const size = 40;
  return Catalogue.parse({
    v: 1,
    id: `synthetic-${phrases}`,
    name: `Synthetic, ${phrases} phrases`,
    kind: 'other',
    stations: Array.from({ length: Math.ceil(checks.length / size) }, (_, i) => ({
      id: `station-${i}`,
      name: `station ${i + 1}`,
      place: { x: 50, y: 50 },
      checks: checks.slice(i * size, (i + 1) * size),
    })),
  });
}

const SAID = [
  'NAME good no cracks',
  'so the um NAME is secure',
  'NAME has a dent two inches aft of the bracket',
  'we want to make sure the NAME is not leaking',
  'NAME chafed write it up',
  'no play in the NAME',
];

/** Utterances of exactly 25 words over the catalogue's names, every sixth word misheard. Seeded. */
export function longUtterances(catalogue: Catalogue, count: number, seed: number): string[] {
  const draw = random(seed);
  const checks = catalogue.stations.flatMap((s) => s.checks);
  const pick = <T>(from: readonly T[]): T | undefined => from[Math.floor(draw() * from.length)];
  return Array.from({ length: count }, () => {
    const words: string[] = [];
    while (words.length < 25) {
      const name = pick(checks)?.name ?? '';
      words.push(...(pick(SAID) ?? '').replace('NAME', name).split(' '));
    }
    return words
      .slice(0, 25)
      .map((w) => (draw() < 1 / 6 && w.length > 4 ? `${w.slice(0, 2)}${w.slice(3)}` : w))
      .join(' ');
  });
}

export interface Speed {
  /** Milliseconds for a 25-word utterance, by number of phrases. */
  p99Ms: Record<string, number>;
  medianUs: Record<string, number>;
  /** Readings timed. */
  count: Record<string, number>;
  meanUs: Record<string, number>;
  heapMB: Record<string, number>;
  buildMs: Record<string, number>;
  fuseMedianUs: number;
  timesFasterThanFuse: number;
}

const at = (sorted: readonly number[], share: number) =>
  sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? 0;

/** The first readings warm the compiler up and are not counted. */
const WARM = 60;
/** A size is timed no longer than this, but over at least LEAST readings. */
const BUDGET_MS = 15_000;
const LEAST = 100;

/** Times our reader at each size, and fuse.js windows at the smallest. */
export function speedOf(sizes: readonly number[], runs: number): Speed {
  const out: Speed = {
    p99Ms: {},
    medianUs: {},
    count: {},
    meanUs: {},
    heapMB: {},
    buildMs: {},
    fuseMedianUs: 0,
    timesFasterThanFuse: 0,
  };
  for (const size of sizes) {
    const catalogue = syntheticCatalogue(size);
    const before = heapUsed();
    const begun = performance.now();
    const reader = ourReader(catalogue);
    out.buildMs[size] = performance.now() - begun;
    const texts = longUtterances(catalogue, runs + WARM, 7);
    const times: number[] = [];
    const until = performance.now() + BUDGET_MS;
    for (const text of texts) {
      const from = performance.now();
      reader.read(heardOf(text), FIRST_SCENE);
      times.push(performance.now() - from);
      if (times.length >= LEAST + WARM && performance.now() > until) break;
    }
    out.heapMB[size] = Math.max(0, heapUsed() - before) / 1e6;
    const sorted = times.slice(WARM).sort((a, b) => a - b);
    out.count[size] = sorted.length;
    out.p99Ms[size] = at(sorted, 0.99);
    out.medianUs[size] = 1000 * at(sorted, 0.5);
    out.meanUs[size] = (1000 * sorted.reduce((a, b) => a + b, 0)) / sorted.length;
    if (size === sizes[0]) {
      const fuse = PEERS.find((p) => p.name === 'fuse.js');
      const matcher = fuse?.build(phrasesOf(catalogue, false));
      const fuseTimes = texts.slice(0, 25).map((text) => {
        const from = performance.now();
        if (matcher !== undefined) matchesOf(plainWords(text), matcher);
        return performance.now() - from;
      });
      out.fuseMedianUs =
        1000 *
        at(
          fuseTimes.slice(5).sort((a, b) => a - b),
          0.5,
        );
      out.timesFasterThanFuse = out.fuseMedianUs / (out.medianUs[size] ?? 1);
    }
  }
  return out;
}

function heapUsed(): number {
  // Exact only under --expose-gc; otherwise garbage is in it, so it is an upper bound.
  globalThis.gc?.();
  return process.memoryUsage().heapUsed;
}
