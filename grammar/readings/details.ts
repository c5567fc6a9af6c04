import type { ConditionSaid } from '#shared/statement';
import { lexicon } from '../lexicon.ts';
import { numberAt } from '../numbers.ts';
import { phraseWords, spanOf, type Token } from '../tokens.ts';
import { Trie } from '../trie.ts';

/** How bad, how many and where: the small words around a condition. */

type Degree = NonNullable<ConditionSaid['degree']>;
/** Words around a condition in which its degree and its count are looked for. */
const NEAR = 4;
/** Longest place that is kept, in words. */
const LONG_PLACE = 14;

let degrees: Trie<Degree> | null = null;
let places: Trie<true> | null = null;

function degreeTrie(): Trie<Degree> {
  if (degrees !== null) return degrees;
  degrees = new Trie();
  for (const d of ['slight', 'moderate', 'severe'] as const)
    for (const p of lexicon().degrees[d]) degrees.add(phraseWords(p), d);
  return degrees;
}

function placeTrie(): Trie<true> {
  if (places !== null) return places;
  places = new Trie();
  for (const kind of ['at', 'on'] as const)
    for (const p of lexicon().places[kind]) places.add(phraseWords(p), true);
  return places;
}

export function degreeAt(tokens: readonly Token[], from: number, to: number): Degree | null {
  const words = tokens.map((t) => t.word);
  let best: { degree: Degree; far: number } | null = null;
  for (let i = Math.max(0, from - NEAR); i < Math.min(words.length, to + NEAR); i += 1) {
    const hit = degreeTrie().longest(words, i);
    if (hit === null) continue;
    if (i >= to && (tokens[i]?.gap ?? 0) === 2) break;
    const far = hit.to <= from ? from - hit.to : i >= to ? i - to : 0;
    if (best === null || far < best.far) best = { degree: hit.item, far };
  }
  return best?.degree ?? null;
}

/** "Two of six", "three dents". */
export function extentAt(
  tokens: readonly Token[],
  from: number,
  to: number,
): ConditionSaid['extent'] {
  const words = tokens.map((t) => t.word);
  for (let i = Math.max(0, from - NEAR - 2); i < Math.min(words.length, to + NEAR); i += 1) {
    const n = numberAt(words, i);
    if (n === null || n.part || !Number.isInteger(n.value)) continue;
    let k = n.to;
    while (/^(of|the|out)$/.test(words[k] ?? '')) k += 1;
    const whole = k > n.to ? numberAt(words, k) : null;
    if (whole !== null && whole.value >= n.value) return { count: n.value, of: whole.value };
    if (n.to === from && n.value > 1) return { count: n.value, of: null };
  }
  return null;
}

/** Where on the thing, as said: from the first place word behind the condition to the next pause. */
export function placeAt(
  { tokens, raw }: { tokens: readonly Token[]; raw: readonly string[] },
  to: number,
  own: readonly number[],
): string | null {
  const words = tokens.map((t) => t.word);
  for (let i = to; i < Math.min(words.length, to + 6); i += 1) {
    if (i > to && (tokens[i]?.gap ?? 0) === 2) return null;
    if (placeTrie().longest(words, i) === null) continue;
    let end = i + 1;
    while (end < words.length && end - i < LONG_PLACE && (tokens[end]?.gap ?? 0) === 0) end += 1;
    while (end > i && /^(and|but|so|then|or|the|a|there|it|is)$/.test(words[end - 1] ?? ''))
      end -= 1;
    // "On the left tyre" names the thing and not a place on it.
    if (own.some((t) => t >= i && t < end)) return null;
    if (end - i < 2) return null;
    return spanOf(tokens, raw, i, end).words.replace(/[.,;:!?]+$/, '');
  }
  return null;
}
