import type { Catalogue, Check, Station } from '#shared/catalogue';
import { instancesOf, ONCE } from '#shared/catalogue';
import type { CheckCoverage, Coverage, Finding, Standing } from '#shared/coverage';
import { eachFigures, limitWritten } from '#shared/figures';
import type { Severity } from '#shared/severity';
import type { Text } from '../text/text.ts';

export { countOf } from '#shared/counts';
export { clock } from '#shared/length';

/** Names of a catalogue by id. */
export interface Names {
  readonly check: ReadonlyMap<string, Check>;
  readonly station: ReadonlyMap<string, Station>;
}

const kept = new WeakMap<Catalogue, Names>();

export function namesOf(catalogue: Catalogue): Names {
  const before = kept.get(catalogue);
  if (before !== undefined) return before;
  const names = {
    check: new Map(catalogue.stations.flatMap((s) => s.checks.map((c) => [c.id, c] as const))),
    station: new Map(catalogue.stations.map((s) => [s.id, s] as const)),
  };
  kept.set(catalogue, names);
  return names;
}

/** A check that counts today: required, or spoken of anyway. */
export function counts(c: CheckCoverage): boolean {
  return c.required.today || (c.standing !== 'unspoken' && c.standing !== 'skipped');
}

/** The checks of each station, in walking order. */
export function byStation(coverage: Coverage): ReadonlyMap<string, readonly CheckCoverage[]> {
  const found = new Map<string, CheckCoverage[]>();
  for (const c of coverage.checks) {
    const list = found.get(c.station);
    if (list === undefined) found.set(c.station, [c]);
    else list.push(c);
  }
  return found;
}

export function isOpen(standing: Standing): boolean {
  return standing !== 'spoken' && standing !== 'set-aside';
}

/** What is missing at a part-spoken check, in a few words: "slack; left". Empty when nothing is known. */
export function missingWords(c: CheckCoverage, check: Check | undefined): string {
  if (check === undefined) return '';
  const all = instancesOf(check);
  const parts: string[] = [];
  if (c.missing.instances.length > 0 && c.missing.instances.length < all.length) {
    parts.push(c.missing.instances.map((i) => (i === ONCE ? '' : i)).join(', '));
  }
  const aspects = new Set<string>();
  for (const m of c.missing.aspects) {
    if (!c.missing.instances.includes(m.instance) || all.length === c.missing.instances.length) {
      aspects.add(check.aspects.find((a) => a.id === m.aspect)?.name ?? m.aspect);
    }
  }
  const values = new Set(
    c.missing.measures.map(
      (m) => check.measures.find((x) => x.id === m.measure)?.name ?? m.measure,
    ),
  );
  return [...parts, ...aspects, ...values, ...c.missing.acts].filter((p) => p !== '').join(', ');
}

/** "drive belts (left): crack" as a heading for a finding. */
export function findingTitle(finding: Finding, names: Names, t: Text): string {
  const part =
    finding.check === null
      ? (finding.part ?? t('not-placed'))
      : (names.check.get(finding.check)?.name ?? finding.check);
  const places = finding.instances.filter((i) => i !== ONCE);
  return capital(places.length === 0 ? part : `${part} (${places.join(', ')})`);
}

/** What was found, in trade words: "crack, slight, two of six; 4 psi, limit 30". */
export function findingWhat(finding: Finding): string {
  const conditions = finding.conditions.map((c) =>
    [
      c.degree,
      c.condition.replace(/-/g, ' '),
      c.extent === null
        ? null
        : c.extent.of === null
          ? `${c.extent.count}`
          : `${c.extent.count} of ${c.extent.of}`,
      c.place,
      c.size ?? null,
    ]
      .filter((p) => p !== null)
      .join(', '),
  );
  if (finding.value !== null) {
    conditions.push(`${eachFigures(finding.value)}, ${limitWritten(finding.value.limit)}`);
  }
  return capital(conditions.join('; '));
}

const WORST_FIRST: readonly Finding['severity'][] = ['ground', null, 'defer', 'watch', 'note'];

/** What counts before what was taken back; then by gravity. Unrated comes after "ground it": it may still become that. */
export function worstFirst(findings: readonly Finding[]): readonly Finding[] {
  const rank = (f: Finding) =>
    (f.settled === 'taken-back' ? WORST_FIRST.length : 0) + WORST_FIRST.indexOf(f.severity);
  return [...findings].sort((a, b) => rank(a) - rank(b));
}

export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** 1 check, 2 checks. */
export function many(n: number, one: string, more = `${one}s`): string {
  return `${n} ${n === 1 ? one : more}`;
}

/** Milliseconds since 1970 as a date and time that sorts and cannot be misread. */
export function dateTime(at: number): string {
  const d = new Date(at);
  const two = (n: number) => String(n).padStart(2, '0');
  return `${d.getFullYear()}-${two(d.getMonth() + 1)}-${two(d.getDate())} ${two(d.getHours())}:${two(d.getMinutes())}`;
}

/** Which notice a severity gets: red needs action now, amber later, ink is for information. */
export function gravity(severity: Severity | null): 'warning' | 'caution' | 'plain' {
  if (severity === 'ground') return 'warning';
  if (severity === 'defer' || severity === null) return 'caution';
  return 'plain';
}
