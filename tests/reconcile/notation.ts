import { Catalogue, ONCE, type CatalogueInput } from '#shared/catalogue';
import type { Coverage, Finding } from '#shared/coverage';
import { STANDING_WORDS } from '#shared/coverage';
import type { Event, Happening } from '#shared/event';
import type { Heard } from '#shared/heard';
import type { Question } from '#shared/question';
import type { Severity } from '#shared/severity';
import type {
  Candidate,
  CommandName,
  ConditionSaid,
  Force,
  Observation,
  Span,
  Statement,
  ValueSaid,
  Verdict,
} from '#shared/statement';

/** Short notation for walks in tests: statements by hand, numbered as they come. */

export type Part = Partial<Observation>;

const span = (words: string): Span => ({ from: 0, to: words.split(' ').length, words });
const common = { v: 1 as const, id: '', heard: '', why: [] };

export function good(...aspects: string[]): Part {
  return { verdict: verdict(true, aspects) };
}
export function bad(...aspects: string[]): Part {
  return { verdict: verdict(false, aspects) };
}
/** "checked": the act, not the result. */
export const checked: Part = { verdict: { ...verdict(true, []), actOnly: true } };

function verdict(isGood: boolean, aspects: string[]): Verdict {
  return { good: isGood, aspects, actOnly: false, span: span(isGood ? 'good' : 'bad') };
}

export function has(condition: string, more: Partial<ConditionSaid> = {}): Part {
  return { conditions: [conditionSaid(condition, true, more)] };
}
export function no(condition: string, ...aspects: string[]): Part {
  return { conditions: [conditionSaid(condition, false, { aspects })] };
}
function conditionSaid(
  condition: string,
  present: boolean,
  more: Partial<ConditionSaid>,
): ConditionSaid {
  return {
    condition,
    sign: null,
    aspects: [],
    present,
    degree: null,
    extent: null,
    place: null,
    span: span(condition),
    ...more,
  };
}

/** A value in the unit of its measure. */
export function value(measure: string | null, amount: number, more: Partial<ValueSaid> = {}): Part {
  return {
    values: [
      {
        measure,
        low: amount,
        high: amount,
        unit: '[qt_us]',
        inUnit: { low: amount, high: amount, unit: '[qt_us]' },
        step: null,
        approximate: false,
        trouble: null,
        span: span(`${amount} quarts`),
        ...more,
      },
    ],
  };
}
export const withoutUnit = (measure: string | null, amount: number): Part =>
  value(measure, amount, {
    unit: null,
    inUnit: null,
    trouble: 'no-unit',
    span: span(String(amount)),
  });
export const onGauge = (measure: string, index: number, name: string): Part =>
  value(measure, index, {
    unit: null,
    inUnit: null,
    step: { gauge: 'finger', index, name },
    span: span(name),
  });

export const left: Part = named('left');
export const right: Part = named('right');
export const all: Part = which('all', []);
export const plural: Part = which('plural', []);
/** The plural as a reading gives it that lists the places it may mean. */
export const listedPlural = (...instances: string[]): Part => which('plural', instances);
export const oneMore: Part = which('one', []);
export function named(...instances: string[]): Part {
  return which('named', instances);
}
function which(how: 'named' | 'all' | 'plural' | 'one', instances: string[]): Part {
  return { about: { kind: 'check', check: '', which: { how, instances }, span: null } };
}

export const force = (f: Force): Part => ({ force: f });
export const rated = (severity: Severity): Part => ({ severity });
export const doubtful: Part = { doubtful: 'it may mean either' };
/** The reader is not sure that it was said: it waits to be asked about with others. */
export const perhaps: Part = { doubtful: 'it may have been said to be good', waits: true };
export const acts = (...made: Observation['acts']): Part => ({ acts: made });
/** Amends the statement of that number (1 is the first). */
export const amends = (number: number): Part => ({ amends: s(number) });
export const except = (...checks: string[]): Part => ({
  about: { kind: 'station', station: '', except: checks, span: null },
});

/** Id of the statement with a number in its walk, from 1. */
export const s = (number: number) => `s${String(number).padStart(4, '0')}`;

/** One statement, without its number yet. */
export type Line = Statement | Happening | { heard: Heard };

function observation(about: Observation['about'], parts: Part[], words?: string): Observation {
  const made: Observation = {
    ...common,
    kind: 'observation',
    force: 'result',
    about,
    candidates: [],
    verdict: null,
    conditions: [],
    values: [],
    acts: [],
    severity: null,
    amends: null,
    answers: null,
    compared: null,
    squawk: false,
    doubtful: null,
    span: span(words ?? ''),
  };
  for (const part of parts) {
    const { about: aboutPart, conditions, values, ...rest } = part;
    Object.assign(made, rest);
    if (conditions !== undefined) made.conditions = [...made.conditions, ...conditions];
    if (values !== undefined) made.values = [...made.values, ...values];
    if (aboutPart?.kind === 'check' && made.about.kind === 'check') {
      made.about = { ...made.about, which: aboutPart.which };
    }
    if (aboutPart?.kind === 'station' && made.about.kind === 'station') {
      made.about = { ...made.about, except: aboutPart.except };
    }
  }
  if (words === undefined) {
    const name =
      about.kind === 'check' ? about.check : about.kind === 'station' ? about.station : about.part;
    made.span = span(
      [
        name,
        made.verdict === null ? '' : made.verdict.actOnly ? 'checked' : made.verdict.span.words,
        ...made.conditions.map((c) => `${c.present ? '' : 'no '}${c.condition}`),
        ...made.values.map((v) => v.span.words),
      ]
        .filter((w) => w !== '')
        .join(' '),
    );
  }
  return made;
}

