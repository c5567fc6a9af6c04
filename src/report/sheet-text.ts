import { ONCE, type Catalogue, type Check } from '#shared/catalogue';
import {
  reviewWords,
  STANDING_WORDS,
  type CheckCoverage,
  type Coverage,
  type Finding,
} from '#shared/coverage';
import { eachFigures, limitWritten } from '#shared/figures';
import { severityFrom, severityWords } from '#shared/severity';
import { pictureCount } from './pictures.ts';
import { editionLines, ended } from './edition-words.ts';
import type { SheetParts } from './sheet-pdf.ts';
import { summaryOf, summarySentence } from './summary.ts';
import { measuredWords, otherWords, toldIn, toldLines, toldSentence } from '#shared/told';

/** One mark for each standing, told apart by shape in any terminal. */
export const MARKS: Readonly<Record<CheckCoverage['standing'], string>> = {
  spoken: '●',
  part: '◐',
  question: '?',
  unspoken: '○',
  skipped: '○',
  'set-aside': '–',
};

/** As said to whoever signs; the decision is never Talkround's (R9). */
export const CLOSING =
  'This sheet says what was and was not spoken for. The decision to fly is the pilot in command’s; the aircraft’s manual, local rules and licensed maintenance decide.';

export interface SheetOptions {
  /** Every reason with its rule, its words and its events. */
  readonly why: boolean;
}

/** The sheet as plain text: findings first, then the stations in walking order. */
export function sheetText(coverage: Coverage, catalogue: Catalogue, options: SheetOptions): string {
  const names = checkNames(catalogue);
  const { checks } = names;
  const lines = [catalogue.name];
  if (catalogue.notice !== undefined) lines.push(catalogue.notice);
  lines.push('', summarySentence(summaryOf(coverage)));
  const told = toldSentence(coverage);
  if (told !== null) lines.push(told);
  if (coverage.findings.length > 0) {
    lines.push('', 'Findings');
    for (const finding of coverage.findings) lines.push(...findingLines(finding, names, options));
  }
  for (const station of catalogue.stations) {
    const here = coverage.checks.filter((c) => c.station === station.id && shown(c));
    if (here.length === 0) continue;
    lines.push('', station.name);
    for (const check of here) lines.push(...checkLines(check, checks.get(check.check), options));
  }
  if (coverage.remarks.length > 0) {
    lines.push('', 'How the walk went', ...coverage.remarks.map((r) => `  ${r.text}`));
  }
  if (coverage.oddities.length > 0) {
    lines.push('', 'Could not be used', ...coverage.oddities.map((o) => `  ${o.text}`));
  }
  lines.push('', ...editionLines(catalogue, coverage.edition), '', CLOSING);
  return lines.join('\n');
}

/** What is to be said of the seal, and what was said beside the walk. */
export function sealLines(seal: SheetParts['seal']): string[] {
  if (seal === undefined) return [];
  const beside =
    seal.beside.length === 0
      ? []
      : ['', 'Said beside this walk; none of it changes what was spoken for', ...seal.beside];
  return ['', seal.text, ...seal.remarks, ...beside];
}

/** A check that is not required today is shown only when something was said about it. */
export function shown(check: CheckCoverage): boolean {
  return check.required.today || check.statements.length > 0 || toldIn(check).explained.length > 0;
}

function checkLines(coverage: CheckCoverage, check: Check | undefined, options: SheetOptions) {
  const name = check?.name ?? coverage.check;
  const standing = STANDING_WORDS[coverage.standing];
  const extra = coverage.required.today ? '' : ' (not required today)';
  const lines = [`  ${MARKS[coverage.standing]} ${name}: ${standing}${extra}`];
  const missing = missingText(coverage, check);
  if (missing !== '') lines.push(`      missing: ${missing}`);
  const because = becauseWords(coverage);
  if (because !== null) lines.push(`      ${because}`);
  const measured = measuredWords(coverage, check);
  if (measured !== null) lines.push(`      measured: ${measured}`);
  if (options.why) {
    if (check?.source !== undefined) lines.push(`      source: ${ended(check.source)}`);
    for (const reason of coverage.reasons) {
      const words = reason.words === null ? '' : ` “${reason.words}”`;
      lines.push(`      ${reason.rule}: ${reason.text}${words}${eventsOf(reason)}`);
    }
    lines.push(...toldLines(coverage).map((line) => `      ${line}`));
    lines.push(...reviewLines(coverage));
    return lines;
  }
  lines.push(...toldLines(coverage).map((line) => `      ${line}`));
  lines.push(...reviewLines(coverage));
  lines.push(...otherWords(coverage).map((words) => `      “${words}”`));
  return lines;
}

/** What demanded it today beyond its turn: an open squawk, or what was found elsewhere. null: nothing did. */
export function becauseWords({ required: { by, because } }: CheckCoverage): string | null {
  if (because === null) return null;
  return `${by === 'squawk' ? 'open squawk' : 'because'}: ${because}`;
}

/** What reviewers said of a check or a finding, a line each. */
function reviewLines({ reviews }: Pick<CheckCoverage | Finding, 'reviews'>): string[] {
  return (reviews ?? []).map((review) => `      reviewed by ${reviewWords(review)}`);
}

