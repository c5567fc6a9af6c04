import type { CheckCoverage, Standing } from '#shared/coverage';
import { BY_TOUCH } from '#shared/statement';
import type { Spot } from './atlas.ts';
import { findingsAt, findingsNowhere } from './findings.ts';
import { lastMark, type Entry } from './ledger.ts';
import { requiredToday } from './required.ts';
import { measuredIn } from './measured.ts';
import { judge } from './rules.ts';
import { isSame } from './same.ts';
import type { Result, Sourced, State } from './state.ts';
import { tallyOf, type Tally } from './tally.ts';
import { toldOf } from './told.ts';
import type { Work } from './work.ts';

/**
 * Works out again what was touched, and what the findings there demand of other
 * checks. Gives the ids of the checks whose coverage changed.
 */
export function settle(work: Work): readonly string[] {
  const { state } = work;
  const nowhere = state.atlas.spots.length;
  const changed = new Set<string>();
  const demanded = new Set<number>();
  for (const index of [...work.touched].sort((a, b) => a - b)) {
    if (index === nowhere) {
      const found = findingsNowhere(state.atlas.catalogue, state, state.ledgers[nowhere] ?? []);
      demand(work, nowhere, found.demands, demanded);
      if (!isSame(found, state.nowhere)) state.nowhere = found;
      continue;
    }
    const result = resultAt(state, index);
    if (result === null) continue;
    demand(work, index, result.demands, demanded);
    keep(work, index, result, changed);
  }
  // A demand changes what is required, and with it what a blanket may cover; it
  // never changes what was found, so one round is enough.
  for (const index of demanded) {
    const result = resultAt(state, index);
    if (result !== null) keep(work, index, result, changed);
  }
  work.touched.clear();
  return [...changed];
}

function keep(work: Work, index: number, result: Result, changed: Set<string>): void {
  const old = work.state.results[index];
  if (old !== undefined && isSame(old, result)) return;
  const same = old !== undefined && isSame(old.coverage, result.coverage);
  const results = work.own(work.state.results);
  results[index] = same ? { ...result, coverage: old.coverage } : result;
  work.state.results = results;
  if (!same) changed.add(result.coverage.check);
}

/** Replaces what one check's findings demand of the others. */
function demand(
  work: Work,
  source: number,
  made: readonly Omit<Sourced, 'source'>[],
  demanded: Set<number>,
): void {
  const { state } = work;
  const old = (source === state.atlas.spots.length ? state.nowhere : state.results[source])
    ?.demands;
  if ((old ?? []).length === 0 && made.length === 0) return;
  if (old !== undefined && isSame(old, made)) return;
  const targets = new Set([...(old ?? []), ...made].map((d) => d.target));
  for (const target of targets) {
    const index = state.atlas.byId.get(target)?.index;
    if (index === undefined) continue;
    const demands = work.own(state.demands);
    const others = (demands[index] ?? []).filter((d) => d.source !== source);
    const mine = made.filter((d) => d.target === target).map((d) => ({ ...d, source }));
    demands[index] = [...others, ...mine].sort((a, b) => a.source - b.source);
    state.demands = demands;
    demanded.add(index);
  }
}

/** Everything about one check, from its ledger. */
function resultAt(state: State, index: number): Result | null {
  const spot = state.atlas.spots[index];
  if (spot === undefined) return null;
  const { catalogue } = state.atlas;
  const ledger = state.ledgers[index] ?? [];
  const required = requiredToday(spot, state, state.demands[index] ?? []);
  const tally = tallyOf(catalogue, state, spot, ledger, required);
  const { standing, reasons } = judge(tally);
  const found = findingsAt(catalogue, state, tally, ledger);
  const last = tally.readings.at(-1)?.entry.order ?? null;
  const named = tally.readings.filter((r) => r.how === 'named');
  const coverage: CheckCoverage = {
    check: spot.check.id,
    station: spot.station.id,
    standing: calledAtLast(standing, state.finished, required.today),
    required,
    missing: tally.missing,
    reasons,
    statements: idsOf(tally),
    told: toldOf(ledger, tally.readings),
    ...measuredIn(tally),
    ...(isTouched(tally) ? { touched: true } : {}),
    reviewed: reviewedStanding(state, spot, ledger, required),
  };
  return {
    ...found,
    coverage,
    completed: standing === 'spoken' ? last : null,
    first: named[0]?.entry.order ?? null,
    withoutValue:
      named.some((r) => r.good.length > 0 || r.actOnly) &&
      (tally.missing.measures.length > 0 || (!tally.complete && named.every((r) => r.actOnly))),
  };
}

/** Statements that count, each once, oldest first. */
function idsOf({ readings }: Tally): string[] {
  const ids = readings.map((r) => r.entry.id);
  return ids.length < 2 ? ids : [...new Set(ids)];
}

/** What a touch answered was not said: it counts, and is shown as what it is. */
function isTouched({ readings }: Tally): boolean {
  return readings.some((r) => r.entry.said.why.includes(BY_TOUCH));
}

/** "Skipped" is what an unspoken check is called once the walk is finished. */
function calledAtLast(standing: Standing, finished: boolean, required: boolean): Standing {
  return standing === 'unspoken' && finished && required ? 'skipped' : standing;
}

/** What a reviewer would have it be: as said outright, otherwise by their reading of the statements. */
function reviewedStanding(
  state: State,
  spot: Spot,
  ledger: readonly Entry[],
  required: CheckCoverage['required'],
): Standing | null {
  const outright = state.reviewed.get(spot.check.id);
  if (outright !== undefined) return calledAtLast(outright, state.finished, required.today);
  const read =
    state.anyReview &&
    ledger.some((e) => e.review !== undefined || lastMark(state, e.id, 'reviewed') !== null);
  if (!read) return null;
  const options = { reviewed: true };
  const tally = tallyOf(state.atlas.catalogue, state, spot, ledger, required, options);
  return calledAtLast(judge(tally).standing, state.finished, required.today);
}
