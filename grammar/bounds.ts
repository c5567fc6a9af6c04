import { echoOf } from './echo.ts';
import { joint } from './joints.ts';
import { harmless } from './leftovers.ts';
import { SIDE_WORDS, stem } from './names.ts';
import { isNumberWord } from './numbers.ts';
import type { Piece } from './pieces.ts';
import { speaks } from './predicates.ts';
import type { Token } from './tokens.ts';

/** Where one clause ends and the next begins: what stands at one place in the words. */

/** May stand before a name and belong to it. */
export function isNounStart(word: string): boolean {
  return joint('lead').has(word) || SIDE_WORDS.has(stem(word));
}

/** An echo has no more words than this ("and this one has not any more, thankfully"). */
const ECHO = 8;

/** "(master off,) key out": behind a pause one word that nothing explains, and a verdict on it and on nothing else. */
export function isStranger(tokens: readonly Token[], at: number, next: Piece | undefined): boolean {
  let i = at;
  while (/^(and|the|my|our|its|a|all|both|each|one|two|three|four)$/.test(tokens[i]?.word ?? ''))
    i += 1;
  const word = tokens[i]?.word ?? '';
  if (harmless().has(word) || isNumberWord(word) || next === undefined) return false;
  if (next.from <= i || next.from > i + 3 || next.kind !== 'sense' || !speaks(next)) return false;
  for (let k = i + 1; k < next.from; k += 1)
    if ((tokens[k]?.gap ?? 0) > 0 || !joint('before-state').has(tokens[k]?.word ?? ''))
      return false;
  return true;
}

/** "…, and this one has not": from `at` to the next pause, "and" or "but" nothing but an echo. */
export function isEcho(tokens: readonly Token[], at: number, to: number): boolean {
  const joins = (i: number): boolean => /^(and|but|so|well)$/.test(tokens[i]?.word ?? '');
  if ((tokens[at]?.gap ?? 0) === 0 && !joins(at)) return false;
  let end = at;
  while (end < to && (end === at || (!joins(end) && (tokens[end]?.gap ?? 0) === 0))) end += 1;
  return end - at <= ECHO && echoOf(tokens.slice(at, end).map((t) => t.word)) !== null;
}

/** Words like "behind" and "forward of" right before `at`, over articles, sides and counts. */
export function isBeside(tokens: readonly Token[], at: number): boolean {
  const beside = joint('beside');
  const [two, one] = [tokens[at - 2]?.word ?? '', tokens[at - 1]?.word ?? ''];
  return (
    beside.has(one) || beside.has(`${two} ${one}`) || beside.has(`${one} ${tokens[at]?.word ?? ''}`)
  );
}

/** Only "of", "on", "in" and articles between two names. */
export function leads(tokens: readonly Token[], a: number, b: number): boolean {
  if (b <= a || !joint('belongs').has(tokens[a]?.word ?? '')) return false;
  for (let i = a; i < b; i += 1) {
    if ((tokens[i]?.gap ?? 0) > 0) return false;
    if (i > a && !isNounStart(tokens[i]?.word ?? '')) return false;
  }
  return true;
}
