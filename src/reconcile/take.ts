import type { Event, Happening, HappeningKind } from '#shared/event';
import { instancesOf } from '#shared/catalogue';
import type { Spot } from './atlas.ts';
import { goTo, hearWords, hold, passTime, resume } from './course.ts';
import { get, put } from './map.ts';
import { CLOCK_BACK, CLOCK_JUMP } from './thresholds.ts';
import type { Work } from './work.ts';
import { minutes } from './course.ts';
import { guestIn, withGuest } from './guests.ts';
import { reviewIn } from './reviews.ts';
import { entryOf, setCircumstance, spotsOf, takeStatement } from './statements.ts';
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
    state.device = event.device;
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
    if (guestIn(work.state, event) !== null) return;
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
    if (guestIn(work.state, event) !== null) return;
    if (work.state.atlas.stations.has(what.station)) {
      work.state.course = goTo(work.state.course, what.station);
    } else {
      work.odd('R6', `The catalogue has no station ${quoted(what.station)}.`, [event.id]);
    }
  },
  held: (work, event, what) => {
    if (guestIn(work.state, event) !== null)
      work.state.guests = withGuest(work.state, event, { held: what.why });
    else work.state.course = hold(work.state.course, event, what.why, work.state.order);
  },
  resumed: (work, event) => {
    if (guestIn(work.state, event) !== null)
      work.state.guests = withGuest(work.state, event, { held: null });
    else work.state.course = resume(work.state.course, event, work.state.order);
  },
  'listening-changed': nothing,
  'reader-changed': nothing,
  'sound-kept': nothing,
  'sound-missing': nothing,
  'sound-erased': nothing,
  'picture-kept': (work, event, { of, picture, mime, hash, width, height }) => {
    if (of.kind !== 'finding') return;
    const { state } = work;
    if (get(state.entries, of.statement) === undefined)
      work.odd('R4', 'A picture is of a statement that this walk does not have; it is kept.', [
        event.id,
      ]);
    const pictured = { statement: of.statement, picture: { picture, mime, hash, width, height } };
    state.pictures = [...state.pictures, pictured];
  },
  'picture-erased': nothing,
  'brought-back': nothing,
  replied: nothing,
  'let-in': nothing,
  discarded: (work, _event, what) => {
    work.state.discarded = { why: what.why };
  },
  amendment: nothing,
  learned: nothing,
  unlearned: nothing,
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
    state.reviews = [...state.reviews, reviewIn(event.id, what, state.atlas.catalogue)];
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
  // A walk ends at its finish: what is said, touched or reviewed later takes no time of it.
  if (!state.finished && guestIn(state, event) === null)
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
  // The clocks of two devices differ, and neither jumped.
  if (before.device !== event.device) return;
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
