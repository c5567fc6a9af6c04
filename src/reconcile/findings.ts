import { ONCE, type Catalogue, type Check } from '#shared/catalogue';
import type { Finding, Reason } from '#shared/coverage';
import { outsideOf } from '#shared/abnormal';
import { isHappening, signOf } from '#shared/sign';
import type { Observation } from '#shared/statement';
import type { Spot } from './atlas.ts';
import {
  chainOf,
  clearanceOf,
  isCarriedOn,
  isLive,
  lastMark,
  observationIn,
  wordsOf,
  type Entry,
  type Records,
} from './ledger.ts';
import { foundValue } from './found-value.ts';
import { severityOf, type Assertion, type Group } from './rated.ts';
import type { Reading } from './reading.ts';
import type { Tally } from './tally.ts';
import { bare, quoted } from './words.ts';

/** A check that a finding demands, and why (a follow-up). */
export interface Demand {
  readonly target: string;
  readonly finding: string;
  readonly because: string;
}

export interface Found {
  readonly findings: readonly Finding[];
  readonly demands: readonly Demand[];
}

export const NOTHING_FOUND: Found = { findings: [], demands: [] };

/** Findings at one check, oldest first. None is ever dropped (R4); one that no longer counts is shown as taken back (R6). */
export function findingsAt(
  catalogue: Catalogue,
  records: Records,
  tally: Tally,
  ledger: readonly Entry[],
): Found {
  if (!ledger.some((e) => e.finding)) return NOTHING_FOUND;
  const { spot } = tally;
  const live = tally.readings.filter((r) => r.abnormal).flatMap(assertionOf);
  const contradicted = new Set(tally.contradictions.map((c) => c.bad.entry.id));
  const found = merged(live).map((group) =>
    findingOf(catalogue, records, spot, group, {
      settled: group.some((a) => contradicted.has(a.entry.id)) ? 'in-question' : 'stands',
    }),
  );
  const named = ledger.filter(
    (e) => e.said.kind === 'observation' && e.said.about.kind === 'check',
  );
  const gone = takenBack(records, named).map((assertion) =>
    findingOf(catalogue, records, spot, [assertion], { settled: 'taken-back' }),
  );
  return inOrder([...found, ...gone]);
}

/** Findings without a check, oldest first (R4). */
export function findingsNowhere(
  catalogue: Catalogue,
  records: Records,
  ledger: readonly Entry[],
): Found {
  const here = ledger.filter((e) => e.finding && lastMark(records, e.id, 'placed') === null);
  const live = here
    .filter((e) => isLive(records, e.id))
    .flatMap((entry): Assertion[] => {
      const said = observationIn(entry);
      return said === null ? [] : [{ entry, said, at: [] }];
    });
  const found = live.map((assertion) =>
    findingOf(catalogue, records, null, [assertion], { settled: 'stands' }),
  );
  const gone = takenBack(records, here).map((assertion) =>
    findingOf(catalogue, records, null, [assertion], { settled: 'taken-back' }),
  );
  return inOrder([...found, ...gone]);
}

function inOrder(made: readonly (Found & { order: number })[]): Found {
  const sorted = [...made].sort((a, b) => a.order - b.order);
  return {
    findings: sorted.flatMap((f) => f.findings),
    demands: sorted.flatMap((f) => f.demands),
  };
}

function assertionOf(reading: Reading): Assertion[] {
  const said = observationIn(reading.entry);
  if (said === null) return [];
  // Of a row of values only those that are out of limits are the fault.
  if (reading.faultAt !== undefined) return [{ entry: reading.entry, said, at: reading.faultAt }];
  // "One more" of left and right is a guess at the side; of numbered places it is a count.
  const which = said.about.kind === 'check' ? said.about.which : null;
  const guessed = which?.how === 'one' && which.instances.length === 0 && reading.at.length > 0;
  const counted = reading.at.every((i) => i === ONCE || /^\d+$/.test(i));
  const at = reading.entry.placed === undefined && guessed && !counted ? [] : reading.at;
  return [{ entry: reading.entry, said, at }];
}

