import type { Plan } from './network.ts';
import type { Word } from './phrases.ts';
import type { Hearing } from './recognise.ts';

/** From the page to the recogniser's worker. */
export type ToWorker =
  | {
      readonly kind: 'open';
      /** Absolute address that holds `en-us/`, ending in "/". */
      readonly modelBase: string;
      readonly plan: Plan;
      readonly words: readonly Word[];
      readonly near: readonly string[];
      /** Samples a second of the sound to come. */
      readonly rate: number;
    }
  | { readonly kind: 'sound'; readonly samples: Float32Array }
  | { readonly kind: 'near'; readonly names: readonly string[]; readonly question: boolean }
  /** What is being said goes out; answered with `flushed`. */
  | { readonly kind: 'flush' };

/** From the worker to the page. Times in seconds of the sound that was sent since `open`. */
export type FromWorker =
  | { readonly kind: 'ready'; readonly heap: number }
  | { readonly kind: 'begun'; readonly from: number }
  | { readonly kind: 'partial'; readonly text: string }
  | {
      readonly kind: 'heard';
      readonly hearing: Hearing;
      readonly from: number;
      readonly to: number;
    }
  /** Sound before this is done with and need not be kept for another try. */
  | { readonly kind: 'settled'; readonly upTo: number }
  | { readonly kind: 'flushed' }
  | { readonly kind: 'failed'; readonly sentence: string };
