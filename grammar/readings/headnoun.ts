import { stem } from '../names.ts';
import type { Inputs } from '../scores/around.ts';
import type { Range } from './namedalone.ts';

/**
 * "Legs solid" of an aircraft with one kind of gear leg: the noun of a name, and no other thing on the
 * list has a word like it. It says as much as the whole name does.
 */
export function headAlone(inputs: Inputs, { from, to }: Range): number | null {
  const marked = inputs.candidates.map((c) =>
    c.member === null
      ? []
      : c.marks.filter((m) => m.lag === 0 && m.token >= from && m.token < to && m.name > LIKE),
  );
  const [index, ...others] = marked.flatMap((marks, i) => (marks.length > 0 ? [i] : []));
  if (index === undefined || others.length > 0) return null;
  const member = inputs.candidates[index]?.member ?? null;
  if (member === null || member.check === null) return null;
  const last = Math.max(...(marked[index] ?? []).map((m) => m.token));
  const noun = stem(inputs.tokens[last]?.word ?? '');
  return member.names.some((name) => name.at(-1) === noun) ? index : null;
}
/** A word of a name, and not a word that only sounds a little like one. */
const LIKE = 0.1;
