import type { Event } from '#shared/event';
import type { Fault, Squawk, SquawkState, SquawkStep } from '#shared/squawk';

/**
 * The squawks that a log tells of: a pure fold over their steps, oldest first.
 * A step that comes out of turn is taken all the same, since it happened, and
 * the squawk says what is irregular about it.
 */
export function squawksOf(events: readonly Event[]): readonly Squawk[] {
  const squawks = new Map<string, Squawk>();
  const seen = new Set<string>();
  const ordered = [...events].sort((a, b) => (a.id < b.id ? -1 : a.id > b.id ? 1 : 0));
  for (const event of ordered) {
    // By its hash as well: somebody may have given another event the same id.
    const name = `${event.id} ${event.hash}`;
    if (event.what.kind !== 'squawk' || seen.has(name)) continue;
    seen.add(name);
    const { squawk: id, step } = event.what;
    const before = squawks.get(id) ?? null;
    const after = taken(before, id, event, step);
    if (after !== null) squawks.set(id, after);
  }
  return [...squawks.values()].map((squawk) => unlost(squawk, squawks));
}

/** R4: joined to one that is not here, or in a ring, a squawk would be on no list: it is open. */
function unlost(squawk: Squawk, all: ReadonlyMap<string, Squawk>): Squawk {
  const seen = new Set<string>();
  for (let at: Squawk | undefined = squawk; at !== undefined && !seen.has(at.id);) {
    if (at.state !== 'joined') return squawk;
    seen.add(at.id);
    at = all.get(joinedTo(at) ?? '');
  }
  return { ...squawk, state: 'open', irregular: [...squawk.irregular, JOINED_NOWHERE] };
}

const JOINED_NOWHERE = 'It was joined to a squawk that is not here, and is open until that one is.';

function joinedTo({ history }: Squawk): string | null {
  const step = history.map((h) => h.step).find((s) => s.step === 'joined');
  return step?.step === 'joined' ? step.into : null;
}

type StepName = SquawkStep['step'];

/** What may come while a fault is not rectified, deferred or not. */
const UNSETTLED: readonly StepName[] = [
  'amended',
  'corrected',
  'noted',
  'withdrawn',
  'jasc-confirmed',
  'deferred',
  'rectified',
  'rechecked',
  'joined',
];

/** Steps that come in turn, by state. Whatever else happens is irregular and named. */
export const NEXT_STEPS: Readonly<Record<SquawkState, readonly StepName[]>> = {
  open: UNSETTLED,
  deferred: UNSETTLED,
  rectified: ['amended', 'corrected', 'noted', 'withdrawn', 'jasc-confirmed', 'rechecked'],
  rechecked: ['jasc-confirmed', 'closed', 'amended', 'corrected', 'noted', 'rechecked'],
  // A fault that comes back after it was closed is open again, and never lost.
  closed: ['noted'],
  joined: ['noted'],
  withdrawn: ['noted'],
};

/** What was left out before a step that came out of turn. */
const LEFT_OUT: Readonly<Partial<Record<StepName, Partial<Record<SquawkState, string>>>>> = {
  closed: {
    open: 'It was closed without having been rectified and rechecked.',
    deferred: 'It was closed without having been rectified and rechecked.',
    rectified: 'It was closed without having been rechecked by a pilot.',
  },
  deferred: { rectified: 'It was deferred after it had been rectified.' },
  rectified: { rechecked: 'It was rectified after it had been rechecked.' },
};

function taken(before: Squawk | null, id: string, event: Event, step: SquawkStep): Squawk | null {
  const line = { event: event.id, at: event.at, step };
  if (before === null) {
    return step.step === 'opened' ? opened(id, event, step, line) : null;
  }
  const irregular = [...before.irregular, ...irregularity(before, step)];
  const squawk = { ...before, history: [...before.history, line], irregular };
  if (isSettled(before.state, step)) return squawk;
  switch (step.step) {
    case 'opened':
      // Told twice, by two devices say: the first telling stands.
      return squawk;
    case 'amended':
      return {
        ...squawk,
        fault: amended(before.fault, step.fault),
        state: isOver(before.state) ? 'open' : before.state,
      };
    case 'corrected':
      return { ...squawk, fault: step.fault };
    case 'noted':
      return squawk;
    case 'withdrawn':
      return { ...squawk, state: 'withdrawn' };
    case 'jasc-confirmed':
      return { ...squawk, jasc: step.code };
    case 'deferred':
      return { ...squawk, state: 'deferred' };
    case 'rectified':
      return { ...squawk, state: 'rectified' };
    case 'rechecked':
      return { ...squawk, state: recheckedTo(before.state, step.outcome) };
    case 'closed':
      return { ...squawk, state: 'closed' };
    case 'joined':
      return { ...squawk, state: 'joined' };
  }
}

/**
 * What is over stays over, whatever paper comes in late; only a fault seen
 * again opens a closed squawk. A joined one lives on in the other.
 */
function isSettled(state: SquawkState, step: SquawkStep): boolean {
  if (state === 'joined') return true;
  if (state !== 'closed' && state !== 'withdrawn') return false;
  const seenAgain = step.step === 'rechecked' && step.outcome !== 'gone';
  return !seenAgain && step.step !== 'amended';
}

function opened(
  id: string,
  event: Event,
  step: Extract<SquawkStep, { step: 'opened' }>,
  line: Squawk['history'][number],
): Squawk {
  return {
    v: 1,
    id,
    aircraft: step.aircraft,
    state: 'open',
    fault: step.fault,
    opened: event.at,
    hours: step.hours,
    reporter: step.reporter,
    found: step.found,
    jasc: null,
    history: [line],
    irregular: [],
  };
}

