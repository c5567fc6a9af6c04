import type { Plan, SoundedWord } from '#shared/listening';
import type { Question } from '#shared/question';
import type { Scene } from '#shared/scene';
import { heardIn } from '../embedded/recognise.ts';
import type { VoiceSettings } from '../embedded/voice.ts';
import { listeners, type Ear, type EarParts, type Trouble } from '../ear.ts';
import { realWait, type Wait } from '../scripted.ts';
import { loudness } from '../sound/level.ts';
import type { Tap } from '../sound/tap.ts';
import { createOffset } from './offset.ts';
import type { FromWorker, ToWorker } from './protocol.ts';

/** The worker as far as it is used, so that a test can stand in for it and kill it. */
export interface WorkerLike {
  post(message: ToWorker): void;
  onMessage(take: (message: FromWorker) => void): void;
  /** The worker is gone, or broke. */
  onDeath(take: (why: string) => void): void;
  end(): void;
}

export interface OwnEarParts<Stream> extends EarParts {
  /** Address of the folder with the model, ending in "/". */
  readonly modelBase: string;
  /** What to listen for on this aircraft. */
  readonly plan: Plan;
  readonly words: readonly SoundedWord[];
  /** Names that are likely in this scene. */
  near(scene: Scene): readonly string[];
  stream(): Stream | null;
  tap(stream: Stream, take: (samples: Float32Array) => void): Promise<Tap>;
  worker(): WorkerLike;
  /** Whose voice it is, when a worker is opened; null: nobody's in particular. */
  voice?(): VoiceSettings | null;
  readonly wait?: Wait;
}

/** Seconds in which the model, or the next piece of it, has to come: 10 MB from a slow disk, a pause of a slow network. */
export const READY = 30;
/** Seconds between two questions whether the worker lives. */
const PING = 2;
/** Seconds without an answer after which it does not. A long utterance is decoded in a third of it. */
export const DEAD = 10;
/** Seconds to wait for the last utterance when closing. */
const LAST_WORDS = 4;
/** Workers begun in a row without an utterance between, before we give up. */
const MOST_WORKERS = 4;

/** Seconds: sums of block lengths do not come out even. */
const ROUNDING = 1e-6;

interface Block {
  readonly samples: Float32Array;
  /** Seconds of sound of this worker's stream at its end. */
  readonly end: number;
}

/**
 * Our own recogniser on a microphone. The worker may die: what it had not dealt
 * with yet is sent to the next one, so that nothing heard is lost.
 */
