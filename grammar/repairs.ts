import { joint, jointPhrases } from './joints.ts';
import { SIDE_WORDS, stem } from './names.ts';
import { numberAt } from './numbers.ts';
import type { Piece } from './pieces.ts';
import type { Token } from './tokens.ts';
import { unitTrie } from './units.ts';

/**
 * Slips mended in the same breath: "oil's six, no, seven quarts", "left tyre, no,
 * right tyre is flat". The words that were taken back are left out of the reading
 * (the utterance itself is kept whole, R6). Only a like word mends a like word: a
 * number a number, a side a side, a name a name, a condition a condition.
 */

/** Indices of tokens that were taken back, or null where nothing was. */
export function takenBack(tokens: readonly Token[], pieces: readonly Piece[]): Set<number> | null {
  const words = tokens.map((t) => t.word);
  const out = new Set<number>();
  const starts = new Map(pieces.map((p) => [p.from, p]));
  for (let i = 0; i < tokens.length; i += 1) {
    const word = words[i] ?? '';
    if (joint('hesitation').has(word)) {
      out.add(i);
      continue;
    }
    if (joint('stammer').has(word) && words[i + 1] === word && tokens[i + 1]?.gap !== 2) {
      out.add(i);
      continue;
    }
    if (word === 'not') {
      // "Not five, seven quarts."
      const one = numberAt(words, i + 1);
      if (one !== null && (tokens[one.to]?.gap ?? 0) > 0 && numberAt(words, one.to) !== null) {
        for (let k = i; k < one.to; k += 1) out.add(k);
        continue;
      }
    }
    const aside = phraseAt(jointPhrases('aside'), words, i);
    if (aside !== undefined) {
      for (let k = 0; k < aside.length; k += 1) out.add(i + k);
      i += aside.length - 1;
      continue;
    }
    const denied = deniedAgain(words, pieces, i);
    if (denied !== null) {
      for (let k = denied.from; k < denied.to; k += 1) out.add(k);
      i = denied.to - 1;
      continue;
    }
    const cue = phraseAt(jointPhrases('slip'), words, i);
    if (cue === undefined || i === 0) continue;
    const bare = cue.length === 1 && cue[0] === 'no';
    const end = i + cue.length;
    const apart = (tokens[i]?.gap ?? 0) > 0 && (tokens[end]?.gap ?? 0) > 0;
    let next = end;
    while (next < tokens.length && joint('slip-skip').has(words[next] ?? '')) next += 1;
    const from =
      numberBefore(words, tokens, i, next) ??
      (bare && !apart ? null : nameBefore(pieces, starts, words, i, next)) ??
      placeBefore(words, tokens, pieces, i, next) ??
      (bare && !apart ? null : stateBefore(pieces, starts, i, next));
    if (from === null) continue;
    if (from.drop !== undefined) for (const k of from.drop) out.add(k);
    else for (let k = from.from; k < i; k += 1) out.add(k);
    for (let k = i; k < (from.drop !== undefined ? end : next); k += 1) out.add(k);
    i = end - 1;
  }
  return out.size === 0 ? null : out;
}

/** "A bulge, no, not a bulge, it's chafed": said and denied in one breath; neither stands. */
function deniedAgain(
  words: readonly string[],
  pieces: readonly Piece[],
  at: number,
): { from: number; to: number } | null {
  if (!/^(no|well|not|er|actually)$/.test(words[at] ?? '')) return null;
  const before = pieces.find((p) => p.to === at && p.kind === 'sense');
  if (before === undefined) return null;
  let not = at;
  while (/^(no|well|er|actually|sorry|wait)$/.test(words[not] ?? '')) not += 1;
  if (words[not] !== 'not') return null;
  let again = not + 1;
  while (/^(a|an|the|really|that)$/.test(words[again] ?? '')) again += 1;
  const length = before.to - before.from;
  for (let k = 0; k < length; k += 1) if (words[again + k] !== words[before.from + k]) return null;
  let from = before.from;
  while (from > 0 && /^(a|an|the|bit|of|some|slight|small|little)$/.test(words[from - 1] ?? ''))
    from -= 1;
  return { from, to: again + length };
}