/** Faults that were corrected away or taken back, and that no correction carries on. */
function takenBack(records: Records, ledger: readonly Entry[]): readonly Assertion[] {
  return ledger.flatMap((entry) => {
    if (!entry.finding || entry.placed !== undefined || entry.review !== undefined) return [];
    if (isLive(records, entry.id) || isCarriedOn(records, entry.id)) return [];
    const said = observationIn(entry);
    return said === null ? [] : [{ entry, said, at: [] }];
  });
}

/** The same fault said twice is one finding. */
function merged(assertions: readonly Assertion[]): readonly Group[] {
  const groups: Group[] = [];
  for (const assertion of assertions) {
    const known = groups.find((g) => g.some((a) => isSame(a, assertion)));
    if (known === undefined) groups.push([assertion]);
    else known.push(assertion);
  }
  return groups;
}

function isSame(a: Assertion, b: Assertion): boolean {
  const apart = a.at.length > 0 && b.at.length > 0 && !a.at.some((i) => b.at.includes(i));
  if (apart) return false;
  const left = a.said.conditions.filter((c) => c.present);
  const right = b.said.conditions.filter((c) => c.present);
  if (left.length === 0 && right.length === 0) {
    // Two values of one measure, or two bare verdicts.
    return a.said.values.length === 0 || b.said.values.length === 0 || sameMeasure(a.said, b.said);
  }
  if (left.length === 0 || right.length === 0) {
    const bare = left.length === 0 ? a.said : b.said;
    return bare.values.length === 0;
  }
  return left.some((l) =>
    right.some(
      (r) =>
        l.condition === r.condition &&
        (l.place === null || r.place === null || l.place === r.place),
    ),
  );
}

function sameMeasure(a: Observation, b: Observation): boolean {
  return a.values.some((v) => b.values.some((w) => v.measure === w.measure));
}

function findingOf(
  catalogue: Catalogue,
  records: Records,
  spot: Spot | null,
  group: Group,
  { settled }: Pick<Finding, 'settled'>,
): Found & { order: number } {
  const check = spot?.check ?? null;
  const entries = uniqueEntries(group.flatMap((a) => chainOf(records, a.entry)));
  const first = entries[0] ?? group[0].entry;
  const outside = group.flatMap((a) => outsideOf(catalogue, check, a.said)).at(-1) ?? null;
  const rated = severityOf(catalogue, records, check, group, entries);
  const signs = group.flatMap((a) =>
    a.said.conditions.flatMap((c) => {
      const sign = c.present ? signOf(catalogue, check, c) : null;
      return sign === null ? [] : [{ sign, words: wordsOf(a.entry) }];
    }),
  );
  const followUps = [
    ...signs.flatMap(({ sign, words }) =>
      sign.followUps.map((target) => ({ target, name: sign.name, words })),
    ),
    ...(outside?.measure.followUps ?? []).map((target) => ({
      target,
      name: `${outside?.measure.name ?? ''} outside its limit`,
      words: wordsOf(group[0].entry),
    })),
  ];
  const cleared =
    entries.map((e) => clearanceOf(records, e.id)).findLast((e) => e !== null) ?? null;
  const happened =
    spot === null &&
    isHappening(
      catalogue,
      group.flatMap((a) => a.said.conditions.filter((c) => c.present)),
    );
  const cautions = [...new Set(signs.flatMap(({ sign }) => sign.caution ?? []))];
  const finding: Finding = {
    id: first.id,
    statements: entries.map((e) => e.id),
    events: entries.flatMap((e) => [e.event, ...(e.placed === undefined ? [] : [e.placed.event])]),
    check: check?.id ?? null,
    instances: spot === null || isOnce(spot) ? [] : [...new Set(group.flatMap((a) => a.at))],
    part: spot === null ? partOf(group[0]) : null,
    conditions: conditionsOf(catalogue, check, group),
    value: foundValue(
      catalogue,
      check,
      group.map((a) => a.said),
    ),
    severity: rated.severity,
    severityBy: rated.by,
    ...(rated.on === undefined ? {} : { ratedOn: rated.on }),
    suggests:
      signs.find(({ sign }) => sign.suggests !== undefined)?.sign.suggests ??
      outside?.measure.suggests ??
      null,
    words: entries.map(wordsOf).join(' … '),
    settled,
    ...(happened ? { happened } : {}),
    ...(cleared === null ? {} : { cleared: wordsOf(cleared) }),
    reasons: [
      ...reasonsOf(entries, spot, { outside: outside !== null, happened, cleared }, settled),
      ...rated.reasons,
      ...cautions.map((text) => ({
        rule: 'R4' as const,
        text,
        events: [first.event],
        words: null,
      })),
    ],
  };
  return {
    order: first.order,
    findings: [finding],
    demands:
      settled === 'taken-back' || cleared !== null
        ? []
        : followUps.map(({ target, name, words }) => ({
            target,
            finding: first.id,
            because: `${name}: ${quoted(words)}. Maintenance decides what it means.`,
          })),
  };
}

