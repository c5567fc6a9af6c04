import type { Piece, SensePiece } from './pieces.ts';

const PRED_KINDS = new Set([
  'condition',
  'verdict',
  'compared',
  'notfitted',
  'setaside',
  'severity',
]);
export function isPredicate(piece: Piece): piece is SensePiece {
  return piece.kind === 'sense' && piece.senses.some((s) => PRED_KINDS.has(s.kind));
}
/** Says how something is: a condition or a verdict. */
export function speaking(piece: SensePiece): boolean {
  return piece.senses.some((s) => s.kind === 'condition' || s.kind === 'verdict');
}
/** As `speaking`, or compares it with how it was. */
export function speaks(piece: SensePiece): boolean {
  return speaking(piece) || piece.senses.some((s) => s.kind === 'compared');
}
export function isCondition(piece: SensePiece): boolean {
  return piece.senses.some((s) => s.kind === 'condition');
}
