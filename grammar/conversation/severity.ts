import { severitiesIn } from '../readings/said.ts';
import { SEVERITIES } from '#shared/severity';
import { optionIn } from './options.ts';
import { whole, type AnswerReader } from './open.ts';
import { goodAfterAll } from './polarity.ts';

/** How bad it is, said to the question or by itself; or that it is no fault at all. */
export const severityAnswer: AnswerReader = (a) => {
  const good = goodAfterAll(a);
  if (good !== null) return good;
  const picked = optionIn(a.question, a.words.tokens);
  const severity = severitiesIn(a.words.tokens)[0] ?? SEVERITIES[picked ?? -1];
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
