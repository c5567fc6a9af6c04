import { instancesOf, ONCE } from '#shared/catalogue';
import type { CommandName } from '#shared/statement';
import { aspectsOf } from './aspects.ts';
import { lexicon } from './lexicon.ts';
import { stems, type CheckEntry, type Names } from './names.ts';

/** A random sentence, and what it was made from. */
export interface Sample {
  readonly text: string;
  readonly statement: SampleOf;
}
export type SampleOf =
  | { readonly kind: 'command'; readonly command: CommandName }
  | {
      readonly kind: 'observation';
      readonly check: string;
      readonly instances: readonly string[];
      readonly good: boolean;
      readonly condition: { readonly id: string; readonly present: boolean } | null;
      readonly value: {
        readonly measure: string;
        readonly low: number;
        readonly unit: string;
      } | null;
    };

/** Mulberry32, public domain: the same seed gives the same sentences everywhere. */
function random(seed: number): () => number {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), a | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

const ORDINALS = ['first', 'second', 'third', 'fourth', 'fifth', 'sixth'];
const ORDERS: readonly CommandName[] = [
  'hold',
  'resume',
  'left',
  'left-here',
  'where',
  'read-back',
];
/** Conditions that can be found at anything and are said in one plain word. */
const PLAIN = ['crack', 'dent', 'chafing', 'corrosion', 'scratch', 'loose', 'leak'];

/** Names that mean one check whoever hears them. */
function ownNames(entry: CheckEntry, names: Names): string[] {
  return entry.names.filter((name) => {
    const hit = names.trie.longest(stems(name), 0);
    const best = hit?.item.targets.filter((t) => t.score === 1) ?? [];
    return best.length === 1 && best[0]?.check === entry.index && hit?.to === stems(name).length;
  });
}

/** `count` random sentences; each is read back as what it came from. */
export function sampleSentences(names: Names, seed: number, count: number): Sample[] {
  const draw = random(seed);
  const pick = <T>(list: readonly T[]): T | undefined => list[Math.floor(draw() * list.length)];
  const { commands, units, conditions } = lexicon();
  const usable = names.checks
    .map((entry) => ({ entry, names: ownNames(entry, names) }))
    .filter((c) => c.names.length > 0);
  const out: Sample[] = [];
  for (let n = 0; n < count; n += 1) {
    if (usable.length === 0 || draw() < 0.05) {
      const command = pick(ORDERS) ?? 'hold';
      const text = pick(commands[command].slice(0, 2)) ?? command;
      out.push({ text, statement: { kind: 'command', command } });
      continue;
    }
    const chosen = pick(usable);
    if (chosen === undefined) continue;
    const { entry } = chosen;
    const name = (pick(chosen.names) ?? entry.check.name).toLowerCase();
    const places = instancesOf(entry.check);
    const index = Math.floor(draw() * places.length);
    const place = places[index] ?? ONCE;
    const all = places.length > 1 && draw() < 0.4;
    const instances = all ? places : [place];
    const ordinal = /^\d+$/.test(place) ? ORDINALS[Number(place) - 1] : place;
    const lead =
      places.length === 1 ? '' : all || ordinal === undefined ? 'all the ' : `${ordinal} `;
    const told = all || ordinal !== undefined || places.length === 1 ? instances : places;
    const base = { kind: 'observation' as const, check: entry.check.id, instances: told };
    const measure = entry.check.measures.find((m) => m.unit !== undefined);
    const unit = units
      .find((u) => u.code.includes(measure?.unit ?? ''))
      ?.say.find((s) => s.length > 2);
    const way = draw();
    const subject = `${lead}${name}`;
    if (measure?.unit !== undefined && unit !== undefined && way < 0.35) {
      const low = Math.round(measure.low ?? 1);
      out.push({
        text: `${subject} ${String(low)} ${unit}`,
        statement: {
          ...base,
          good: false,
          condition: null,
          value: { measure: measure.id, low, unit: measure.unit },
        },
      });
      continue;
    }
    const id = pick(PLAIN) ?? 'crack';
    const word = conditions.find((c) => c.id === id)?.say.find((s) => !s.includes(' ')) ?? id;
    const known = entry.check.aspects.length === 0 || aspectsOf(entry.check).general !== null;
    if (way < 0.6 && known) {
      out.push({
        text: `${subject} ${pick(['is', 'looks']) ?? 'is'} ${pick(['good', 'fine', 'okay']) ?? 'good'}`,
        statement: { ...base, good: true, condition: null, value: null },
      });
    } else if (way < 0.8) {
      out.push({
        text: `no ${word} on the ${subject}`.replace('the all the', 'all the'),
        statement: { ...base, good: false, condition: { id, present: false }, value: null },
      });
    } else {
      out.push({
        text: `${subject} has ${word}`,
        statement: { ...base, good: false, condition: { id, present: true }, value: null },
      });
    }
  }
  return out;
}
