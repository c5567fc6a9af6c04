import { LONGEST_PHRASE } from '#shared/phrasebook';
import { senses } from '../matches/senses.ts';
import type { CandidateInput } from '../scores/around.ts';
import type { Scoring } from './scoring.ts';

/** The words of a doubt that name nothing: what an answer tells of them can be learned. */
export function ownWordsIn({ words, inputs }: Scoring, input: CandidateInput): { own?: string } {
  const named = new Set(input.marks.flatMap((m) => (m.lag === 0 && m.name > 0 ? [m.token] : [])));
  const { names } = senses();
  const kinds = (i: number): string[] =>
    (inputs.tokens[i]?.senses ?? []).map((k) => names[k] ?? '');
  // Words that mean something by themselves are never learned to mean something else.
  const first = words.tokens.findIndex((_, i) => !named.has(i) && kinds(i).length === 0);
  if (first < 0) return {};
  let to = first + 1;
  const goesOn = (i: number): boolean =>
    !named.has(i) &&
    (kinds(i).length === 0 || kinds(i).some((k) => /^(verdict-|condition|is-)/.test(k)));
  while (to < words.tokens.length && (words.tokens[to]?.gap ?? 0) === 0 && goesOn(to)) to += 1;
  if (to - first > LONGEST_PHRASE) return {};
  // Only a sentence that is a name and these words behind it says what they mean of it:
  // of a word out of a story nothing can be learned.
  const small = (i: number): boolean =>
    kinds(i).some((k) =>
      /^(filler|joint-(copula|lead|link|pronoun|empty)|side|force-present)/.test(k),
    );
  const plainly = words.tokens.every((_, i) => named.has(i) || (i >= first && i < to) || small(i));
  if (!plainly || named.size === 0 || Math.max(...named) > first) return {};
  const own = words.tokens.slice(first, to).map((t) => t.word);
  return { own: own.join(' ') };
}
