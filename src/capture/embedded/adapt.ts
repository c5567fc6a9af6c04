import type { Plan } from '#shared/listening';
import { soundedOf, type Sounded } from '../signal/sounded.ts';
import { DECODER_RATE, voicedIn, type Decoder } from './decoder.ts';
import { networkOf, type Network } from './network.ts';
import type { Recogniser } from './recognise.ts';
import {
  adaptedTo,
  candidates,
  isUsable,
  leastThatHelps,
  stretchOf,
  UNDERSTOOD,
  WARPS,
  type Adapted,
  type ReadPhrase,
  type VoiceSettings,
} from './voice.ts';

/** A phrase that was shown, and the sound of somebody reading it. */
export interface Reading {
  readonly text: string;
  /** At 8,000 samples a second. */
  readonly samples: Float32Array;
}

/** How a phrase was read, told at once. */
export interface Checked {
  readonly sound: Sounded;
  readonly understood: boolean;
}

const networks = new Map<string, Network>();

/** The words of one phrase and nothing else. */
function only(text: string): Network {
  let made = networks.get(text);
  if (made === undefined) {
    made = networkOf(`#JSGF V1.0; grammar read; public <phrase> = ${text};`);
    networks.set(text, made);
  }
  return made;
}

/** Score of the phrase a second in hundreds; null where the sound is not that phrase. */
function scoreOf(decoder: Decoder, { text, samples }: Reading, seconds: number): number | null {
  decoder.listenFor(only(text), { loop: null });
  const { words, score } = decoder.decode(samples);
  return words.length === text.split(' ').length ? score / 100 / seconds : null;
}

/** What was made of a name that somebody said, beside whether it was understood. */
export interface Tried {
  /** The walk's own words for the sound: the name itself where it sounds the same; null: none. */
  readonly heard: string | null;
  /** The sounds that were heard, in ARPABET, whatever the words. */
  readonly sounds: readonly string[];
}

/**
 * A name said alone: what the whole grammar takes it for, where these names are
 * likely, and the sounds that were heard. Leaves another network set.
 */
export function tryName(
  decoder: Decoder,
  recogniser: Pick<Recogniser, 'hear' | 'near'>,
  reading: Reading,
  near: readonly string[],
): Checked & { readonly tried: Tried } {
  // First: the recogniser goes by the network that it set itself.
  recogniser.near(near, null);
  const words = recogniser.hear(reading.samples)?.text ?? null;
  const own = words !== null && soundsOf(decoder, words) === soundsOf(decoder, reading.text);
  const { pieces } = decoder.asAnything(reading.samples);
  const sayable = reading.text.split(' ').every((word) => decoder.has(word));
  const { sound, understood } = sayable
    ? checkReading(decoder, reading)
    : { sound: soundedOf(reading.samples, DECODER_RATE), understood: false };
  return {
    sound,
    understood,
    tried: {
      heard: own ? reading.text : words,
      sounds: pieces.flatMap(({ word }) => /^ph_(\w+)$/.exec(word)?.[1]?.toUpperCase() ?? []),
    },
  };
}

/** Whether a phrase was understood as it is. Leaves another network set. */
export function checkReading(decoder: Decoder, reading: Reading): Checked & { margin: number } {
  const sound = soundedOf(reading.samples, DECODER_RATE);
  const { score, pieces } = decoder.asAnything(reading.samples);
  const seconds = Math.max(0.1, voicedIn(pieces));
  const own = scoreOf(decoder, reading, seconds);
  const margin = own === null ? -Infinity : own - score / 100 / seconds;
  return { sound, margin, understood: margin >= UNDERSTOOD };
}

/** Every phrase at every stretch: what `adaptedTo` decides by. The decoder is left as it was made. */
export async function tryReadings(
  decoder: Decoder,
  readings: readonly Reading[],
): Promise<ReadPhrase[]> {
  await decoder.tune(1);
  const checked = readings.map((reading) => ({ reading, ...checkReading(decoder, reading) }));
  const tried = checked.map((): { warp: number; score: number | null }[] => []);
  for (const warp of WARPS) {
    await decoder.tune(warp);
    checked.forEach(({ reading, sound, understood }, i) => {
      // Of what was not understood no stretch is asked: it would be fitted to something else.
      const score = understood
        ? scoreOf(decoder, reading, Math.max(0.1, sound.ends - sound.begins))
        : null;
      tried[i]?.push({ warp, score });
    });
  }
  await decoder.tune(1);
  return checked.map(({ margin, sound }, i) => ({
    tried: tried[i] ?? [],
    margin,
    level: sound.level,
    snr: sound.snr,
  }));
}

/**
 * What follows for the voice that read these phrases: what was found by likelihood, as
 * far as the phrases then come out of the walk's own grammar and gates, and did not without.
 * The recogniser is left fitted to it; what it listens for has to be told again.
 *
 * @param kept settings of the same person before.
 */
export async function adaptTo(
  decoder: Decoder,
  recogniser: Pick<Recogniser, 'fit' | 'hear' | 'near'>,
  readings: readonly Reading[],
  kept: VoiceSettings | null,
): Promise<Adapted> {
  const read = await tryReadings(decoder, readings);
  const adapted = adaptedTo(read, kept);
  if (!adapted.ok) return adapted;
  recogniser.near(readings.map(nameOf), null);
  const tried = candidates(adapted.voice);
  const cameOut: number[] = [];
  for (const one of tried) {
    let count = 0;
    for (const [i, { text, samples }] of readings.entries()) {
      // Each phrase at the stretch that the others have: one of its own fits it alone.
      const others = read.filter((p, o) => o !== i && isUsable(p));
      await recogniser.fit({ ...one, warp: one.warp === 1 ? 1 : stretchOf(others) });
      const heard = recogniser.hear(samples)?.text ?? '';
      // A name may be spelled in two ways.
      if (soundsOf(decoder, heard) === soundsOf(decoder, text)) count += 1;
    }
    cameOut.push(count);
    // More than all of them is not to be had, and the reader waits.
    if (count === readings.length) break;
  }
  const voice = leastThatHelps(tried, cameOut);
  await recogniser.fit(voice);
  return { ...adapted, voice };
}

/** Verdicts that the phrases end with in turn: common ones that a walk listens for, with many different sounds. */
const ENDINGS = ['in good order', 'secure', 'no cracks', 'good and clean'];

function soundsOf(decoder: Decoder, text: string): string {
  return text
    .split(' ')
    .map((word) => decoder.phonesOf(word).join(' ') || word)
    .join(' ');
}

/** The name in a phrase that is read. */
function nameOf({ text }: Reading): string {
  const ending = ENDINGS.find((e) => text.endsWith(` ${e}`));
  return ending === undefined ? text : text.slice(0, -ending.length - 1);
}

/** Words of a name that is read: shorter tells little of a voice, longer is stumbled over. */
const FEWEST = 2;
const LONGEST = 4;

/** Phrases of this aircraft to be read, spread over it; the same ones for the same aircraft. */
export function phrasesToRead(plan: Plan, count: number): string[] {
  const names = (plan.hubs['name'] ?? [])
    .map(({ say }) => say)
    .filter((say) => {
      const words = say.split(' ');
      return /^[a-z ]+$/.test(say) && words.length >= FEWEST && words.length <= LONGEST;
    });
  const few = [...new Set(names)];
  const take = Math.min(count, few.length);
  return Array.from({ length: take }, (_, i) => {
    const name = few[Math.floor(((i + 0.5) * few.length) / take)] ?? '';
    return `${name} ${ENDINGS[i % ENDINGS.length] ?? ''}`;
  });
}
