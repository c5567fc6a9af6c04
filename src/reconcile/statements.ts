import type { Event } from '#shared/event';
import type { Circumstance } from '#shared/circumstance';
import { isFinding } from '#shared/abnormal';
import type { Observation, Statement } from '#shared/statement';
import type { Spot } from './atlas.ts';
import { giveResult, goTo } from './course.ts';
import { guestIn, withGuest } from './guests.ts';
import type { Entry } from './ledger.ts';
import { get } from './map.ts';
import { quoted } from './words.ts';
import type { Work } from './work.ts';

export function setCircumstance(work: Work, circumstance: Circumstance, holds: boolean): void {
  const { state } = work;
  if (state.circumstances.has(circumstance) === holds) return;
  const circumstances = new Set(state.circumstances);
  if (holds) circumstances.add(circumstance);
  else circumstances.delete(circumstance);
  state.circumstances = circumstances;
  for (const i of state.atlas.byCircumstance.get(circumstance) ?? []) work.touched.add(i);
}

/** Checks that a statement concerns by itself; the index after the last stands for "no check". */
export function spotsOf(work: Work, statement: Statement): readonly number[] {
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

export function entryOf(
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
function targetOf(work: Work, event: Event, said: Statement): string | null {
  const { state } = work;
  const guest = guestIn(state, event);
  const lastFinding = guest === null ? state.lastFinding : guest.lastFinding;
  const earlier = (id: string | null | undefined) =>
    id !== null && id !== undefined && get(state.entries, id) !== undefined ? id : null;
  switch (said.kind) {
    case 'observation': {
      if (said.force !== 'result' || said.doubtful !== null) return null;
      const asked = said.answers === null ? undefined : get(state.questions, said.answers);
      return earlier(said.amends) ?? earlier(asked?.question.about);
    }
    case 'retraction':
    case 'clearance':
      return earlier(said.of);
    case 'rating':
      return earlier(said.of ?? lastFinding);
    default:
      return null;
  }
}

const MARK_OF = {
  observation: 'amended',
  retraction: 'retracted',
  clearance: 'cleared',
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

/** Holds during which the speaker turns to somebody else; when the page was hidden they still talk to us. */
const TALK_ASIDE: ReadonlySet<string> = new Set(['said', 'touched', 'interrupted']);

/**
 * While the walk is held the speaker talks to somebody else: nothing of it is a
 * result. A fault is kept all the same (R4).
 */
function isTalkAside(work: Work, event: Event, said: Statement): boolean {
  const { course } = work.state;
  const guest = guestIn(work.state, event);
  const why = guest !== null ? guest.held : course.held ? (course.holds.at(-1)?.why ?? null) : null;
  if (why === null || !TALK_ASIDE.has(why)) return false;
  if (said.kind === 'set-aside') return true;
  const observation = said.kind === 'two-candidates' ? said.said : said;
  if (observation.kind !== 'observation' || observation.force !== 'result') return false;
  return !isAbnormal(work, observation);
}

export function takeStatement(work: Work, event: Event, said: Statement): void {
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
  if (isTalkAside(work, event, said)) {
    work.odd(
      'R2',
      `${quoted(said.span.words)} was said while the walk was held; it counts for no check.`,
      [event.id],
      said.span.words,
    );
    return;
  }
  const spots = spotsOf(work, said);
  const target = targetOf(work, event, said);
  const entry = entryOf(work, event, said, spots, target);
  const firstHere = spots.filter((s) => (state.ledgers[s] ?? []).length === 0);
  work.enter(entry);
  if (
    target !== null &&
    (said.kind === 'observation' ||
      said.kind === 'retraction' ||
      said.kind === 'clearance' ||
      said.kind === 'rating')
  ) {
    work.mark(target, { kind: MARK_OF[said.kind], by: said.id, order: entry.order });
  }
  if (entry.finding) {
    if (guestIn(state, event) === null) state.lastFinding = said.id;
    else state.guests = withGuest(state, event, { lastFinding: said.id });
  }
  state.order += 1;
  follow(work, event, said, firstHere);
  noteTrouble(work, event, said);
}

/** What a statement says about where the walk is and how fast it goes. */
function follow(work: Work, event: Event, said: Statement, firstHere: readonly number[]): void {
  const { state } = work;
  const { atlas } = state;
  if (said.kind === 'circumstance') setCircumstance(work, said.circumstance, said.holds);
  if (guestIn(state, event) !== null) return;
  if (said.kind === 'arrival' && atlas.stations.has(said.station)) {
    state.course = goTo(state.course, said.station);
  }
  if (said.kind !== 'observation' || said.force !== 'result') return;
  // What waited is settled from where the walk is by then.
  const asked = said.answers === null ? undefined : get(state.questions, said.answers);
  if (asked?.question.kind === 'recap') return;
  const about = said.about;
  if (about.kind === 'unplaced') return;
  // So is what was asked about before the walk went on, when its answer comes late.
  const before = asked === undefined ? undefined : get(state.entries, asked.question.about)?.said;
  const same =
    before?.kind === 'observation' &&
    before.about.kind === 'check' &&
    about.kind === 'check' &&
    before.about.check === about.check;
  if (same && atlas.byId.get(about.check)?.station.id !== state.course.station) return;
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
