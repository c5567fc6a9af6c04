import { ownEar, type WorkerLike } from '#capture';
import { FIRST_SCENE, type Scene } from '#shared/scene';
import { loadDecoder } from '../../src/capture/embedded/decoder.ts';
import { createEngine } from '../../src/capture/own/engine.ts';
import type { FromWorker } from '../../src/capture/own/protocol.ts';
import { NOISES, over, noise, seeded } from '../speech/noise.ts';
import { RATE, say, VOICES } from '../speech/voice.ts';
import { UNRELATED } from './listening-others.ts';
import {
  aircraft,
  meaningOf,
  modelFolder,
  walkUtterances,
  type Aircraft,
} from './listening-set.ts';

/*
 * One made recording of an hour, walks, talk, noise and silence in a row, through the live
 * way: the ear on its microphone, the worker's engine behind it, the reader behind both.
 * `npm run bench:hour -- [--minutes N] [--seed N] [--json]`; exits with 1 where an utterance
 * was lost, times drifted or memory grew. What it says and what it cannot: LISTENING.md.
 */

/** A stretch of the recording, and what was said in it. */
interface Stretch {
  readonly kind: 'walk' | 'talk' | 'noise' | 'silence';
  readonly samples: Float32Array;
  /** Utterances in it, in seconds from its begin, and the checks that each speaks for. */
  readonly said: readonly { text: string; from: number; to: number; checks: readonly string[] }[];
}

/** Utterances of the walk in one stretch, sentences of talk in one. */
const WALK_LINES = 8;
const TALK_LINES = 3;
/** Seconds of silence or noise alone. */
const APART = 12;
/** Decibels of speech over noise where there is any. */
const OVER = 20;
/** Part of the sound before and behind which the figures are compared. */
const PART = 0.25;
/** Median difference of the times, in seconds, from which they drifted. */
const MOST_DRIFT = 0.1;
/** Seconds before its own begin from which words belong to an utterance that ran into this one, as in noise. */
const JOINED = 0.5;
/** Growth of the recogniser's heap and of the program's after the first part, in bytes, from which something leaks. */
const MOST_HEAP = 4e6;
const MOST_PROGRAM = 40e6;
/** Millionths by which the sound card's second is longer than the walk's. */
const CARD = 100;

/** The recording, stretch by stretch, without end. */
async function* recording(plane: Aircraft, seed: number): AsyncGenerator<Stretch> {
  const random = seeded(seed);
  const lines = walkUtterances([plane]);
  let line = 0;
  let talk = 0;
  for (let turn = 0; ; turn++) {
    const voice = VOICES[turn % VOICES.length] ?? 'slt';
    // Every other round over noise, which goes through its pauses too.
    const loud = turn % 2 === 1;
    const kind = NOISES[turn % NOISES.length] ?? 'pink';
    const speak = async (which: 'walk' | 'talk', count: number): Promise<Stretch> => {
      const parts: Float32Array[] = [];
      const said: Stretch['said'][number][] = [];
      let at = 0;
      const pause = () => {
        const length = Math.round((1 + random() * 2.5) * RATE);
        parts.push(new Float32Array(length));
        at += length;
      };
      pause();
      for (let i = 0; i < count; i++) {
        const one = which === 'walk' ? lines[line++ % lines.length] : undefined;
        const text = one?.text ?? UNRELATED[talk++ % UNRELATED.length] ?? '';
        const sound = await say(text, voice);
        const checks = one === undefined ? [] : [...meaningOf(one.meaning).checks];
        said.push({ text, from: at / RATE, to: (at + sound.length) / RATE, checks });
        parts.push(sound);
        at += sound.length;
        pause();
      }
      const samples = new Float32Array(at);
      parts.reduce((to, part) => (samples.set(part, to), to + part.length), 0);
      return {
        kind: which,
        samples: loud ? over(samples, kind, OVER, RATE, seed + turn) : samples,
        said,
      };
    };
    yield await speak('walk', WALK_LINES);
    yield await speak('talk', TALK_LINES);
    const hum = noise(kind, RATE * APART, RATE, seed + turn).map((s) => s * 0.03);
    yield { kind: 'noise', samples: hum, said: [] };
    yield { kind: 'silence', samples: new Float32Array(RATE * APART), said: [] };
  }
}

/** What came out of the ear: words, or the notice that there were none; times in seconds of the walk. */
interface Noted {
  readonly from: number;
  readonly to: number;
  /** Null: no words were made of it. */
  readonly text: string | null;
  readonly checks: readonly string[];
  readonly orders: number;
}

