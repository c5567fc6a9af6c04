import type { CheckCoverage, Coverage, Finding, Remark, StationTime } from '#shared/coverage';
import type { Question } from '#shared/question';
import { runRemark, timeAt, type Hold } from './course.ts';
import { isLive } from './ledger.ts';
import { get } from './map.ts';
import { openItems } from './open.ts';
import type { State } from './state.ts';

const made = new WeakMap<State, Coverage>();

/** The coverage of a walk: how every check stands and why, and what is left. */
export function coverageOf(state: State): Coverage {
  const known = made.get(state);
  if (known !== undefined) return known;
  const checks = state.results.map((r) => withReviews(state, r.coverage));
  const findings = findingsOf(state).map((f) => pictured(state, reviewedFinding(state, f)));
  const questions = questionsOf(state);
  const coverage: Coverage = {
    v: 1,
    walk: state.walk,
    catalogue: state.atlas.catalogue.id,
    edition: state.edition,
    aircraft: state.aircraft,
    finished: state.finished,
    held: state.course.held,
    station: state.course.station,
    lastCompleted: lastCompleted(state),
    circumstances: [...state.circumstances].sort(),
    checks,
    findings,
    questions,
    open: openItems(state.atlas.byId, {
      checks,
      findings,
      questions,
      checksOf: (statement) => checksOf(state, statement),
    }),
    remarks: remarksOf(state),
    times: stationTimes(state),
    oddities: [...state.oddities],
    decision: state.decision,
    signed: state.signed,
    ...(state.discarded === null ? {} : { discarded: state.discarded }),
  };
  made.set(state, coverage);
  return coverage;
}

/** A check with what reviewers said of it, or of a statement about it. */
function withReviews(state: State, check: CheckCoverage): CheckCoverage {
  if (state.reviews.length === 0) return check;
  const reviews = state.reviews.flatMap(({ review, check: of, statement }) =>
    of === check.check || (statement !== null && checksOf(state, statement).includes(check.check))
      ? [review]
      : [],
  );
  return reviews.length === 0 ? check : { ...check, reviews };
}

function reviewedFinding(state: State, finding: Finding): Finding {
  if (state.reviews.length === 0) return finding;
  const reviews = state.reviews.flatMap(({ review, statement }) =>
    statement !== null && finding.statements.includes(statement) ? [review] : [],
  );
  return reviews.length === 0 ? finding : { ...finding, reviews };
}

/** A finding with the pictures of any statement in it. */
function pictured(state: State, finding: Finding): Finding {
  if (state.pictures.length === 0) return finding;
  const pictures = state.pictures.flatMap(({ statement, picture }) =>
    finding.statements.includes(statement) ? [picture] : [],
  );
  return pictures.length === 0 ? finding : { ...finding, pictures };
}

function checksOf(state: State, statement: string): readonly string[] {
  const spots = get(state.entries, statement)?.spots ?? [];
  return spots.flatMap((i) => state.atlas.spots[i]?.check.id ?? []);
}

/** Findings without a check first, then in walking order. */
function findingsOf(state: State): Finding[] {
  const placed = state.results.flatMap((r) => r.findings);
  return [...state.nowhere.findings, ...placed];
}

/** Questions that are open and still have something to be about. */
function questionsOf(state: State): Question[] {
  return state.asked.flatMap((id) => {
    const asked = get(state.questions, id);
    if (asked === undefined || get(state.closed, id) === true) return [];
    const { about } = asked.question;
    const idle = get(state.entries, about) !== undefined && !isLive(state, about);
    return idle ? [] : [asked.question];
  });
}

function lastCompleted(state: State): string | null {
  let latest = -1;
  let check: string | null = null;
  for (const { completed, coverage } of state.results) {
    if (completed === null || completed < latest) continue;
    latest = completed;
    check = coverage.check;
  }
  return check;
}

function stationTimes(state: State): StationTime[] {
  return state.atlas.catalogue.stations.flatMap((s) => {
    const time = timeAt(state.course, s.id);
    return time === null ? [] : [{ station: s.id, ...time }];
  });
}

function remarksOf(state: State): Remark[] {
  const run = runRemark(state.course);
  return [
    ...state.course.remarks,
    ...(run === null ? [] : [run]),
    ...state.course.holds.map((h) => holdRemark(state, h)),
    ...valueRemarks(state),
    ...completionRemark(state),
  ].sort((a, b) => (a.from ?? Number.POSITIVE_INFINITY) - (b.from ?? Number.POSITIVE_INFINITY));
}

/** Where the walk was held and taken up again, and what was half done then. */
function holdRemark(state: State, hold: Hold): Remark {
  const here = hold.station === null ? [] : (state.atlas.stations.get(hold.station) ?? []);
  const name = (id: string | null) =>
    state.atlas.catalogue.stations.find((s) => s.id === id)?.name ?? 'the beginning';
  const firstOf = (index: number) => state.results[index]?.first ?? null;
  const open = here.filter((s) => {
    const first = firstOf(s.index);
    return (
      state.results[s.index]?.coverage.required.today === true &&
      (first === null || first >= hold.order)
    );
  });
  const begun = open.length > 0 && open.length < here.length;
  const still = open.filter((s) => state.results[s.index]?.completed === null);
  const text = [
    `Held at ${name(hold.station)}${begun ? ` with ${open.length} of its ${here.length} checks to go` : ''}.`,
    hold.resumedAt === null || hold.resumedAt === hold.station
      ? ''
      : `Taken up again at ${name(hold.resumedAt)}.`,
    begun && still.length > 0 ? `${still.length} of them are still open.` : '',
    hold.until === null ? 'It was not resumed.' : '',
  ];
  return {
    kind: 'held',
    text: text.filter((t) => t !== '').join(' '),
    station: hold.station,
    checks: begun ? open.map((s) => s.check.id) : [],
    from: hold.from,
    to: hold.to,
    events: [hold.event],
  };
}

/** Answers give the state or the value, not just "checked" (CR-177549). */
function valueRemarks(state: State): Remark[] {
  return state.results.flatMap((result, i) => {
    const spot = state.atlas.spots[i];
    if (!result.withoutValue || spot === undefined) return [];
    return [
      {
        kind: 'value-missing' as const,
        text: `${spot.check.name} was answered without ${spot.check.measures.length > 0 ? 'its value' : 'saying how it is'}.`,
        station: spot.station.id,
        checks: [spot.check.id],
        from: null,
        to: null,
        events: result.coverage.reasons.flatMap((r) => r.events).slice(0, 1),
      },
    ];
  });
}

/** The completion call is the last item (CR-177549); while a walk still goes on this is no fault. */
function completionRemark(state: State): Remark[] {
  if (state.called || state.order === 0) return [];
  return [
    {
      kind: 'not-completed',
      text: 'The walk was not called finished.',
      station: state.course.station,
      checks: [],
      from: state.course.t,
      to: null,
      events: [],
    },
  ];
}
