import type { ApiRecognition } from './api.ts';
import { collector, type Collected, type Collector } from './collect.ts';

/*
 * One session of the browser's recogniser: from its start until it ends, by
 * itself, by an error, by us, or by never being heard of again.
 */

/** Seconds in which sound has to begin. Installed apps on iOS often expose an API that does nothing. */
export const NO_AUDIO = 3;
/** The same by the state of the permission: being asked takes a person's time. */
export const NO_AUDIO_BY = { granted: NO_AUDIO, denied: NO_AUDIO, prompt: 45, unknown: 8 } as const;
/** Seconds without any event after which a session is taken for dead. Live ones end within about 10 s of silence. */
export const SILENT_SESSION = 20;
/** Seconds to wait for `end` after an error or a stop: some platforms never send it. */
export const NO_END = 1.5;

export interface Session {
  /** Phrases to prefer were set. */
  readonly biased: boolean;
  start(): void;
  /** Asks for what was heard so far, then ends. */
  stop(): Promise<void>;
  /** Ends at once; what was heard so far goes out. */
  close(): void;
}

export interface SessionHooks {
  /** Results grow on this platform. */
  readonly patient: boolean;
  seconds(): number;
  wait(seconds: number, then: () => void): () => void;
  permission(): keyof typeof NO_AUDIO_BY;
  /** Utterances; `from` is when speech began, where the platform told. */
  give(collected: readonly Collected[], from: number | null): void;
  partial(text: string): void;
  state(state: 'asking' | 'listening' | 'hearing'): void;
  noWords(): void;
  /** Sound is coming in, so permission was given. */
  sounded(): void;
  /** Once. `error` is the first error that was not our own doing. */
  ended(session: Session, how: { readonly sound: boolean; readonly error: string | null }): void;
}

/** One session on this recognition; nothing is started yet. */
export function openSession(
  recognition: ApiRecognition,
  biased: boolean,
  hooks: SessionHooks,
): Session {
  const { wait } = hooks;
  const words: Collector = collector(hooks.patient);
  let over = false;
  let ours = false;
  let sound = false;
  let error: string | null = null;
  let speech: number | null = null;
  let resolveEnd: () => void = () => undefined;
  const end = new Promise<void>((resolve) => (resolveEnd = resolve));
  const timers = new Map<string, () => void>();

  function timer(name: string, seconds: number | null, then: () => void): void {
    timers.get(name)?.();
    timers.delete(name);
    if (seconds !== null) timers.set(name, wait(seconds, then));
  }

  function finish(): void {
    if (over) return;
    over = true;
    for (const cancel of timers.values()) cancel();
    timers.clear();
    hooks.give(words.end(hooks.seconds()), speech);
    hooks.partial('');
    resolveEnd();
    hooks.ended(self, { sound, error });
  }

  function alive(): void {
    if (over) return;
    timer('silent', SILENT_SESSION, () => {
      abort();
      finish();
    });
  }

  function abort(): void {
    ours = true;
    try {
      recognition.abort();
    } catch {
      // It was never started, or is gone: both are what we want.
    }
  }

  function settleLater(): void {
    const due = words.due;
    timer('settle', due === null ? null : Math.max(0, due - hooks.seconds()), () => {
      hooks.give(words.settle(hooks.seconds()), speech);
      hooks.partial(words.partial);
      settleLater();
    });
  }

  function waitForSound(seconds: number): void {
    timer('audio', seconds, () => {
      error = 'service-not-allowed';
      abort();
      finish();
    });
  }

  recognition.addEventListener('start', () => {
    alive();
    // Where nobody is being asked, sound has to come now.
    if (!sound && !over && hooks.permission() !== 'prompt') waitForSound(NO_AUDIO);
  });
  recognition.addEventListener('audiostart', () => {
    sound = true;
    hooks.sounded();
    timer('audio', null, finish);
    alive();
    if (!over) hooks.state('listening');
  });
  recognition.addEventListener('speechstart', () => {
    speech = hooks.seconds();
    alive();
    if (!over) hooks.state('hearing');
  });
  recognition.addEventListener('speechend', () => {
    alive();
    if (!over) hooks.state('listening');
  });
  recognition.addEventListener('nomatch', () => {
    alive();
    hooks.noWords();
  });
  recognition.addEventListener('result', (event) => {
    // Words are proof of sound, also where `audiostart` was never sent.
    sound = true;
    timer('audio', null, finish);
    alive();
    const now = hooks.seconds();
    const results = Array.from({ length: event.results.length }, (_, i) => event.results[i])
      .filter((result) => result !== undefined && result.length > 0)
      .map((result) => ({
        final: result?.isFinal ?? false,
        alternatives: Array.from({ length: result?.length ?? 0 }, (_, k) => ({
          text: result?.[k]?.transcript.trim() ?? '',
          confidence: confidence(result?.[k]?.confidence),
        })),
      }));
    const given = words.take(results, now);
    hooks.give(given, speech);
    // What comes next in this session was begun after this.
    if (given.length > 0) speech = null;
    if (over) hooks.give(words.end(now), speech);
    else {
      hooks.partial(words.partial);
      settleLater();
    }
  });
  recognition.addEventListener('error', (event) => {
    if (!(ours && event.error === 'aborted')) error ??= event.error;
    alive();
    // Sometimes twice, sometimes without `end`.
    if (!over) timer('end', NO_END, finish);
  });
  recognition.addEventListener('end', finish);

  const self: Session = {
    biased,
    start() {
      try {
        recognition.start();
      } catch {
        // A session of ours or of another page is still closing: as if it had ended at once.
        timer('end', 0, finish);
        return;
      }
      alive();
      if (!sound) waitForSound(NO_AUDIO_BY[hooks.permission()]);
      if (hooks.permission() === 'prompt') {
        timer('silent', null, finish);
        hooks.state('asking');
      }
    },
    stop() {
      if (over) return Promise.resolve();
      ours = true;
      try {
        recognition.stop();
      } catch {
        finish();
      }
      if (!over) timer('end', NO_END, finish);
      return end;
    },
    close() {
      abort();
      finish();
    },
  };
  return self;
}

function confidence(value: number | undefined): number | null {
  return value === undefined || !(value > 0) ? null : Math.min(1, value);
}
