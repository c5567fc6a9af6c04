import type { Catalogue } from '#shared/catalogue';
import type { Coverage } from '#shared/coverage';
import type { Event } from '#shared/event';
import { clock, isTimed, lengthOf } from '#shared/length';
import type { Statement } from '#shared/statement';
import { line, text, type Figure, type Item } from './figure.ts';

/** Width of both figures, in points of 1/72 inch: what lies between the margins of Letter and A4. */
const WIDE = 496;

/** A plan is as high as this, pt: the way can be followed, and half the page is left. */
const PLAN_HIGH = 190;
const STOP = 7;

/**
 * The way round the aircraft in plan, nose up: a stop for each station, filled
 * when everything required there was spoken for, with what is open beside it.
 */
export function planDrawing(coverage: Coverage, catalogue: Catalogue): Figure {
  const scale = (PLAN_HIGH - 2 * STOP) / 100;
  const at = ({ x, y }: { x: number; y: number }) => [x * scale + STOP, y * scale + STOP] as const;
  const stops = stopsOf(coverage, catalogue).map((s) => ({ ...s, place: at(s.station.place) }));
  const way = stops.flatMap(({ place }, i): Item[] => {
    const next = stops[i + 1];
    return next === undefined ? [] : [line(place, next.place, 0.6, 'pale')];
  });
  const marks = stops.flatMap(({ place, open, found, number }): Item[] => [
    { kind: 'disc', at: place, r: STOP * 0.6, filled: open === 0 },
    ...(found > 0
      ? [{ kind: 'triangle' as const, at: [place[0] - STOP * 1.4, place[1]] as const, r: 4 }]
      : []),
    text(labelAt(place, found > 0, stops), 8, String(number), true),
  ]);
  return {
    width: PLAN_HIGH + 12,
    height: PLAN_HIGH,
    told: 'The way round the aircraft, nose up. Filled: all that was required there was spoken for. Triangle: a finding.',
    items: [...way, ...marks],
  };
}

/** Where the number of a stop stands: beside its disc, and on no other. */
function labelAt(
  [x, y]: readonly [number, number],
  found: boolean,
  stops: readonly { readonly place: readonly [number, number] }[],
): readonly [number, number] {
  const right = [x + STOP * 0.8, y + 3] as const;
  // The triangle of a finding stands on the left.
  const left = [x - STOP * 0.8 - 9, y + 3] as const;
  const sides = [right, ...(found ? [] : [left]), [x - 4, y - STOP] as const];
  return (
    sides.find(([at, base]) =>
      stops.every(
        ({ place: [px, py] }) =>
          (px === x && py === y) ||
          Math.abs(at + 4.5 - px) > STOP * 0.6 + 5 ||
          Math.abs(base - 3 - py) > STOP * 0.6 + 4,
      ),
    ) ?? right
  );
}

/** A stop of the way: its number, how much is required there, how much of it is open, and what was found. */
interface Stop {
  readonly station: Catalogue['stations'][number];
  readonly number: number;
  readonly of: number;
  readonly open: number;
  readonly found: number;
}

function stopsOf(coverage: Coverage, catalogue: Catalogue): readonly Stop[] {
  return catalogue.stations.map((station, i) => {
    const here = coverage.checks.filter((c) => c.station === station.id && c.required.today);
    const open = here.filter((c) => c.standing !== 'spoken' && c.standing !== 'set-aside').length;
    const found = coverage.findings.filter(
      (f) => f.settled !== 'taken-back' && station.checks.some((c) => c.id === f.check),
    ).length;
    return { station, number: i + 1, of: here.length, open, found };
  });
}

/** The stops in words, which the drawing names by their numbers. */
export function planLines(
  coverage: Coverage,
  catalogue: Catalogue,
): readonly { readonly number: number; readonly words: string; readonly bold: boolean }[] {
  return stopsOf(coverage, catalogue).map((s) => ({
    number: s.number,
    words: `${s.station.name}: ${s.of - s.open} of ${s.of} spoken for${
      s.found === 0 ? '' : `, ${s.found} ${s.found === 1 ? 'finding' : 'findings'}`
    }`,
    bold: s.open > 0 || s.found > 0,
  }));
}

/** The drawing with its stops in words beside it, as wide as a page. */
export function planFigure(coverage: Coverage, catalogue: Catalogue): Figure {
  const drawing = planDrawing(coverage, catalogue);
  const lines = planLines(coverage, catalogue);
  const left = PLAN_HIGH + 24;
  const step = Math.min(13, PLAN_HIGH / Math.max(1, lines.length));
  return {
    ...drawing,
    width: WIDE,
    items: [
      ...drawing.items,
      ...lines.map((l, i) =>
        text([left, step * (i + 0.8)], Math.min(9, step * 0.8), `${l.number} ${l.words}`, l.bold),
      ),
    ],
  };
}

/** Width of a letter of the time axis, pt: at 7 pt, a little more than most. */
const LETTER = 3.7;

const TIME_HIGH = 64;
const AXIS = 30;

