import type { Event, Happening, HappeningKind } from '#shared/event';
import { instancesOf } from '#shared/catalogue';
import { isFinding } from '#shared/abnormal';
import type { Observation, Statement } from '#shared/statement';
import type { Spot } from './atlas.ts';
import { giveResult, goTo, hearWords, hold, passTime, resume } from './course.ts';
import type { Entry } from './ledger.ts';
import { get, put } from './map.ts';
import { CLOCK_BACK, CLOCK_JUMP } from './thresholds.ts';
import type { Work } from './work.ts';
import { minutes } from './course.ts';
import { quoted } from './words.ts';

/** What each kind of event does. A kind that does nothing to the coverage says so by doing nothing. */
type Takers = {
  readonly [K in HappeningKind]: (
    work: Work,
    event: Event,
    what: Extract<Happening, { kind: K }>,
  ) => void;
};

const nothing = () => undefined;

const TAKERS: Takers = {
  'walk-begun': (work, event, what) => {
    const { state } = work;
    if (state.walk !== null) {
      work.odd('R6', 'The walk was begun twice; the first beginning counts.', [event.id]);
      return;
    }
    state.walk = event.walk;
    state.aircraft = what.aircraft;
    state.edition = what.edition;
    if (state.using !== null && state.using !== what.edition) {
      work.odd(
        'R6',
        `The walk began with edition ${what.edition.slice(0, 12)} of the catalogue and is read with ${state.using.slice(0, 12)}; what the two have in common can be trusted.`,
        [event.id],
      );
    }
    if (what.catalogue !== state.atlas.catalogue.id) {
      work.odd(
        'R6',
        `The walk began with the catalogue ${quoted(what.catalogue)}, not with this one.`,
        [event.id],
      );
    }
    const squawks = new Map<string, readonly string[]>();
    for (const s of what.squawks) {
      const spot = s.check === null ? undefined : state.atlas.byId.get(s.check);
      if (spot === undefined) {
        work.odd(
          'R4',
          `The open squawk ${quoted(s.text)} belongs to no check of this catalogue; look at it by yourself.`,
          [event.id],
        );
        continue;
      }
      squawks.set(spot.check.id, [...(squawks.get(spot.check.id) ?? []), s.text]);
      work.touched.add(spot.index);
    }
    state.squawks = squawks;
    for (const c of what.circumstances) setCircumstance(work, c, true);
    if (what.squawks.length > 0) setCircumstance(work, 'after-squawk', true);
  },
  heard: (work, event, what) => {
    work.state.course = hearWords(work.state.course, event, what.heard);
  },
  stated: (work, event, what) => takeStatement(work, event, what.statement),
  asked: (work, event, what) => {
    const { state } = work;
    if (get(state.questions, what.question.id) !== undefined) return;
    state.questions = put(
      state.questions,
      what.question.id,
      {
        question: what.question,
        event: event.id,
      },
      work.owner,
    );
    const asked = work.own(state.asked);
    asked.push(what.question.id);
    state.asked = asked;
  },
  'question-closed': (work, _event, what) => {
    // Nobody answered: it stays on the list of what is open.
    if (what.how === 'unanswered') return;
    work.state.closed = put(work.state.closed, what.question, true, work.owner);
  },
  spoken: nothing,
  'circumstance-set': (work, _event, what) => setCircumstance(work, what.circumstance, what.holds),
  'station-set': (work, event, what) => {
    if (work.state.atlas.stations.has(what.station)) {
      work.state.course = goTo(work.state.course, what.station);
    } else {
      work.odd('R6', `The catalogue has no station ${quoted(what.station)}.`, [event.id]);
    }
  },
  held: (work, event, what) => {
    work.state.course = hold(work.state.course, event, what.why, work.state.order);
  },
  resumed: (work, event) => {
    work.state.course = resume(work.state.course, event, work.state.order);
  },
  'listening-changed': nothing,
  'sound-kept': nothing,
  'sound-missing': nothing,
  'sound-erased': nothing,
  'finding-placed': (work, event, what) => {
    const { state } = work;
    const entry = get(state.entries, what.statement);
    const spot = state.atlas.byId.get(what.check);
    if (entry === undefined || spot === undefined) {
      work.odd(
        'R4',
        'A finding was placed that cannot be found, or at a check that the catalogue does not have; it stays where it was.',
        [event.id],
      );
      return;
    }
    work.mark(entry.id, { kind: 'placed', by: event.id, order: state.order, spot: spot.index });
    const instances = what.instances.length > 0 ? what.instances : onlyPlace(spot);
    work.enterAt(spot.index, { ...entry, placed: { event: event.id, instances } });
    work.touchAround(entry.id);
  },
  reviewed: (work, event, what) => {
    const { state } = work;
    if (what.of.kind === 'standing') {
      state.reviewed = new Map(state.reviewed).set(what.of.check, what.of.standing);
      const spot = state.atlas.byId.get(what.of.check);
      if (spot === undefined)
        work.odd(
          'R6',
          `A review is about ${quoted(what.of.check)}, which the catalogue does not have.`,
          [event.id],
        );
      else work.touched.add(spot.index);
      return;
    }
    const { statement, instead } = what.of;
    const order = get(state.entries, statement)?.order ?? state.order;
    work.mark(statement, { kind: 'reviewed', by: event.id, order });
    if (instead === null) return;
    for (const spot of spotsOf(work, instead)) {
      work.mark(statement, { kind: 'reviewed', by: event.id, order, spot });
      work.enterAt(spot, {
        ...entryOf(work, event, instead, [spot], null),
        order,
        review: { event: event.id, of: statement },
      });
    }
  },
  finished: (work, _event, what) => {
    if (what.how !== 'end-of-file') work.state.called = true;
    if (work.state.finished) return;
    work.state.finished = true;
    work.state.results.forEach((r, i) => {
      if (r.coverage.standing === 'unspoken' && r.coverage.required.today) work.touched.add(i);
    });
  },
  decided: (work, _event, what) => {
    const { decision, by, authority, note } = what;
    work.state.decision = { decision, by, authority, note };
  },
  signed: (work, _event, what) => {
    work.state.signed = { name: what.name, certificate: what.certificate };
  },
  sealed: nothing,
  squawk: nothing,
};

