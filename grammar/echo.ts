import { joint } from './joints.ts';
import type { Said } from './said.ts';

/**
 * "… and it is", "… but this one doesn't": a clause of a pronoun and an auxiliary, that
 * says nothing itself and repeats what was said before it, or denies it. It makes a
 * result of what was talk until then ("it must not have a scratch, and this one hasn't").
 *
 * @returns whether it affirms or denies, or null where the words are more than an echo
 */
export function echoOf(words: readonly string[]): 'affirmed' | 'denied' | null {
  let i = 0;
  while (
    /^(and|but|well|so|yes|no|yeah|now|today|here|luckily|happily|correct|exactly|nope|aye|indeed)$/.test(
      words[i] ?? '',
    )
  )
    i += 1;
  if (words[i] === 'this' || words[i] === 'that') i += words[i + 1] === 'one' ? 2 : 1;
  else if (words[i] === 'these' || words[i] === 'those') i += words[i + 1] === 'ones' ? 2 : 1;
  else if (/^(it|they|ours|mine|none)$/.test(words[i] ?? '')) i += 1;
  else {
    // "The left one has", "number two does not".
    const from = i;
    while (
      joint('place').has(words[i] ?? '') ||
      /^(the|number|other|one|side)$/.test(words[i] ?? '')
    )
      i += 1;
    if (i === from) return null;
  }
  // "(doors? left locked,) right not."
  if (words[i] === 'not' && i + 1 === words.length && i > 0) return 'denied';
  if (!/^(is|are|has|have|does|do|did|was|were)$/.test(words[i] ?? '')) return null;
  i += 1;
  let denied = false;
  if (words[i] === 'not') {
    denied = true;
    i += 1;
  }
  const rest = words.slice(i);
  if (!rest.every((w) => joint('echo-tail').has(w))) return null;
  return denied ? 'denied' : 'affirmed';
}

/**
 * What an echo says, given what was said before it. A verdict that is affirmed is good,
 * a condition that is denied is absent. Where both were said, or where a denial is
 * affirmed ("no cracks in it, and it is"), the words do not tell: asked about (R5).
 */
export function echoed(echo: 'affirmed' | 'denied', before: Said): Said | null {
  const { verdict, conditions } = before;
  if (verdict === null && conditions.length === 0) return null;
  const why = [
    `${echo === 'affirmed' ? 'affirms' : 'denies'} what was said before: "${[
      ...(verdict === null ? [] : [verdict.span.words]),
      ...conditions.map((c) => c.span.words),
    ].join(', ')}"`,
  ];
  const base: Said = { ...before, doubt: null, acts: [], severity: null, why };
  if (verdict !== null && conditions.length > 0)
    return { ...base, doubt: 'which of the things said before it is about' };
  if (verdict !== null) {
    if (echo === 'affirmed') return base;
    return { ...base, verdict: { ...verdict, good: !verdict.good } };
  }
  if (echo === 'denied')
    return { ...base, conditions: conditions.map((c) => ({ ...c, present: false, place: null })) };
  if (conditions.some((c) => !c.present))
    return { ...base, doubt: 'whether the denial before it is affirmed' };
  return base;
}
