import { joint } from './joints.ts';
import type { Piece, Sense, SensePiece } from './pieces.ts';
import { stem } from './names.ts';
import type { Token } from './tokens.ts';

/** "Nose strut, no oil": dry where it may leak, empty where it has a level, asked where both. */
const DRY: readonly Sense[] = [
  { kind: 'verdict', id: 'dry', weak: true },
  {
    kind: 'condition',
    id: 'low',
    weak: true,
    sign: null,
    checks: null,
    either: 'asks',
  },
];
const ENDS: ReadonlySet<string> = new Set(
  'on in at anywhere there around underneath under below visible seen showing outside and'.split(
    ' ',
  ),
);
/** Words that a no-substance may stand behind its name; farther it may belong to something else. */
const REACH = 6;

/** "No oil", "no fluid" behind a name, and nothing behind it that would make it "no oil leak". */
export function absent(tokens: readonly Token[], pieces: readonly Piece[]): SensePiece[] {
  const out: SensePiece[] = [];
  for (let i = 1; i + 1 < tokens.length; i += 1) {
    if (tokens[i]?.word !== 'no' || (tokens[i]?.gap ?? 0) === 2) continue;
    const next = tokens[i + 1];
    if (next === undefined || next.gap > 0 || !joint('substance').has(stem(next.word))) continue;
    const behind = tokens[i + 2];
    if (behind !== undefined && behind.gap === 0 && !ENDS.has(behind.word)) continue;
    const covered = pieces.some((p) => p.from < i + 2 && p.to > i && p.to - p.from > 1);
    const named = pieces.some((p) => p.kind === 'item' && p.to <= i && i - p.to < REACH);
    if (covered || !named) continue;
    out.push({ kind: 'sense', from: i, to: i + 2, senses: DRY, match: 1 });
  }
  return out;
}
