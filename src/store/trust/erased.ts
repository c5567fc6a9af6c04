import { KEPT, keptIn } from '#shared/kept';
import type { Version } from './judge.ts';
import { textIn, type Held } from './held.ts';
import { readHeld } from './opened.ts';
import { erasedLine } from './sentences.ts';

const NAMING: ReadonlySet<string> = new Set(KEPT);

/** Whether a version names any sound or picture, so that it matters what was erased. */
export function namesBytes({ counts, after }: Version): boolean {
  return [...counts, ...after].some((e) => NAMING.has(e.kind));
}

/**
 * Erasures of the sound and the pictures of a walk that were not written into the
 * walk itself: an erasure is obeyed wherever it stands, and so it is told.
 */
export function erasedElsewhere(
  walk: string,
  { counts, after }: Version,
  erasures: readonly Held[],
): readonly string[] {
  const named = new Set(
    readHeld([...counts, ...after].filter((e) => NAMING.has(e.kind))).map(
      ({ what }) => keptIn(what)?.recording,
    ),
  );
  return erasures
    .filter((e) => e.walk !== walk && named.has(erasedId(e)))
    .map((e) => `${erasedLine(e)} That was not said in this walk.`);
}

function erasedId(e: Held): string | undefined {
  return textIn(e, e.kind === 'picture-erased' ? 'picture' : 'recording') ?? undefined;
}
