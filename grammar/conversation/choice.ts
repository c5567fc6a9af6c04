import type { Says } from '#shared/question';
import type { Observation } from '#shared/statement';
import { amended, askedAbout, SHORT, whole, type Answering, type AnswerReader } from './open.ts';
import { optionIn } from './options.ts';

/**
 * A question whose options say themselves what they change: the option that is picked, in the
 * words offered, by number, by order or in part, is taken into what was said (R6).
 */
export const choiceAnswer: AnswerReader = (a) => {
  const before = askedAbout(a);
  if (before === null || a.words.tokens.length > SHORT) return null;
  const picked = optionIn(a.question, a.words.tokens);
  const option = picked === null ? undefined : a.question.options[picked];
  if (option?.says === undefined) return null;
  return amended(
    a,
    changed(a, before, option.says),
    `answers "${a.question.text}": ${option.label}`,
  );
};

function changed(a: Answering, before: Observation, says: Says): Partial<Observation> {
  const last = before.conditions.findLast((c) => c.present);
  const detailed = before.conditions.map((c) =>
    c === last ? { ...c, degree: says.degree ?? c.degree, place: says.place ?? c.place } : c,
  );
  const verdict = {
    good: says.good ?? false,
    aspects: before.verdict?.aspects ?? [],
    actOnly: false,
    span: whole(a.words),
  };
  const instances = says.instances;
  return {
    conditions: says.good === true ? [] : detailed,
    ...(says.good === undefined || (!says.good && last !== undefined) ? {} : { verdict }),
    ...(says.severity === undefined ? {} : { severity: says.severity }),
    ...(instances === undefined || before.about.kind !== 'check'
      ? {}
      : { about: { ...before.about, which: { how: 'named', instances } } }),
  };
}
