import { ECHO } from '#speak';
import type { Catalogue } from '#shared/catalogue';
import type { Coverage } from '#shared/coverage';
import type { Event } from '#shared/event';
import type { Heard } from '#shared/heard';
import { clock as clockWords, isTimed, lengthOf } from '#shared/length';
import type { Replied } from '#shared/replied';
import { repliesOf } from '#shared/replies';
import type { Statement } from '#shared/statement';
import { namesOf } from '../parts/words.ts';

/** What an utterance came to, for its mark on the time axis. */
export type Sort = 'counted' | 'finding' | 'question' | 'nothing';

/**
 * One utterance of the walk with everything that was made of it. Times in seconds since
 * the walk began; of a walk without times the middle of its place in the order.
 */
export interface Utterance {
  /** Id of the `heard` event. */
  readonly event: string;
  readonly heard: Heard;
  readonly from: number;
  readonly to: number;
  readonly statements: readonly Statement[];
  readonly sort: Sort;
  /** It was not read, because Talkround was speaking (R11). */
  readonly spokenOver: boolean;
  /** What Talkround gave back to it, or of its own accord before the next one. */
  readonly replies: readonly Replied[];
  /** Where the speaker was; null before the first station. */
  readonly station: string | null;
}

/** A stay at one station. */
export interface Stay {
  readonly station: string;
  readonly from: number;
  readonly to: number;
}

