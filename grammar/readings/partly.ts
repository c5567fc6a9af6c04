import { lexicon } from '../lexicon.ts';
import { senses } from '../matches/senses.ts';
import type { Inputs } from '../scores/around.ts';
import { phrasesIn } from './phrases.ts';

/**
 * Where words that would say that it is well say it of a part only, or deny it: "not all of the
 * links are tight", "not everything on the left is okay", "two out of four are tight". What is
 * true of a part speaks for no whole (R1), and the rest may be at fault (R4): it is asked about.
 * "Anything but clean" and "far from secure" are as little a praise.
 */

/** What may stand between "not" and what it denies; "not cracked, good" denies something else. */
const BETWEEN =
  /^(all|every|everything|each|both|any|one|two|three|four|five|six|of|the|them|these|those|that|this|is|are|it|on|at|in|here|there|side|left|right|front|back|rear|upper|lower|top|bottom|entirely|quite|fully|completely|properly|really|exactly|totally|perfectly|as|so|looking|feeling)$/;
/** "Not only tight": what follows is more, not less. */
const MORE = /^(only|just|too|bad|half)$/;
/** Words between "not" and the verdict at most; farther it denies something else. */
const REACH = 8;

const COUNTS: Readonly<Record<string, number>> = {
  one: 1,
  two: 2,
  three: 3,
  four: 4,
  five: 5,
  six: 6,
  seven: 7,
  eight: 8,
};

interface Range {
  readonly from: number;
  readonly to: number;
}

/** @returns where a verdict is denied or said of a part only, from the word that does so to its end. */
function partlyIn({ tokens, conditions, candidates }: Inputs): readonly Range[] {
  const words = tokens.map((t) => t.word);
  const good = tokens.map((_, i) => isGood(tokens, i));
  const belies = phrasesIn(tokens, lexicon().hedges.belied);
  const named = new Set(
    candidates.flatMap((c) => c.marks.flatMap((m) => (m.lag === 0 && m.name > 0 ? [m.token] : []))),
  );
  const free = (i: number): boolean =>
    tokens[i]?.gap === 0 &&
    (BETWEEN.test(words[i] ?? '') || named.has(i) || tokens[i]?.side === true) &&
    !conditions.some((c) => i >= c.from && i < c.to);
  /** The verdict that the words from `from` on lead to without a pause or another thing between. */
  const reached = (from: number): number | null => {
    for (let j = from; j < Math.min(words.length, from + REACH); j += 1) {
      if (good[j] === true) return tokens[j]?.gap === 0 ? j : null;
      if (!free(j)) return null;
    }
    return null;
  };
  return words.flatMap((word, i): Range[] => {
    const denies = word === 'not' && good[i] !== true && !MORE.test(words[i + 1] ?? '');
    const only = word === 'only' && (COUNTS[words[i + 1] ?? ''] ?? 0) > 0;
    const belied = belies.find(({ from }) => from === i)?.to;
    const end = belied ?? (denies ? i + 1 : only ? i + 2 : countedTo(words, i));
    const at = end === null ? null : reached(end);
    if (at === null) return [];
    let to = at + 1;
    while (good[to] === true && tokens[to]?.gap === 0) to += 1;
    return [{ from: i, to }];
  });
}

/** "Two out of four", "three of the six": where the words go on behind it. */
function countedTo(words: readonly string[], i: number): number | null {
  const some = COUNTS[words[i] ?? ''];
  if (some === undefined) return null;
  let k = i + 1;
  if (words[k] === 'out') k += 1;
  if (words[k] !== 'of') return null;
  k += 1;
  if (words[k] === 'the') k += 1;
  const all = COUNTS[words[k] ?? ''];
  return all !== undefined && some < all ? k + 1 : null;
}

function isGood(tokens: Inputs['tokens'], i: number): boolean {
  const { names } = senses();
  return (tokens[i]?.senses ?? []).some((k) => /^verdict-good/.test(names[k] ?? ''));
}

/** Whether every word of praise in the utterance is one of a part. */
export function isPartly(inputs: Inputs): boolean {
  const part = partlyIn(inputs);
  const within = (i: number): boolean => part.some(({ from, to }) => i >= from && i < to);
  return part.length > 0 && inputs.tokens.every((_, i) => within(i) || !isGood(inputs.tokens, i));
}
