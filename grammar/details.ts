import type { ConditionSaid } from '#shared/statement';
import type { Clause } from './clauses.ts';
import { lexicon } from './lexicon.ts';
import { numberAt } from './numbers.ts';
import type { SensePiece } from './pieces.ts';
import { phraseWords, spanOf, wordsIn, type Token } from './tokens.ts';
import { Trie } from './trie.ts';

export type Degree = 'slight' | 'moderate' | 'severe';
let degrees: Trie<Degree> | null = null;
let placeWords: Trie<'at' | 'on'> | null = null;

function degreeTrie(): Trie<Degree> {
  if (degrees !== null) return degrees;
  degrees = new Trie();
  const lex = lexicon();
  for (const d of ['slight', 'moderate', 'severe'] as const)
    for (const p of lex.degrees[d]) degrees.add(phraseWords(p), d);
  return degrees;
}
function placeTrie(): Trie<'at' | 'on'> {
  if (placeWords !== null) return placeWords;
  placeWords = new Trie();
  const lex = lexicon();
  for (const kind of ['at', 'on'] as const)
    for (const p of lex.places[kind]) placeWords.add(phraseWords(p), kind);
  return placeWords;
}

/** The place of a condition as said: from its first place word to the end of what follows. */
export function placeOf(
  clause: Clause,
  target: SensePiece,
  tokens: readonly Token[],
  raw: readonly string[],
  items: readonly { from: number; to: number }[],
): { text: string; from: number; to: number } | null {
  const places = placeTrie();
  const words = wordsIn(tokens);
  const stop = Math.min(
    clause.to,
    ...clause.preds
      .filter((p) => p.from >= target.to && p !== target && !inPlace(clause, p.from))
      .map((p) => p.from),
  );
  let i = target.to;
  // A number with a length before "aft of" belongs to the place.
  for (; i < Math.min(stop, target.to + 6); i += 1) {
    const hit = places.longest(words, i);
    if (hit !== null && hit.to <= stop) break;
    if (numberAt(words, i) !== null) {
      const away = words
        .slice(i, Math.min(stop, i + 5))
        .findIndex((w) =>
          /^(aft|forward|above|below|from|inboard|outboard|behind|ahead|in|up|down)$/.test(w),
        );
      if (away > 0) break;
    }
    if (/^(the|a|bit|little|right|just|about|halfway|maybe)$/.test(words[i] ?? '')) continue;
  }
  if (i >= Math.min(stop, target.to + 6)) return null;
  let end = i;
  while (end < stop && (end === i || (tokens[end]?.gap ?? 0) === 0)) end += 1;
  // "on the left tyre" names the thing and not a place on it.
  const item = items.find((it) => it.from >= i && it.to <= end);
  if (item !== undefined) {
    const rest = placeBehind(item.to, end, words, places);
    if (rest === null) return null;
    i = rest;
  }
  while (end > i && /^(and|but|so|then|or|the|a|there|it|is)$/.test(words[end - 1] ?? '')) end -= 1;
  if (end - i < 2) return null;
  return { text: spanOf(tokens, raw, i, end).words.replace(/[.,;:!?]+$/, ''), from: i, to: end };
}
function placeBehind(
  from: number,
  to: number,
  words: readonly string[],
  places: Trie<'at' | 'on'>,
): number | null {
  for (let i = from; i < to; i += 1) if (places.longest(words, i) !== null) return i;
  return null;
}
function inPlace(clause: Clause, at: number): boolean {
  return clause.places.some((p) => p.from <= at && at < p.to);
}

export function degreeNear(
  target: SensePiece,
  clause: Clause,
  tokens: readonly Token[],
): Degree | null {
  const trie = degreeTrie();
  const words = wordsIn(tokens);
  let found: Degree | null = null;
  for (let i = Math.max(clause.from, target.from - 4); i < target.from; i += 1) {
    if (
      clause.preds.some(
        (p) =>
          p !== target && p.from <= i && i < p.to && p.senses.some((s) => s.kind === 'condition'),
      )
    ) {
      found = null;
      continue;
    }
    // "The tail light's cracked": a word of a name is no degree.
    if (clause.items.some((it) => it.from <= i && i < it.to)) continue;
    const hit = trie.longest(words, i);
    if (hit !== null && hit.to <= target.from) {
      found = hit.item;
      i = hit.to - 1;
    }
  }
  if (found !== null) return found;
  const inside = trie.longest(words, target.from);
  if (inside !== null && inside.to <= target.to && target.to - target.from > 1) return inside.item;
  const hit = trie.longest(words, target.to);
  return hit !== null &&
    hit.to <= clause.to &&
    hit.item === 'severe' &&
    /^(badly|severely|completely|right|all|deeply|heavily)/.test(words[target.to] ?? '')
    ? hit.item
    : null;
}

/** "two of six", "three missing". */
export function extentNear(
  target: SensePiece,
  clause: Clause,
  tokens: readonly Token[],
): ConditionSaid['extent'] {
  const words = wordsIn(tokens);
  const read = (i: number): { count: number; of: number | null; to: number } | null => {
    if (words[i] === 'a' && words[i + 1] === 'couple')
      return { count: 2, of: null, to: words[i + 2] === 'of' ? i + 3 : i + 2 };
    const one = numberAt(words, i);
    if (
      one === null ||
      one.part ||
      one.value < 1 ||
      one.value > 99 ||
      (words[i] === 'one' && words[i + 1] !== 'of')
    )
      return null;
    if (words[one.to] === 'of' || words[one.to] === 'out') {
      let k = one.to + 1;
      while (words[k] === 'of' || words[k] === 'the') k += 1;
      const all = numberAt(words, k);
      if (all !== null && all.value >= one.value)
        return { count: one.value, of: all.value, to: all.to };
    }
    return { count: one.value, of: null, to: one.to };
  };
  for (let i = Math.max(clause.from, target.from - 7); i < target.from; i += 1) {
    const r = read(i);
    if (r === null || clause.items.some((it) => it.to === i)) continue;
    // "three has dark powder" counts on from a numbered place.
    if (/^(is|are|has|have|got)$/.test(words[r.to] ?? '')) continue;
    const between = words.slice(r.to, target.from);
    if (r.of !== null || between.length <= 3) {
      if (between.some((w) => /^(psi|quarts?|inch(es)?|percent|gallons?|mm|aft|above)$/.test(w)))
        continue;
      return { count: r.count, of: r.of };
    }
  }
  const behind = read(target.to);
  if (behind !== null && behind.of !== null && behind.to <= clause.to)
    return { count: behind.count, of: behind.of };
  return null;
}