function onlyPlace(spot: Spot): readonly string[] {
  const all = instancesOf(spot.check);
  return all.length === 1 ? all : [];
}

/** Takes one event into the work. Never throws: what cannot be used is named among the oddities. */
export function take(work: Work, event: Event): void {
  const { state } = work;
  noteClock(work, event);
  state.past = { event, earlier: state.past };
  if (state.walk !== null && event.walk !== null && event.walk !== state.walk) {
    work.odd('R6', 'An event of another walk was left out.', [event.id]);
    return;
  }
  const taker = Object.hasOwn(TAKERS, event.what.kind) ? TAKERS[event.what.kind] : undefined;
  if (taker === undefined || Number(event.v) > 1) {
    work.odd(
      'R5',
      `An event ${quoted(String(event.what.kind))} was written by a newer Talkround; it is kept and not used here. Update Talkround to read it.`,
      [event.id],
    );
    return;
  }
  state.course = passTime(state.course, event);
  try {
    (taker as (w: Work, e: Event, what: Happening) => void)(work, event, event.what);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    work.odd('R5', `An event ${quoted(event.what.kind)} could not be used (${why}); it is kept.`, [
      event.id,
    ]);
  }
}

/** The device's clock against the walk's own. Standings never depend on the device's clock. */
function noteClock(work: Work, event: Event): void {
  const before = work.state.past?.event;
  if (before === undefined || before.t === null || event.t === null) return;
  const wall = (event.at - before.at) / 1000;
  const drift = wall - (event.t - before.t);
  if (wall >= -CLOCK_BACK && drift < CLOCK_JUMP) return;
  const [far, way] = wall < 0 ? [-wall, 'back'] : [drift, 'forward'];
  work.odd(
    'R6',
    `The device’s clock jumped ${way} by ${minutes(far)}; the times here are counted from the walk’s begin.`,
    [before.id, event.id],
  );
}

