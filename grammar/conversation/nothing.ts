import type { Question } from '#shared/question';
import type { Statement } from '#shared/statement';
import { lexicon } from '../lexicon.ts';
import { phraseWords } from '../tokens.ts';
import { whole, type Answering } from './open.ts';
import { notSo } from './retracted.ts';
import { isWord } from './answerwords.ts';

/**
 * Questions that "nothing" answers: what they are about was talk, or heard wrongly. Whether an
 * open squawk is still there, nobody answers with "nothing".
 */
const ANSWERED: ReadonlySet<Question['kind']> = new Set([
  'place',
  'which-check',
  'which-instance',
  'unit',
  'value',
  'polarity',
  'severity',
  'recap',
]);

/**
 * "Nothing", "nowhere", "that was just talk": what was asked about is taken back, in its own
 * words, and stays on the sheet as taken back (R4, R6). Said twice of the same sentence it is
 * learned as harmless.
 */
export function nothingIn(a: Answering): Statement | null {
  const { question, words, scene } = a;
  if (!ANSWERED.has(question.kind)) return null;
  // Of several things it does not say which.
  if ((question.items ?? []).length > 1) return null;
  const said = words.tokens
    .map((t) => t.word)
    .filter((w) => !isWord('nothing-beside', w))
    .join(' ');
  if (!phrases().has(said)) return null;
  const of = scene.talk.told.findLast((o) => o.id === question.about);
  if (of === undefined) return null;
  return notSo(a, whole(words), of, `answers "${question.text}": nothing`, question.id);
}

let known: ReadonlySet<string> | null = null;
function phrases(): ReadonlySet<string> {
  known ??= new Set(lexicon().answers.nothing.map((p) => phraseWords(p).join(' ')));
  return known;
}
