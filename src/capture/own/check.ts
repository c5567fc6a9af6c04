import type { Listening } from '#shared/listening';
import { phrasesToRead, type Checked, type Tried } from '../embedded/adapt.ts';
import { MOST_PHRASES, type Adapted, type VoiceSettings } from '../embedded/voice.ts';
import { realWait, type Wait } from '../scripted.ts';
import { loudness } from '../sound/level.ts';
import type { Microphone, StreamLike } from '../sound/microphone.ts';
import type { Tap } from '../sound/tap.ts';
import type { WorkerLike } from './ear.ts';

export interface EarCheckParts<Stream extends StreamLike> {
  readonly modelBase: string;
  readonly grammar: Listening;
  readonly microphone: Microphone<Stream>;
  tap(stream: Stream, take: (samples: Float32Array) => void): Promise<Tap>;
  worker(): WorkerLike;
  /** Settings that are kept for whoever reads. */
  readonly kept: VoiceSettings | null;
  /** Whose voice it listens for from the begin; left out: nobody's in particular. */
  readonly voice?: VoiceSettings | null;
  /** Loudness of the input, 0 to 1. */
  onLevel(level: number): void;
  onState(state: 'listening' | 'hearing' | 'trouble', sentence: string): void;
  /** The phrase that was asked for was read. */
  onChecked(text: string, checked: Checked & { readonly tried?: Tried }): void;
  onAdapted(adapted: Adapted): void;
  readonly wait?: Wait;
}

/**
 * Phrases of the aircraft, read once to a recogniser of their own. Nothing of it
 * is a walk, and no sound is kept: it ends with the worker.
 */
export interface EarCheck {
  readonly phrases: readonly string[];
  /** Never rejects: what is wrong is told by `onState`. */
  start(): Promise<void>;
  /** What is read next; with `near` it is a name that is tried among these. */
  read(text: string, near?: readonly string[]): void;
  /** What follows for this voice; told by `onAdapted`. */
  adapt(): void;
  stop(): void;
}

/** Seconds in which the recogniser has to be there. */
const READY = 30;

export function earCheck<Stream extends StreamLike>(parts: EarCheckParts<Stream>): EarCheck {
  const { microphone, grammar } = parts;
  let worker: WorkerLike | null = null;
  let tapped: Tap | null = null;
  let over = false;
  let late: (() => void) | null = null;
  let off: (() => void) | null = null;

  function trouble(sentence: string): void {
    if (over) return;
    stop();
    parts.onState('trouble', sentence);
  }

  function stop(): void {
    over = true;
    late?.();
    off?.();
    tapped?.close();
    worker?.end();
    microphone.close();
    worker = null;
    tapped = null;
  }

  return {
    phrases: phrasesToRead(grammar.plan, MOST_PHRASES),
    async start() {
      const opened = await microphone.open();
      if (!opened.ok) {
        trouble(opened.sentence);
        return;
      }
      off = microphone.onChange((state, sentence) => {
        if (state !== 'open')
          trouble(`${sentence} The ear check was broken off; nothing was kept.`);
      });
      const mine = parts.worker();
      worker = mine;
      late = (parts.wait ?? realWait)(READY, () => trouble('The recogniser did not answer.'));
      mine.onDeath((why) => trouble(`The recogniser stopped: ${why}.`));
      mine.onMessage((message) => {
        if (over) return;
        if (message.kind === 'ready') {
          late?.();
          parts.onState('listening', 'Listening on this device.');
        } else if (message.kind === 'failed') trouble(message.why);
        else if (message.kind === 'begun') parts.onState('hearing', 'Hearing you.');
        else if (message.kind === 'checked') {
          parts.onState('listening', 'Listening on this device.');
          parts.onChecked(message.text, message);
        } else if (message.kind === 'adapted') parts.onAdapted(message.adapted);
      });
      mine.post({
        kind: 'open',
        modelBase: parts.modelBase,
        plan: grammar.plan,
        words: grammar.words,
        ...(parts.voice === undefined || parts.voice === null ? {} : { voice: parts.voice }),
      });
      try {
        const tap = await parts.tap(opened.stream, (samples) => {
          parts.onLevel(loudness(samples));
          worker?.post({ kind: 'sound', samples, rate: tapped?.rate ?? RATE });
        });
        if (over) tap.close();
        else tapped = tap;
      } catch (error) {
        trouble(error instanceof Error ? error.message : String(error));
      }
    },
    read: (text, near) =>
      worker?.post({ kind: 'read', text, ...(near === undefined ? {} : { near }) }),
    adapt: () => worker?.post({ kind: 'adapt', kept: parts.kept }),
    stop,
  };
}

/** Samples a second until the microphone has told its own. */
const RATE = 48_000;
