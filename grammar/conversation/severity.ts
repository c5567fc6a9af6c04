import { isRatingAlone } from '../readings/orders.ts';
import { saysTalk } from '../readings/rated.ts';
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
  // "Last summer we grounded one for less": a word of the list, and no answer (R2).
  const told = isRatingAlone({ words: a.words }) || !saysTalk(a.inputs.tokens);
  const worded = told ? severitiesIn(a.words.tokens)[0] : undefined;
  const severity = worded ?? SEVERITIES[picked ?? -1];
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
