import type { SaidOf, Told } from '#shared/coverage';
import { observationIn, wordsOf, type Entry } from './ledger.ts';
import type { Reading } from './reading.ts';

const NOTHING_TOLD: Told = { explained: [], done: [], reported: [] };

/**
 * What was said of one check, by what it was, in the order of the walk. Words of
 * talk are kept with the check and count for nothing (R2). What was done and what
 * was reported are the readings that count: what was taken back (R6) or is in
 * doubt (R5) is neither, and a blanket reports where it may (R7).
 */
export function toldOf(ledger: readonly Entry[], readings: readonly Reading[]): Told {
  if (ledger.length === 0) return NOTHING_TOLD;
  // Talk about a station as a whole explains none of its checks.
  const explained = ledger.filter(
    ({ said, review }) =>
      review === undefined &&
      said.kind === 'observation' &&
      said.force !== 'result' &&
      said.about.kind === 'check',
  );
  const reported = readings.filter((r) => !r.actOnly || r.abnormal || r.values.length > 0);
  const done = readings.filter((r) => r.actOnly || r.acts.length > 0);
  return {
    explained: explained.map(saidIn),
    done: done.map((r) => saidIn(r.entry)),
    reported: reported.map((r) => saidIn(r.entry)),
  };
}

function saidIn(entry: Entry): SaidOf {
  const force = observationIn(entry)?.force ?? 'result';
  return { words: wordsOf(entry), event: entry.event, force };
}
