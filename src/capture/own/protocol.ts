import type { Plan, SoundedWord } from '#shared/listening';
import type { Question } from '#shared/question';
import type { Checked, Tried } from '../embedded/adapt.ts';
import type { Hearing } from '../embedded/recognise.ts';
import type { Adapted, VoiceSettings } from '../embedded/voice.ts';
import type { Sounded } from '../signal/sounded.ts';

/*
 * What passes between the page and the worker that recognises. Times are
 * seconds of sound since the stream began, as the worker counts its samples;
 * the page turns them into seconds of the walk.
 */

export type ToWorker =
  | {
      readonly kind: 'open';
      readonly modelBase: string;
      readonly plan: Plan;
      readonly words: readonly SoundedWord[];
      /** Whose voice it is; left out: nobody's in particular. */
      readonly voice?: VoiceSettings;
    }
  | { readonly kind: 'sound'; readonly samples: Float32Array; readonly rate: number }
  /** Names that are likely now, and what kind of question of ours waits for its answer. */
  | {
      readonly kind: 'expect';
      readonly near: readonly string[];
      readonly question: Question['kind'] | null;
    }
  /**
   * The next utterance is this phrase, read for the ear check; null: no more is
   * read. `near`: it is a name that is tried among these, and what the whole
   * grammar makes of it is told too.
   */
  | { readonly kind: 'read'; readonly text: string | null; readonly near?: readonly string[] }
  /** What follows for this voice from the phrases that were read. */
  | { readonly kind: 'adapt'; readonly kept: VoiceSettings | null }
  /** What is being said goes out, and then `flushed`. */
  | { readonly kind: 'flush' }
  /** Are you there? */
  | { readonly kind: 'ping' };

export type FromWorker =
  /** Which share of the model is here, 0 to 1, while it comes. */
  | { readonly kind: 'loading'; readonly share: number }
  | { readonly kind: 'ready' }
  /** The recogniser could not be opened. */
  | { readonly kind: 'failed'; readonly why: string }
  | { readonly kind: 'begun'; readonly from: number }
  | { readonly kind: 'partial'; readonly text: string }
  /** An utterance is over; null: nothing of it belongs to a walk. */
  | {
      readonly kind: 'ended';
      readonly hearing: Hearing | null;
      readonly from: number;
      readonly to: number;
      /** How it sounded, for saying what to change where it gave no words. */
      readonly sound: Sounded;
    }
  /** A phrase was read. */
  | ({ readonly kind: 'checked'; readonly text: string; readonly tried?: Tried } & Checked)
  | { readonly kind: 'adapted'; readonly adapted: Adapted }
  /** Everything before this is dealt with: it need not be sent again if the worker dies. */
  | { readonly kind: 'done'; readonly upTo: number }
  | { readonly kind: 'flushed' }
  | { readonly kind: 'pong' };