function setCircumstance(
  work: Work,
  circumstance: Parameters<typeof hasCircumstance>[1],
  holds: boolean,
): void {
  const { state } = work;
  if (hasCircumstance(work, circumstance) === holds) return;
  const circumstances = new Set(state.circumstances);
  if (holds) circumstances.add(circumstance);
  else circumstances.delete(circumstance);
  state.circumstances = circumstances;
  for (const i of state.atlas.byCircumstance.get(circumstance) ?? []) work.touched.add(i);
}

function hasCircumstance(
  work: Work,
  circumstance: Extract<Happening, { kind: 'circumstance-set' }>['circumstance'],
): boolean {
  return work.state.circumstances.has(circumstance);
}

/** Checks that a statement concerns by itself; the index after the last stands for "no check". */
function spotsOf(work: Work, statement: Statement): readonly number[] {
  const { atlas } = work.state;
  const nowhere = atlas.spots.length;
  const at = (id: string) => atlas.byId.get(id)?.index;
  switch (statement.kind) {
    case 'observation': {
      const about = statement.about;
      if (about.kind === 'check') return [at(about.check) ?? nowhere];
      if (about.kind === 'unplaced') return [nowhere];
      const here = (atlas.stations.get(about.station) ?? []).map((s) => s.index);
      return isAbnormal(work, statement) || here.length === 0 ? [...here, nowhere] : here;
    }
    case 'two-candidates': {
      const here = statement.candidates.flatMap((c) => at(c.check) ?? []);
      const finding = isAbnormal(work, statement.said);
      return [
        ...new Set(statement.said.force === 'result' ? here : []),
        ...(finding ? [nowhere] : []),
      ];
    }
    case 'set-aside': {
      const index = at(statement.check);
      return index === undefined ? [] : [index];
    }
    default:
      return [];
  }
}

function isAbnormal(work: Work, said: Observation): boolean {
  const { catalogue, byId } = work.state.atlas;
  const spot = said.about.kind === 'check' ? byId.get(said.about.check) : undefined;
  return isFinding(catalogue, spot?.check ?? null, said);
}

function entryOf(
  work: Work,
  event: Event,
  said: Statement,
  spots: readonly number[],
  target: string | null,
): Entry {
  const observation =
    said.kind === 'observation' ? said : said.kind === 'two-candidates' ? said.said : null;
  return {
    id: said.id,
    event: event.id,
    order: work.state.order,
    said,
    target,
    finding: observation !== null && isAbnormal(work, observation),
    spots,
  };
}

/** The earlier statement that this one amends, takes back or rates; null when there is none. */
function targetOf(work: Work, said: Statement): string | null {
  const { state } = work;
  const earlier = (id: string | null | undefined) =>
    id !== null && id !== undefined && get(state.entries, id) !== undefined ? id : null;
  switch (said.kind) {
    case 'observation': {
      if (said.force !== 'result' || said.doubtful !== null) return null;
      const asked = said.answers === null ? undefined : get(state.questions, said.answers);
      return earlier(said.amends) ?? earlier(asked?.question.about);
    }
    case 'retraction':
      return earlier(said.of);
    case 'rating':
      return earlier(said.of ?? state.lastFinding);
    default:
      return null;
  }
}

const MARK_OF = {
  observation: 'amended',
  retraction: 'retracted',
  rating: 'rated',
} as const;

/** Whether a statement has what every rule relies on; one of a newer format may not. */
function isUsable(said: Statement): boolean {
  const whole = (o: Observation) =>
    [o.conditions, o.values, o.acts].every(Array.isArray) && typeof o.about === 'object';
  if (typeof said.id !== 'string' || typeof said.span?.words !== 'string') return false;
  if (said.kind === 'observation') return whole(said);
  return said.kind !== 'two-candidates' || (Array.isArray(said.candidates) && whole(said.said));
}

