import { FIRST_SCENE, type Scene } from '#shared/scene';
import { listeners, type Ear, type EarParts } from '../ear.ts';
import { realWait, type Wait } from '../scripted.ts';
import type { FromWorker, ToWorker } from './messages.ts';
import { heardIn, type GrammarParts } from './recognise.ts';

/** The recogniser's worker, as far as it is used. */
export interface WorkerLike {
  postMessage(message: ToWorker): void;
  onMessage(take: (message: FromWorker) => void): void;
  /** It ended by an error, or was ended. */
  onGone(take: () => void): void;
  terminate(): void;
}

/** Sound from the microphone. */
export interface Tap {
  /** Samples a second. */
  readonly rate: number;
  onSound(take: (samples: Float32Array) => void): void;
  close(): Promise<void>;
}

export interface EmbeddedParts extends EarParts {
  readonly modelBase: string;
  readonly grammar: GrammarParts;
  makeWorker(): WorkerLike;
  /** Opens the sound. Rejects with a sentence. */
  openTap(): Promise<Tap>;
  readonly wait?: Wait;
}

export const EMBEDDED_NAME = 'The recogniser on this device';

/** Seconds without any answer, while sound is sent, after which the worker is taken for dead. */
const DEAD_AFTER = 6;
/** Seconds of sound kept for another try: longer than any utterance. */
const KEPT = 40;
/** Attempts in a row to bring a worker back; then the trouble is said. */
const MOST_RESTARTS = 3;
/** Seconds that `stop` waits for the last utterance. */
const LAST_WORDS = 4;

/**
 * The recogniser of this device as an ear. Sound is kept until the worker has
 * done with it, so that a worker that dies takes no utterance along.
 */
