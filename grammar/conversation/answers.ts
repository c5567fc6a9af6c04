import type { Question } from '#shared/question';
import type { Statement } from '#shared/statement';
import { choiceAnswer } from './choice.ts';
import type { Answering, AnswerReader } from './open.ts';
import { nothingIn } from './nothing.ts';
import { polarityAnswer } from './polarity.ts';
import { recapAnswer } from './recap.ts';
import { recheckAnswer } from './recheck.ts';
import { severityAnswer } from './severity.ts';
import { measureAnswer, unitAnswer } from './unit.ts';
import { whichFaultAnswer } from './whichfault.ts';
import { whichAnswer } from './whichone.ts';

/** One row a kind of question: who reads its answer. */
const READERS: Readonly<Record<Question['kind'], AnswerReader>> = {
  'which-check': whichAnswer,
  'which-instance': whichAnswer,
  place: whichAnswer,
  unit: unitAnswer,
  value: measureAnswer,
  severity: severityAnswer,
  polarity: polarityAnswer,
  recheck: recheckAnswer,
  recap: recapAnswer,
  'which-fault': whichFaultAnswer,
  choice: choiceAnswer,
};

/** What the words answer to the open question; null where they are no answer. */
export function answerOf(a: Answering): readonly Statement[] | null {
  const nothing = nothingIn(a);
  if (nothing !== null) return [nothing];
  const answer = READERS[a.question.kind](a);
  if (answer === null) return null;
  return 'kind' in answer ? [answer] : answer;
}
