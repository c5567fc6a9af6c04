import { limitText, outsideOf, worstOf, type Outside } from '#shared/abnormal';
import type { Catalogue, Check } from '#shared/catalogue';
import { instancesOf, ONCE } from '#shared/catalogue';
import type { Happening } from '#shared/event';
import type { Coverage, Finding } from '#shared/coverage';
import type { Heard, SoundPlace } from '#shared/heard';
import { carriedMeant, type CarriedSquawk } from './carried.ts';
import { placeOf } from '#shared/names';
import { severityFrom, worse, type Severity } from '#shared/severity';
import { proposedSeverity } from '#shared/sign';
import type { Fault, SquawkStep } from '#shared/squawk';
import type { Observation, Statement } from '#shared/statement';

/** What a squawk needs to know of where it was said. */
export interface Told {
  readonly aircraft: string;
  readonly catalogue: Catalogue;
  readonly reporter: string | null;
  readonly found: string | null;
  readonly hours: number | null;
  /** Open squawks carried into the walk. */
  readonly carried: readonly CarriedSquawk[];
}

type SquawkHappening = Extract<Happening, { kind: 'squawk' }>;

/** Words that say on which side or at which end something is. */
const SIDES =
  /^(left|right|upper|lower|forward|aft|inboard|outboard|front|rear|top|bottom|port|starboard)\b/i;

/**
 * The squawk steps that one statement demands: a dictated squawk is opened, a
 * carried one that was compared is rechecked, and amended where it has grown.
 */
export function squawkSteps(
  statement: Statement,
  heard: Heard,
  told: Told,
): readonly SquawkHappening[] {
  if (statement.kind !== 'observation' || statement.force !== 'result') return [];
  if (statement.squawk) return [openedBy(statement, heard, told)];
  const carried = carriedMeant(statement, told.carried);
  return carried === null ? [] : comparedSteps(statement, told, carried.squawk);
}

function comparedSteps(said: Observation, told: Told, squawk: string): readonly SquawkHappening[] {
  const outcome = {
    same: 'still-there',
    better: 'still-there',
    worse: 'worse',
    gone: 'gone',
  } as const;
  const compared = said.compared;
  if (compared === null) return [];
  const recheck = step(squawk, {
    step: 'rechecked',
    by: told.reporter,
    statement: said.id,
    outcome: outcome[compared],
  });
  if (compared === 'gone') return [recheck];
  return [
    recheck,
    step(squawk, {
      step: 'amended',
      fault: faultOf(said, said.span.words, told.catalogue),
      statement: said.id,
      compared,
      by: told.reporter,
    }),
  ];
}

/** A squawk keeps the id of the statement that first told of it, so that it is never opened twice. */
function openedBy(said: Observation, heard: Heard, told: Told): SquawkHappening {
  return step(said.id, {
    step: 'opened',
    aircraft: told.aircraft,
    fault: faultOf(said, heard.text, told.catalogue),
    statement: said.id,
    heard: heard.id,
    sound: heard.sound,
    reporter: told.reporter,
    found: told.found,
    hours: told.hours,
    legacy: false,
  });
}

/**
 * A squawk that was dictated by itself: what can be told of its words is told,
 * the words are kept as said, and it is filed whatever could be made of them (R4).
 *
 * @param part which of the things that were said, from 0
 * @param catalogue id of the catalogue it was read with; null for none
 */
export function openedAsSaid(
  heard: Heard,
  told: Omit<Told, 'catalogue' | 'carried'>,
  fault: Fault,
  part = 0,
  catalogue: string | null = null,
): SquawkHappening {
  return step(`${heard.id}.${String(part)}`, {
    step: 'opened',
    aircraft: told.aircraft,
    fault,
    statement: null,
    heard: heard.id,
    sound: heard.sound,
    reporter: told.reporter,
    found: told.found,
    hours: told.hours,
    catalogue,
    legacy: false,
  });
}

/**
 * The findings of a finished walk, written up: each that stands and is not
 * written up yet, and that no carried squawk already tells of. `sounds`: where
 * the sound of each utterance is kept, by its id.
 */
export function writtenUp(
  coverage: Coverage,
  statements: ReadonlyMap<string, Observation>,
  known: ReadonlySet<string>,
  told: Told,
  sounds: ReadonlyMap<string, SoundPlace | null> = new Map(),
): readonly SquawkHappening[] {
  const carried = new Set(told.carried.map((c) => c.check));
  return coverage.findings
    .filter((f) => f.settled !== 'taken-back' && !f.statements.some((id) => known.has(id)))
    .filter((f) => f.check === null || !carried.has(f.check) || isNew(f, statements))
    .flatMap((finding) => {
      const said = statements.get(finding.id);
      return said === undefined ? [] : [fromFinding(finding, said, told, sounds)];
    });
}