export function embeddedEar(parts: EmbeddedParts): Ear {
  const out = listeners();
  const wait = parts.wait ?? realWait;
  let tap: Tap | null = null;
  let worker: WorkerLike | null = null;
  let ready = false;
  let held = false;
  let near = parts.grammar.near?.(FIRST_SCENE) ?? [];
  let asked = false;
  /** Sound not yet settled; `keptFrom` is where it begins, in seconds sent since the tap was opened. */
  let kept: Float32Array[] = [];
  let keptFrom = 0;
  let sent = 0;
  /** Where the present worker's own time begins. */
  let workerFrom = 0;
  /** Walk time less sound time. */
  let offset: number | null = null;
  let restarts = 0;
  let lastAnswer = 0;
  let cancelWatch: (() => void) | null = null;
  let flushed: (() => void) | null = null;
  let starting: Promise<void> | null = null;

  function openWorker(rate: number): void {
    const made = parts.makeWorker();
    worker = made;
    ready = false;
    workerFrom = keptFrom;
    lastAnswer = parts.world.steady();
    made.onMessage((message) => {
      if (worker === made) take(message);
    });
    made.onGone(() => {
      if (worker === made) lost();
    });
    made.postMessage({
      kind: 'open',
      modelBase: parts.modelBase,
      plan: parts.grammar.plan,
      words: parts.grammar.words,
      near,
      rate,
    });
    for (const samples of kept) made.postMessage({ kind: 'sound', samples: samples.slice() });
  }

  /** The worker died: another takes its place and hears again what was not settled. */
  function lost(): void {
    worker?.terminate();
    worker = null;
    if (tap === null) return;
    out.partial('');
    if (++restarts > MOST_RESTARTS) {
      out.state(
        'trouble',
        'The recogniser on this device keeps stopping. Close other apps and start listening again, or type.',
        'files',
      );
      flushed?.();
      return;
    }
    out.state(
      'starting',
      'The recogniser stopped and is brought back; nothing that was said is lost.',
    );
    openWorker(tap.rate);
  }

  function take(message: FromWorker): void {
    lastAnswer = parts.world.steady();
    const at = (seconds: number) => seconds + workerFrom + (offset ?? 0);
    switch (message.kind) {
      case 'ready':
        ready = true;
        out.state(held ? 'held' : 'listening', listening());
        return;
      case 'begun':
        if (!held) out.state('hearing', 'Hearing you.');
        return;
      case 'partial':
        out.partial(message.text);
        return;
      case 'heard':
        restarts = 0;
        out.heard(
          heardIn(
            message.hearing,
            Math.max(0, at(message.from)),
            Math.max(0, at(message.to)),
            parts.world.id(),
            'embedded',
          ),
        );
        return;
      case 'settled':
        settle(message.upTo + workerFrom);
        if (out.current === 'hearing') out.state('listening', listening());
        return;
      case 'flushed':
        flushed?.();
        return;
      case 'failed':
        worker?.terminate();
        worker = null;
        out.state('trouble', message.sentence, 'files');
        flushed?.();
    }
  }

  function listening(): string {
    return 'Listening on this device; no sound leaves it.';
  }

  function settle(upTo: number): void {
    const rate = tap?.rate ?? 1;
    for (let first = kept[0]; first !== undefined; first = kept[0]) {
      const end = keptFrom + first.length / rate;
      if (end > upTo && sent - keptFrom < KEPT) return;
      kept.shift();
      keptFrom = end;
    }
  }

  function sound(samples: Float32Array): void {
    if (tap === null) return;
    let sum = 0;
    for (const s of samples) sum += s * s;
    out.level(Math.min(1, Math.sqrt(sum / Math.max(1, samples.length))));
    if (held) return;
    kept.push(samples);
    sent += samples.length / tap.rate;
    const now = parts.seconds() - sent;
    // Sound that stood still (a call, a hidden page) moves what follows it.
    if (offset === null || Math.abs(now - offset) > 0.5) offset = now;
    worker?.postMessage({ kind: 'sound', samples: samples.slice() });
    if (ready && worker !== null && parts.world.steady() - lastAnswer > DEAD_AFTER) lost();
  }

  function watch(): void {
    cancelWatch = wait(1, () => {
      if (worker === null || tap === null) return;
      watch();
    });
  }

  async function flush(): Promise<void> {
    if (worker === null || !ready) return;
    const done = new Promise<void>((resolve) => {
      flushed = resolve;
    });
    worker.postMessage({ kind: 'flush' });
    await Promise.race([
      done,
      new Promise<void>((resolve) => {
        wait(LAST_WORDS, resolve);
      }),
    ]);
    flushed = null;
  }

  async function open(): Promise<void> {
    out.state('starting', 'The recogniser on this device is loading.');
    try {
      tap = await parts.openTap();
    } catch (error) {
      out.state(
        'trouble',
        error instanceof Error ? error.message : 'The microphone could not be opened.',
        'microphone',
      );
      return;
    }
    restarts = 0;
    kept = [];
    keptFrom = 0;
    sent = 0;
    offset = null;
    openWorker(tap.rate);
    tap.onSound(sound);
    watch();
  }

  return {
    kind: 'embedded',
    name: EMBEDDED_NAME,
    sendsAway: false,
    start() {
      if (tap !== null) return Promise.resolve();
      starting ??= open().finally(() => (starting = null));
      return starting;
    },
    async stop() {
      await starting;
      const closing = tap;
      cancelWatch?.();
      await closing?.close();
      await flush();
      tap = null;
      worker?.terminate();
      worker = null;
      ready = false;
      out.partial('');
      out.state('stopped', 'The recogniser on this device is closed.');
    },
    pause() {
      if (held) return;
      held = true;
      // What was begun before goes out as it is.
      worker?.postMessage({ kind: 'flush' });
      out.state('held', 'Not listening until you resume.');
    },
    resume() {
      if (!held) return;
      held = false;
      if (ready) out.state('listening', listening());
    },
    expect(scene: Scene) {
      const next = parts.grammar.near?.(scene) ?? [];
      const question = scene.question !== null;
      if (question === asked && next.join('|') === near.join('|')) return;
      near = next;
      asked = question;
      worker?.postMessage({ kind: 'near', names: near, question });
    },
    ...out.on,
  };
}