/**
 * While the walk is held the speaker talks to somebody else: nothing of it is a
 * result. A fault is kept all the same (R4).
 */
function isTalkAside(work: Work, said: Statement): boolean {
  if (!work.state.course.held) return false;
  if (said.kind === 'set-aside') return true;
  const observation = said.kind === 'two-candidates' ? said.said : said;
  if (observation.kind !== 'observation' || observation.force !== 'result') return false;
  return !isAbnormal(work, observation);
}

function takeStatement(work: Work, event: Event, said: Statement): void {
  const { state } = work;
  if (!isUsable(said)) {
    work.odd('R5', 'A statement could not be read in full; it is kept and not used.', [event.id]);
    return;
  }
  if (get(state.entries, said.id) !== undefined) {
    work.odd(
      'R6',
      `The statement ${quoted(said.span.words)} is in the log twice; the first counts.`,
      [event.id],
    );
    return;
  }
  if (isTalkAside(work, said)) {
    work.odd(
      'R2',
      `${quoted(said.span.words)} was said while the walk was held; it counts for no check.`,
      [event.id],
      said.span.words,
    );
    return;
  }
  const spots = spotsOf(work, said);
  const target = targetOf(work, said);
  const entry = entryOf(work, event, said, spots, target);
  const firstHere = spots.filter((s) => (state.ledgers[s] ?? []).length === 0);
  work.enter(entry);
  if (
    target !== null &&
    (said.kind === 'observation' || said.kind === 'retraction' || said.kind === 'rating')
  ) {
    work.mark(target, { kind: MARK_OF[said.kind], by: said.id, order: entry.order });
  }
  if (entry.finding) state.lastFinding = said.id;
  state.order += 1;
  follow(work, event, said, firstHere);
  noteTrouble(work, event, said);
}

/** What a statement says about where the walk is and how fast it goes. */
function follow(work: Work, event: Event, said: Statement, firstHere: readonly number[]): void {
  const { state } = work;
  const { atlas } = state;
  if (said.kind === 'circumstance') setCircumstance(work, said.circumstance, said.holds);
  if (said.kind === 'arrival' && atlas.stations.has(said.station)) {
    state.course = goTo(state.course, said.station);
  }
  if (said.kind !== 'observation' || said.force !== 'result') return;
  const about = said.about;
  if (about.kind === 'unplaced') return;
  const spot = about.kind === 'check' ? atlas.byId.get(about.check) : undefined;
  const spots =
    about.kind === 'check'
      ? spot === undefined
        ? []
        : [spot]
      : (atlas.stations.get(about.station) ?? []).filter((s) => s.check.blanket);
  const places = about.kind === 'check' && spot !== undefined ? placesSaid(spot, about.which) : 1;
  const first = about.kind === 'check' ? spots.filter((s) => firstHere.includes(s.index)) : [];
  state.course = giveResult(state.course, event, spots, places, first);
}

function placesSaid(spot: Spot, which: { how: string; instances: readonly string[] }): number {
  return which.how === 'all' ? spot.instances.length : Math.max(1, which.instances.length);
}

/** Statements that cannot be used, named so that nobody thinks they were not heard. */
function noteTrouble(work: Work, event: Event, said: Statement): void {
  const { byId, stations } = work.state.atlas;
  if (said.kind === 'not-understood' && !said.chatter) {
    work.odd('R5', `Not understood: ${quoted(said.span.words)}.`, [event.id], said.span.words);
    return;
  }
  const unknown =
    said.kind === 'set-aside'
      ? byId.has(said.check)
        ? null
        : said.check
      : said.kind !== 'observation' || said.force !== 'result'
        ? null
        : said.about.kind === 'check'
          ? byId.has(said.about.check)
            ? null
            : said.about.check
          : said.about.kind === 'station' && !stations.has(said.about.station)
            ? said.about.station
            : null;
  if (unknown === null) return;
  work.odd(
    'R5',
    `${quoted(said.span.words)} is about ${quoted(unknown)}, which this catalogue does not have; it counts for no check.`,
    [event.id],
    said.span.words,
  );
}
