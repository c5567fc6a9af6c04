import { lexicon, type AnswerWord } from '../lexicon.ts';
import { saysOneOf } from '../phrasing.ts';
import { phraseWords } from '../tokens.ts';

/** The words that answers are read by (answers.yaml): what they say, and what may stand beside it. */

const lists = new Map<AnswerWord, ReadonlySet<string>>();
const within = new Map<AnswerWord, RegExp>();

/** Whether a word, or words joined by spaces, are of the list and nothing more. */
export function isWord(kind: AnswerWord, said: string): boolean {
  let known = lists.get(kind);
  if (known === undefined) {
    // As they are written, and as words are taken down.
    const say = lexicon().answers[kind];
    lists.set(kind, (known = new Set([...say, ...say.map((p) => phraseWords(p).join(' '))])));
  }
  return known.has(said);
}

/** Whether words joined by spaces have one of the list in them. */
export function says(kind: AnswerWord, said: string): boolean {
  let known = within.get(kind);
  if (known === undefined) within.set(kind, (known = saysOneOf(lexicon().answers[kind])));
  return known.test(said);
}