export function ownEar<Stream>(parts: OwnEarParts<Stream>): Ear {
  const out = listeners();
  const wait = parts.wait ?? realWait;
  let wanted = false;
  let held = false;
  let tapped: Tap | null = null;
  let worker: WorkerLike | null = null;
  let ready = false;
  let began = 0;
  let near: readonly string[] = [];
  let question: Question['kind'] | null = null;
  /** Blocks that the worker has not dealt with. */
  let kept: Block[] = [];
  let sent = 0;
  const offset = createOffset();
  let answered = 0;
  /** When the last piece of the model came, or was asked for. */
  let came = 0;
  let flushed: (() => void) | null = null;
  const timers = new Set<() => void>();

  function later(seconds: number, then: () => void): () => void {
    const cancel = wait(seconds, () => {
      timers.delete(cancel);
      then();
    });
    timers.add(cancel);
    return cancel;
  }

  function listening(): void {
    if (!wanted || !ready) return;
    if (held) out.state('held', 'Held. Nothing is being heard.');
    else out.state('listening', 'Listening on this device.');
  }

  function take(samples: Float32Array): void {
    if (held || !wanted) return;
    out.level(loudness(samples));
    const rate = tapped?.rate ?? 48_000;
    sent += samples.length / rate;
    offset.take(parts.seconds(), sent);
    kept.push({ samples, end: sent });
    worker?.post({ kind: 'sound', samples, rate });
  }

  function settle(upTo: number): void {
    kept = kept.filter((block) => block.end > upTo + ROUNDING);
  }

  function hire(): void {
    const mine = parts.worker();
    worker = mine;
    ready = false;
    began += 1;
    answered = parts.world.steady();
    mine.onMessage((message) => {
      if (worker !== mine) return;
      answered = parts.world.steady();
      told(message);
    });
    mine.onDeath((why) => lost(mine, why));
    const voice = parts.voice?.() ?? null;
    mine.post({
      kind: 'open',
      modelBase: parts.modelBase,
      plan: parts.plan,
      words: parts.words,
      ...(voice === null ? {} : { voice }),
    });
    mine.post({ kind: 'expect', near, question });
    // The stream of a new worker begins with what the last one had not dealt with.
    const again = kept;
    const rate = tapped?.rate ?? 48_000;
    const first = (again[0]?.end ?? sent) - (again[0]?.samples.length ?? 0) / rate;
    offset.shift(first);
    sent -= first;
    kept = again.map((block) => ({ ...block, end: block.end - first }));
    for (const block of kept) mine.post({ kind: 'sound', samples: block.samples, rate });
    came = answered;
    expectModel(mine);
    ask(mine);
  }

  /** While the model still comes, a slow network is waited for: begun again it would begin from nothing. */
  function expectModel(mine: WorkerLike): void {
    later(READY, () => {
      if (worker !== mine || ready) return;
      if (parts.world.steady() - came < READY) expectModel(mine);
      else lost(mine, 'it did not answer');
    });
  }

  function ask(mine: WorkerLike): void {
    later(PING, () => {
      if (worker !== mine) return;
      if (ready && parts.world.steady() - answered > DEAD) {
        lost(mine, 'it stopped answering');
        return;
      }
      mine.post({ kind: 'ping' });
      ask(mine);
    });
  }

  function lost(mine: WorkerLike, why: string): void {
    if (worker !== mine) return;
    worker = null;
    mine.end();
    flushed?.();
    if (!wanted) return;
    if (began >= MOST_WORKERS) {
      void fail(`The recogniser of this device stopped again and again: ${why}.`);
      return;
    }
    out.state('starting', 'The recogniser stopped and is being started again; nothing is lost.');
    hire();
  }

  async function fail(sentence: string, trouble: Trouble = 'files'): Promise<void> {
    wanted = false;
    close();
    out.partial('');
    out.state('trouble', sentence, trouble);
    await Promise.resolve();
  }

  function told(message: FromWorker): void {
    switch (message.kind) {
      case 'loading':
        came = answered;
        out.loading(message.share);
        break;
      case 'ready':
        ready = true;
        listening();
        break;
      case 'failed':
        void fail(
          message.why.endsWith('.')
            ? message.why
            : `The recogniser of this device cannot be opened: ${message.why}.`,
        );
        break;
      case 'begun':
        if (!held) out.state('hearing', 'Hearing you.');
        break;
      case 'partial':
        out.partial(message.text);
        break;
      case 'ended': {
        out.partial('');
        // Sent again it would be heard twice.
        settle(message.to);
        const at = offset.zero ?? 0;
        if (message.hearing !== null) {
          began = 1;
          out.heard(
            heardIn(
              message.hearing,
              Math.max(0, at + message.from),
              Math.max(0, at + message.to),
              parts.world.id(),
              'embedded',
            ),
          );
        } else if (wanted && !held)
          out.notice({
            kind: 'lost',
            sentence: 'Something was said, and no words were made of it.',
            from: Math.max(0, at + message.from + message.sound.begins),
            to: Math.max(0, at + message.to),
            sound: message.sound,
          });
        listening();
        break;
      }
      case 'done':
        settle(message.upTo);
        break;
      case 'flushed':
        flushed?.();
        break;
      case 'pong':
        break;
      // Only an ear check asks for these.
      case 'checked':
      case 'adapted':
        break;
    }
  }

  function flush(): Promise<void> {
    const mine = worker;
    if (mine === null || !ready) return Promise.resolve();
    return new Promise((resolve) => {
      const cancel = later(LAST_WORDS, () => flushed?.());
      flushed = () => {
        flushed = null;
        cancel();
        timers.delete(cancel);
        resolve();
      };
      mine.post({ kind: 'flush' });
    });
  }

  function close(): void {
    tapped?.close();
    tapped = null;
    worker?.end();
    worker = null;
    ready = false;
    for (const cancel of timers) cancel();
    timers.clear();
    kept = [];
    sent = 0;
    offset.reset();
    began = 0;
  }

  return {
    kind: 'embedded',
    name: "Talkround's own recogniser",
    sendsAway: false,
    async start() {
      if (wanted) return;
      wanted = true;
      held = false;
      out.state('starting', 'The recogniser of this device is being loaded.');
      const stream = parts.stream();
      if (stream === null) {
        wanted = false;
        out.state('trouble', 'There is no microphone to listen to.', 'microphone');
        return;
      }
      hire();
      try {
        const opened = await parts.tap(stream, take);
        if (wanted) tapped = opened;
        else opened.close();
      } catch (error) {
        if (wanted)
          await fail(error instanceof Error ? error.message : String(error), 'microphone');
        return;
      }
      if (!wanted || ready) return;
      await new Promise<void>((resolve) => {
        const off = out.on.onState((state) => {
          if (state === 'starting') return;
          off();
          resolve();
        });
      });
    },
    async stop() {
      if (!wanted) return;
      wanted = false;
      await flush();
      close();
      out.partial('');
      out.state('stopped', 'The recogniser of this device is closed.');
    },
    pause() {
      if (!wanted || held) return;
      held = true;
      void flush();
      listening();
    },
    resume() {
      if (!wanted || !held) return;
      held = false;
      void tapped?.resume();
      listening();
    },
    expect(scene) {
      near = parts.near(scene);
      question = scene.question?.kind ?? null;
      worker?.post({ kind: 'expect', near, question });
    },
    ...out.on,
  };
}
