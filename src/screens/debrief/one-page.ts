import type { Catalogue } from '#shared/catalogue';
import type { Coverage, Finding } from '#shared/coverage';
import { toldCount, toldIn } from '#shared/told';
import { byStation, counts, findingTitle, findingWhat, isOpen, namesOf } from '../parts/words.ts';
import type { Text } from '../text/text.ts';
import { LANE } from './Timeline.tsx';

/*
 * How much smaller the debrief is printed so that it is one page. Its height is
 * reckoned before it is printed: a browser tells nobody how high a page on paper
 * will be. All lengths in mm as the style for paper makes them; too small a sum
 * gives a second page, too large a one a smaller print than need be.
 */

/** Letter less its margins: the lower of the two papers. */
const ROOM = 251;
/** Head, headings and the lines below them. */
const FIXED = 46;
const PLAN = 62;
/** A line of running text, and how many letters it holds across the page, and across half of it. */
const LINE = 3.4;
const ACROSS = 120;
const HALF = 52;
/** The time axis: its figures and its key, and a lane at the zoom of paper. */
const AXIS = 14;
const LANE_MM = LANE * 0.58 * 0.265;
/** A mark and the blank behind a name, in letters. */
const MARK = 4;
/** What is printed smaller has longer lines too, and fewer of them: it need not be made as small as the sum says. */
const GAIN = 0.6;
/** Smaller than this nobody reads it: then it is two pages. */
const SMALLEST = 0.5;

export function printFit(catalogue: Catalogue, coverage: Coverage, t: Text): number {
  const high = FIXED + top(catalogue, coverage, t) + taught(catalogue, coverage) + lanes(catalogue);
  const fit = Math.min(1, ROOM / (high + open(catalogue, coverage)));
  return Math.max(SMALLEST, fit ** GAIN);
}

function lines(letters: number, across: number): number {
  return Math.ceil(letters / across) * LINE;
}

/** The plan, and beside it what was found and how the walk went. */
function top(catalogue: Catalogue, { findings, remarks }: Coverage, t: Text): number {
  const names = namesOf(catalogue);
  const found = (f: Finding) =>
    2 * LINE +
    2 +
    lines(
      `${findingWhat(f)} ${f.words} ${f.suggests ?? ''}`.length +
        (f.reviews ?? []).reduce((sum, r) => sum + r.says.length + r.note.length + HALF, 0),
      HALF,
    ) +
    lines(Math.max(0, findingTitle(f, names, t).length - HALF / 2), HALF / 2) +
    (f.pictures === undefined ? 0 : PICTURE);
  const beside =
    findings.reduce((sum, f) => sum + found(f), 0) +
    remarks.reduce((sum, r) => sum + lines(r.text.length, HALF) + 2, 0);
  return Math.max(PLAN, beside + 16);
}

/** A row of small pictures. */
const PICTURE = 24;

function taught(catalogue: Catalogue, coverage: Coverage): number {
  if (toldCount(coverage.checks).explained === 0) return 0;
  const names = namesOf(catalogue);
  const told = coverage.checks.filter((c) => {
    const { explained, done, reported } = toldIn(c);
    return explained.length + done.length + reported.length > 0;
  });
  const stations = new Set(told.map((c) => c.station)).size;
  const letters = told.reduce(
    (sum, c) => sum + (names.check.get(c.check)?.name.length ?? 0) + 2 * MARK,
    stations * 45,
  );
  return 16 + lines(letters, ACROSS);
}

function lanes(catalogue: Catalogue): number {
  return AXIS + catalogue.stations.length * LANE_MM;
}

/** What is open, station by station. */
function open(catalogue: Catalogue, coverage: Coverage): number {
  const names = namesOf(catalogue);
  const groups = byStation(coverage);
  return catalogue.stations.reduce((sum, station) => {
    const here = (groups.get(station.id) ?? []).filter(
      (c) => counts(c) && (isOpen(c.standing) || c.reviewed !== null),
    );
    const letters = here.reduce(
      (all, c) =>
        all +
        (names.check.get(c.check)?.name.length ?? 0) +
        MARK +
        (c.standing === 'skipped' ? 0 : 14) +
        (c.reviewed === null ? 0 : 24),
      station.name.length + 4,
    );
    return here.length === 0 ? sum : sum + lines(letters, ACROSS);
  }, 0);
}
