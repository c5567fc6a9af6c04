import { lexicon } from '../lexicon.ts';
import { phraseWords } from '../tokens.ts';
import { amended, askedAbout, content, whole, type AnswerReader } from './open.ts';
import { isYes, optionIn } from './options.ts';

/** "Good, or something wrong?" in other words than were offered. */
const WELL = /^(good|fine|ok|okay|alright|all good|no fault|nothing wrong)$/;
const ILL = /^(wrong|something wrong|bad|fault|a fault|not good|no good|as found)$/;

/**
 * "Good, or something wrong?", and "crack, or good?" where both were said. A bare yes is to
 * good only where good is what was said: it never turns a fault into one (R6).
 */
export const polarityAnswer: AnswerReader = (a) => {
  const before = askedAbout(a);
  if (before === null) return null;
  const said = content(a.words).join(' ');
  const plain = a.words.tokens.map((t) => t.word).join(' ');
  const good = a.question.options.findIndex((o) => o.label === 'good');
  const picked = optionIn(a.question, a.words.tokens);
  const ill = before.conditions.some((c) => c.present) || before.verdict?.good === false;
  const well =
    picked !== null
      ? picked === good
      : WELL.test(said) || WELL.test(plain)
        ? true
        : ILL.test(said) || ILL.test(plain)
          ? false
          : isYes(a.words.tokens) && !ill && before.verdict?.good === true
            ? true
            : null;
  if (well === null) return null;
  const span = whole(a.words);
  if (well)
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
