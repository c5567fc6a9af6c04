import type { Live } from './services.ts';

/** The ear check: a few phrases of the aircraft, read once, so that the recogniser knows the voice. */
export interface EarCheckView {
  readonly state: 'off' | 'starting' | 'listening' | 'hearing' | 'fitting' | 'done' | 'trouble';
  readonly phrases: readonly { readonly text: string; readonly understood: boolean | null }[];
  /** Place of the phrase that is to be read. */
  readonly at: number;
  /** Loudness of the microphone, 0 to 1. */
  readonly level: number;
  /** How the last phrase sounded; null before the first. */
  readonly sound: { readonly faint: boolean; readonly noisy: boolean } | null;
  /**
   * Once it is done: null when the voice was learned. few: broken off. noise: too
   * loud. unlike: not understood. two: more than one person read. other: it
   * sounds like somebody else than before, and is kept only with a yes.
   */
  readonly why: 'few' | 'noise' | 'unlike' | 'two' | 'other' | null;
  /** One sentence when it cannot listen. */
  readonly trouble?: string;
  /** Settings of this person's voice are kept. */
  readonly kept: boolean;
}

/**
 * The browser's own recogniser on this device. here: it can listen. offered: it
 * could be installed; `why`: what came of the last try. coming: it is being
 * installed. none: there is none, or nobody tells.
 */
export type LocalEarView =
  | { readonly state: 'here' | 'coming' | 'none' }
  | { readonly state: 'offered'; readonly declined: boolean; readonly why?: string };

export interface LocalEar {
  readonly now: Live<LocalEarView>;
  install(): Promise<void>;
  /** Not offered again but in the settings. */
  decline(): Promise<void>;
}

export interface EarChecking {
  readonly now: Live<EarCheckView>;
  /** Begins anew; `long`: twice as many phrases. */
  start(catalogue: string, long: boolean): void;
  /** Keeps what was found although it sounds like somebody else. */
  keep(): Promise<void>;
  /** Forgets this person's voice. */
  forget(): Promise<void>;
  /** Whether there is something to forget. */
  kept(): boolean;
  /** Leaves it; what listened before listens again. */
  stop(): Promise<void>;
}
