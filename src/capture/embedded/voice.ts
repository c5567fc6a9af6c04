/*
 * What a voice needs of the recogniser, found from a few phrases that it read.
 * Pure: the sound is decoded elsewhere, here is decided what follows from it.
 */

/** Settings of one voice. Kept per person; what is not known of a voice stays as the model was made. */
export interface VoiceSettings {
  readonly v: 1;
  /** Stretch of the frequencies to the vocal tract's length; 1 as the model was made. */
  readonly warp: number;
  /** The likeliest stretch, used or not: by this a voice is told from another. */
  readonly tract: number;
  /** How strict the margins are: 1 as shipped, 0 at the floors that unrelated talk needs. */
  readonly strict: number;
  /** Decibels by which a faint voice is raised before anything else. */
  readonly gain: number;
  /** Phrases that it was found from. */
  readonly phrases: number;
}

export const ORDINARY: VoiceSettings = {
  v: 1,
  warp: 1,
  tract: 1,
  strict: 1,
  gain: 0,
  phrases: 0,
};

/** A phrase that was read, at one stretch of the frequencies. */
export interface Tried {
  readonly warp: number;
  /** Score of the phrase for each second, in hundreds; null: the sound is not this phrase at all. */
  readonly score: number | null;
}

/** What one phrase gave. */
export interface ReadPhrase {
  readonly tried: readonly Tried[];
  /** By how much it fits better than any sounds would, without a stretch: as in `gates.ts`. */
  readonly margin: number;
  /** Decibels of full scale, and over the noise. */
  readonly level: number;
  readonly snr: number;
}

/** Stretches that are tried: further out no adult's vocal tract is, in steps that a score still tells apart. */
export const WARPS: readonly number[] = [0.88, 0.94, 1, 1.06, 1.12, 1.18, 1.24];
/** Phrases that are needed: with two, one that was coughed into decides. */
export const LEAST_PHRASES = 3;
/** Phrases that are read at most; more changed no stretch in the voices to work with. */
export const MOST_PHRASES = 10;
/**
 * Hundreds of the score a second by which a stretch must be better than none.
 * Within that the voices to work with that fit as they are wander by a step, and each
 * change moves every score.
 */
export const WORTH = 1;
/**
 * Margin of a read phrase that the ordinary voices have; with less, the limits
 * go down towards their floors.
 */
export const PLAIN = 30;
/** Margin at which they are at their floors. */
export const HARD = 12;
/** Under this a phrase was not understood: any sounds would do as well. */
export const UNDERSTOOD = 4;
/** Decibels of full scale that a faint voice is raised to, and by how much at most: noise is raised with it. */
const WANTED_LEVEL = -26;
const MOST_GAIN = 15;
/** Louder than this nothing is raised: the recogniser evens it out by itself. */
const FAINT_LEVEL = -38;
/** Decibels over the noise under which a stretch would be fitted to the noise. */
export const TOO_NOISY = 12;
/** Difference between the best stretches of two halves of the phrases from which two people must have read. */
const TWO_PEOPLE = 0.18;
/** Difference of level between two phrases, in decibels, from which they were not read by one person at one place. */
const TWO_LEVELS = 20;
/** Difference to the kept stretch from which it is likely to be somebody else. */
const SOMEBODY_ELSE = 0.15;

export type Adapted =
  | { readonly ok: true; readonly voice: VoiceSettings; readonly other: boolean }
  | { readonly ok: false; readonly why: WhyNot };

/**
 * - few: fewer phrases than are needed: broken off
 * - noise: too much of it to fit a voice
 * - unlike: not the phrases that were shown, or a voice that is not understood at all
 * - two: more than one person read
 */
export type WhyNot = 'few' | 'noise' | 'unlike' | 'two';