export interface Span {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

/** A walk as a debrief shows it. */
export interface Talk {
  readonly utterances: readonly Utterance[];
  readonly stays: readonly Stay[];
  readonly holds: readonly Span[];
  readonly silences: readonly Span[];
  /** What Talkround gave back before the first utterance. */
  readonly opening: readonly Replied[];
  /** Seconds from begin to finish; without times the number of utterances. */
  readonly seconds: number;
  /** false: it came without times, and nothing may be said of its pace. */
  readonly timed: boolean;
}

/** Orders an event list as a walk in time. Pure; the coverage says what counted. */
export function talkOf(catalogue: Catalogue, events: readonly Event[], coverage: Coverage): Talk {
  const counted = new Set(coverage.checks.flatMap((c) => c.statements));
  const found = new Set(coverage.findings.flatMap((f) => f.statements));
  const names = namesOf(catalogue);
  const said = statementsByHeard(events);
  const utterances: Omit<Utterance, 'replies'>[] = [];
  const voice = events.flatMap(({ what }) =>
    what.kind === 'spoken' && what.to !== null && what.to !== what.from
      ? [{ from: what.from, to: what.to + ECHO }]
      : [],
  );
  const visits: { station: string; from: number }[] = [];
  const timed = isTimed(events);
  let clock = 0;
  /** Finished: what is said, touched or reviewed later takes no time of the walk. */
  let over = false;
  let station: string | null = null;
  const arrive = (to: string | null, at: number) => {
    if (to === null || to === station) return;
    station = to;
    visits.push({ station: to, from: at });
  };
  for (const event of events) {
    if (!over) clock = Math.max(clock, event.t ?? clock);
    if (event.what.kind === 'finished') over = true;
    if (event.what.kind === 'station-set')
      arrive(event.what.station, timed ? clock : utterances.length);
    if (event.what.kind !== 'heard') continue;
    const heard = event.what.heard;
    const statements = said.get(heard.id) ?? [];
    // Without times they stand one behind the other, each as wide as the next.
    const from = timed ? (heard.from ?? event.t ?? clock) : utterances.length + 0.5;
    for (const s of statements)
      arrive(
        placeOf(s, (c) => stationOf(names, catalogue, c)),
        from,
      );
    if (timed) clock = Math.max(clock, heard.to ?? from);
    utterances.push({
      event: event.id,
      heard,
      from,
      to: Math.max(from, heard.to ?? from),
      statements,
      spokenOver:
        statements.length === 0 &&
        heard.by !== 'typed' &&
        voice.some((v) => from >= v.from && from < v.to),
      sort: sortOf(statements, counted, found),
      station,
    });
  }
  const seconds = timed
    ? Math.max(lengthOf(events) ?? clock, ...utterances.map((u) => u.to), 1)
    : Math.max(utterances.length, 1);
  const inTime = utterances.sort((a, b) => a.from - b.from);
  const replies = repliesTo(inTime, repliesOf(events));
  return {
    utterances: inTime.map((u) => ({ ...u, replies: replies.get(u.event) ?? [] })),
    opening: replies.get(null) ?? [],
    stays: visits.map((v, i) => ({ ...v, to: visits[i + 1]?.from ?? seconds })),
    holds: spans(coverage, 'held'),
    silences: spans(coverage, 'long-silence'),
    seconds,
    timed,
  };
}

/** Replies by the `heard` event that each belongs to; null for those before the first. */
function repliesTo(
  utterances: readonly Omit<Utterance, 'replies'>[],
  replies: readonly Replied[],
): ReadonlyMap<string | null, readonly Replied[]> {
  const byHeard = new Map(utterances.map((u) => [u.heard.id, u.event]));
  const out = new Map<string | null, Replied[]>();
  for (const reply of replies) {
    const before = utterances.findLast((u) => u.from <= reply.from)?.event ?? null;
    const to = (reply.answers === null ? undefined : byHeard.get(reply.answers)) ?? before;
    out.set(to, [...(out.get(to) ?? []), reply]);
  }
  return out;
}

function statementsByHeard(events: readonly Event[]): ReadonlyMap<string, Statement[]> {
  const out = new Map<string, Statement[]>();
  for (const event of events) {
    if (event.what.kind !== 'stated') continue;
    const list = out.get(event.what.statement.heard);
    if (list === undefined) out.set(event.what.statement.heard, [event.what.statement]);
    else list.push(event.what.statement);
  }
  return out;
}

const stationByCheck = new WeakMap<Catalogue, ReadonlyMap<string, string>>();

function stationOf(names: ReturnType<typeof namesOf>, catalogue: Catalogue, check: string) {
  let map = stationByCheck.get(catalogue);
  if (map === undefined) {
    map = new Map(catalogue.stations.flatMap((s) => s.checks.map((c) => [c.id, s.id] as const)));
    stationByCheck.set(catalogue, map);
  }
  return names.check.has(check) ? (map.get(check) ?? null) : null;
}

/** Where a statement takes the speaker: an arrival, a blanket's station, or a named check's own. */
function placeOf(s: Statement, of: (check: string) => string | null): string | null {
  if (s.kind === 'arrival') return s.station;
  if (s.kind === 'set-aside') return of(s.check);
  if (s.kind !== 'observation' || s.force !== 'result') return null;
  if (s.about.kind === 'check') return of(s.about.check);
  return s.about.kind === 'station' ? s.about.station : null;
}

function sortOf(
  statements: readonly Statement[],
  counted: ReadonlySet<string>,
  found: ReadonlySet<string>,
): Sort {
  if (statements.some((s) => found.has(s.id))) return 'finding';
  if (statements.some(isAsked)) return 'question';
  const acts = (s: Statement) =>
    counted.has(s.id) || s.kind === 'arrival' || s.kind === 'retraction' || s.kind === 'rating';
  return statements.some(acts) ? 'counted' : 'nothing';
}

function isAsked(s: Statement): boolean {
  if (s.kind === 'two-candidates') return true;
  if (s.kind === 'not-understood') return !s.chatter;
  return s.kind === 'observation' && s.doubtful !== null;
}

function spans(coverage: Coverage, kind: 'held' | 'long-silence'): readonly Span[] {
  return coverage.remarks.flatMap((r) =>
    r.kind === kind && r.from !== null && r.to !== null
      ? [{ from: r.from, to: r.to, text: r.text }]
      : [],
  );
}

/** When it was said, or which of them it was where no times are known. */
export function when({ timed }: Pick<Talk, 'timed'>, at: number): string {
  return timed ? clockWords(at) : String(Math.floor(at) + 1);
}

/** Position of the utterance that is nearest to a time; -1 when there is none. */
export function nearest(utterances: readonly Utterance[], t: number): number {
  let low = 0;
  let high = utterances.length - 1;
  if (high < 0) return -1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((utterances[middle]?.from ?? 0) < t) low = middle + 1;
    else high = middle;
  }
  const before = utterances[low - 1];
  const after = utterances[low];
  if (before === undefined || after === undefined) return low;
  return t - before.from < after.from - t ? low - 1 : low;
}
