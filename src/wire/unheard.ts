import type { EarNotice } from '#capture';
import type { Unheard, WalkView } from '#screens';
import type { Voice } from '#speak';
import type { LastEar } from './last-ear.ts';

/*
 * Speech that gave no words. Nothing of it is on the sheet, and only the pilot
 * can mend that: so each is sounded and shown, and after a few in a row it is
 * said what to change. Silence would look like "understood" (issue 20).
 */

type Sound = NonNullable<EarNotice['sound']>;

/** In a row before it is said what to do. Fewer would talk to somebody who coughed, more is a station lost. */
export const MANY = 3;
/** Then again after so many more: often enough for who did not listen, too seldom to nag. */
export const AND_AGAIN = 6;
/** Seconds of voice under which a piece is a click or a breath. "No" has about twice that. */
export const LEAST_VOICED = 0.14;
/**
 * Seconds of speech up to which a piece may be "resume" while the walk is held.
 * Longer ones are talk with others, which is what a hold is for.
 */
export const AN_ORDER = 1.6;
/**
 * Decibels of full scale under which a voice is faint: recognition begins to
 * suffer near the noise of a phone's microphone. Too high blames the distance
 * where it is the voice; both sentences offer the ear check.
 */
export const FAINT = -42;
/** Decibels over the noise under which the noise is to blame: at 10 dB half of what is said is lost. */
export const NOISY = 12;

/** Which of the three is most likely wrong, by the pieces in a row. */
export function adviceOn(sounds: readonly (Sound | null)[]): NonNullable<Unheard['advice']> {
  const known = sounds.filter((s) => s !== null);
  if (known.length === 0) return 'voice';
  const middle = (of: (s: Sound) => number): number =>
    known.map(of).sort((a, b) => a - b)[Math.floor(known.length / 2)] ?? 0;
  // A faint voice has little over the noise as well: what is closer mends both.
  if (middle((s) => s.level) < FAINT) return 'faint';
  return middle((s) => s.snr) < NOISY ? 'noise' : 'voice';
}

const WHY: Readonly<Record<NonNullable<Unheard['advice']>, string>> = {
  faint: 'Your voice is faint: bring the microphone closer, or use another one.',
  noise: 'The noise is too loud: bring the microphone closer, or use another one.',
  voice: 'I do not know this voice yet: speak plainly, or do the ear check.',
};

/** What is said after several in a row, whatever the setting for talk: it is trouble with listening. */
export function adviceWords(advice: NonNullable<Unheard['advice']>, browser: boolean): string {
  const other = browser ? 'this device’s recogniser' : 'the browser’s recogniser';
  return `Heard, but not understood. ${WHY[advice]} Or use ${other}, or type.`;
}

/** Speech without words on one walk: said, shown, and forgotten with the next words. */
export interface UnheardOn {
  /** Something was said, and no words came of it. */
  lost(notice: EarNotice): void;
  /** Words came. */
  heard(): void;
  /** Something else is shown as the last that was said. */
  over(): void;
  view(): Pick<WalkView, 'unheard'>;
  /** Of the whole walk. */
  counts(): LastEar;
}

export function unheardOn(parts: {
  readonly voice: Pick<Voice, 'announce' | 'ours'>;
  held(): boolean;
  /** Whether it is the browser's recogniser that listens. */
  browser(): boolean;
  show(): void;
}): UnheardOn {
  let sounds: readonly (Sound | null)[] = [];
  let shown: Unheard | null = null;
  let heard = 0;
  let lost = 0;
  return {
    lost({ from, to, sound }) {
      if (sound !== undefined && sound.voiced < LEAST_VOICED) return;
      if (from !== undefined && to !== undefined) {
        // R11: our own voice and tones come back through the microphone and give no words either.
        if (parts.voice.ours(from, to)) return;
        if (parts.held() && to - from > AN_ORDER) return;
      }
      sounds = [...sounds, sound ?? null];
      lost += 1;
      const over = sounds.length - MANY;
      const advice = over < 0 ? null : adviceOn(sounds.slice(-MANY));
      shown = { inARow: sounds.length, advice };
      const tell = advice !== null && over % AND_AGAIN === 0;
      parts.voice.announce('not-understood', tell ? adviceWords(advice, parts.browser()) : '');
      parts.show();
    },
    heard() {
      heard += 1;
      sounds = [];
    },
    over() {
      shown = null;
    },
    counts: () => ({ heard, lost }),
    view: () => (shown === null ? {} : { unheard: shown }),
  };
}
