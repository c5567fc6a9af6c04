import { joint } from './joints.ts';
import type { Piece } from './pieces.ts';
import type { Token } from './tokens.ts';

/**
 * "Okay, tail boom": a word that opens the next thing is no verdict on the last
 * one. Taking it for one would speak for a check that nobody spoke about (R1).
 */
export function isOpener(
  piece: Piece,
  tokens: readonly Token[],
  from: number,
  all: readonly Piece[],
): boolean {
  if (piece.kind !== 'sense' || !piece.senses.every((s) => s.kind === 'verdict')) return false;
  for (let i = from; i < piece.from; i += 1) {
    if (!joint('opening').has(tokens[i]?.word ?? '')) return false;
  }
  const said = tokens.slice(piece.from, piece.to).map((t) => t.word);
  const comma = (tokens[piece.to]?.gap ?? 0) > 0;
  const opens =
    joint('opener').has(said.join(' ')) || (comma && joint('opener-pause').has(said.join(' ')));
  return opens && all.some((p) => p.kind !== 'sense' && p.from >= piece.to);
}