/** What was said when: a mark for each utterance, on an axis that names the stations in their turn. */
export function timeFigure(
  coverage: Coverage,
  catalogue: Catalogue,
  events: readonly Event[],
): Figure | null {
  const seconds = lengthOf(events);
  // Of a walk whose times are unknown no pace is drawn.
  if (!isTimed(events) || seconds === null || seconds <= 0) return null;
  const x = (t: number) => (Math.min(Math.max(t, 0), seconds) / seconds) * WIDE;
  const said = utterancesIn(coverage, events);
  const stays = staysIn(catalogue, events, said);
  const marks = said.flatMap(({ from, sort }): Item[] => {
    const at = x(from);
    if (sort === 'finding') return [{ kind: 'triangle', at: [at, AXIS - 12], r: 4.5 }];
    const high = { counted: 12, question: 16, nothing: 5 }[sort];
    return [line([at, AXIS], [at, AXIS - high], sort === 'nothing' ? 0.5 : 1.4)];
  });
  const held = coverage.remarks.flatMap((r): Item[] =>
    (r.kind === 'held' || r.kind === 'long-silence') && r.from !== null && r.to !== null
      ? [line([x(r.from), AXIS + 3], [x(r.to), AXIS + 3], 3, 'pale')]
      : [],
  );
  let free = 0;
  const names = stays.flatMap(({ name, number, from, to }): Item[] => {
    const at = x(from);
    const full = `${number} ${name}`;
    const label = x(to) - at > full.length * LETTER + 4 ? full : String(number);
    const edge = line([at, AXIS - 2], [at, AXIS + 8], 0.5);
    if (at < free) return [edge];
    free = at + label.length * 4 + 3;
    return [edge, text([at + 2, AXIS + 15], 7, label)];
  });
  const ends = [
    text([0, TIME_HIGH - 4], 7, '0:00'),
    text([WIDE - 24, TIME_HIGH - 4], 7, clock(seconds)),
  ];
  const count = (sort: Said['sort']) => said.filter((s) => s.sort === sort).length;
  return {
    width: WIDE,
    height: TIME_HIGH,
    told: `${said.length} utterances in ${clock(seconds)}: ${count('counted')} counted, ${count('finding')} of a finding, ${count('question')} asked about, ${count('nothing')} talk.`,
    items: [line([0, AXIS], [WIDE, AXIS], 0.8), ...held, ...marks, ...names, ...ends],
  };
}

interface Said {
  readonly heard: string;
  readonly from: number;
  readonly sort: 'finding' | 'question' | 'counted' | 'nothing';
  readonly statements: readonly Statement[];
}

function utterancesIn(coverage: Coverage, events: readonly Event[]): readonly Said[] {
  const counted = new Set(coverage.checks.flatMap((c) => c.statements));
  const found = new Set(coverage.findings.flatMap((f) => f.statements));
  const made = new Map<string, Statement[]>();
  for (const { what } of events)
    if (what.kind === 'stated')
      made.set(what.statement.heard, [...(made.get(what.statement.heard) ?? []), what.statement]);
  return events.flatMap(({ what, t }): Said[] => {
    if (what.kind !== 'heard') return [];
    const statements = made.get(what.heard.id) ?? [];
    const sort = statements.some((s) => found.has(s.id))
      ? 'finding'
      : statements.some(isAsked)
        ? 'question'
        : statements.some((s) => counted.has(s.id))
          ? 'counted'
          : 'nothing';
    return [{ heard: what.heard.id, from: what.heard.from ?? t ?? 0, sort, statements }];
  });
}

function isAsked(s: Statement): boolean {
  if (s.kind === 'two-candidates') return true;
  return s.kind === 'not-understood' ? !s.chatter : s.kind === 'observation' && s.doubtful !== null;
}

/** The stations in the order in which the speaker came to them. */
function staysIn(catalogue: Catalogue, events: readonly Event[], said: readonly Said[]) {
  const of = new Map(catalogue.stations.flatMap((s) => s.checks.map((c) => [c.id, s.id] as const)));
  const arrivals: { station: string; from: number }[] = [
    ...events.flatMap(({ what, t }) =>
      what.kind === 'station-set' ? [{ station: what.station, from: t ?? 0 }] : [],
    ),
    ...said.flatMap(({ from, statements }) =>
      statements.flatMap((s) => {
        const station =
          s.kind === 'arrival'
            ? s.station
            : s.kind === 'observation' && s.force === 'result' && s.about.kind === 'check'
              ? of.get(s.about.check)
              : undefined;
        return station === undefined ? [] : [{ station, from }];
      }),
    ),
  ].sort((a, b) => a.from - b.from);
  const visits = arrivals.filter((a, i) => a.station !== arrivals[i - 1]?.station);
  return visits.map(({ station, from }, i) => {
    const number = catalogue.stations.findIndex((s) => s.id === station) + 1;
    const name = catalogue.stations[number - 1]?.name ?? station;
    return { name, number, from, to: visits[i + 1]?.from ?? Infinity };
  });
}
