import type { Check, Station } from '#shared/catalogue';
import type { Remark } from '#shared/coverage';
import type { Event } from '#shared/event';
import type { Heard } from '#shared/heard';
import { secondsToSay } from '#shared/speech';
import type { Spot } from './atlas.ts';
import { EMPTY, get, put, type PMap } from './map.ts';
import {
  ACT_SECONDS,
  LONG_SILENCE,
  NEAR_ON_PLAN,
  OVERDRAWN_MOST,
  OVERDRAWN_SECONDS,
  RUN_LEAST,
  SLOW_SPEECH,
  STATION_STEP_SECONDS,
  TIME_IN_HAND_MOST,
} from './thresholds.ts';

/** An interruption, as it was ordered or noticed. */
export interface Hold {
  readonly event: string;
  readonly why: string;
  readonly from: number | null;
  readonly to: number | null;
  readonly station: string | null;
  /** Place in the walk at which it began and ended, to see what was half done. */
  readonly order: number;
  readonly until: number | null;
  readonly resumedAt: string | null;
}

/** Answers of a run, the latest first. */
interface Answer {
  readonly checks: readonly string[];
  readonly event: string;
  readonly earlier: Answer | null;
}

interface Run {
  readonly answers: Answer;
  readonly from: number;
  readonly to: number;
  /** How far behind the acts it got, seconds. */
  readonly behind: number;
}

/** How the walk goes: where, since when, how fast. Follows the events one by one. */
export interface Course {
  readonly station: string | null;
  /** Seconds at this station since it was reached, holds left out. */
  readonly here: number;
  /** Seconds at each station before that. */
  readonly times: PMap<{ readonly from: number | null; readonly seconds: number }>;
  /** Latest time in the walk, seconds. */
  readonly t: number;
  readonly holds: readonly Hold[];
  readonly held: boolean;
  /** End of the utterance before, and begin and end of this one; null without times. */
  readonly before: number | null;
  readonly from: number | null;
  readonly to: number | null;
  /** Seconds in hand for acts; below zero the answers come faster than the acts. */
  readonly inHand: number;
  readonly run: Run | null;
  /** Where the last result was given. */
  readonly lastAt: Station | null;
  /** Furthest station reached, and furthest check at each station. */
  readonly furthest: number;
  readonly furthestAt: PMap<number>;
  readonly remarks: readonly Remark[];
}

export const FIRST_COURSE: Course = {
  station: null,
  here: 0,
  times: EMPTY,
  t: 0,
  holds: [],
  held: false,
  before: 0,
  from: null,
  to: null,
  inHand: 0,
  run: null,
  lastAt: null,
  furthest: -1,
  furthestAt: EMPTY,
  remarks: [],
};

/** Takes the time of an event: the time at the station runs on, holds left out. */
export function passTime(course: Course, event: Event): Course {
  const t = event.t ?? course.t;
  if (t <= course.t) return course;
  if (course.station === null || course.held) return { ...course, t };
  return { ...course, t, here: course.here + (t - course.t) };
}

/** Time spent at a station so far; null when nobody was there. */
export function timeAt(
  course: Course,
  station: string,
): { from: number | null; seconds: number } | null {
  const known = get(course.times, station);
  if (known === undefined) return null;
  return course.station === station
    ? { from: known.from, seconds: known.seconds + course.here }
    : known;
}

/** An utterance begins: silence before it, and time for the acts. */
export function hearWords(course: Course, event: Event, heard: Heard): Course {
  // Typed words and transcripts without times say nothing about pace.
  if (heard.from === null || heard.by === 'typed') return { ...course, from: null, to: null };
  const from = heard.from;
  const longest = from + secondsToSay(heard.text) * SLOW_SPEECH + 1;
  const to = Math.max(from, Math.min(heard.to ?? longest, longest));
  const before = course.to ?? course.before;
  const silence = before === null ? 0 : from - before;
  const paced = {
    ...course,
    before,
    from,
    to,
    inHand: Math.min(TIME_IN_HAND_MOST, course.inHand + Math.max(0, to - (before ?? from))),
  };
  const wasHeld = course.holds.some((h) => h.from !== null && h.from >= (before ?? 0));
  if (silence < LONG_SILENCE || course.held || wasHeld) return paced;
  return remark(paced, {
    kind: 'long-silence',
    text: `Nothing was said for ${minutes(silence)}.`,
    station: course.station,
    checks: [],
    from: before,
    to: from,
    events: [event.id],
  });
}

/** The speaker is at a station now. */
export function goTo(course: Course, station: string): Course {
  if (course.station === station) return course;
  const left = course.station === null ? null : timeAt(course, course.station);
  let times = course.times;
  if (left !== null && course.here > 0) times = put(times, course.station ?? '', left);
  if (get(times, station) === undefined)
    times = put(times, station, { from: course.t, seconds: 0 });
  return { ...course, station, here: 0, times };
}

/**
 * A result for checks of one station: order, pace, and whether anybody can have
 * been there. `first` are those of them that had no result before.
 */
export function giveResult(
  course: Course,
  event: Event,
  spots: readonly Spot[],
  places: number,
  first: readonly Spot[],
): Course {
  const spot = spots[0];
  if (spot === undefined) return course;
  let next = leftOrder(course, event, spot, first);
  next = jumped(next, event, spot);
  next = pace(next, event, spots, places);
  next = takenUp(goTo(next, spot.station.id), spot.station.id);
  return next.lastAt === spot.station ? next : { ...next, lastAt: spot.station };
}

