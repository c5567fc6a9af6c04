import { senses } from '../matches/senses.ts';
import type { Inputs } from '../scores/around.ts';
import { namedAlone, type Range } from './namedalone.ts';
import { headAlone } from './headnoun.ts';

/**
 * "Brakes, tyres, legs, all good": names one after the other, and one word of praise for them all. Each is
 * said to be good as if it stood alone with it.
 *
 * @returns candidates that are listed; none where anything else is said
 */
export function listedIn(inputs: Inputs): readonly number[] {
  const { tokens, conditions } = inputs;
  const praised = tokens.findIndex((_, i) => i > 1 && isPraise(inputs, i));
  if (praised < 0 || conditions.length > 0 || tokens.some((t) => t.asks)) return [];
  const rest = tokens.slice(praised);
  if (!rest.every((t, i) => isPraise(inputs, praised + i) || VERB.test(t.word))) return [];
  let to = praised;
  while (to > 0 && VERB.test(tokens[to - 1]?.word ?? '')) to -= 1;
  const named = namesIn(inputs, to).map((range) => {
    const index = namedAlone(inputs, range) ?? headAlone(inputs, range);
    return index !== null && isBare(inputs, index, range) ? index : null;
  });
  const out = named.filter((i) => i !== null);
  const apart = new Set(out).size === named.length;
  return named.length > 1 && apart ? out : [];
}
/** What may stand between a list and its praise, or behind it. */
const VERB =
  /^(all|both|every|one|of|them|is|are|look|looks|looking|very|nice|and|here|there|too)$/;
const JOINS = /^(the|and|a|an|then|our|my|all|both|two|left|right)$/;

/** Parts between commas, stops and "and", up to a token. */
function namesIn({ tokens }: Inputs, to: number): Range[] {
  const starts = [0];
  for (let i = 1; i < to; i += 1)
    if ((tokens[i]?.gap ?? 0) > 0 || tokens[i]?.word === 'and') starts.push(i);
  return starts
    .map((from, k) => ({ from, to: starts[k + 1] ?? to }))
    .filter((r) => tokens.slice(r.from, r.to).some((t) => t.word !== 'and'));
}

/** Nothing but the name. */
function isBare({ tokens, candidates }: Inputs, index: number, { from, to }: Range): boolean {
  const own = new Set(
    candidates[index]?.marks.flatMap((m) => (m.lag === 0 && m.name > 0 ? [m.token] : [])),
  );
  return tokens.slice(from, to).every((t, i) => own.has(from + i) || JOINS.test(t.word));
}

function isPraise({ tokens }: Inputs, i: number): boolean {
  const { names } = senses();
  return (tokens[i]?.senses ?? []).some((k) => names[k] === 'verdict-good');
}
