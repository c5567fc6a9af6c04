import type { Point } from './line.ts';

/** A name in the margin of the plan, as on a workshop drawing, joined to its mark by a thin line. */
export interface Callout {
  readonly id: string;
  readonly text: string;
  /** The mark that is named. */
  readonly mark: Point;
  /** Where the name begins (right margin) or ends (left margin). */
  readonly at: Point;
  readonly side: 'left' | 'right';
}

/** Between two names one above the other, in plan units; a little more than the height of the letters. */
const APART = 5.4;
const LOWEST = 98;

/** Gives every mark its name at the nearer margin, top to bottom, without two names touching. */
export function calloutsOf(
  marks: readonly { readonly id: string; readonly text: string; readonly mark: Point }[],
  margins: { readonly left: number; readonly right: number },
): readonly Callout[] {
  return (['left', 'right'] as const).flatMap((side) => {
    const here = marks
      .filter((m) => (m.mark.x < 50 ? 'left' : 'right') === side)
      .sort((a, b) => a.mark.y - b.mark.y);
    const ys = apart(here.map((m) => m.mark.y));
    return here.map((m, i) => ({
      ...m,
      side,
      at: { x: side === 'left' ? margins.left : margins.right, y: ys[i] ?? m.mark.y },
    }));
  });
}

/** Moves heights down until none is too near the one above, then up again from the bottom edge. */
function apart(ys: readonly number[]): readonly number[] {
  const out = [...ys];
  for (let i = 1; i < out.length; i += 1) {
    out[i] = Math.max(out[i] ?? 0, (out[i - 1] ?? 0) + APART);
  }
  let limit = LOWEST;
  for (let i = out.length - 1; i >= 0; i -= 1) {
    out[i] = Math.min(out[i] ?? 0, limit);
    limit = (out[i] ?? 0) - APART;
  }
  return out;
}