/** What is still to be said, such as "slack; left: condition; oil quantity". */
export function missingText(coverage: CheckCoverage, check: Check | undefined): string {
  if (coverage.standing !== 'part' && coverage.standing !== 'question') return '';
  const { aspects, instances, measures, acts } = coverage.missing;
  const whole = new Set(instances);
  const at = (instance: string, what: string) =>
    check?.repeat === undefined ? what : `${instance}: ${what}`;
  const measure = (id: string) => check?.measures.find((m) => m.id === id)?.name ?? id;
  const aspect = (id: string) => check?.aspects.find((a) => a.id === id)?.name ?? id;
  return [
    // Of a thing with one place there is no name of the place to tell.
    ...instances.map((i) => (i === ONCE ? 'its result' : i)),
    ...aspects.filter((a) => !whole.has(a.instance)).map((a) => at(a.instance, aspect(a.aspect))),
    ...measures
      .filter((m) => !whole.has(m.instance))
      .map((m) => at(m.instance, measure(m.measure))),
    ...acts.map((act) => `to ${act}, not only to look`),
  ].join('; ');
}

export interface Names {
  readonly checks: ReadonlyMap<string, Check>;
  readonly signs: ReadonlyMap<string, string>;
  /** What to mind about a sign, by its id: "Maintenance decides after a hard landing." */
  readonly cautions: ReadonlyMap<string, string>;
}

export function findingLines(finding: Finding, names: Names, options: SheetOptions): string[] {
  const check = finding.check === null ? undefined : names.checks.get(finding.check);
  const where =
    finding.check === null
      ? finding.happened === true
        ? 'The aircraft'
        : `${finding.part ?? 'something'} (not placed)`
      : [check?.name ?? finding.check, ...finding.instances.filter((i) => i !== 'once')].join(', ');
  const what = [
    ...finding.conditions.map((c) =>
      [
        c.degree,
        names.signs.get(c.sign ?? '') ?? c.condition.replaceAll('-', ' '),
        c.place,
        c.size ?? null,
      ]
        .filter((part) => part !== null)
        .join(' '),
    ),
    ...(finding.value === null ? [] : [valueWords(finding.value)]),
  ].join(', ');
  const severity =
    finding.severity === null
      ? 'severity not said'
      : severityWords(finding.severity, severityFrom(finding.severityBy));
  const settled = `${
    finding.settled === 'stands' ? '' : ` [${finding.settled.replaceAll('-', ' ')}]`
  }${finding.cleared === undefined ? '' : ` [said to have been cleared by maintenance: “${finding.cleared}”]`}`;
  const lines = [`  ! ${where}: ${what} — ${severity}${settled}`, `      “${finding.words}”`];
  lines.push(...reviewLines(finding));
  const pictures = pictureCount(finding.pictures);
  if (pictures !== null) lines.push(`      ${pictures}`);
  if (finding.suggests !== null) lines.push(`      suggests: ${finding.suggests}`);
  const cautions = finding.conditions.flatMap((c) => names.cautions.get(c.sign ?? '') ?? []);
  lines.push(...[...new Set(cautions)].map((caution) => `      ${caution}`));
  if (options.why) {
    lines.push(...finding.reasons.map((r) => `      ${r.rule}: ${r.text}${eventsOf(r)}`));
  }
  return lines;
}

/** "24 psi, limits 26 to 31 psi"; a step of a gauge as it was said. */
export function valueWords(value: NonNullable<Finding['value']>): string {
  return `${eachFigures(value)}, ${limitWritten(value.limit)}`;
}

/** Checks by id, and what signs are called, those of the checks included. */
export function checkNames(catalogue: Catalogue): Names {
  const checks = catalogue.stations.flatMap((s) => s.checks.map((c) => [c.id, c] as const));
  const own = checks.flatMap(([, c]) => c.signs.filter((sign) => typeof sign !== 'string'));
  const signs = [...catalogue.signs, ...own];
  return {
    checks: new Map(checks),
    signs: new Map(signs.map((s) => [s.id, s.name])),
    cautions: new Map(signs.flatMap((s) => (s.caution === undefined ? [] : [[s.id, s.caution]]))),
  };
}

/** The events behind a reason; nothing where it rests on none. */
function eventsOf({ events }: { readonly events: readonly string[] }): string {
  return events.length === 0 ? '' : ` [${events.join(', ')}]`;
}

/** One check in one line, with the words that its standing rests on. */
export function claimWords(c: CheckCoverage, names: Names): string {
  const check = names.checks.get(c.check);
  const said = [...toldLines(c), ...otherWords(c).map((words) => `“${words}”`)];
  const words = said.length === 0 ? (c.touched === true ? ['by touch'] : ['not spoken of']) : said;
  const measured = measuredWords(c, check);
  return [
    `${check?.name ?? c.check}: ${STANDING_WORDS[c.standing]}`,
    becauseWords(c),
    measured === null ? null : `measured: ${measured}`,
    ...words,
  ]
    .filter((part) => part !== null)
    .join('. ');
}
