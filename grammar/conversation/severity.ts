import { severitiesIn } from '../readings/said.ts';
import { whole, type AnswerReader } from './open.ts';

/** How bad it is, said to the question or by itself. */
export const severityAnswer: AnswerReader = (a) => {
  const severity = severitiesIn(a.words.tokens)[0];
  if (severity === undefined) return null;
  return {
    v: 1,
    id: a.nextId(),
    heard: a.heard.id,
    kind: 'rating',
    severity,
    of: a.question.about,
    span: whole(a.words),
    why: [`answers "${a.question.text}"`],
  };
};
