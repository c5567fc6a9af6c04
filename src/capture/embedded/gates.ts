import type { HeardWord } from '#shared/heard';
import type { Dear } from '#shared/listening';
import { voicedIn, type Anything, type Decoded } from './decoder.ts';
import { hangsTogether, type Way } from './sense.ts';

/*
 * What decoded words must be to count as heard. A false result may speak for a
 * check that nobody looked at, which can kill; words that are turned away cost
 * the pilot a breath to say again, because no tone answers them.
 *
 * A margin is by how much the words fit the sound better than any row of sounds,
 * in hundreds of the recogniser's score for each voiced second.
 */

/** One utterance in words; null when nothing that was said belongs to a walk. */
export interface Hearing {
  readonly text: string;
  /** Seconds from the utterance's begin. */
  readonly words: readonly HeardWord[];
  /** Share of the voiced time that the words cover, 0 to 1. */
  readonly confidence: number;
  readonly alternatives: readonly { text: string; confidence: number | null }[];
}

/** Words, and how much better they fit than any sounds at all. */
export interface Measured {
  readonly hearing: Hearing;
  readonly margin: number;
  /** Score over any sounds at all: what passes of the same sound can be compared by, whatever mean they go by. */
  readonly over: number;
  /** The words name something on the aircraft. */
  readonly named: boolean;
}

/**
 * The words of a decoded utterance, when they cover enough of it.
 *
 * @param between seconds between which somebody spoke: what is no word outside of it is the place, not the voice.
 */
export function hearingOf(
  decoded: Decoded,
  least: number,
  between: readonly [from: number, to: number] = [0, Infinity],
): Hearing | null {
  if (decoded.words.length === 0) return null;
  const [begins, ends] = between;
  const other = decoded.pieces
    .filter((piece) => !decoded.words.includes(piece))
    .map(({ word, from, to }) => ({ word, from: Math.max(from, begins), to: Math.min(to, ends) }))
    .filter(({ from, to }) => to > from);
  const said = saidIn(decoded);
  const voiced = said + voicedIn(other);
  const coverage = voiced === 0 ? 0 : Math.min(1, said / voiced);
  if (coverage < least) return null;
  return {
    text: decoded.words.map((w) => w.word).join(' '),
    words: decoded.words.map((w) => ({
      text: w.word,
      from: w.from,
      to: w.to,
      confidence: null,
    })),
    confidence: coverage,
    alternatives: [],
  };
}

function saidIn(decoded: Decoded): number {
  return decoded.words.reduce((sum, w) => sum + w.to - w.from, 0);
}

export function marginOf(decoded: Decoded, anything: Anything): number {
  const voiced = Math.max(0.1, anything.voiced, saidIn(decoded));
  return (decoded.score - anything.score) / 100 / voiced;
}

/** Longest sound that is tried as a short answer, in seconds, silence around it included. */
export const SHORT_ANSWER = 2.2;
/** An answer has nothing but itself in it: a longer sentence that only holds a number is read as a sentence. */
export const ANSWER_COVERAGE = 0.85;
/**
 * Margin of a short utterance while a question is open: a wrong number or side
 * goes into the record, a rejected one is asked for again. Of 90 recordings of
 * people saying a digit one more was wrong at 2.5 than at 3.2, and seven fewer
 * right at 5.5.
 */
export const ANSWER_MARGIN = 3.2;

/**
 * A name of here or of the next station with its result: what is most likely said.
 * Of 80 development utterances those that were right had 13.7 and more clean; at
 * 10 dB one in seven of them had less than 9. Unrelated talk with a good result:
 * up to 2.5 clean, 6.5 at 10 dB.
 */
const NEAR_MARGIN = 9;
/** Two such names and more: chance words have them oftener. Unrelated talk: up to 10 at 10 dB. */
const MANY_MARGIN = 13;
/**
 * The same of another station: people go back, chance words have names of
 * everywhere. Unrelated talk: up to 13.8.
 */
const FAR_MARGIN = 15;
/**
 * Words that do not hang together, nearly always chance words for other sounds.
 * Unrelated talk: up to 13.8 clean, 17.8 at 10 dB; the few that were right 18.3
 * and more clean.
 */
const SALAD_MARGIN = 18;
/** Where the way the words hang together is not looked at. */
const PLAIN_MARGIN = 1.5;

/**
 * The least that each may come down to for a voice whose own phrases fit worse:
 * over what unrelated talk reached, so that its talk speaks for nothing either.
 */
const NEAR_FLOOR = 7;
const MANY_FLOOR = 10.5;
const FAR_FLOOR = 14;

/**
 * Margin that words of the whole grammar need. `near`: the names of here and of the
 * next station; `strict`: 1 as measured, 0 at the floors, as calibrated to a voice.
 */
export function leastMargin(
  way: Way | null,
  near: ReadonlySet<string>,
  sense: boolean,
  strict = 1,
): number {
  const eased = (margin: number, floor: number) => floor + (margin - floor) * strict;
  if (!sense) return PLAIN_MARGIN;
  if (way === null || !hangsTogether(way.segments)) return SALAD_MARGIN;
  const names = way.segments
    .filter(({ hub }) => hub === 'name')
    .map(({ words }) => words.join(' '));
  // "They are closed": as much of any talk as of a walk, and of whatever was named last.
  if (names.length === 0 && way.segments.some(({ hub }) => hub === 'it'))
    return eased(FAR_MARGIN, FAR_FLOOR);
  if (!names.every((name) => near.has(name) || near.has(name.replace(/'s$/, ''))))
    return eased(FAR_MARGIN, FAR_FLOOR);
  return names.length > 1 ? eased(MANY_MARGIN, MANY_FLOOR) : eased(NEAR_MARGIN, NEAR_FLOOR);
}

/** Set aside by mistake, a check is never looked at; asked to repeat it, the pilot loses a breath. */
const ASIDE_MARGIN = 5;
/** Margin of a command alone: lower acts on a cough or a word of another's, higher makes the pilot say it again. */
const COMMAND_MARGIN = 3.5;
/** The same for those of `Dear.stops`. */
const COSTLY_MARGIN = 3.9;

/** What words cost where they are misheard, as the plan has it. */
export interface Prices {
  /** Margin that these words need by what they do; `order`: they are a command and no answer. */
  leastFor(text: string, order: boolean): number;
  /** A side by itself: an answer, or the begin of a name. */
  isSide(text: string): boolean;
}

const NOTHING_DEAR: Dear = { stops: [], aside: [], sides: [] };

export function pricesOf(dear: Dear = NOTHING_DEAR): Prices {
  const sides = new Set(dear.sides);
  const stops = dear.stops.map((said) => ` ${said} `);
  const aside = dear.aside.map((said) => ` ${said} `);
  const says = (text: string, any: readonly string[]) => any.some((s) => ` ${text} `.includes(s));
  return {
    leastFor(text, order) {
      if (says(text, aside)) return ASIDE_MARGIN;
      if (!order) return -Infinity;
      return says(text, stops) ? COSTLY_MARGIN : COMMAND_MARGIN;
    },
    isSide: (text) => sides.has(text.replace(/^the /, '').replace(/ (one|side)$/, '')),
  };
}

/** Score by which a command must beat the whole grammar, which holds it too: less steals names, more leaves commands unheard. */
export const COMMAND_LEAD = 50;