function irregularity(before: Squawk, step: SquawkStep): string[] {
  if (step.step === 'opened') return [];
  const unmended = before.state === 'open' || before.state === 'deferred';
  if (step.step === 'rechecked' && step.outcome === 'gone' && unmended) {
    return ['It was found gone, and nobody had written down that it was rectified.'];
  }
  if (NEXT_STEPS[before.state].includes(step.step)) return [];
  const known = LEFT_OUT[step.step]?.[before.state];
  return [known ?? `"${step.step}" came after it was ${before.state}.`];
}

function isOver(state: SquawkState): boolean {
  return (
    state === 'rectified' || state === 'rechecked' || state === 'closed' || state === 'withdrawn'
  );
}

/** Found still there, a rectified fault is open again; a deferred one stays deferred. */
function recheckedTo(
  state: SquawkState,
  outcome: Extract<SquawkStep, { step: 'rechecked' }>['outcome'],
): SquawkState {
  if (outcome === 'gone') return 'rechecked';
  return state === 'deferred' && outcome === 'still-there' ? 'deferred' : 'open';
}

/** The later telling, with what it left unsaid filled from the earlier. */
function amended(before: Fault, after: Fault): Fault {
  return {
    words: after.words,
    check: after.check ?? before.check,
    part: after.part ?? before.part,
    side: after.side ?? before.side,
    position: after.position ?? before.position,
    conditions: after.conditions.length > 0 ? after.conditions : before.conditions,
    value: after.value ?? before.value,
    ...severer(before, after),
  };
}

/** What a reporter said stands before what the catalogue proposes of the same fault later. */
function severer(before: Fault, after: Fault): Pick<Fault, 'severity' | 'severityBy'> {
  const proposed =
    (after.severityBy === 'catalogue' || after.severityBy === 'before') &&
    before.severityBy === 'said';
  const { severity, severityBy } = after.severity === null || proposed ? before : after;
  return { severity, ...(severityBy === undefined ? {} : { severityBy }) };
}

/** Still to be looked at on the next walk. */
export function isCarried(squawk: Squawk): boolean {
  return !['closed', 'joined', 'rechecked', 'withdrawn'].includes(squawk.state);
}

/** Where the aircraft is in time; null where it is not known. */
export interface Today {
  /** Milliseconds since 1970. */
  readonly now: number;
  /** Aircraft time in service, hours. */
  readonly hours: number | null;
  /** Walks of this aircraft that were finished since the deferral. */
  readonly flights: number | null;
}

/** One loud sentence when the deferral in force has run out; null otherwise. */
export function overdueText(squawk: Squawk, today: Today): string | null {
  if (squawk.state !== 'deferred') return null;
  const deferral = squawk.history.map((h) => h.step).findLast((s) => s.step === 'deferred');
  if (deferral?.step !== 'deferred') return null;
  const { untilDate, untilHours, untilFlights } = deferral;
  // A limit that cannot be read counts as run out: otherwise it would never run out.
  if (untilDate !== null && Number.isNaN(endOfDay(untilDate))) {
    return `The deferral names a date that cannot be read: "${untilDate}".`;
  }
  if (untilDate !== null && today.now > endOfDay(untilDate)) {
    return `The deferral ran out on ${untilDate}.`;
  }
  if (untilHours !== null && today.hours !== null && today.hours >= untilHours) {
    return `The deferral ran out at ${untilHours} hours; the aircraft has ${today.hours}.`;
  }
  if (untilFlights !== null && today.flights !== null && today.flights >= untilFlights) {
    return `The deferral was for ${untilFlights} flights, and ${today.flights} have been walked since.`;
  }
  return null;
}

/** NaN for anything but a day as 2026-01-31: the engine's own guess at "31 January" is a day in 2001. */
function endOfDay(date: string): number {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(date)) return Number.NaN;
  const end = Date.parse(`${date}T23:59:59.999Z`);
  // 31 February: some engines take it for a day in March.
  if (Number.isNaN(end) || new Date(end).toISOString().slice(0, 10) !== date) return Number.NaN;
  return end;
}

/** Two open squawks that may be the same fault: offered to a person, never joined unasked. */
export function sameFaults(
  squawks: readonly Squawk[],
): readonly { one: string; other: string; why: string }[] {
  const open = squawks.filter(isCarried);
  return open.flatMap((one, i) =>
    open.slice(i + 1).flatMap((other) => {
      const why = sameness(one, other);
      return why === null ? [] : [{ one: one.id, other: other.id, why }];
    }),
  );
}

/** One sentence when two squawks may be the same fault; null otherwise. */
export function sameness(a: Squawk, b: Squawk): string | null {
  if (a.aircraft !== b.aircraft) return null;
  if (!samePart(a.fault, b.fault)) return null;
  if (a.fault.side !== null && b.fault.side !== null && a.fault.side !== b.fault.side) return null;
  const shared = a.fault.conditions
    .map((c) => c.condition)
    .find((c) => b.fault.conditions.some((d) => d.condition === c));
  if (shared === undefined) return null;
  return `Both say ${shared.replaceAll('-', ' ')} of ${a.fault.part ?? 'the same part'}.`;
}

/** By the check where both have one; else by name, since one of them may have been said in free words. */
function samePart(a: Fault, b: Fault): boolean {
  if (a.check !== null && b.check !== null) return a.check === b.check;
  return a.part !== null && b.part !== null && bareName(a.part) === bareName(b.part);
}

/** "Left skid tubes" and "skid tube" are one name; the sides are compared by themselves. */
function bareName(part: string): string {
  return part
    .toLowerCase()
    .split(/[^a-z0-9]+/)
    .filter((w) => w !== '' && w !== 'left' && w !== 'right' && w !== 'the')
    .map((w) => (w.length > 3 ? w.replace(/s$/, '') : w))
    .join(' ');
}
