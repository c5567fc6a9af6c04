import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { coverageOf, fold, start, stateOf, step } from '#reconcile';
import type { Event } from '#shared/event';
import { openWalk } from './reconcile/open-walk.ts';
import { aircraft, eventsOf, happenings } from './reconcile/walks.ts';

/** Sizes that the issue names. */
const CHECKS = [100, 1_000, 5_000];
const EVENTS = [100, 1_000, 10_000];
const SEED = 20261125;
/** An utterance every three seconds. */
const SECONDS_PER_EVENT = 1.5;

interface Row {
  readonly checks: number;
  readonly events: number;
  /** Mean over the last tenth of the walk, milliseconds: what one event costs when the walk is that long. */
  readonly stepMs: number;
  /** The slowest one event in a hundred. */
  readonly step99Ms: number;
  /** An event and the whole sheet after it. */
  readonly sheetMs: number;
  /** One event that arrives late, in the middle of the walk. */
  readonly lateMs: number;
  readonly foldMs: number;
  readonly heapMb: number;
}

/**
 * `npm run bench:reconcile [-- --json]`: the reconciler by events and checks, and
 * how long it takes to open an hour-long walk in Chromium.
 */
export async function main(words: string[]): Promise<number> {
  const json = words.includes('--json');
  // The first rounds would measure the compiler.
  measure(200, 2_000);
  const rows = CHECKS.flatMap((checks) => EVENTS.map((events) => measure(checks, events)));
  const opened = await openWalk();
  const worst = (events: number, of: (row: Row) => number) =>
    Math.max(...rows.filter((r) => r.events === events).map(of));
  if (json) {
    const perEventMs = Object.fromEntries(
      EVENTS.map((n) => [String(n), round(worst(n, (r) => r.stepMs))]),
    );
    const foldMs = { '10000': round(worst(10_000, (r) => r.foldMs)) };
    console.log(JSON.stringify({ perEventMs, foldMs, openWalkSeconds: opened.seconds }));
    return 0;
  }
  console.log('checks  events  step ms  99th    + sheet  late ms  fold ms  heap MB');
  for (const r of rows) {
    const cells = [r.stepMs, r.step99Ms, r.sheetMs, r.lateMs, r.foldMs];
    console.log(
      [
        String(r.checks).padStart(6),
        String(r.events).padStart(6),
        ...cells.map((c) => c.toFixed(c < 1 ? 4 : 1).padStart(7)),
        r.heapMb.toFixed(1).padStart(7),
      ].join('  '),
    );
  }
  console.log(
    'step: mean of the last tenth of the walk; late: one event into the middle; the least disturbed of several rounds.',
  );
  console.log(
    opened.seconds === null
      ? `Opening a walk was not measured: ${opened.how}`
      : `Opening a walk of an hour (${opened.events} events): ${opened.seconds.toFixed(3)} s, ${opened.how}.`,
  );
  return 0;
}

/** Rounds of each measurement; the one least disturbed by whatever else the machine does counts. */
const ROUNDS = 3;

function measure(checks: number, count: number): Row {
  const catalogue = aircraft(checks);
  const events = eventsOf(happenings(catalogue, count, SEED, count * SECONDS_PER_EVENT));
  start(catalogue);
  const heapBefore = heapUsed();
  const { state } = walked(catalogue, events);
  const heapMb = (heapUsed() - heapBefore) / 1e6;
  // Looked at afterwards, so that it was still there when the heap was measured.
  if (coverageOf(state).checks.length !== checks) throw new Error('The sheet is not whole.');
  const rounds = Array.from({ length: ROUNDS }, () => {
    const { times } = walked(catalogue, events);
    const tail = times.slice(-Math.max(10, Math.floor(count / 10)));
    return { mean: mean(tail), slow: at(tail, 0.99) };
  }).sort((a, b) => a.mean - b.mean);
  return {
    checks,
    events: count,
    stepMs: rounds[0]?.mean ?? 0,
    step99Ms: rounds[0]?.slow ?? 0,
    sheetMs: sheet(events, catalogue),
    lateMs: late(events, catalogue),
    foldMs: least(ROUNDS + 2, () => {
      fold(catalogue, events);
    }),
    heapMb,
  };
}

function walked(catalogue: Parameters<typeof start>[0], events: readonly Event[]) {
  let state = start(catalogue);
  const times: number[] = [];
  for (const event of events) {
    const from = performance.now();
    state = step(state, event).state;
    times.push(performance.now() - from);
  }
  return { state, times };
}

/** Steps with the sheet after each, over the last tenth, milliseconds an event. */
function sheet(events: readonly Event[], catalogue: Parameters<typeof start>[0]): number {
  const tail = events.slice(-Math.min(200, Math.max(10, Math.floor(events.length / 10))));
  let state = stateOf(catalogue, events.slice(0, events.length - tail.length));
  coverageOf(state);
  const from = performance.now();
  for (const event of tail) {
    state = step(state, event).state;
    coverageOf(state);
  }
  return (performance.now() - from) / tail.length;
}

function late(events: readonly Event[], catalogue: Parameters<typeof start>[0]): number {
  const middle = Math.floor(events.length / 2);
  const missing = events[middle];
  if (missing === undefined) return 0;
  const state = stateOf(
    catalogue,
    events.filter((e) => e !== missing),
  );
  return least(ROUNDS, () => {
    step(state, missing);
  });
}

function least(rounds: number, work: () => void): number {
  const taken = Array.from({ length: rounds }, () => {
    const from = performance.now();
    work();
    return performance.now() - from;
  });
  return Math.min(...taken);
}

function at(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? 0;
}

function mean(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0) / Math.max(1, values.length);
}

function round(ms: number): number {
  return Math.round(ms * 10_000) / 10_000;
}

let collect: (() => void) | null = null;

function heapUsed(): number {
  if (collect === null) {
    setFlagsFromString('--expose-gc');
    collect = runInNewContext('gc') as () => void;
  }
  collect();
  return process.memoryUsage().heapUsed;
}
