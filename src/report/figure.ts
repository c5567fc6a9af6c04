/** A drawing of lines, discs and words, for paper and for a page alike. In its own units; y goes down. */
export interface Figure {
  readonly width: number;
  readonly height: number;
  /** What it shows, for whoever does not see it. */
  readonly told: string;
  readonly items: readonly Item[];
}

/** Its words, and those drawn in it: whoever does not see it is told what it says of each station. */
export function inWords({ told, items }: Figure): string {
  const drawn = items.flatMap((i) => (i.kind === 'text' && /\p{L}/u.test(i.text) ? [i.text] : []));
  return drawn.length === 0 ? told : `${told} ${drawn.join('; ')}.`;
}

export type Ink = 'ink' | 'pale';

export type Item =
  | {
      readonly kind: 'line';
      readonly from: readonly [number, number];
      readonly to: readonly [number, number];
      readonly wide: number;
      readonly ink: Ink;
    }
  | {
      readonly kind: 'disc';
      readonly at: readonly [number, number];
      readonly r: number;
      readonly filled: boolean;
    }
  | { readonly kind: 'triangle'; readonly at: readonly [number, number]; readonly r: number }
  | {
      readonly kind: 'text';
      /** Left end of the base line. */
      readonly at: readonly [number, number];
      readonly size: number;
      readonly text: string;
      readonly bold: boolean;
    };

export const line = (
  from: readonly [number, number],
  to: readonly [number, number],
  wide: number,
  ink: Ink = 'ink',
): Item => ({ kind: 'line', from, to, wide, ink });

export const text = (
  at: readonly [number, number],
  size: number,
  words: string,
  bold = false,
): Item => ({ kind: 'text', at, size, text: words, bold });