/** The first of the phrases whose words stand from `i` on. */
function phraseAt(
  phrases: readonly (readonly string[])[],
  words: readonly string[],
  i: number,
): readonly string[] | undefined {
  for (const phrase of phrases) {
    let k = 0;
    while (k < phrase.length && words[i + k] === phrase[k]) k += 1;
    if (k === phrase.length) return phrase;
  }
  return undefined;
}

interface Back {
  from: number;
  drop?: number[];
}

function numberBefore(
  words: readonly string[],
  tokens: readonly Token[],
  cue: number,
  next: number,
): Back | null {
  if (numberAt(words, next) === null) return null;
  for (let k = Math.max(0, cue - 7); k < cue; k += 1) {
    const one = numberAt(words, k);
    if (one === null || one.to > cue) continue;
    const unit = unitTrie().longest(words, one.to);
    const stop = unit !== null && unit.to <= cue ? unit.to : one.to;
    if (stop === cue) {
      // A stop between the number and the cue: two results, no slip.
      if ((tokens[cue]?.gap ?? 0) === 2) return null;
      // "Five quarts, I mean six": the unit goes with the number that stands.
      const mended = numberAt(words, next);
      if (unit !== null && mended !== null && unitTrie().longest(words, mended.to) === null)
        return null;
      return { from: k };
    }
    k = one.to - 1;
  }
  return null;
}

function groupFrom(words: readonly string[], at: number): number {
  let i = at;
  while (
    i > 0 &&
    (SIDE_WORDS.has(stem(words[i - 1] ?? '')) ||
      /^(the|a|an|this|that|port|starboard|first|second|third|number|one|both|all)$/.test(
        words[i - 1] ?? '',
      ))
  )
    i -= 1;
  return i;
}

function nameBefore(
  pieces: readonly Piece[],
  starts: ReadonlyMap<number, Piece>,
  words: readonly string[],
  cue: number,
  next: number,
): Back | null {
  let at = next;
  while (
    at < words.length &&
    (SIDE_WORDS.has(stem(words[at] ?? '')) ||
      /^(the|a|this|that|number|one|two|three|port|starboard)$/.test(words[at] ?? ''))
  )
    at += 1;
  const behind = starts.get(at);
  if (behind?.kind !== 'item') return null;
  const before = pieces.find((p) => p.to === cue && p.kind === 'item');
  return before === undefined ? null : { from: groupFrom(words, before.from) };
}

function placeBefore(
  words: readonly string[],
  tokens: readonly Token[],
  pieces: readonly Piece[],
  cue: number,
  next: number,
): Back | null {
  const word = words[next] ?? '';
  const like = (w: string): boolean => joint('order').has(w) || SIDE_WORDS.has(stem(w));
  if (!like(word)) return null;
  for (let k = cue - 1; k >= Math.max(0, cue - 6); k -= 1) {
    if ((tokens[k + 1]?.gap ?? 0) === 2) return null;
    if (
      pieces.some(
        (p) =>
          p.kind === 'sense' &&
          p.from <= k &&
          k < p.to &&
          p.senses.some((s) => s.kind === 'condition' || s.kind === 'verdict'),
      )
    )
      return null;
    if (like(words[k] ?? '')) return { from: k, drop: [k] };
  }
  return null;
}

function stateBefore(
  pieces: readonly Piece[],
  starts: ReadonlyMap<number, Piece>,
  cue: number,
  next: number,
): Back | null {
  const behind = starts.get(next);
  const before = pieces.find((p) => p.to === cue);
  const isState = (p: Piece | undefined, kind: 'condition' | 'verdict'): boolean =>
    p?.kind === 'sense' && p.senses.some((s) => s.kind === kind);
  if (before === undefined || behind === undefined) return null;
  return isState(behind, 'condition') && isState(before, 'condition')
    ? { from: before.from }
    : null;
}
