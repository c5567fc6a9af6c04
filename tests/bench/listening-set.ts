import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { parseCatalogue } from '#catalogue';
import { transcriptHeard } from '#capture';
import { createGrammar, listeningTo, parseDictionary, spoken, type Grammar } from '#grammar';
import { CATALOGUES, WALKS } from '#seeds';
import type { Catalogue } from '#shared/catalogue';
import type { Listening } from '#shared/listening';
import { FIRST_SCENE, type Scene } from '#shared/scene';
import type { Statement } from '#shared/statement';
import { lexicon } from '../../grammar/lexicon.ts';
import { heardOf } from '../../src/capture/ear.ts';
import { seeded } from '../speech/noise.ts';
import { ourWeights } from './grammar/ours.ts';

/** What is said in the bench, what it means, and where the walk stood when it was said. */
export interface Said {
  readonly text: string;
  readonly aircraft: Aircraft;
  readonly scene: Scene;
  readonly meaning: readonly Statement[];
  readonly from: 'walk' | 'generated' | 'number';
}

export interface Aircraft {
  readonly name: string;
  readonly catalogue: Catalogue;
  readonly grammar: Grammar;
  readonly parts: Listening;
}

export function modelFolder(): string {
  return join(dirname(createRequire(import.meta.url).resolve('soundswallower')), 'model/');
}

/** @param only name of the one catalogue that is wanted; left out: all. */
export function aircraft(only?: string): Aircraft[] {
  const pronunciations = parseDictionary(
    readFileSync(join(modelFolder(), 'en-us/dict.txt'), 'utf8'),
  );
  return CATALOGUES.filter((s) => only === undefined || s.name === only).map((seed) => {
    const read = parseCatalogue(seed.text, seed.file);
    if (!read.ok) throw new Error(`${seed.file} cannot be read.`);
    const { catalogue } = read;
    return {
      name: seed.name,
      catalogue,
      grammar: createGrammar(catalogue, { pronunciations, weights: ourWeights() }),
      parts: listeningTo(catalogue, pronunciations),
    };
  });
}

/** Words that were heard, as typed by a source that hears everything. */
export function typed(text: string, id = 'said') {
  return heardOf({ id, by: 'scripted', text });
}

/** Every utterance of the sample walks that says something, each in its own scene. */
export function walkUtterances(all: readonly Aircraft[]): Said[] {
  const out: Said[] = [];
  for (const walk of WALKS) {
    const plane = all.find((a) => a.name === walk.catalogue);
    const transcript = transcriptHeard(walk.text, walk.file);
    if (plane === undefined || !transcript.ok) continue;
    let scene = FIRST_SCENE;
    for (const heard of transcript.heard) {
      for (const sentence of heard.text.split(/(?<=[.?!])\s+/)) {
        const reading = plane.grammar.read(typed(sentence), scene);
        if (reading.statements.some((s) => s.kind === 'observation' && s.force === 'result'))
          out.push({
            text: sentence,
            aircraft: plane,
            scene,
            meaning: reading.statements,
            from: 'walk',
          });
        scene = reading.scene;
      }
    }
  }
  return out;
}

const GOOD = [
  'good',
  'fine',
  'okay',
  'secure',
  'clean',
  'good and secure',
  'no cracks',
  'no damage',
];
const BAD = ['cracked', 'loose', 'chafed', 'dented', 'corroded', 'leaking', 'worn', 'missing'];
const NUMBERS = [
  'five',
  'six',
  'seven',
  'twelve',
  'twenty',
  'twenty eight',
  'thirty two',
  'six and a half',
];

