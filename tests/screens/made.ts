import type { Catalogue, Check } from '#shared/catalogue';
import { instancesOf } from '#shared/catalogue';
import type { Event, Happening } from '#shared/event';
import type { Tone } from '#shared/replied';
import { sentence } from '#shared/speech';
import type { Statement } from '#shared/statement';

/** What a made-up walk is to contain, by position of the check in walking order. */
export interface Plot {
  /** Checks not spoken of. */
  readonly skip: ReadonlySet<string>;
  /** Checks of which only the first aspect or place is said. */
  readonly half: ReadonlySet<string>;
  /** Checks called good and then bad. */
  readonly contradicted: ReadonlySet<string>;
  /** A condition found: check id to [condition, words, severity]. */
  readonly found: ReadonlyMap<
    string,
    readonly [condition: string, words: string, severity: 'ground' | 'defer' | 'watch' | null]
  >;
  /** Set aside, with the reason. */
  readonly aside: ReadonlyMap<string, string>;
  /** Seconds from one utterance to the next. */
  readonly pace: number;
  /** How often each check is said again: for long walks. */
  readonly times: number;
  /** Stop after this many checks: a walk in progress. */
  readonly until: number;
  /** Talkround's own tones and words are on the record. */
  readonly answered: boolean;
  readonly finished: boolean;
  readonly signed: boolean;
  readonly begun: number;
  readonly aircraft: string;
  readonly pilot: string;
}

export const PLAIN: Plot = {
  skip: new Set(),
  half: new Set(),
  contradicted: new Set(),
  found: new Map(),
  aside: new Map(),
  pace: 4,
  times: 1,
  until: Infinity,
  answered: false,
  finished: true,
  signed: true,
  begun: Date.UTC(2026, 8, 14, 6, 42),
  aircraft: 'Rowan 2',
  pilot: 'M. Alder',
};

const CHATTER = [
  'right, let us see',
  'now you want no play here at all',
  'if that were loose you would hear it',
];

/** The events of a made-up walk: shapes as the session writes them, chained by name only. */
export function madeWalk(catalogue: Catalogue, walk: string, change: Partial<Plot>): Event[] {
  const plot = { ...PLAIN, ...change };
  const events: Event[] = [];
  let t = 0;
  let n = 0;
  const put = (what: Happening) => {
    const id = `${walk}-e${n}`;
    events.push({
      v: 1,
      id,
      device: 'bench',
      walk,
      aircraft: plot.aircraft,
      at: plot.begun + Math.round(t * 1000),
      t,
      what,
      prev: n === 0 ? null : `${walk}-h${n - 1}`,
      hash: `${walk}-h${n}`,
    });
    n += 1;
    return id;
  };
  const say = (
    text: string,
    state: (common: Common) => Statement,
    reply: readonly [tone: Tone, words: string] | null = ['understood', ''],
  ) => {
    const heard = `${walk}-u${n}`;
    const spoken = text.split(' ');
    const long = spoken.length * 0.32;
    put({
      kind: 'heard',
      heard: {
        v: 1,
        id: heard,
        by: 'embedded',
        text,
        words: spoken.map((w, i) => ({
          text: w,
          from: t + i * 0.32,
          to: t + (i + 1) * 0.32,
          confidence: 0.9,
        })),
        alternatives: [],
        from: t,
        to: t + long,
        confidence: 0.9,
        sound: { recording: `${walk}-sound`, from: t, to: t + long },
        speaker: null,
        sentAway: false,
      },
    });
    put({
      kind: 'stated',
      statement: state({
        v: 1,
        id: `${walk}-s${n}`,
        heard,
        span: { from: 0, to: spoken.length, words: text },
        why: [],
      }),
    });
    if (plot.answered && reply !== null) {
      const [tone, words] = reply;
      const how = words === '' ? 'none' : 'spoken';
      put({ kind: 'replied', tone, text: words, how, from: t + long + 0.4, answers: heard });
    }
    t += long + plot.pace;
  };
  put({
    kind: 'walk-begun',
    aircraft: plot.aircraft,
    catalogue: catalogue.id,
    edition: 'made-up-edition',
    circumstances: ['first-flight'],
    pilot: plot.pilot,
    instructor: null,
    hours: 1204.5,
    listening: 'embedded',
    squawks: [],
  });
  t = 2;
  let done = 0;
  let talk = 0;
  for (const station of catalogue.stations) {
    if (done >= plot.until) break;
    say(`now the ${station.name}`, (c) => ({ ...c, kind: 'arrival', station: station.id }));
    if (station.id === catalogue.stations[4]?.id) {
      put({ kind: 'held', why: 'said' });
      t += 48;
      put({ kind: 'resumed' });
    }
    if (station.id === catalogue.stations[6]?.id) t += 65;
    say(
      CHATTER[talk % CHATTER.length] ?? '',
      (c) => ({ ...c, kind: 'not-understood', chatter: true }),
      null,
    );
    talk += 1;
    for (const check of station.checks) {
      if (done >= plot.until) break;
      done += 1;
      if (check.required === 'follow-up' || plot.skip.has(check.id)) continue;
      const aside = plot.aside.get(check.id);
      if (aside !== undefined) {
        say(`skip the ${check.name}, ${aside}`, (c) => ({
          ...c,
          kind: 'set-aside',
          check: check.id,
          instances: [...instancesOf(check)],
          reason: aside,
        }));
        continue;
      }
      for (let i = 0; i < plot.times; i += 1)
        say(wordsFor(check, plot), (c) => good(c, check, plot.half.has(check.id), catalogue));
      const found = plot.found.get(check.id);
      if (found !== undefined) {
        const read = `${sentence(check.name)}: ${found[0].replaceAll('-', ' ')}.`;
        say(found[1], (c) => bad(c, check, found), ['finding', read]);
      }
      if (plot.contradicted.has(check.id)) {
        say(
          `${check.name} not secure`,
          (c) => bad(c, check, ['loose', `${check.name} not secure`, null]),
          ['finding', `${sentence(check.name)}: loose. No severity yet.`],
        );
      }
    }
  }
  if (plot.finished) {
    t += 3;
    put({ kind: 'finished', open: [...plot.skip] });
    if (plot.signed) {
      t += 20;
      put({ kind: 'decided', decision: 'fly', by: plot.pilot, authority: null, note: null });
      put({ kind: 'signed', name: plot.pilot, certificate: null });
    }
  }
  return events;
}

