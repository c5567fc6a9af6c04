import { Catalogue, instancesOf } from '#shared/catalogue';
import type { CheckCoverage, Coverage, Finding, OpenItem } from '#shared/coverage';
import type { Happening } from '#shared/event';
import type { Happened } from '#shared/happened';
import type { Question } from '#shared/question';
import type { CommandName, Observation, Statement } from '#shared/statement';

export const CATALOGUE = Catalogue.parse({
  v: 1,
  id: 'trial',
  name: 'Trial aircraft',
  kind: 'helicopter',
  cautions: ['Master switch off before you walk.'],
  stations: [
    {
      id: 'engine',
      name: 'Engine',
      place: { x: 50, y: 50 },
      checks: [
        {
          id: 'belts',
          name: 'Drive belts',
          aspects: ['condition', 'slack'],
          signs: [
            {
              id: 'slack-belt',
              name: 'Slack belt',
              conditions: ['slack'],
              severity: 'ground',
              followUps: ['guard'],
            },
          ],
        },
        {
          id: 'oil',
          name: 'Oil',
          measures: [{ id: 'level', name: 'Level', unit: '[qt_us]', low: 6 }],
        },
        { id: 'guard', name: 'Belt guard', required: 'follow-up' },
      ],
    },
    {
      id: 'tail',
      name: 'Tail boom',
      place: { x: 50, y: 90 },
      caution: 'Mind the tail rotor.',
      checks: [
        { id: 'rivets', name: 'Rivet line', repeat: 3 },
        {
          id: 'lines',
          name: 'Brake line',
          repeat: ['left', 'right'],
          caution: 'Hot brakes: approach from the front.',
        },
      ],
    },
  ],
});

export function coverage(
  parts: {
    standings?: Partial<Record<string, CheckCoverage['standing']>>;
    station?: string | null;
    findings?: Finding[];
    open?: string[];
    last?: string | null;
    followUps?: string[];
    rule?: 'R6';
  } = {},
): Coverage {
  const checks = CATALOGUE.stations.flatMap((s) =>
    s.checks.map((c): CheckCoverage => {
      const standing = parts.standings?.[c.id] ?? 'unspoken';
      return {
        check: c.id,
        station: s.id,
        standing,
        required: {
          today: c.required === 'always' || (parts.followUps ?? []).includes(c.id),
          by: (parts.followUps ?? []).includes(c.id)
            ? 'follow-up'
            : c.required === 'always'
              ? 'always'
              : 'not',
          circumstance: null,
          because: null,
        },
        missing: {
          aspects:
            standing === 'part'
              ? c.aspects.slice(1).map((a) => ({ instance: 'once', aspect: a.id }))
              : [],
          instances: standing === 'part' && c.repeat !== undefined ? [...instancesOf(c)] : [],
          measures: [],
          acts: [],
        },
        reasons:
          parts.rule === undefined
            ? []
            : [{ rule: parts.rule, text: 'x', events: [], words: null }],
        statements: standing === 'unspoken' ? [] : ['s'],
        reviewed: null,
      };
    }),
  );
  const open = checks
    .filter((c) => c.required.today && c.standing !== 'spoken')
    .map((c): OpenItem => {
      const check = CATALOGUE.stations.flatMap((s) => s.checks).find((k) => k.id === c.check);
      return {
        kind: 'unspoken',
        check: c.check,
        station: c.station,
        finding: null,
        question: null,
        text: `${check?.name ?? ''} not said`,
      };
    });
  return {
    v: 1,
    walk: 'w',
    catalogue: 'trial',
    edition: null,
    aircraft: 'a',
    finished: false,
    held: false,
    station: parts.station ?? null,
    lastCompleted: parts.last ?? null,
    circumstances: [],
    checks,
    findings: parts.findings ?? [],
    questions: [],
    open:
      parts.open === undefined
        ? open
        : parts.open.map((text) => ({
            kind: 'unspoken',
            check: null,
            station: null,
            finding: null,
            question: null,
            text,
          })),
    remarks: [],
    times: [],
    oddities: [],
    decision: null,
    signed: null,
  };
}

export function finding(parts: Partial<Finding> = {}): Finding {
  return {
    id: 'f',
    statements: ['f'],
    events: [],
    check: 'lines',
    instances: ['left'],
    part: null,
    conditions: [
      {
        condition: 'chafing',
        sign: null,
        degree: 'slight',
        extent: null,
        place: 'aft of the second bracket',
      },
    ],
    value: null,
    severity: 'ground',
    severityBy: 'said',
    suggests: null,
    words: 'left brake line chafed',
    settled: 'stands',
    reasons: [],
    ...parts,
  };
}

const span = { from: 0, to: 1, words: 'x' };
export function observation(parts: Partial<Observation> = {}): Observation {
  return {
    v: 1,
    kind: 'observation',
    id: 's',
    heard: 'h',
    span,
    why: [],
    force: 'result',
    about: { kind: 'check', check: 'belts', which: { how: 'all', instances: ['once'] }, span },
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
    ...parts,
  };
}
export function command(name: CommandName): Statement {
  return { v: 1, kind: 'command', id: 's', heard: 'h', span, why: [], command: name };
}
export function notUnderstood(chatter: boolean): Statement {
  return { v: 1, kind: 'not-understood', id: 's', heard: 'h', span, why: [], chatter };
}
export function question(
  text: string,
  kind: Question['kind'] = 'which-instance',
  id = 'q',
): Question {
  return { id, about: 's', kind, text, options: [] };
}

export function happened(
  statements: readonly Statement[],
  more: Partial<Happened> & { also?: readonly Happening[] } = {},
): Happened {
  const { also = [], ...rest } = more;
  return {
    events: also.map((what, i) => ({
      v: 1,
      id: `e${i}`,
      device: 'd',
      walk: 'w',
      aircraft: 'a',
      at: 0,
      t: 0,
      what,
      prev: null,
      hash: '',
    })),
    statements,
    question: null,
    asked: null,
    dropped: null,
    refused: null,
    ...rest,
  };
}
