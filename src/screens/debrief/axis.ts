import type { Sort, Stay } from './talk.ts';

/** What a mark needs of an utterance. */
export interface Marked {
  readonly from: number;
  readonly to: number;
  readonly sort: Sort;
  readonly station: string | null;
}

/** Room that the label of a tick takes, in px. */
const LABEL = 64;
const STEPS = [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200];

/** Seconds between two ticks of the time axis, so that their labels do not touch. */
export function tickEvery(perSecond: number): number {
  return STEPS.find((s) => s * perSecond >= LABEL) ?? 14_400;
}

/**
 * All marks of one sort as one path, so that ten thousand utterances are four
 * elements. A bar as long as the utterance where it counted, a hairline where
 * not, a diamond for a question, a triangle for a finding.
 */
export function marksPath(
  utterances: readonly Marked[],
  sort: Sort,
  lane: ReadonlyMap<string, number>,
  perSecond: number,
  outside: number,
): string {
  const out: string[] = [];
  for (const u of utterances) {
    if (u.sort !== sort) continue;
    const x = r(u.from * perSecond);
    const y = (u.station === null ? undefined : lane.get(u.station)) ?? outside;
    if (sort === 'finding') out.push(`M${x} ${y - 9}l9 16h-18z`);
    else if (sort === 'question') out.push(`M${x} ${y - 8}l8 8-8 8-8-8z`);
    else {
      const w = Math.max(sort === 'counted' ? 2.5 : 1, r((u.to - u.from) * perSecond));
      const h = sort === 'counted' ? 12 : 4;
      out.push(`M${x} ${y - h / 2}h${w}v${h}h-${w}z`);
    }
  }
  return out.join('');
}

/** The walk as a line: level while at a station, a step to the next. */
export function runnerPath(
  stays: readonly Stay[],
  lane: ReadonlyMap<string, number>,
  perSecond: number,
): string {
  let path = '';
  for (const stay of stays) {
    const y = lane.get(stay.station);
    if (y === undefined) continue;
    path += `${path === '' ? 'M' : 'L'}${r(stay.from * perSecond)} ${y}L${r(stay.to * perSecond)} ${y}`;
  }
  return path;
}

function r(n: number): number {
  return Math.round(n * 10) / 10;
}