/** At a check with a carried squawk a finding is another fault only when nobody compared it. */
function isNew(finding: Finding, statements: ReadonlyMap<string, Observation>): boolean {
  return finding.statements.every((id) => statements.get(id)?.compared === null);
}

function fromFinding(
  finding: Finding,
  said: Observation,
  told: Told,
  sounds: ReadonlyMap<string, SoundPlace | null>,
): SquawkHappening {
  return step(finding.id, {
    step: 'opened',
    aircraft: told.aircraft,
    fault: {
      ...faultOf(said, finding.words, told.catalogue),
      severity: finding.severity,
      ...severityBy(finding.severity === null ? null : severityFrom(finding.severityBy)),
    },
    statement: finding.id,
    heard: said.heard,
    sound: sounds.get(said.heard) ?? null,
    reporter: told.reporter,
    found: told.found,
    hours: told.hours,
    legacy: false,
  });
}

function step(squawk: string, what: SquawkStep): SquawkHappening {
  return { kind: 'squawk', squawk, step: what };
}

/** What is wrong, from one observation. Holds nothing that was not said, but for the catalogue's names. */
export function faultOf(said: Observation, words: string, catalogue: Catalogue): Fault {
  const about = said.about;
  const place = about.kind === 'check' ? placeOf(catalogue, about.check) : null;
  const check = place?.check ?? null;
  const named =
    about.kind === 'check' && about.which.how === 'named'
      ? about.which.instances.filter((i) => i !== ONCE)
      : [];
  const all = check === null ? [] : instancesOf(check);
  const outside = outsideOf(catalogue, check, said);
  // Of a row of values the fault is where one is out of limits, and nowhere else.
  const rowed = outside.flatMap((o) => o.at ?? []);
  const told = rowed.length > 0 && !said.conditions.some((c) => c.present) ? rowed : named;
  const where = told.length > 0 && told.length < Math.max(all.length, 2) ? told : [];
  const sides = where.filter((i) => SIDES.test(i));
  const others = where.filter((i) => !SIDES.test(i));
  return {
    words,
    check: check?.id ?? null,
    part: check?.name ?? (about.kind === 'unplaced' ? partSaid(about.part, said) : null),
    side: sides.length > 0 ? sides.join(' and ') : sideIn(check?.name ?? ''),
    position:
      [...others, ...said.conditions.flatMap((c) => [c.place ?? [], c.size ?? []].flat())].join(
        ', ',
      ) || null,
    conditions: said.conditions
      .filter((c) => c.present)
      .map(({ condition, sign, degree, extent, span }) => ({
        condition,
        sign,
        degree,
        extent,
        words: span.words,
      })),
    value: valueOf(said, check, outside, worstOf(catalogue, outside)),
    ...severityOf(said, proposedSeverity(catalogue, check, said)),
  };
}

/** The value that is out of limits, of a row the worst with the others beside it; otherwise the first that was said. */
function valueOf(
  said: Observation,
  check: Check | null,
  outside: readonly Outside[],
  worst: Outside | null,
): Fault['value'] {
  const value = worst?.value ?? said.values[0];
  if (value === undefined) return null;
  const measure = worst?.measure ?? check?.measures.find((m) => m.id === value.measure) ?? null;
  const each = outside.filter((o) => o.at !== undefined && o.measure === measure);
  return {
    measure: measure?.name ?? null,
    said: value.span.words,
    inUnit: value.inUnit?.low ?? null,
    unit: value.inUnit?.unit ?? value.unit,
    limit: measure === null ? null : limitText(measure),
    ...(each.length === 0
      ? {}
      : {
          each: each.map((o) => ({
            instance: o.at?.[0] ?? null,
            said: o.value.span.words,
            inUnit: o.value.inUnit?.low ?? null,
          })),
        }),
  };
}

/** What the reporter said stands before what is proposed, and of that the worse. */
function severityOf({ severity, usual }: Observation, catalogue: Severity | null) {
  const proposed = worse(catalogue, usual?.severity ?? null);
  const by = catalogue === proposed ? 'catalogue' : 'before';
  return {
    severity: severity ?? proposed,
    ...severityBy(severity !== null ? 'said' : proposed !== null ? by : null),
  };
}

function severityBy(by: NonNullable<Fault['severityBy']> | null): Pick<Fault, 'severityBy'> {
  return by === null ? {} : { severityBy: by };
}

/** The words of a part without "squawk" before them; null when they are the condition and name no part. */
function partSaid(words: string, said: Observation): string | null {
  const part = words.replace(/^squawk\b[\s,:]*/i, '').trim();
  const isCondition = said.conditions.some(
    (c) => c.span.words.toLowerCase() === part.toLowerCase(),
  );
  return part === '' || isCondition ? null : part;
}

function sideIn(name: string): string | null {
  return /\b(left|right)\b/i.exec(name)?.[1]?.toLowerCase() ?? null;
}