function isOnce(spot: Spot): boolean {
  return spot.instances.length === 1 && spot.instances[0] === ONCE;
}

function uniqueEntries(entries: readonly Entry[]): readonly Entry[] {
  const byId = new Map(entries.map((e) => [e.id, e]));
  return [...byId.values()].sort((a, b) => a.order - b.order);
}

function partOf({ entry, said }: Assertion): string {
  const about = said.about;
  if (about.kind === 'unplaced') return bare(about.part);
  if (about.kind === 'station') return about.station;
  return entry.said.kind === 'two-candidates' ? wordsOf(entry) : about.check;
}

/** Conditions of all assertions, the same one once, with the fullest detail said later. */
function conditionsOf(
  catalogue: Catalogue,
  check: Check | null,
  group: Group,
): Finding['conditions'] {
  const made: Finding['conditions'] = [];
  for (const { said } of group) {
    for (const c of said.conditions.filter((c) => c.present)) {
      const known = made.find((m) => m.condition === c.condition);
      if (known === undefined) {
        made.push({
          condition: c.condition,
          sign: signOf(catalogue, check, c)?.id ?? c.sign,
          degree: c.degree,
          extent: c.extent,
          place: c.place,
          ...(typeof c.size === 'string' ? { size: c.size } : {}),
        });
      } else {
        known.degree = c.degree ?? known.degree;
        known.extent = c.extent ?? known.extent;
        known.place = c.place ?? known.place;
        if (typeof c.size === 'string') known.size = c.size;
      }
    }
  }
  return made;
}

function reasonsOf(
  entries: readonly Entry[],
  spot: Spot | null,
  how: { outside: boolean; happened: boolean; cleared: Entry | null },
  settled: Finding['settled'],
): readonly Reason[] {
  const events = entries.map((e) => e.event);
  const words = entries.map(wordsOf).join(' … ');
  const reasons: Reason[] = [
    how.outside
      ? { rule: 'R8', text: 'The value lies outside its limit.', events, words }
      : { rule: 'R3', text: 'It was said to be there.', events, words },
  ];
  if (how.cleared !== null)
    reasons.push({
      rule: 'R6',
      text: 'Maintenance was said to have cleared it; what it demanded is demanded no more. Kept as said.',
      events: [how.cleared.event],
      words: wordsOf(how.cleared),
    });
  if (how.happened) {
    reasons.push({
      rule: 'R4',
      text: 'It happened to the aircraft and belongs to no check.',
      events,
      words: null,
    });
  } else if (spot === null) {
    reasons.push({
      rule: 'R4',
      text: 'Its check is not clear; it has to be placed before the walk can be signed.',
      events,
      words: null,
    });
  }
  if (settled === 'in-question') {
    reasons.push({
      rule: 'R6',
      text: 'It was called good later; it stands until that is settled.',
      events,
      words: null,
    });
  }
  if (settled === 'taken-back') {
    reasons.push({
      rule: 'R6',
      text: 'It was corrected or taken back; it stays on the sheet.',
      events,
      words: null,
    });
  }
  return reasons;
}