/** Sentences made from the catalogues, a fixed seed: a name and a verdict, a condition or a value. */
export function generated(all: readonly Aircraft[], count: number, seed: number): Said[] {
  const random = seeded(seed);
  const pick = <T>(of: readonly T[]): T => of[Math.floor(random() * of.length)] as T;
  const out: Said[] = [];
  for (let tries = 0; out.length < count && tries < count * 20; tries++) {
    const plane = pick(all);
    const station = pick(plane.catalogue.stations);
    const check = pick(station.checks);
    const name = spoken(pick([check.name, check.name, ...check.say])).join(' ');
    const side = check.repeat === undefined ? '' : `${pick(check.repeat.instances)} `;
    const measure = check.measures.find((m) => m.unit !== undefined);
    const kind = random();
    const unit = lexicon().units.find((u) => measure !== undefined && u.code[0] === measure.unit);
    const text =
      unit !== undefined && kind < 0.7
        ? `${name} ${pick(NUMBERS)} ${unit.say[1] ?? unit.say[0] ?? ''}`
        : /\d/.test(side)
          ? `${name} ${pick(GOOD)}`
          : kind < 0.65
            ? `${side}${name} ${pick(GOOD)}`
            : `${side}${name} ${pick(BAD)}`;
    const scene: Scene = { ...FIRST_SCENE, station: station.id };
    const meaning = plane.grammar.read(typed(text), scene).statements;
    if (meaning.some((s) => s.kind === 'observation' && s.about.kind === 'check'))
      out.push({ text, aircraft: plane, scene, meaning, from: 'generated' });
  }
  return out;
}

/** How a value is told, `#` the number with its unit; general speech, no source needed. */
const TOLD = ['NAME #', 'NAME is #', 'NAME reads #', 'NAME good, #', '# in the NAME'];
/** The same with a step of a gauge. */
const STEPS = ['NAME STEP', 'NAME good, STEP', 'NAME at STEP'];

/**
 * Sentences with a value in them, a fixed seed: every check with a measure in
 * turn, its number inside the limits or outside them, or a step of its gauge.
 */
export function numbered(all: readonly Aircraft[], count: number, seed: number): Said[] {
  const random = seeded(seed);
  const pick = <T>(of: readonly T[]): T => of[Math.floor(random() * of.length)] as T;
  const measured = all.flatMap((plane) =>
    plane.catalogue.stations.flatMap((station) =>
      station.checks.flatMap((check) =>
        check.measures.map((measure) => ({ plane, station, check, measure })),
      ),
    ),
  );
  const out: Said[] = [];
  for (let turn = 0; out.length < count && turn < count * 20; turn++) {
    const { plane, station, check, measure } = measured[
      turn % measured.length
    ] as (typeof measured)[number];
    const name = spoken(pick([check.name, ...check.say])).join(' ');
    const gauge = plane.catalogue.gauges.find((g) => g.id === measure.gauge);
    const unit = lexicon().units.find((u) => u.code[0] === measure.unit);
    const value =
      gauge !== undefined ? pick(gauge.steps).name : `${pick(NUMBERS)} ${unit?.say[1] ?? ''}`;
    const text = pick(gauge === undefined ? TOLD : STEPS)
      .replace('NAME', name)
      .replace(/#|STEP/, value);
    const scene: Scene = { ...FIRST_SCENE, station: station.id };
    const meaning = plane.grammar.read(typed(text), scene).statements;
    if (meaningOf(meaning).numbers.size > 0 && !out.some((s) => s.text === text))
      out.push({ text, aircraft: plane, scene, meaning, from: 'number' });
  }
  return out;
}

/** What the statements assert, as keys that can be compared. */
export interface Meaning {
  readonly checks: ReadonlySet<string>;
  readonly findings: ReadonlySet<string>;
  readonly numbers: ReadonlySet<string>;
}

export function meaningOf(statements: readonly Statement[]): Meaning {
  const checks = new Set<string>();
  const findings = new Set<string>();
  const numbers = new Set<string>();
  for (const s of statements) {
    if (s.kind !== 'observation' || s.force !== 'result' || s.doubtful !== null) continue;
    const bad = s.conditions.some((c) => c.present) || s.verdict?.good === false;
    const what =
      s.about.kind === 'check'
        ? s.about.which.instances.map(
            (i) => `${s.about.kind === 'check' ? s.about.check : ''} ${i}`,
          )
        : s.about.kind === 'station'
          ? [`station ${s.about.station}`]
          : [];
    for (const thing of what) {
      checks.add(`${thing} ${bad ? 'bad' : 'good'}`);
      for (const c of s.conditions) if (c.present) findings.add(`${thing} ${c.condition}`);
      for (const v of s.values)
        numbers.add(
          `${thing} ${v.measure ?? ''} ${v.step?.name ?? `${String(v.low)} ${String(v.high)}`}`,
        );
    }
    if (s.about.kind === 'unplaced')
      for (const c of s.conditions) if (c.present) findings.add(`unplaced ${c.condition}`);
  }
  return { checks, findings, numbers };
}
