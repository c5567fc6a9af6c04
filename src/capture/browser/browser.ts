import type { Scene } from '#shared/scene';
import { FIRST_SCENE } from '#shared/scene';
import type { SoundPlace } from '#shared/heard';
import { heardOf, listeners, type Ear, type EarParts, type Trouble } from '../ear.ts';
import { realWait, type Wait } from '../scripted.ts';
import type { ApiRecognition, SpeechPlatform } from './api.ts';
import type { Collected } from './collect.ts';
import { type NO_AUDIO_BY, openSession, type Session, type SessionHooks } from './session.ts';

/** Seconds between two starts. Sessions end by themselves; faster restarts are punished by platforms. */
export const RESTART = 1;
/** Sessions in a row that another page or app broke off: then two are fighting over the recogniser. */
const TAKEN_AWAY = 3;
/** Sessions in a row that ended before any sound: then it is not routine. */
const EMPTY_SESSIONS = 5;
/**
 * Seconds by which the first words are delivered after they were begun, at
 * least. An early begin only makes the gate drop more of what may be our own
 * voice (R11).
 */
const INTERIM_DELAY = 0.5;
const ALTERNATIVES = 5;
/** Phrases handed to the platform at most: a whole catalogue of them slows it down. */
const MOST_PHRASES = 500;

export interface BrowserEarOptions extends EarParts {
  readonly platform: SpeechPlatform;
  readonly lang?: string;
  /** true: only if the platform recognises on this device; the network is never used. */
  readonly local: boolean;
  /** Words to prefer, for where the walk is. */
  readonly phrases?: (scene: Scene) => readonly { phrase: string; boost: number }[];
  /** Where the sound of this stretch is kept, when a recording runs beside it. */
  readonly place?: (from: number, to: number) => SoundPlace | null;
  readonly wait?: Wait;
}

const DENIED =
  'The microphone is not allowed. Allow it for this page in the browser, then start again.';

/** What an error of the API means for us; null is routine. */
const TROUBLES: Readonly<Record<string, { trouble: Trouble; sentence: string } | null>> = {
  'no-speech': null,
  aborted: null,
  'audio-capture': {
    trouble: 'microphone',
    sentence: 'No microphone answers. Plug one in, or close the app that uses it.',
  },
  'not-allowed': {
    trouble: 'permission',
    sentence: DENIED,
  },
  'service-not-allowed': {
    trouble: 'service',
    sentence: 'This browser does not let the page use its speech service.',
  },
  network: {
    trouble: 'service',
    sentence: "The browser's speech service cannot be reached.",
  },
  'language-not-supported': {
    trouble: 'service',
    sentence: "The browser's recogniser does not have this language.",
  },
};

/**
 * The browser's speech API as an ear that stays open: its sessions end by
 * themselves and are begun again, at most once a second.
 */