/** The first result after a hold tells where the walk was taken up again. */
function takenUp(course: Course, station: string): Course {
  const last = course.holds.at(-1);
  if (last === undefined || last.until === null || last.resumedAt !== null) return course;
  return { ...course, holds: [...course.holds.slice(0, -1), { ...last, resumedAt: station }] };
}

function leftOrder(course: Course, event: Event, spot: Spot, first: readonly Spot[]): Course {
  let next = course;
  const here = spot.station.id;
  const before = get(course.furthestAt, here);
  if (spot.walkInOrder && before === undefined && spot.stationIndex < course.furthest) {
    next = remark(next, {
      kind: 'out-of-order',
      text: `${spot.station.name} was walked later than its turn; this catalogue asks for its order.`,
      station: here,
      checks: [spot.check.id],
      from: course.from ?? course.t,
      to: null,
      events: [event.id],
    });
  }
  let furthest = before ?? -1;
  for (const s of first) {
    if (spot.station.inOrder && s.placed < furthest) {
      next = remark(next, {
        kind: 'out-of-order',
        text: `${s.check.name} was done later than its turn; ${spot.station.name} asks for its order.`,
        station: here,
        checks: [s.check.id],
        from: course.from ?? course.t,
        to: null,
        events: [event.id],
      });
    }
    furthest = Math.max(furthest, s.placed);
  }
  const reached = Math.max(furthest, spot.placed);
  if (before === reached && spot.stationIndex <= next.furthest) return next;
  return {
    ...next,
    furthest: Math.max(course.furthest, spot.stationIndex),
    furthestAt: put(course.furthestAt, here, reached),
  };
}

/** Answers for two places within a time in which nobody walks from one to the other. */
function jumped(course: Course, event: Event, spot: Spot): Course {
  const last = course.lastAt;
  if (last === null || last.id === spot.station.id || course.from === null) return course;
  const { x, y } = spot.station.place;
  if (Math.hypot(x - last.place.x, y - last.place.y) < NEAR_ON_PLAN) return course;
  const gap = course.from - (course.before ?? course.from);
  if (gap >= STATION_STEP_SECONDS || course.before === 0) return course;
  return remark(course, {
    kind: 'from-memory',
    text: `${spot.check.name} at ${spot.station.name} was answered before anybody can have walked there from ${last.name}.`,
    station: spot.station.id,
    checks: [spot.check.id],
    from: course.from,
    to: course.to,
    events: [event.id],
  });
}

function secondsFor(check: Check): number {
  return Math.max(...check.acts.map((a) => ACT_SECONDS[a]), 0);
}

/** Sing-song pace: answers faster than the acts can be made (CR-177549 calls it singing from memory). */
function pace(course: Course, event: Event, spots: readonly Spot[], places: number): Course {
  if (course.from === null || course.to === null) return course;
  const need = spots.reduce((sum, s) => sum + secondsFor(s.check), 0) * Math.max(1, places);
  const inHand = Math.max(-OVERDRAWN_MOST, course.inHand - need);
  if (inHand >= 0) return { ...endRun(course), inHand };
  const run = course.run;
  return {
    ...course,
    inHand,
    run: {
      answers: {
        checks: spots.map((s) => s.check.id),
        event: event.id,
        earlier: run?.answers ?? null,
      },
      from: run?.from ?? course.from,
      to: course.to,
      behind: Math.max(run?.behind ?? 0, -inHand),
    },
  };
}

function endRun(course: Course): Course {
  const made = runRemark(course);
  const ended = course.run === null ? course : { ...course, run: null };
  return made === null ? ended : remark(ended, made);
}

/** The remark about answers that still come too fast; null when they do not. */
export function runRemark(course: Course): Remark | null {
  const run = course.run;
  if (run === null || run.behind < OVERDRAWN_SECONDS) return null;
  const checks: string[] = [];
  const events: string[] = [];
  for (let a: Answer | null = run.answers; a !== null; a = a.earlier) {
    checks.push(...a.checks);
    events.push(a.event);
  }
  const different = [...new Set(checks.reverse())];
  if (different.length < RUN_LEAST) return null;
  return {
    kind: 'too-fast',
    text: `${different.length} checks were answered in ${Math.max(1, Math.round(run.to - run.from))} s, faster than they can be done.`,
    station: course.lastAt?.id ?? null,
    checks: different,
    from: run.from,
    to: run.to,
    events: events.reverse(),
  };
}

export function hold(course: Course, event: Event, why: string, order: number): Course {
  if (course.held) return course;
  const made: Hold = {
    event: event.id,
    why,
    from: event.t,
    to: null,
    station: course.station,
    order,
    until: null,
    resumedAt: null,
  };
  return { ...course, held: true, holds: [...course.holds, made] };
}

export function resume(course: Course, event: Event, order: number): Course {
  if (!course.held) return course;
  const holds = course.holds.map((h) =>
    h.until === null ? { ...h, to: event.t, until: order } : h,
  );
  // What was looked at before the interruption is no time in hand for what follows.
  return { ...endRun({ ...course, held: false, holds }), inHand: 0, to: event.t };
}

function remark(course: Course, made: Remark): Course {
  return { ...course, remarks: [...course.remarks, made] };
}

/** "45 s", "3 min 10 s". */
export function minutes(seconds: number): string {
  const whole = Math.round(seconds);
  if (whole < 60) return `${whole} s`;
  const rest = whole % 60;
  return `${Math.floor(whole / 60)} min${rest === 0 ? '' : ` ${rest} s`}`;
}
