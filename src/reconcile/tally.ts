import { ONCE, type Act, type Catalogue } from '#shared/catalogue';
import type { CheckCoverage, Required } from '#shared/coverage';
import { WHOLE, type Spot } from './atlas.ts';
import { isLive, lastMark, marksOn, observationIn, type Entry, type Records } from './ledger.ts';
import { bit, readBlanket, readNamed, type Measured, type Reading } from './reading.ts';

/** Everything the rules ask about one check, gathered from its ledger. */
export interface Tally {
  readonly spot: Spot;
  readonly required: Required;
  /** Readings that count, oldest first. */
  readonly readings: readonly Reading[];
  /** Those of them that said something that was not said before. */
  readonly news: readonly Reading[];
  /** Statements about it that no longer count, and blankets that may not (R6, R7). */
  readonly dead: readonly Entry[];
  readonly refusedBlankets: readonly Entry[];
  readonly doubtful: readonly Entry[];
  /** What may have been said to be good, and waits to be asked about with others. */
  readonly perhaps: readonly Entry[];
  readonly nearTies: readonly Entry[];
  /** The last "skip it", when nothing was said about the check after it. */
  readonly setAside: Entry | null;
  /** A fault and a later reading that calls the same thing good (R6). */
  readonly contradictions: readonly { bad: Reading; good: Reading }[];
  /** Values that cannot be used and were not said again (R8). */
  readonly untold: readonly { reading: Reading; words: string; measure: string | null }[];
  readonly missing: CheckCoverage['missing'];
  /** Something was said about it by a result, whole or not. */
  readonly touched: boolean;
  /** Every part of it was spoken for. */
  readonly complete: boolean;
}

/** Whether a blanket may speak for a check (R7). */
export function takesBlanket(spot: Spot, required: Required): boolean {
  return (
    spot.check.blanket &&
    spot.check.measures.length === 0 &&
    required.by !== 'follow-up' &&
    required.by !== 'squawk'
  );
}

export interface TallyOptions {
  /** Read the statements that were reviewed as their reviewer would. */
  readonly reviewed: boolean;
}

/** Gathers what the ledger of a check says. Pure; the ledger is in the order of the walk. */
export function tallyOf(
  catalogue: Catalogue,
  records: Records,
  spot: Spot,
  ledger: readonly Entry[],
  required: Required,
  options: TallyOptions = { reviewed: false },
): Tally {
  const readings: Reading[] = [];
  const news: Reading[] = [];
  const dead: Entry[] = [];
  const refusedBlankets: Entry[] = [];
  const doubtful: Entry[] = [];
  const perhaps: Entry[] = [];
  const nearTies: Entry[] = [];
  const cells = new Cells(spot);
  let aside: Entry | null = null;
  for (const entry of ledger) {
    if (!countsHere(records, entry, options)) continue;
    if (marksOn(records, entry.id).length > 0 && !isLive(records, entry.id)) {
      dead.push(entry);
      continue;
    }
    const said = entry.said;
    if (said.kind === 'set-aside') {
      aside = entry;
      continue;
    }
    if (said.kind === 'two-candidates' && entry.placed === undefined) {
      nearTies.push(entry);
      continue;
    }
    const observation = observationIn(entry);
    if (observation === null || observation.force !== 'result') continue;
    if (observation.doubtful !== null) {
      (observation.waits === true && spot.check.mandatory !== true ? perhaps : doubtful).push(
        entry,
      );
      continue;
    }
    const blanket = observation.about.kind === 'station' && entry.placed === undefined;
    const reading = blanket
      ? readBlanket(spot, entry, observation)
      : readNamed(catalogue, spot, entry, observation);
    if (reading === null) continue;
    if (blanket && !takesBlanket(spot, required)) {
      refusedBlankets.push(entry);
      continue;
    }
    const placed = reading.oneMore ? { ...reading, at: oneMore(reading, cells) } : reading;
    if (cells.enter(placed)) news.push(placed);
    readings.push(placed);
    if (!blanket) aside = null;
  }
  const left = asideInstances(spot, aside);
  const missing = cells.missing(left, readings);
  const named = readings.some((r) => r.how === 'named');
  const complete =
    readings.length > 0 &&
    missing.aspects.length + missing.instances.length === 0 &&
    missing.measures.length + missing.acts.length === 0;
  return {
    spot,
    required,
    readings,
    news,
    dead,
    refusedBlankets,
    doubtful: doubtful.filter((e) => !complete || !isSettled(e, readings)),
    perhaps: complete ? [] : perhaps,
    nearTies: complete ? [] : nearTies,
    setAside: aside,
    contradictions: contradictionsIn(readings),
    untold: untoldIn(readings),
    missing,
    touched: named || cells.anything(),
    complete,
  };
}

