import { FIRST_SCENE } from '#shared/scene';
import type { Question } from '#shared/question';
import { joint } from './joints.ts';
import { SIDE_WORDS, stem } from './names.ts';
import { isNumberWord } from './numbers.ts';
import type { Compiled } from './read.ts';
import { whichOf, whichWords } from './which.ts';

/** May stand beside the places of an answer ("the two on the left, please"). */
const BESIDE =
  /^(the|one|ones|it|is|that|this|them|those|on|at|in|was|are|a|side|hand|end|i|mean|please|um|uh|er|yes|yeah|just|only|and|number|numbers|both|all|each|every|last|middle|other|first|second|third|fourth|fifth|sixth)$/;
/** "The left one" is one of them, and not number one. */
const POINTS = /^(the|this|that|last|other|only|just|middle)$/;

/**
 * "Two.", "one and three", "the last one", to a question which of several places was
 * meant: the places named, or null where any word is not understood (R5).
 */
export function placesAnswered(
  question: Question,
  words: readonly string[],
  compiled: Compiled,
): Question['options'][number] | null {
  const first = question.options.find((o) => o.candidate !== null)?.candidate;
  if (first === undefined || first === null) return null;
  const entry = compiled.names.byId.get(first.check);
  if (entry === undefined) return null;
  const open = new Set(question.options.flatMap((o) => o.candidate?.instances ?? []));
  // "Not the left, the right.": what stands behind is meant.
  const not = words[0] === 'not' ? words.findIndex((w, i) => i > 1 && POINTS.test(w)) : 0;
  if (not < 0) return null;
  const meant = words.slice(not);
  const known = (w: string): boolean =>
    BESIDE.test(w) || SIDE_WORDS.has(stem(w)) || isNumberWord(w) || joint('order').has(w);
  if (meant.length === 0 || !meant.every(known)) return null;
  // "The first three" counts on from the first.
  if (/\b(first|last) (three|four|five|six|[3-9])\b/.test(meant.join(' '))) return null;
  const places = meant.filter((w, i) => {
    const before = meant[i - 1] ?? '';
    const pointed =
      POINTS.test(before) || SIDE_WORDS.has(stem(before)) || joint('order').has(before);
    return !(/^ones?$/.test(w) && pointed);
  });
  const { which } = whichOf(entry, whichWords([], false, places), FIRST_SCENE);
  if (which.how !== 'named' && which.how !== 'all') return null;
  if (!which.instances.every((i) => open.has(i))) return null;
  return {
    label: which.instances.join(' and '),
    candidate: { ...first, instances: [...which.instances] },
  };
}
