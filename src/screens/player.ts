import type { SoundPlace } from '#shared/heard';
import type { Replied } from '#shared/replied';
import type { Live, Outcome } from './services.ts';

/** A reply in a replay. */
export interface Told extends Pick<Replied, 'tone' | 'text'> {
  /** false: there is no voice here; its words are to be read. */
  readonly aloud: boolean;
}

/** Sound of a walk while it plays. */
export interface Player {
  /** Seconds in the recording; null when nothing plays. */
  readonly at: Live<{ readonly recording: string; readonly seconds: number } | null>;
  /** What Talkround gave back at this place, while it is given back again; null when nothing is. */
  readonly told: Live<Told | null>;
  play(place: SoundPlace): Promise<Outcome>;
  stop(): void;
}