/**
 * "Rivet line good" counts one more. A fault at left or right of which the side
 * was not said counts for neither before that is answered: the other side would
 * be called spoken for unseen (R5).
 */
function oneMore(reading: Reading, cells: Cells): readonly string[] {
  return reading.abnormal && !cells.counted ? NONE : cells.next(reading);
}

/** Whether an entry belongs into this tally at all: placings and reviews move statements about. */
function countsHere(records: Records, entry: Entry, { reviewed }: TallyOptions): boolean {
  if (entry.placed !== undefined) {
    return lastMark(records, entry.id, 'placed')?.by === entry.placed.event;
  }
  if (entry.review !== undefined) {
    return reviewed && lastMark(records, entry.review.of, 'reviewed')?.by === entry.review.event;
  }
  if (reviewed && lastMark(records, entry.id, 'reviewed') !== null) return false;
  // Once it was placed by hand, its placing counts instead.
  return lastMark(records, entry.id, 'placed') === null;
}

function asideInstances(spot: Spot, aside: Entry | null): readonly string[] {
  if (aside === null || aside.said.kind !== 'set-aside' || !spot.check.optional) return [];
  return aside.said.instances.length === 0 ? spot.instances : aside.said.instances;
}

/**
 * What was said at each place of a check: a bit for each aspect, then one for
 * each measure with a usable value. A check has at most 12 and 8 of them.
 */
class Cells {
  private readonly said: number[];
  private readonly spot: Spot;
  /** Places that are told apart by a number only, so that "one more" is a count. */
  readonly counted: boolean;

  constructor(spot: Spot) {
    this.spot = spot;
    this.counted = spot.instances.every((i) => i === ONCE || /^\d+$/.test(i));
    this.said = spot.instances.map(() => 0);
  }

  /** Whether the reading says anything that was not said before. */
  enter({ bits: same, bitsAt, at }: Reading): boolean {
    let news = false;
    for (const instance of at) {
      const i = this.spot.instances.indexOf(instance);
      const known = this.said[i];
      const bits = bitsAt?.get(instance) ?? same;
      if (known === undefined || (known | bits) === known) continue;
      this.said[i] = known | bits;
      news = true;
    }
    return news;
  }

  /** The first place that still lacks what a reading says: "rivet line" counts one more. */
  next(reading: Reading): readonly string[] {
    const wanted = reading.bits;
    const free = this.said.findIndex((bits) => (bits & wanted) !== wanted);
    const instance = this.spot.instances[free];
    return instance === undefined ? NONE : [instance];
  }

  anything(): boolean {
    return this.said.some((bits) => bits !== 0);
  }

  missing(aside: readonly string[], readings: readonly Reading[]): Tally['missing'] {
    const { instances: places, aspects: all, check } = this.spot;
    const aspects: { instance: string; aspect: string }[] = [];
    const instances: string[] = [];
    const measures: { instance: string; measure: string }[] = [];
    const named = readings.some((r) => r.how === 'named');
    const whole = all[0] === WHOLE;
    places.forEach((instance, i) => {
      if (aside.includes(instance)) return;
      const bits = this.said[i] ?? 0;
      const lacks = (index: number) => (bits & bit(index)) === 0;
      check.measures.forEach((m, k) => {
        if (lacks(all.length + k)) measures.push({ instance, measure: m.id });
      });
      if (whole ? lacks(0) : bits === 0 && (instance !== ONCE || !named)) instances.push(instance);
      else if (!whole) {
        all.forEach((aspect, k) => {
          if (lacks(k)) aspects.push({ instance, aspect });
        });
      }
    });
    return { aspects, instances, measures, acts: [...this.acts(readings)] };
  }

