import type { Heard, HeardBy } from '#shared/heard';
import type { World } from '#shared/log';
import type { Scene } from '#shared/scene';
import type { Sounded } from './signal/sounded.ts';

/**
 * What every source of words has in common: typed words, a recogniser on this
 * device, the browser's speech service, a replay. Whoever listens to an Ear
 * need not know which one it is, and may change it in mid-walk.
 */
export interface Ear {
  readonly kind: HeardBy;
  /** As said to the pilot, such as "The recogniser on this device". */
  readonly name: string;
  /** true: the sound leaves the device to be recognised. Said before first use. */
  readonly sendsAway: boolean;
  /** What listens beside it to the same sound now; null or left out: nothing does. */
  readonly beside?: string | null;
  /**
   * Opens the source. Resolves when it listens or when it has said through
   * `onState` why it cannot; it never rejects. Starting twice is starting once.
   */
  start(): Promise<void>;
  /**
   * Closes the source. Resolves after the utterance that was being heard has
   * gone out through `onHeard`, so that nothing is lost.
   */
  stop(): Promise<void>;
  /**
   * Closes the ears: nothing is taken until `resume`; what was begun before
   * still goes out. Not for a walk that is held by voice, which has to hear
   * "resume".
   */
  pause(): void;
  resume(): void;
  /** Where the walk is and what was just asked: a recogniser may listen for that first. */
  expect(scene: Scene): void;
  /** One final utterance. Never twice the same one. */
  onHeard(take: (heard: Heard) => void): Off;
  /** Words as they come, to be shown and never to be counted. Empty when they end. */
  onPartial(take: (text: string) => void): Off;
  /**
   * Each change of state, with one sentence that may be shown and spoken; with
   * trouble also its kind, where it is known.
   */
  onState(take: (state: EarState, sentence: string, trouble?: Trouble) => void): Off;
  /** Level of the input, 0 (silence) to 1 (full scale), several times a second where there is one. */
  onLevel(take: (level: number) => void): Off;
  /** Which share of what it needs is here, 0 to 1, while it is being loaded; a source that loads nothing says nothing. */
  onLoading(take: (share: number) => void): Off;
  /** Sound that could not be kept and the like: facts for the log, none of which stops the listening. */
  onNotice(take: (notice: EarNotice) => void): Off;
}

/** Ends a subscription. */
export type Off = () => void;

/**
 * - starting: asked for, not there yet
 * - listening: open, nobody speaks
 * - hearing: somebody speaks
 * - held: paused by us
 * - trouble: cannot listen; the sentence says what and what to do
 * - stopped: closed by us
 */
export type EarState = 'starting' | 'listening' | 'hearing' | 'held' | 'trouble' | 'stopped';

/**
 * What kind of trouble, for deciding whether another source would do better.
 *
 * - permission: the microphone is not allowed
 * - microphone: there is none, it is busy, or it went away
 * - service: the browser's recogniser does not answer, or has not the language
 * - files: the recogniser of this device is not complete
 * - hidden: the page is not in front
 */
export type Trouble = 'permission' | 'microphone' | 'service' | 'files' | 'hidden';

/**
 * A fact beside the words.
 *
 * - sound-missing: the sound is not kept from here on, only the words
 * - cut-off: an utterance was broken off by the platform; what there was went out
 * - lost: something was said, and no words came of it
 * - one-ear: what should listen beside it does not, and why
 */
export interface EarNotice {
  readonly kind: 'sound-missing' | 'cut-off' | 'lost' | 'one-ear';
  readonly sentence: string;
  /** Of what was lost: seconds of the walk, and how it sounded, where that is known. */
  readonly from?: number;
  readonly to?: number;
  readonly sound?: Sounded;
}

/** What every ear is given. */
export interface EarParts {
  readonly world: World;
  /** Seconds since the walk began, by a clock that cannot jump. */
  seconds(): number;
}

/** The listeners of one ear, and the ways to reach them. */
export interface Listeners {
  readonly on: Pick<
    Ear,
    'onHeard' | 'onPartial' | 'onState' | 'onLevel' | 'onLoading' | 'onNotice'
  >;
  heard(heard: Heard): void;
  partial(text: string): void;
  /** Says it only when state or sentence changed. */
  state(state: EarState, sentence: string, trouble?: Trouble): void;
  level(level: number): void;
  loading(share: number): void;
  notice(notice: EarNotice): void;
  readonly current: EarState;
}

function channel<A extends readonly unknown[]>() {
  const takers = new Set<(...values: A) => void>();
  return {
    on(take: (...values: A) => void): Off {
      takers.add(take);
      return () => void takers.delete(take);
    },
    say(...values: A): void {
      for (const take of [...takers]) take(...values);
    },
  };
}

/** The subscriptions that every ear needs, made once. */
export function listeners(): Listeners {
  const heard = channel<[Heard]>();
  const partial = channel<[string]>();
  const state = channel<[EarState, string, Trouble?]>();
  const level = channel<[number]>();
  const loading = channel<[number]>();
  const notice = channel<[EarNotice]>();
  let current: EarState = 'stopped';
  let said = '';
  return {
    on: {
      onHeard: heard.on,
      onPartial: partial.on,
      onState: state.on,
      onLevel: level.on,
      onLoading: loading.on,
      onNotice: notice.on,
    },
    heard: heard.say,
    partial: partial.say,
    state(next, sentence, trouble) {
      if (next === current && sentence === said) return;
      current = next;
      said = sentence;
      state.say(next, sentence, trouble);
    },
    level: level.say,
    loading: loading.say,
    notice: notice.say,
    get current() {
      return current;
    },
  };
}

/** A Heard with nothing known but its words, to be filled in by its source. */
export function heardOf(
  parts: Pick<Heard, 'id' | 'by' | 'text'> & Partial<Omit<Heard, 'v' | 'id' | 'by' | 'text'>>,
): Heard {
  return {
    v: 1,
    words: [],
    alternatives: [],
    from: null,
    to: null,
    confidence: null,
    sound: null,
    speaker: null,
    sentAway: false,
    ...parts,
  };
}