/** Settings of the voice that read these phrases; `kept`: those of the same person before. */
export function adaptedTo(read: readonly ReadPhrase[], kept: VoiceSettings | null): Adapted {
  if (read.length < LEAST_PHRASES) return { ok: false, why: 'few' };
  const middle = (of: (p: ReadPhrase) => number) => median(read.map(of));
  const understood = read.filter(isUsable);
  if (understood.length < LEAST_PHRASES)
    return { ok: false, why: middle((p) => p.snr) < TOO_NOISY ? 'noise' : 'unlike' };
  if (middle((p) => p.snr) < TOO_NOISY) return { ok: false, why: 'noise' };
  const levels = understood.map((p) => p.level);
  if (Math.max(...levels) - Math.min(...levels) > TWO_LEVELS) return { ok: false, why: 'two' };
  const half = Math.ceil(understood.length / 2);
  const [first, last] = [understood.slice(0, half), understood.slice(-half)].map(bestOf);
  const apart = Math.abs((first?.warp ?? 1) - (last?.warp ?? 1));
  // Only where both halves are sure of theirs: a flat score says nothing of who spoke.
  if (apart >= TWO_PEOPLE && (first?.gain ?? 0) > WORTH && (last?.gain ?? 0) > WORTH)
    return { ok: false, why: 'two' };
  const warp = stretchOf(understood);
  const level = median(levels);
  return {
    ok: true,
    voice: {
      v: 1,
      warp,
      tract: warp,
      strict: strictFor(understood.map((p) => p.margin)),
      gain: level < FAINT_LEVEL ? Math.min(MOST_GAIN, Math.round(WANTED_LEVEL - level)) : 0,
      phrases: understood.length,
    },
    other: kept !== null && Math.abs(kept.tract - warp) >= SOMEBODY_ELSE,
  };
}

/** Whether the phrase was understood, and found at every stretch: else its sums cannot be compared. */
export function isUsable({ margin, tried }: ReadPhrase): boolean {
  return margin >= UNDERSTOOD && tried.length > 0 && tried.every((t) => t.score !== null);
}

/** The likeliest stretch, where it is worth a change. */
export function stretchOf(read: readonly ReadPhrase[]): number {
  const best = bestOf(read);
  return best.gain >= WORTH ? best.warp : 1;
}

/** The likeliest stretch, and by how much it is better than none. */
export function bestOf(read: readonly ReadPhrase[]): { warp: number; gain: number } {
  const warps = read[0]?.tried.map((t) => t.warp) ?? [];
  const mean = (warp: number) =>
    read.reduce((sum, p) => sum + (p.tried.find((t) => t.warp === warp)?.score ?? 0), 0) /
    Math.max(1, read.length);
  const plain = mean(1);
  let best = { warp: 1, gain: 0 };
  for (const warp of warps) {
    const gain = mean(warp) - plain;
    if (gain > best.gain) best = { warp, gain };
  }
  return best;
}

/**
 * What of the found settings is tried on the phrases, from the least change to
 * all of it. A gain is kept in each: without it a faint voice may not begin an utterance.
 */
export function candidates(found: VoiceSettings): VoiceSettings[] {
  const plain = { ...found, warp: 1, strict: 1 };
  const all = [plain, { ...found, warp: 1 }, { ...found, strict: 1 }, found];
  return all.filter(
    (one, i) => all.findIndex((o) => o.warp === one.warp && o.strict === one.strict) === i,
  );
}

/**
 * The least change with which most of the read phrases came out: a stretch moves every
 * score, and eased margins let more chance words through, so neither is kept for nothing.
 *
 * @param cameOut how many of the phrases each candidate heard, in their order.
 */
export function leastThatHelps(
  of: readonly VoiceSettings[],
  cameOut: readonly number[],
): VoiceSettings {
  const most = Math.max(...cameOut);
  return of[cameOut.indexOf(most)] ?? ORDINARY;
}

/** How strict the margins are for a voice whose own phrases had these. */
export function strictFor(margins: readonly number[]): number {
  return Math.min(1, Math.max(0, (median(margins) - HARD) / (PLAIN - HARD)));
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? 0;
}

/** Kept settings, or null when they are not of this kind. */
export function voiceFrom(kept: unknown): VoiceSettings | null {
  if (typeof kept !== 'object' || kept === null) return null;
  const { v, warp, strict, gain, phrases, ...more } = kept as Record<string, unknown>;
  // Settings from before the two were told apart have one for both.
  const tract = more['tract'] ?? warp;
  const within = (x: unknown, low: number, high: number): x is number =>
    typeof x === 'number' && x >= low && x <= high;
  return v === 1 &&
    within(warp, 0.8, 1.3) &&
    within(tract, 0.8, 1.3) &&
    within(strict, 0, 1) &&
    within(gain, 0, MOST_GAIN) &&
    within(phrases, 0, 1000)
    ? { v, warp, tract, strict, gain, phrases }
    : null;
}
