/** How an utterance sounded, whatever was made of it: for saying what to change. */
export interface Sounded {
  /** Power of its speech frames in decibels of full scale. */
  readonly level: number;
  /** Decibels of the speech frames over the quiet ones around them. */
  readonly snr: number;
  /** Seconds from its begin to the first speech frame, and to the end of the last. */
  readonly begins: number;
  readonly ends: number;
  /** Seconds of speech frames. */
  readonly voiced: number;
}

const FRAME = 0.02;
/** Decibels under the loudest frame within which a frame is speech. */
const RANGE = 25;
/** Decibels over the quiet frames that a speech frame has at least, where there is noise. */
const RISE = 4;
/** Share of frames that are taken to be quiet; the lead and the tail of an utterance alone are as many. */
const QUIET = 0.15;
/** The quietest that is told of: digital silence has no logarithm. */
const SILENCE = 1e-9;

export function soundedOf(samples: Float32Array, rate: number): Sounded {
  const hop = Math.max(1, Math.round(rate * FRAME));
  const powers: number[] = [];
  for (let at = 0; at + hop <= samples.length; at += hop) {
    let sum = 0;
    for (let i = at; i < at + hop; i++) sum += (samples[i] ?? 0) ** 2;
    powers.push(sum / hop);
  }
  const sorted = [...powers].sort((a, b) => a - b);
  const noise = (sorted[Math.floor(sorted.length * QUIET)] ?? 0) + SILENCE;
  const loudest = sorted.at(-1) ?? 0;
  const least = Math.max(loudest / 10 ** (RANGE / 10), noise * 10 ** (RISE / 10));
  const speech = powers.map((p) => p >= least);
  const loud = powers.filter((_, i) => speech[i] === true);
  const mean = loud.reduce((a, b) => a + b, 0) / Math.max(1, loud.length) + SILENCE;
  const decibels = (power: number) => 10 * Math.log10(power);
  return {
    level: decibels(mean),
    snr: decibels(mean / noise),
    begins: Math.max(0, speech.indexOf(true)) * FRAME,
    ends: (speech.lastIndexOf(true) + 1) * FRAME,
    voiced: loud.length * FRAME,
  };
}