/** What was said, and where: the same times. */
interface Said extends Pick<Noted, 'from' | 'to' | 'checks'> {
  readonly text: string;
  readonly kind: Stretch['kind'];
}

/** What was made of one utterance. */
interface Made {
  readonly at: number;
  readonly words: boolean;
  /** Seconds by which the first word began after the sound did; null where what was heard begins with the one before. */
  readonly off: number | null;
  readonly right: number;
  readonly of: number;
}

export async function main(words: string[]): Promise<number> {
  const option = (name: string, otherwise: number): number => {
    const at = words.indexOf(name);
    return at < 0 ? otherwise : Number(words[at + 1]);
  };
  const minutes = option('--minutes', 60);
  const seed = option('--seed', 1);
  const json = words.includes('--json');
  if (!(minutes > 0) || !Number.isInteger(seed)) {
    console.error('How long? --minutes takes a number above 0, --seed a whole number.');
    return 2;
  }
  const figures = await listen(minutes * 60, seed, (line) => {
    if (!json) console.log(line);
  });
  if (json) console.log(JSON.stringify(figures));
  return figures.lost > 0 || figures.drift > MOST_DRIFT || figures.leaks ? 1 : 0;
}

async function listen(length: number, seed: number, print: (line: string) => void) {
  const [plane] = aircraft('training-helicopter');
  if (plane === undefined) throw new Error('There is no catalogue of the helicopter.');
  const decoder = await loadDecoder(modelFolder());
  let now = 0;
  let ids = 0;
  let turn: Promise<void> = Promise.resolve();
  let timers: { at: number; then: () => void }[] = [];
  let take: (samples: Float32Array) => void = () => undefined;
  const ear = ownEar<object>({
    world: { id: () => `h${String((ids += 1))}`, now: () => now * 1000, steady: () => now },
    seconds: () => now,
    modelBase: '',
    plan: plane.parts.plan,
    words: plane.parts.words,
    near: (scene) => plane.parts.near?.(scene) ?? [],
    stream: () => ({}),
    tap: (_, taker) => {
      take = taker;
      return Promise.resolve({
        rate: RATE,
        resume: () => Promise.resolve(),
        close: () => undefined,
      });
    },
    worker(): WorkerLike {
      let tell: (message: FromWorker) => void = () => undefined;
      const engine = createEngine(
        () => Promise.resolve(decoder),
        (message) => tell(message),
      );
      return {
        post: (message) => void (turn = engine(message)),
        onMessage: (to) => void (tell = to),
        onDeath: () => undefined,
        end: () => undefined,
      };
    },
    wait(seconds, then) {
      const timer = { at: now + seconds, then };
      timers.push(timer);
      return () => void (timers = timers.filter((t) => t !== timer));
    },
  });

  let scene: Scene = FIRST_SCENE;
  // All of the hour: a piece that runs into the next stretch comes out in that one.
  const noted: Noted[] = [];
  const said: Said[] = [];
  ear.onHeard((heard) => {
    const reading = plane.grammar.read(heard, scene);
    scene = reading.scene;
    ear.expect(scene);
    const checks = [...meaningOf(reading.statements).checks];
    const orders = reading.statements.filter((s) => s.kind === 'command').length;
    noted.push({ from: heard.from ?? 0, to: heard.to ?? 0, text: heard.text, checks, orders });
  });
  ear.onNotice((notice) => {
    if (notice.kind === 'lost')
      noted.push({
        from: notice.from ?? 0,
        to: notice.to ?? 0,
        text: null,
        checks: [],
        orders: 0,
      });
  });
  const opening = ear.start();
  await turn;
  await opening;
  ear.expect(scene);

  const block = Math.round(RATE * 0.04);
  const heap = () => {
    (globalThis as { gc?: () => void }).gc?.();
    return { recogniser: decoder.heap(), program: process.memoryUsage().heapUsed };
  };
  let early: ReturnType<typeof heap> | null = null;
  const cpu = process.cpuUsage();
  let sound = 0;
  for await (const stretch of recording(plane, seed)) {
    if (sound >= length) break;
    const begins = sound;
    for (let at = 0; at < stretch.samples.length; at += block) {
      const samples = stretch.samples.slice(at, at + block);
      sound += samples.length / RATE;
      now = sound * (1 + CARD / 1e6);
      take(samples);
      await turn;
      for (const due of timers.filter((t) => t.at <= now)) {
        timers = timers.filter((t) => t !== due);
        due.then();
      }
    }
    for (const one of stretch.said)
      said.push({
        text: one.text,
        kind: stretch.kind,
        from: (begins + one.from) * (1 + CARD / 1e6),
        to: (begins + one.to) * (1 + CARD / 1e6),
        checks: one.checks,
      });
    if (early === null && sound >= length * PART) early = heap();
  }
  await ear.stop();
  // What it heard last may have set the scene once more.
  await turn;
  const busy = process.cpuUsage(cpu);
  const late = heap();
  decoder.close();

  const made: Made[] = [];
  const lostTexts: string[] = [];
  for (const one of said) {
    const hits = noted.filter((n) => n.from < one.to && n.to > one.from);
    if (hits.length === 0) lostTexts.push(`${clock(one.from)} "${one.text}"`);
    const first = hits.find((hit) => hit.text !== null);
    const got = new Set(hits.flatMap((hit) => hit.checks));
    made.push({
      at: one.from,
      words: first !== undefined,
      off: first === undefined || first.from < one.from - JOINED ? null : first.from - one.from,
      right: one.checks.filter((key) => got.has(key)).length,
      of: one.checks.length,
    });
  }
  // Of no walk: nothing of one was said while it was heard.
  const walked = said.filter(({ kind }) => kind === 'walk');
  const idle = noted.filter((n) => !walked.some((w) => n.from < w.to && n.to > w.from));
  const good = (n: Noted) => n.checks.filter((key) => key.endsWith(' good')).length;
  const falseGood = idle.reduce((sum, n) => sum + good(n), 0);
  const falseOrders = idle.reduce((sum, n) => sum + n.orders, 0);

  const part = (last: boolean) =>
    made.filter((m) => (last ? m.at > sound * (1 - PART) : m.at <= sound * PART));
  const off = (of: readonly Made[]) => median(of.flatMap((m) => m.off ?? []));
  const share = (of: readonly Made[]) =>
    of.reduce((sum, m) => sum + m.right, 0) /
    Math.max(
      1,
      of.reduce((sum, m) => sum + m.of, 0),
    );
  const grown = {
    recogniser: late.recogniser - (early?.recogniser ?? late.recogniser),
    program: late.program - (early?.program ?? late.program),
  };
  const figures = {
    minutes: sound / 60,
    utterances: made.length,
    lost: lostTexts.length,
    withoutWords: made.filter((m) => !m.words).length,
    drift: Math.abs(off(part(true)) - off(part(false))),
    checksFirst: share(part(false)),
    checksLast: share(part(true)),
    falseSpokenFor: falseGood,
    falseOrders,
    grown,
    leaks: grown.recogniser > MOST_HEAP || grown.program > MOST_PROGRAM,
    realTimeFactor: (busy.user + busy.system) / 1e6 / sound,
  };
  const mb = (bytes: number) => `${(bytes / 1e6).toFixed(1)} MB`;
  print(
    `${figures.minutes.toFixed(1)} min of walks, talk, noise and silence, ${String(made.length)} utterances, seed ${String(seed)}, a sound card off by ${String(CARD)} in a million`,
  );
  print(`lost without a word or a notice: ${String(figures.lost)}`);
  for (const text of lostTexts) print(`    ${text}`);
  print(
    `no words made, and told: ${String(figures.withoutWords - figures.lost)}; checks right ${percent(figures.checksFirst)} in the first quarter, ${percent(figures.checksLast)} in the last`,
  );
  print(
    `times: first words ${off(part(false)).toFixed(3)} s after the sound in the first quarter, ${off(part(true)).toFixed(3)} s in the last`,
  );
  print(
    `memory after the first quarter: recogniser +${mb(grown.recogniser)}, program +${mb(grown.program)}${'gc' in globalThis ? '' : ' (not collected first)'}`,
  );
  print(
    `in talk, noise and silence: ${String(falseGood)} false "spoken for", ${String(falseOrders)} false orders; real-time factor ${figures.realTimeFactor.toFixed(2)}`,
  );
  for (const n of idle.filter((one) => good(one) + one.orders > 0))
    print(
      `    ${clock(n.from)} "${n.text ?? ''}" of ${said
        .filter((one) => n.from < one.to && n.to > one.from)
        .map((one) => `"${one.text}"`)
        .join(', ')}`,
    );
  return figures;
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;
}

function percent(share: number): string {
  return `${(share * 100).toFixed(0)} %`;
}

function clock(seconds: number): string {
  return `${String(Math.floor(seconds / 60))}:${String(Math.floor(seconds % 60)).padStart(2, '0')}`;
}
