import { SIDE_WORDS, stem, type Names } from './names.ts';
import type { ItemPiece, Piece, SensePiece } from './pieces.ts';
import type { Token } from './tokens.ts';

/**
 * Names cut short because the word before them was just said: "oil seven quarts,
 * cap tight" is the oil cap. A part of a name completed from the name before it.
 */
export const COMPLETED = 0.95;

export function completed(
  tokens: readonly Token[],
  pieces: readonly Piece[],
  names: Names,
): Piece[] {
  const out: Piece[] = [...pieces];
  const covered = new Int8Array(tokens.length);
  for (const p of pieces) covered.fill(p.kind === 'sense' ? 1 : 2, p.from, p.to);
  let last: ItemPiece | null = null;
  let next = 0;
  for (let i = 0; i < tokens.length; i += 1) {
    const piece = pieces[next];
    if (piece !== undefined && piece.from === i) {
      next += 1;
      if (piece.kind === 'item') last = piece;
      if (piece.kind !== 'sense' || piece.to - piece.from > 1) {
        i = piece.to - 1;
        continue;
      }
      // A single word of the lexicon is left alone: "wear" is no "wear plate".
      continue;
    }
    if (covered[i] !== 0 || last === null) continue;
    const word = stem(tokens[i]?.word ?? '');
    if (word.length < 3 || !isSubject(tokens, pieces, i)) continue;
    for (const head of last.entry.words) {
      const hit = names.trie.longest([head, word], 0);
      if (hit === null || hit.to !== 2) continue;
      const targets = hit.item.targets.filter((t) => t.score >= 0.9);
      if (targets.length === 0) continue;
      const made: ItemPiece = {
        kind: 'item',
        from: i,
        to: i + 1,
        entry: { ...hit.item, targets },
        plural: stem(tokens[i]?.word ?? '') !== tokens[i]?.word,
        match: COMPLETED,
        how: `"${word}" after "${last.entry.text}"`,
      };
      out.push(made);
      last = made;
      break;
    }
  }
  return out.sort((a, b) => a.from - b.from);
}

const COPULA = /^(is|are|has|have|looks?|on|all|both|also|seems?|feels?)$/;
const LINKS = /^(of|on|in|at|near|by|to|from|with|under|behind|around)$/;

/** Whether a word stands where the subject of a statement stands: a predicate or a number follows, no link leads to it. */
function isSubject(tokens: readonly Token[], pieces: readonly Piece[], i: number): boolean {
  let before = i - 1;
  while (
    before >= 0 &&
    (/^(the|and|a|so|then|also|uh|um|er)$/.test(tokens[before]?.word ?? '') ||
      SIDE_WORDS.has(stem(tokens[before]?.word ?? '')))
  )
    before -= 1;
  if (LINKS.test(tokens[before]?.word ?? '')) return false;
  let after = i + 1;
  while (after < tokens.length && COPULA.test(tokens[after]?.word ?? '') && after < i + 4)
    after += 1;
  const word = tokens[after]?.word ?? '';
  if (/^(no|not|nothing)$/.test(word)) return true;
  return pieces.some(
    (p): p is SensePiece =>
      p.kind === 'sense' &&
      p.from <= after &&
      after < p.to &&
      p.senses.some((s) => s.kind === 'verdict' || s.kind === 'condition'),
  );
}
