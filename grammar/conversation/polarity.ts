import { lexicon } from '../lexicon.ts';
import { phraseWords } from '../tokens.ts';
import { amended, askedAbout, content, whole, type AnswerReader } from './open.ts';

/** "Good, or something wrong?": the two options to the letter, by order, or a plain yes. */
const WELL = /^(good|fine|ok|okay|alright|first|yes|yeah|yep)$/;
const ILL = /^(wrong|something wrong|bad|second|fault|a fault)$/;

export const polarityAnswer: AnswerReader = (a) => {
  const said = content(a.words).join(' ');
  const plain = a.words.tokens.map((t) => t.word).join(' ');
  const before = askedAbout(a);
  if (before === null) return null;
  const span = whole(a.words);
  if (WELL.test(said) || WELL.test(plain))
    return amended(
      a,
      {
        verdict: {
          good: true,
          aspects: before.verdict?.aspects ?? before.conditions.flatMap((c) => c.aspects),
          actOnly: false,
          span,
        },
        conditions: [],
      },
      `answers "${a.question.text}": good`,
    );
  if (!ILL.test(said) && !ILL.test(plain)) return null;
  return amended(
    a,
    before.conditions.some((c) => c.present)
      ? { verdict: null }
      : { verdict: { good: false, aspects: before.verdict?.aspects ?? [], actOnly: false, span } },
    `answers "${a.question.text}": something wrong`,
  );
};

/** "I don't know": leaves the question open, and says nothing that could be asked about. */
export function isUnknown(words: readonly string[]): boolean {
  const text = words
    .filter((w) => !/^(um|uh|er|erm|well|oh|sorry|hmm|honestly|now|yet|mate|really)$/.test(w))
    .join(' ');
  return lexicon().exchange.unknown.some((phrase) => phraseWords(phrase).join(' ') === text);
}
