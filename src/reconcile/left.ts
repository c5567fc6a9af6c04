import type { Coverage, OpenItem } from '#shared/coverage';
import { fitsPrompt, LONGEST_PROMPT } from '#shared/speech';

/** Checks that are open, by id, as `finished` records them. */
export function openAtFinish(coverage: Coverage): readonly string[] {
  return [...new Set(coverage.open.flatMap((o) => (o.check === null ? [] : [o.check])))];
}

/** What is left of one station, or of the walk when the station is null. */
export function leftAt(coverage: Coverage, station: string | null): readonly OpenItem[] {
  return station === null ? coverage.open : coverage.open.filter((o) => o.station === station);
}

/**
 * "What's left", worst first, in one prompt of at most `most` seconds; what does
 * not fit is counted. Never says more than that nothing is left (R9).
 */
export function leftText(
  coverage: Coverage,
  { station = null, most = LONGEST_PROMPT }: { station?: string | null; most?: number } = {},
): string {
  const items = leftAt(coverage, station);
  const where = station === null ? '' : ' here';
  if (items.length === 0) return `Nothing is left${where}.`;
  const texts = items.map((o) => o.text.replace(/[.?]$/, ''));
  for (let count = texts.length; count > 0; count -= 1) {
    const text = said(texts.slice(0, count), texts.length - count);
    if (fitsPrompt(text, most)) return text;
  }
  return `${items.length} ${items.length === 1 ? 'thing is' : 'things are'} left${where}.`;
}

function said(texts: readonly string[], rest: number): string {
  return `Left: ${texts.join('; ')}${rest === 0 ? '.' : `; and ${rest} more.`}`;
}
