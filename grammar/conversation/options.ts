import type { Question } from '#shared/question';
import { placeWordsOf } from '../matches/heardas.ts';
import { stem, stems } from '../names.ts';
import { phraseWords, type Token } from '../tokens.ts';
import { isWord } from './answerwords.ts';

/**
 * The options of a question, as they are answered: in the words offered, by number, by
 * order, in part, and "yes" where one thing was offered. What was offered is always taken.
 */

/** What is left of an answer without the words that say nothing. */
export function bareWords(tokens: readonly Token[]): string[] {
  return tokens.map((t) => t.word).filter((w) => !isWord('beside', w));
}

/** Whether the words are a plain yes. */
export function isYes(tokens: readonly Token[]): boolean {
  const words = tokens.map((t) => t.word).filter((w) => !isWord('beside', w) || isWord('yes', w));
  return (
    words.length > 0 && words.length < 4 && words.every((w) => isWord('yes', w) || w === 'please')
  );
}

/** The place of the option that the words pick; null where they pick none, or fit two as well. */
export function optionIn(question: Question, tokens: readonly Token[]): number | null {
  const { options } = question;
  // "Is it gone?" asks.
  if (/^(is|are|was|were|has|have|does|do|did|can|could)$/.test(tokens[0]?.word ?? '')) return null;
  if (tokens.some((t) => t.asks)) return null;
  const said = bareWords(tokens);
  if (said.length === 0) return options.length === 1 && isYes(tokens) ? 0 : null;
  if (options.length === 1 && isYes(tokens)) return 0;
  const whole = said.join(' ');
  const labels = options.map((o) => phraseWords(o.label).filter((w) => !isWord('beside', w)));
  const exact = only(labels.map((l) => l.join(' ') === whole));
  if (exact !== null) return exact;
  // In part: every word said belongs to this label, and not all of them to another.
  const own = said.filter((w) => w !== 'one' && w !== 'two').map(stem);
  if (own.length > 0) {
    const part = only(
      options.map((o) => {
        const words = new Set([...stems(o.label), ...phraseWords(o.label).map(stem)]);
        return own.every((w) => words.has(w));
      }),
    );
    if (part !== null) return part;
  }
  return byPlace(question, tokens);
}

/** "The second one", "number two", "two", "the last", "the latter". */
function byPlace({ options }: Question, tokens: readonly Token[]): number | null {
  const marks = placeWordsOf(tokens);
  let found: number | null = null;
  for (const [i, token] of tokens.entries()) {
    const order = marks.orders[i] ?? null;
    const count = marks.counts[i] ?? null;
    const place =
      token.word === 'latter'
        ? options.length - 1
        : token.word === 'former'
          ? 0
          : order !== null
            ? order < 0
              ? options.length - 1
              : order
            : // "The left one" is one of them, and not number one.
              count !== null && !(token.word === 'one' && i > 0 && tokens[i - 1]?.word !== 'number')
              ? count - 1
              : null;
    if (place === null) {
      if (token.word === 'number' || token.word === 'one' || isWord('beside', token.word)) continue;
      // A word that is no place: it is another sentence.
      return null;
    }
    if (found !== null && found !== place) return null;
    found = place;
  }
  return found !== null && found < options.length ? found : null;
}

/** The place of the only one that is true. */
function only(fits: readonly boolean[]): number | null {
  const first = fits.indexOf(true);
  return first >= 0 && first === fits.lastIndexOf(true) ? first : null;
}