type Common = Pick<
  Extract<Statement, { kind: 'observation' }>,
  'v' | 'id' | 'heard' | 'span' | 'why'
>;

function wordsFor(check: Check, plot: Plot): string {
  const aspects = check.aspects.slice(0, plot.half.has(check.id) ? 1 : undefined);
  const what = aspects.length === 0 ? 'good' : `${aspects.map((a) => a.name).join(' and ')} good`;
  return `${check.name} ${what}`;
}

function base(c: Common, check: Check): Extract<Statement, { kind: 'observation' }> {
  return {
    ...c,
    kind: 'observation',
    force: 'result',
    about: {
      kind: 'check',
      check: check.id,
      which: { how: 'all', instances: [...instancesOf(check)] },
      span: c.span,
    },
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
  };
}

function good(c: Common, check: Check, half: boolean, catalogue: Catalogue): Statement {
  const said = base(c, check);
  const aspects = check.aspects.map((a) => a.id).slice(0, half ? 1 : undefined);
  return {
    ...said,
    acts: check.acts,
    verdict: { good: true, aspects, actOnly: half && aspects.length === 0, span: c.span },
    values: half
      ? []
      : check.measures.map((m) => {
          const value =
            m.low !== undefined && m.high !== undefined
              ? (m.low + m.high) / 2
              : (m.low ?? m.high ?? 1);
          return {
            measure: m.id,
            low: value,
            high: value,
            unit: m.unit ?? null,
            inUnit: m.unit === undefined ? null : { low: value, high: value, unit: m.unit },
            step: stepWithin(catalogue, m),
            approximate: false,
            trouble: null,
            span: c.span,
          };
        }),
  };
}

function bad(
  c: Common,
  check: Check,
  [condition, , severity]: readonly [string, string, 'ground' | 'defer' | 'watch' | null],
): Statement {
  return {
    ...base(c, check),
    severity,
    conditions: [
      {
        condition,
        // A condition that is the id of one of the check's own signs is that sign.
        sign: check.signs.some((s) => (typeof s === 'string' ? s : s.id) === condition)
          ? condition
          : null,
        aspects: check.aspects.map((a) => a.id).slice(0, 1),
        present: true,
        degree: null,
        extent: null,
        place: null,
        span: c.span,
      },
    ],
  };
}

/** A step of the measure's gauge that is within its limits. */
function stepWithin(catalogue: Catalogue, m: Check['measures'][number]) {
  const gauge = catalogue.gauges.find((g) => g.id === m.gauge);
  if (gauge === undefined) return null;
  const name = m.atLeast ?? m.atMost ?? gauge.steps[0]?.name ?? '';
  return { gauge: gauge.id, index: gauge.steps.findIndex((s) => s.name === name), name };
}
