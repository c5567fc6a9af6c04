import type { Heard } from '#shared/heard';
import type { Statement } from '#shared/statement';
import { loadDecoder, type Decoder } from '../../src/capture/embedded/decoder.ts';
import { createEngine } from '../../src/capture/own/engine.ts';
import {
  AIDS,
  createRecogniser,
  hearSamples,
  type Aids,
  type Recogniser,
} from '../../src/capture/embedded/recognise.ts';
import { NOISES, over } from '../speech/noise.ts';
import { joined, RATE, say, VOICES } from '../speech/voice.ts';
import { meaningOf, modelFolder, type Aircraft, type Meaning, type Said } from './listening-set.ts';

export const CONDITIONS = ['clean', 'snr20', 'snr10', 'snr5'] as const;
export type Condition = (typeof CONDITIONS)[number];

/** Right of all, and what was asserted although nobody said it. */
export interface Score {
  checks: [right: number, of: number];
  findings: [right: number, of: number];
  numbers: [right: number, of: number];
  wrong: number;
}

/** Seconds of silence, or noise alone, around each utterance. */
const AROUND = 0.6;

let decoders = new Map<string, Decoder>();

export async function decoderFor(plane: Aircraft): Promise<Decoder> {
  let decoder = decoders.get(plane.name);
  if (decoder === undefined) {
    decoder = await loadDecoder(modelFolder());
    decoders.set(plane.name, decoder);
  }
  return decoder;
}

export function closeDecoders(): void {
  for (const decoder of decoders.values()) decoder.close();
  decoders = new Map();
}

/** The utterance as sound: voice and noise follow from its number alone. */
export async function soundOf(
  said: Said,
  number: number,
  condition: Condition,
): Promise<Float32Array> {
  const voice = VOICES[number % VOICES.length] ?? 'slt';
  const clean = joined([await say(said.text, voice)], AROUND).samples;
  if (condition === 'clean') return clean;
  const kind = NOISES[number % NOISES.length] ?? 'pink';
  return over(clean, kind, Number(condition.slice(3)), RATE, 1000 + number);
}

export interface Ran {
  readonly score: Score;
  /** Seconds of processor time, and of sound. */
  readonly busy: number;
  readonly sound: number;
  /** What went wrong, for `--show`. */
  readonly misses: readonly string[];
}

/** Hears each utterance in its own scene and compares what it means with what was said. */
export async function run(
  all: readonly Said[],
  condition: Condition,
  aids: Aids = AIDS,
): Promise<Ran> {
  const score: Score = { checks: [0, 0], findings: [0, 0], numbers: [0, 0], wrong: 0 };
  const recognisers = new Map<Aircraft, Recogniser>();
  const misses: string[] = [];
  let busy = 0;
  let sound = 0;
  for (const [i, said] of all.entries()) {
    const samples = await soundOf(said, i, condition);
    let recogniser = recognisers.get(said.aircraft);
    if (recogniser === undefined) {
      recogniser = createRecogniser(await decoderFor(said.aircraft), said.aircraft.parts, aids);
      recognisers.set(said.aircraft, recogniser);
    }
    recogniser.expect(said.scene);
    const before = process.cpuUsage();
    const heard = await hearSamples(recogniser, samples, RATE, { id: () => `h${String(i)}` });
    busy += seconds(process.cpuUsage(before));
    sound += samples.length / RATE;
    const bad = judge(said, read(said, heard), score);
    if (bad) misses.push(`"${said.text}" heard as "${heard.map((h) => h.text).join(' | ')}"`);
  }
  return { score, busy, sound, misses };
}

function seconds(usage: NodeJS.CpuUsage): number {
  return (usage.user + usage.system) / 1e6;
}

export function read(said: Said, heard: readonly Heard[]): Statement[] {
  const statements: Statement[] = [];
  let scene = said.scene;
  for (const one of heard) {
    const reading = said.aircraft.grammar.read(one, scene);
    statements.push(...reading.statements);
    scene = reading.scene;
  }
  return statements;
}

export function judge(said: Said, statements: readonly Statement[], score: Score): boolean {
  const meant = meaningOf(said.meaning);
  const got = meaningOf(statements);
  let bad = false;
  for (const kind of ['checks', 'findings', 'numbers'] as const) {
    const right = [...meant[kind]].filter((key) => got[kind].has(key)).length;
    score[kind][0] += right;
    score[kind][1] += meant[kind].size;
    if (right < meant[kind].size) bad = true;
  }
  const wrong = wrongIn(meant, got);
  score.wrong += wrong;
  return bad || wrong > 0;
}

/** Results that nobody said. A wrong value counts beside a wrong check: it goes into the record as well. */
export function wrongIn(meant: Meaning, got: Meaning): number {
  return (['checks', 'numbers'] as const).flatMap((kind) =>
    [...got[kind]].filter((key) => !meant[kind].has(key)),
  ).length;
}

/** The live way, in simulated time: sound comes in 40 ms pieces, computing takes what it takes on one core. */
export async function live(
  all: readonly Said[],
  condition: Condition,
): Promise<{ acks: number[]; busy: number; sound: number; heap: number }> {
  const acks: number[] = [];
  let busy = 0;
  let sound = 0;
  let heap = 0;
  const engines = new Map<Aircraft, Awaited<ReturnType<typeof engineFor>>>();
  for (const [i, said] of all.entries()) {
    const samples = await soundOf(said, i, condition);
    let engine = engines.get(said.aircraft);
    if (engine === undefined) engines.set(said.aircraft, (engine = await engineFor(said.aircraft)));
    const end = speechEnd(await soundOf(said, i, 'clean'));
    const piece = Math.round(RATE * 0.04);
    let clock = 0;
    engine.heardAt = null;
    const near = said.aircraft.parts.near?.(said.scene) ?? [];
    await engine.take({ kind: 'expect', near, question: said.scene.question?.kind ?? null });
    for (let at = 0; at < samples.length; at += piece) {
      const before = process.cpuUsage();
      await engine.take({
        kind: 'sound',
        samples: samples.subarray(at, at + piece),
        rate: RATE,
      });
      const spent = seconds(process.cpuUsage(before));
      busy += spent;
      clock = Math.max(clock, Math.min(samples.length, at + piece) / RATE) + spent;
      if (engine.posted) engine.heardAt = clock;
      engine.posted = false;
    }
    await engine.take({ kind: 'flush' });
    engine.posted = false;
    if (engine.heardAt !== null) acks.push(Math.max(0, engine.heardAt - end));
    sound += samples.length / RATE;
    heap = Math.max(heap, engine.heap());
  }
  return { acks: acks.sort((a, b) => a - b), busy, sound, heap };
}

async function engineFor(plane: Aircraft) {
  const decoder = await decoderFor(plane);
  const engine = {
    posted: false,
    heardAt: null as number | null,
    heap: () => decoder.heap(),
    take: createEngine(
      () => Promise.resolve(decoder),
      (message) => {
        if (message.kind === 'ended' && message.hearing !== null) engine.posted = true;
      },
    ),
  };
  await engine.take({
    kind: 'open',
    modelBase: '',
    plan: plane.parts.plan,
    words: plane.parts.words,
  });
  return engine;
}

/** Seconds at which the last sound within 35 dB of the loudest ends. */
function speechEnd(samples: Float32Array): number {
  let loudest = 0;
  for (const s of samples) loudest = Math.max(loudest, Math.abs(s));
  for (let i = samples.length - 1; i >= 0; i--)
    if (Math.abs(samples[i] ?? 0) > loudest / 56) return i / RATE;
  return 0;
}