/** A result about a check: said('belts', good('condition'), left). */
export function said(check: string, ...parts: Part[]): Statement {
  const which = { how: 'all' as const, instances: [ONCE] };
  return observation({ kind: 'check', check, which, span: null }, parts);
}
export function blanket(station: string, ...parts: Part[]): Statement {
  return observation({ kind: 'station', station, except: [], span: null }, parts);
}
export function unplaced(part: string, ...parts: Part[]): Statement {
  return observation({ kind: 'unplaced', part, span: null }, parts);
}
export function nearTie(checks: string[], ...parts: Part[]): Statement {
  const candidates: Candidate[] = checks.map((check) => ({
    check,
    instances: [],
    score: 0.5,
    how: 'sounds alike',
  }));
  const first = said(checks[0] ?? '', ...parts) as Observation;
  return { ...common, kind: 'two-candidates', candidates, said: first, span: first.span };
}
export function takeBack(number: number): Statement {
  return { ...common, kind: 'retraction', of: s(number), span: span('take that back') };
}
export function rate(severity: Severity, of: number | null = null): Statement {
  return {
    ...common,
    kind: 'rating',
    severity,
    of: of === null ? null : s(of),
    span: span(`${severity} it`),
  };
}
export function setAside(check: string, reason: string, instances: string[] = []): Statement {
  return { ...common, kind: 'set-aside', check, instances, reason, span: span(`skip ${check}`) };
}
export function notUnderstood(words: string, chatter = false): Statement {
  return { ...common, kind: 'not-understood', chatter, span: span(words) };
}
export function command(name: CommandName): Statement {
  return { ...common, kind: 'command', command: name, span: span(name) };
}
export function arrive(station: string): Statement {
  return { ...common, kind: 'arrival', station, span: span(`now the ${station}`) };
}

export const finish: Happening = { kind: 'finished', open: [] };
export const holdOn: Happening = { kind: 'held', why: 'said' };
export const goOn: Happening = { kind: 'resumed' };
export const ask = (question: Partial<Question> & { about: string }): Happening => ({
  kind: 'asked',
  question: { id: `q/${question.about}`, kind: 'which-check', text: '?', options: [], ...question },
});
export function place(number: number, check: string, ...instances: string[]): Happening {
  return { kind: 'finding-placed', statement: s(number), check, instances, by: 'a hand' };
}
type Begun = Extract<Happening, { kind: 'walk-begun' }>;
export function begun(more: Partial<Begun> = {}): Begun {
  return {
    kind: 'walk-begun',
    aircraft: 'DEMO-1',
    catalogue: 'test',
    edition: 'e1',
    circumstances: [],
    pilot: null,
    instructor: null,
    hours: null,
    listening: 'typed',
    squawks: [],
    ...more,
  };
}

const STATEMENTS: ReadonlySet<string> = new Set([
  'observation',
  'command',
  'rating',
  'retraction',
  'set-aside',
  'circumstance',
  'arrival',
  'two-candidates',
  'not-understood',
]);

export function heardAt(from: number, to: number, text = 'words', by: Heard['by'] = 'transcript') {
  const heard: Heard = {
    v: 1,
    id: `h${from}`,
    by,
    text,
    words: [],
    alternatives: [],
    from,
    to,
    confidence: null,
    sound: null,
    speaker: null,
    sentAway: false,
  };
  return { heard };
}

/** Events of a walk from lines of notation, one second apart or at the times of what was heard. */
export function walk(...lines: Line[]): Event[] {
  let statements = 0;
  let t = 0;
  return lines.map((line, i): Event => {
    let what: Happening;
    if (!('kind' in line)) {
      what = { kind: 'heard', heard: line.heard };
      t = line.heard.to ?? t;
    } else if (STATEMENTS.has(line.kind)) {
      statements += 1;
      const statement = { ...line, id: s(statements), heard: `h${i}` } as Statement;
      if (statement.kind === 'two-candidates') {
        statement.said = { ...statement.said, id: statement.id };
      }
      what = { kind: 'stated', statement };
    } else {
      what = line as Happening;
    }
    if (!lines.some((l) => !('kind' in l))) t = i;
    return event(i, t, what);
  });
}

export function event(number: number, t: number | null, what: Happening): Event {
  return {
    v: 1,
    id: `e${String(number).padStart(6, '0')}`,
    device: 'd',
    walk: 'w',
    aircraft: 'DEMO-1',
    at: 1_700_000_000_000 + (t ?? number) * 1000,
    t,
    what,
    prev: null,
    hash: '',
  };
}