  /** Acts that nobody can have made, because only looking was said. */
  private acts(readings: readonly Reading[]): readonly Act[] {
    if (readings.length === 0) return NONE;
    const wanted: readonly Act[] = this.spot.check.acts.filter((a) => a !== 'look');
    if (wanted.length === 0) return NONE;
    const told = readings.filter((r) => r.aspects.length > 0 || r.actOnly);
    const enough = (r: Reading) =>
      r.acts.length === 0 || r.values.length > 0 || r.acts.some((a) => wanted.includes(a));
    return told.length > 0 && !told.some(enough) ? wanted : NONE;
  }
}

const NONE: readonly never[] = [];

/**
 * A doubt that speaks of no fault is settled by saying it clearly later. A doubt
 * about a fault has to be answered.
 */
function isSettled(doubt: Entry, readings: readonly Reading[]): boolean {
  const said = observationIn(doubt);
  if (said === null || said.verdict?.good === false || said.conditions.some((c) => c.present)) {
    return false;
  }
  return readings.some((r) => r.how === 'named' && r.entry.order > doubt.order);
}

function overlap(a: readonly string[], b: readonly string[]): boolean {
  return a.some((x) => b.includes(x));
}

/** A fault of which the place is not known may be at any place. */
function samePlace(bad: Reading, other: Reading): boolean {
  const at = bad.faultAt ?? bad.at;
  return at.length === 0 || overlap(at, other.at);
}

/** Whether a later reading calls good what an earlier one found faulty. A blanket never does (R7). */
function unsays(good: Reading, bad: Reading): boolean {
  if (good.how === 'blanket' || good.entry.order <= bad.entry.order) return false;
  if (!samePlace(bad, good)) return false;
  const outside = bad.values.filter((v) => !v.inside).map((v) => v.measure);
  const within = good.values.filter((v) => v.inside).map((v) => v.measure);
  return (
    overlap(good.good, bad.bad) ||
    (bad.bad.length === 0 && bad.abnormal && outside.length === 0 && good.good.length > 0) ||
    overlap(good.absent, bad.present) ||
    overlap(within, outside)
  );
}

/**
 * R6: a fault that was later called good, unless the fault was then said again.
 * The worse reading stands until it is settled.
 */
function contradictionsIn(
  readings: readonly Reading[],
): readonly { bad: Reading; good: Reading }[] {
  const faults = readings.filter((r) => r.abnormal);
  if (faults.length === 0) return [];
  return faults.flatMap((bad) => {
    const good = readings.filter((r) => !isSameFault(r, bad) && unsays(r, bad)).at(-1);
    if (good === undefined) return [];
    const again = faults.some(
      (f) => f.entry.order > good.entry.order && samePlace(bad, f) && isSameFault(f, bad),
    );
    return again ? [] : [{ bad, good }];
  });
}

/** Whether two readings assert the same fault: a shared condition, or no condition told in one of them. */
function isSameFault(a: Reading, b: Reading): boolean {
  if (!a.abnormal || !b.abnormal) return false;
  if (a.present.length === 0 || b.present.length === 0) return true;
  return overlap(a.present, b.present);
}

/** R8: values that cannot be used as said and that no usable value followed. */
function untoldIn(readings: readonly Reading[]): Tally['untold'] {
  return readings.flatMap((reading) =>
    reading.untold.flatMap(({ measure, value, at }) => {
      const told = readings.some(
        (r) =>
          r.entry.order >= reading.entry.order &&
          r.values.some(
            (v) => (measure === null || v.measure === measure) && tells(r, v, reading, at),
          ),
      );
      return told ? [] : [{ reading, words: value.span.words, measure }];
    }),
  );
}

/** Whether a value is for the place of one that could not be used: in a row each has its own. */
function tells(
  by: Reading,
  value: Measured,
  of: Reading,
  at: readonly string[] | null | undefined,
): boolean {
  if (at === undefined) return true;
  if (at === null || value.at === null) return by.entry !== of.entry;
  return overlap(value.at ?? by.at, at);
}
