import { severitiesIn } from '../readings/said.ts';
import { isRatingAlone } from '../readings/orders.ts';
import { whole } from './open.ts';
import { isJustTold } from './otherside.ts';
import type { Move } from './moves.ts';
import { amending } from './restated.ts';

/**
 * "Spinner, hairline at a screw. Ground it.": who says how bad it is says that it is a fault, and
 * nobody has to ask whether it is one (R4). What is called good and is unsure stays unsure.
 */
export const ratedDoubt: Move = (t) => {
  const { last } = t.scene;
  if (last === null || last.force !== 'result' || last.doubtful === null) return null;
  const ill = last.conditions.some((c) => c.present) || last.verdict?.good === false;
  const [severity] = severitiesIn(t.words.tokens);
  if (!ill || severity === undefined || !isJustTold(t, last)) return null;
  if (!isRatingAlone({ words: t.words })) return null;
  const why = `rated "${severity}": something is wrong`;
  return [
    { ...amending(t, last, { severity }, why), span: whole(t.words), doubtful: null, waits: false },
  ];
};