/** How a check stands, in one line: "part spoken (slack)". */
export function standing(coverage: Coverage, check: string): string {
  const found = coverage.checks.find((c) => c.check === check);
  if (found === undefined) return 'no such check';
  const lacking =
    found.standing === 'part'
      ? [
          ...found.missing.instances,
          ...found.missing.aspects.map((a) =>
            a.instance === ONCE ? a.aspect : `${a.instance} ${a.aspect}`,
          ),
          ...found.missing.measures.map((m) =>
            m.instance === ONCE ? m.measure : `${m.instance} ${m.measure}`,
          ),
          ...found.missing.acts,
        ]
      : [];
  const words = STANDING_WORDS[found.standing];
  return lacking.length === 0 ? words : `${words} (${lacking.join(', ')} unspoken)`;
}

/** Findings in one line each: "skid left: crack, ground, stands". */
export function findings(coverage: Coverage): string[] {
  return coverage.findings.map((f) => findingText(f));
}
function findingText(f: Finding): string {
  const where = [f.check ?? `unplaced ${f.part ?? ''}`.trim(), ...f.instances].join(' ');
  const what = [
    ...f.conditions.map((c) => c.condition),
    ...(f.value === null ? [] : [`${f.value.said} (${f.value.limit})`]),
  ];
  return `${where}: ${[...(what.length === 0 ? ['fault'] : what), f.severity ?? 'unrated', f.settled].join(', ')}`;
}

export function rulesOf(coverage: Coverage, check: string): string[] {
  return coverage.checks.find((c) => c.check === check)?.reasons.map((r) => r.rule) ?? [];
}

export function catalogue(input: Partial<CatalogueInput>): Catalogue {
  return Catalogue.parse({
    v: 1,
    id: 'test',
    name: 'Test aircraft',
    kind: 'other',
    stations: [],
    ...input,
  });
}

/** A small aircraft that has one check of each sort. */
export const AIRCRAFT = catalogue({
  gauges: [
    {
      id: 'finger',
      name: 'Finger',
      steps: ['fingertip', 'first knuckle', 'second knuckle', 'past the second knuckle'],
    },
  ],
  signs: [
    {
      id: 'hard-landing',
      name: 'Hard landing',
      conditions: ['wrinkle'],
      severity: 'ground',
      suggests: 'It may have landed hard.',
      followUps: ['cross-tubes', 'mast-mount'],
      caution: 'Not to fly before maintenance has decided.',
      anywhere: true,
    },
    {
      id: 'tail-strike',
      name: 'Tail strike',
      conditions: ['scrape'],
      severity: 'ground',
      followUps: ['tail-drive'],
    },
    { id: 'cracked', name: 'Crack', conditions: ['crack'], severity: 'ground' },
  ],
  stations: [
    {
      id: 'engine',
      name: 'Engine',
      place: { x: 50, y: 40 },
      checks: [
        {
          id: 'belts',
          name: 'Drive belts',
          aspects: ['condition', 'slack'],
          acts: ['look', 'feel'],
          signs: ['cracked'],
        },
        {
          id: 'oil',
          name: 'Oil',
          acts: ['look', 'measure'],
          measures: [
            {
              id: 'level',
              name: 'Level',
              unit: '[qt_us]',
              low: 6,
              high: 8,
              followUps: ['oil-lines'],
            },
          ],
        },
        { id: 'oil-lines', name: 'Oil lines', required: 'follow-up' },
        {
          id: 'clutch-belt',
          name: 'Clutch belt',
          measures: [{ id: 'give', name: 'Give', gauge: 'finger', atMost: 'second knuckle' }],
        },
        { id: 'fan', name: 'Fan', signs: ['cracked'] },
      ],
    },
    {
      id: 'boom',
      name: 'Tail boom',
      place: { x: 50, y: 80 },
      checks: [
        { id: 'skin', name: 'Skin', blanket: true, signs: ['hard-landing', 'cracked'] },
        { id: 'antenna', name: 'Antenna', blanket: true, optional: true, acts: ['look', 'move'] },
        { id: 'covers', name: 'Inspection covers', blanket: true, repeat: 4 },
        { id: 'skid', name: 'Tail skid', signs: ['tail-strike', 'hard-landing'] },
        { id: 'tail-drive', name: 'Tail rotor drive', required: 'follow-up' },
      ],
    },
    {
      id: 'gear',
      name: 'Landing gear',
      place: { x: 50, y: 50 },
      checks: [
        {
          id: 'brake-line',
          name: 'Brake line',
          repeat: ['left', 'right'],
          signs: [{ id: 'chafed', name: 'Chafing', conditions: ['chafing'] }],
        },
        { id: 'tyre', name: 'Tyre', repeat: { of: ['left', 'right'], plural: true } },
        { id: 'rivets', name: 'Rivet line', repeat: 3 },
        { id: 'cross-tubes', name: 'Cross tubes', blanket: true },
        { id: 'mast-mount', name: 'Mast mount', required: 'follow-up', blanket: true },
        { id: 'lights', name: 'Position lights', required: ['night'] },
        { id: 'ice', name: 'Ice', required: ['cold', 'first-flight'] },
      ],
    },
  ],
});
