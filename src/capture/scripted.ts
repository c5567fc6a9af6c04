import type { Heard } from '#shared/heard';
import {
  heardOf,
  listeners,
  type Ear,
  type EarNotice,
  type EarParts,
  type EarState,
} from './ear.ts';

/** One thing that a replay does, `after` seconds after the step before it. */
export type Step = { readonly after?: number } & (
  | { readonly say: string; readonly seconds?: number; readonly alternatives?: readonly string[] }
  | { readonly heard: Omit<Heard, 'id'> }
  | { readonly partial: string }
  | { readonly state: EarState; readonly sentence: string }
  | { readonly level: number }
  | { readonly notice: EarNotice }
);

/** Calls back after so many seconds; returns a way to call it off. */
export type Wait = (seconds: number, then: () => void) => () => void;

export const realWait: Wait = (seconds, then) => {
  const timer = setTimeout(then, seconds * 1000);
  return () => clearTimeout(timer);
};

/** Seconds that a sentence takes when the script does not say: 2.5 words a second, an even pace of talk. */
const WORDS_PER_SECOND = 2.5;

export interface ScriptedEar extends Ear {
  /** Resolves when the last step is done or the ear was stopped. */
  readonly done: Promise<void>;
}

/**
 * Replays a script: for tests, for the crash ordeal and for showing the app
 * without a microphone. While held, the script stands still.
 */
export function scriptedEar(
  parts: EarParts,
  script: Iterable<Step>,
  wait: Wait = realWait,
): ScriptedEar {
  const out = listeners();
  const steps = script[Symbol.iterator]();
  let next: IteratorResult<Step> | null = null;
  let cancel: (() => void) | null = null;
  let running = false;
  let finish: () => void = () => undefined;
  const done = new Promise<void>((resolve) => (finish = resolve));

  function perform(step: Step): void {
    if ('say' in step) {
      const seconds = step.seconds ?? step.say.split(/\s+/).length / WORDS_PER_SECOND;
      const to = parts.seconds();
      out.heard(
        heardOf({
          id: parts.world.id(),
          by: 'scripted',
          text: step.say,
          alternatives: (step.alternatives ?? []).map((text) => ({ text, confidence: null })),
          from: Math.max(0, to - seconds),
          to,
        }),
      );
    } else if ('heard' in step) out.heard({ ...step.heard, id: parts.world.id() });
    else if ('partial' in step) out.partial(step.partial);
    else if ('state' in step) out.state(step.state, step.sentence);
    else if ('level' in step) out.level(step.level);
    else out.notice(step.notice);
  }

  function go(): void {
    if (!running || cancel !== null) return;
    next ??= steps.next();
    if (next.done === true) {
      finish();
      return;
    }
    const step = next.value;
    cancel = wait(step.after ?? 0, () => {
      cancel = null;
      next = null;
      perform(step);
      go();
    });
  }

  function halt(): void {
    running = false;
    cancel?.();
    cancel = null;
  }

  return {
    kind: 'scripted',
    name: 'A replay',
    sendsAway: false,
    start() {
      if (!running) {
        running = true;
        out.state('listening', 'A replay is running.');
        go();
      }
      return Promise.resolve();
    },
    stop() {
      halt();
      out.state('stopped', 'The replay is stopped.');
      finish();
      return Promise.resolve();
    },
    pause() {
      if (!running) return;
      halt();
      out.state('held', 'The replay is held.');
    },
    resume() {
      if (running || out.current !== 'held') return;
      running = true;
      out.state('listening', 'A replay is running.');
      go();
    },
    expect() {
      // A replay says what it says.
    },
    done,
    ...out.on,
  };
}
