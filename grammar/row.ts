import { joint } from './joints.ts';
import { lexicon } from './lexicon.ts';
import type { Token } from './tokens.ts';

let degrees: ReadonlySet<string> | null = null;
/** Words of degree, such as "big" and "slight". */
function degreeWords(): ReadonlySet<string> {
  degrees ??= new Set(
    Object.values(lexicon().degrees)
      .flat()
      .filter((p) => !p.includes(' ')),
  );
  return degrees;
}

/**
 * "(left good,) right has a big dent", "(one good,) two and three loose": the row of sides or
 * numbers that stands before the predicate at `at`, with nothing between but a verb,
 * articles and words of degree. Null where none does.
 *
 * @param floor no word before this one is looked at
 */
export function rowBefore(
  tokens: readonly Token[],
  at: number,
  floor: number,
): { from: number; to: number } | null {
  const word = (i: number): string => tokens[i]?.word ?? '';
  let to = at;
  while (to > floor && (joint('before-state').has(word(to - 1)) || degreeWords().has(word(to - 1))))
    to -= 1;
  let from: number | null = null;
  let joined = false;
  for (let i = to; i > floor; i -= 1) {
    // "(main blade one,) two's got a crack": a comma parts them, but not in "one, two and three".
    if (from !== null && (tokens[i]?.gap ?? 0) > 0 && !joined) break;
    if (word(i - 1) === 'and') joined = true;
    if (joint('place').has(word(i - 1))) from = i - 1;
    else if (from === null || !joint('place-row').has(word(i - 1))) break;
    else if (word(i - 1) !== 'and') from = i - 1;
  }
  return from === null ? null : { from, to };
}
