import { SAID, type Talk } from '#shared/talk';
import { oppositeOf } from '../matches/heardas.ts';
import type { Member, Roster } from '../matches/roster.ts';
import { stem } from '../names.ts';
import type { Earlier } from './around.ts';

/**
 * Where the last utterances left the speaker: on which side of the aircraft, and at which
 * check. "Strut's grand" behind the right aileron is the right strut, though nobody says so.
 */
export interface Trail {
  /** The side that was said last; null where none was, or both at once. */
  readonly said: string | null;
  /** The side of what was reported on last. */
  readonly settled: string | null;
  /** Index of the member that was reported on last. */
  readonly last: number | null;
}

const LATERAL: ReadonlySet<string> = new Set(['left', 'right']);

/**
 * @param earlier the utterances before, nearest first
 * @param turns what was decided about them, nearest first
 */
export function trailOf(roster: Roster, earlier: readonly Earlier[], turns: Talk['turns']): Trail {
  let settled: string | null = null;
  let last: number | null = null;
  let sided = false;
  for (const turn of turns) {
    const results = Object.entries(turn.said).flatMap(([key, row]) => {
      const member = roster.byKey.get(key);
      return member !== undefined && (row.what & SAID.result) !== 0 ? [{ member, row }] : [];
    });
    last ??= results.at(-1)?.member.index ?? null;
    if (sided) continue;
    const sides = results.flatMap(({ member, row }) => sidesOf(member, row.places));
    sided = sides.length > 0;
    settled = onlyOf(sides);
  }
  const spoken = earlier.map((e) => e.places.sides.filter((s) => s !== null && LATERAL.has(s)));
  const words = spoken.find((sides) => sides.length > 0) ?? [];
  return { said: words.at(-1) ?? null, settled, last };
}

function sidesOf(member: Member, places: readonly string[]): string[] {
  const own = places.flatMap((p) => p.toLowerCase().split(/\s+/).map(stem)).filter(isLateral);
  if (own.length > 0) return own;
  return [...member.sides, ...member.stationSides].filter(isLateral);
}

const isLateral = (word: string): boolean => LATERAL.has(word);
const onlyOf = (sides: readonly string[]): string | null =>
  new Set(sides).size === 1 ? (sides[0] ?? null) : null;

/** 1 where a side is among these words, and 1 where only its opposite is. */
export function sideRow(side: string | null, words: ReadonlySet<string>): [number, number] {
  if (side === null) return [0, 0];
  const other = oppositeOf(side);
  return [words.has(side) ? 1 : 0, !words.has(side) && other !== null && words.has(other) ? 1 : 0];
}