export function browserEar(options: BrowserEarOptions): Ear {
  const { platform, world, local, wait = realWait, lang = 'en-US' } = options;
  const out = listeners();
  let wanted = false;
  let held = false;
  let scene = FIRST_SCENE;
  let current: Session | null = null;
  let lastStart = -Infinity;
  let empty = 0;
  let taken = 0;
  let plain = false;
  let permission: keyof typeof NO_AUDIO_BY = 'unknown';
  let cancelNext: (() => void) | null = null;

  function give(collected: readonly Collected[], from: number | null): void {
    for (const utterance of collected) {
      const [best, ...rest] = utterance.alternatives;
      if (best === undefined) continue;
      const began = Math.max(0, Math.min(from ?? Infinity, utterance.first - INTERIM_DELAY));
      if (utterance.cutOff) {
        out.notice({
          kind: 'cut-off',
          sentence: `The browser's recogniser broke off; "${best.text}" was taken as far as it got.`,
        });
      }
      out.heard(
        heardOf({
          id: world.id(),
          by: 'browser',
          text: best.text,
          alternatives: rest,
          from: began,
          to: utterance.to,
          confidence: best.confidence,
          sound: options.place?.(began, utterance.to) ?? null,
          sentAway: !local,
        }),
      );
    }
  }

  function fail(trouble: Trouble, sentence: string): void {
    wanted = false;
    cancelNext?.();
    cancelNext = null;
    current?.close();
    current = null;
    out.partial('');
    out.state('trouble', sentence, trouble);
  }

  function next(): void {
    if (!wanted || held || cancelNext !== null || current !== null) return;
    const due = Math.max(0, lastStart + RESTART - world.steady());
    cancelNext = wait(due, () => {
      cancelNext = null;
      if (wanted && !held && current === null) begin();
    });
  }

  function ended(session: Session, how: { sound: boolean; error: string | null }): void {
    if (current !== session) return;
    current = null;
    if (!wanted || held) return;
    if (how.error !== null) {
      // Phrases where they are not supported end a session at once: try without, once.
      if (session.biased && !plain && !how.sound && TROUBLES[how.error]?.trouble !== 'permission') {
        plain = true;
        next();
        return;
      }
      const known = TROUBLES[how.error];
      if (known !== null) {
        fail(
          known?.trouble ?? 'service',
          known?.sentence ?? `The browser's recogniser stopped with "${how.error}".`,
        );
        return;
      }
    }
    taken = how.error === 'aborted' ? taken + 1 : 0;
    if (taken >= TAKEN_AWAY) {
      fail(
        'service',
        'Another page or app keeps taking the recogniser. Close it, then start again.',
      );
      return;
    }
    empty = how.sound ? 0 : empty + 1;
    if (empty >= EMPTY_SESSIONS) {
      fail('service', "The browser's recogniser ends again and again without listening.");
      return;
    }
    if (out.current === 'hearing') out.state('listening', listeningSentence(local));
    next();
  }

  function begin(): void {
    const Recognition = platform.api;
    if (Recognition === null) return;
    lastStart = world.steady();
    const recognition = new Recognition();
    recognition.lang = lang;
    recognition.continuous = true;
    recognition.interimResults = true;
    recognition.maxAlternatives = ALTERNATIVES;
    // Where "on this device" was promised it is set every time; no retry ever takes it away.
    if (local) recognition.processLocally = true;
    const biased = !plain && bias(recognition);
    current = openSession(recognition, biased, hooks);
    current.start();
  }

  const hooks: SessionHooks = {
    patient: platform.android,
    seconds: () => options.seconds(),
    wait,
    permission: () => permission,
    give,
    partial: out.partial,
    state(state) {
      if (held) return;
      if (state === 'hearing') out.state('hearing', 'Hearing you.');
      else if (state === 'listening') out.state('listening', listeningSentence(local));
      else out.state('starting', 'Allow the microphone when the browser asks.');
    },
    noWords() {
      out.notice({
        kind: 'lost',
        sentence: 'Something was said, and the browser made no words of it.',
      });
    },
    sounded() {
      permission = 'granted';
    },
    ended,
  };

  function bias(recognition: ApiRecognition): boolean {
    const Phrase = platform.phrase;
    const phrases = options.phrases?.(scene) ?? [];
    if (Phrase === null || !('phrases' in recognition) || phrases.length === 0) return false;
    try {
      recognition.phrases = phrases
        .slice(0, MOST_PHRASES)
        .map(({ phrase, boost }) => new Phrase(phrase, Math.min(10, Math.max(0, boost))));
      return true;
    } catch {
      return false;
    }
  }

  return {
    kind: 'browser',
    name: local ? "The browser's own recogniser on this device" : "The browser's speech service",
    sendsAway: !local,
    async start() {
      if (wanted) return;
      wanted = true;
      held = false;
      empty = 0;
      taken = 0;
      out.state('starting', "The browser's recogniser is starting.");
      if (platform.api === null) {
        fail('service', 'This browser has no recogniser of its own.');
        return;
      }
      if (local) {
        const has = await localAvailability(platform, lang);
        if (!wanted) return;
        if (has !== 'available') {
          fail('service', LOCAL_SENTENCES[has]);
          return;
        }
      }
      permission = await platform.permission();
      if (!wanted) return;
      if (permission === 'denied') {
        fail('permission', DENIED);
        return;
      }
      next();
      await new Promise<void>((resolve) => {
        const off = out.on.onState((state) => {
          if (state === 'starting') return;
          off();
          resolve();
        });
      });
    },
    async stop() {
      wanted = false;
      cancelNext?.();
      cancelNext = null;
      await current?.stop();
      current = null;
      out.partial('');
      out.state('stopped', "The browser's recogniser is closed.");
    },
    pause() {
      if (!wanted || held) return;
      held = true;
      cancelNext?.();
      cancelNext = null;
      void current?.stop();
      out.state('held', 'Held. Nothing is being heard.');
    },
    resume() {
      if (!wanted || !held) return;
      held = false;
      out.state('starting', "The browser's recogniser is starting.");
      if (current === null) next();
    },
    expect(to) {
      scene = to;
    },
    ...out.on,
  };
}

function listeningSentence(local: boolean): string {
  return local
    ? "Listening with the browser's recogniser on this device."
    : "Listening with the browser's speech service; the sound leaves this device.";
}

export type LocalAvailability = 'available' | 'downloadable' | 'none' | 'untold';

const LOCAL_SENTENCES: Readonly<Record<Exclude<LocalAvailability, 'available'>, string>> = {
  downloadable:
    'The browser could recognise on this device after its language pack is installed; it is not.',
  none: 'The browser cannot recognise on this device.',
  untold: 'The browser does not say whether it recognises on this device, so it is not used.',
};

/** Whether the platform has its recogniser for this language on the device. Never installs anything. */
export async function localAvailability(
  platform: SpeechPlatform,
  lang = 'en-US',
): Promise<LocalAvailability> {
  const api = platform.api;
  if (api === null) return 'none';
  if (api.available === undefined || !('processLocally' in api.prototype)) return 'untold';
  try {
    const state = await api.available({ langs: [lang], processLocally: true });
    if (state === 'available') return 'available';
    return state === 'downloadable' || state === 'downloading' ? 'downloadable' : 'none';
  } catch {
    return 'untold';
  }
}
