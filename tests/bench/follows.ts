import type { Reader } from '#shared/reader';
import { FIRST_SCENE, type Scene } from '#shared/scene';
import { SEVERITIES, type Severity } from '#shared/severity';
import type { Observation, Statement } from '#shared/statement';
import { followsOf, followWriters, placedFollows, type FollowSaid } from '../corpus/follows.ts';
import { random } from './channel.ts';
import { heardOf, ourReader } from './grammar/ours.ts';
import { runSaying, type SayingOptions, type SayingResult } from './saying.ts';
import { lentAircraft } from './turns.ts';

/*
 * What strangers say next (tests/corpus/follows), said of parts of many aircraft: whether how bad a fault
 * is, is understood in anybody's own words, and what is made of a sentence that does not name its part.
 */

const SEED = 20261201;

export const main = (words: string[]): number => runSaying('follows', words, followWriters, judged);

type Is = 'rated' | 'unrated' | 'more' | 'good' | 'bad' | 'talk';

/** Of each hundred. */
interface FollowFigures {
  readonly pairs: number;
  /** A fault is rated: rightly; worse or milder than said; not at all. Lost: no fault is kept either. */
  readonly rated: { n: number; right: number; worse: number; milder: number; none: number };
  /** Nothing rates it: rated nevertheless. */
  readonly unrated: { n: number; rated: number };
  /** More of the same fault: it stands; it is called good; a fault is put elsewhere. */
  readonly more: { n: number; stands: number; good: number; elsewhere: number };
  readonly good: { n: number; counts: number; waits: number; fault: number };
  readonly bad: { n: number; counts: number; asked: number; good: number; lost: number };
  readonly talk: { n: number; good: number; fault: number; asked: number };
}

function judged({ part, writers, times }: SayingOptions): SayingResult {
  const counts = new Map<string, number>();
  const misread: string[] = [];
  const follows = writers.flatMap(followsOf);
  for (const set of placedFollows(follows, lentAircraft(), times, random(SEED))) {
    const reader = ourReader(set.catalogue);
    for (const said of set.said) {
      const is = isOf(said);
      const all = readAll(said, reader);
      const made = madeOf(is, said, all);
      const add = (key: string): void => void counts.set(key, (counts.get(key) ?? 0) + 1);
      add(`${is} ${made}`);
      const rated = severityIn(all.at(-1) ?? []);
      if (is !== 'rated') add(`unrated ${rated === null ? 'none' : 'rated'}`);
      if (made !== RIGHT[is] || (is !== 'rated' && rated !== null)) {
        const { first, second, rating } = said.follow;
        const kind = `${first} > ${second ?? `@${rating ?? ''}`}`;
        const how = `${kind}: ${made}${rated === null ? '' : ` ${rated}`}`;
        misread.push(`${how} | ${said.lines.map((l) => l.say).join(' // ')}`);
      }
    }
  }
  const n = (key: Is): number =>
    [...counts].reduce((sum, [k, x]) => sum + (k.startsWith(`${key} `) ? x : 0), 0);
  const per = (key: Is, ...made: string[]): number =>
    Math.round(
      (1000 * made.reduce((s, m) => s + (counts.get(`${key} ${m}`) ?? 0), 0)) / Math.max(1, n(key)),
    ) / 10;
  const figures: FollowFigures = {
    pairs: follows.length * times,
    rated: {
      n: n('rated'),
      right: per('rated', 'right'),
      worse: per('rated', 'worse'),
      milder: per('rated', 'milder'),
      none: per('rated', 'none'),
    },
    unrated: { n: n('unrated'), rated: per('unrated', 'rated') },
    more: {
      n: n('more'),
      stands: per('more', 'fault', 'asked', 'none'),
      good: per('more', 'good'),
      elsewhere: per('more', 'elsewhere'),
    },
    good: {
      n: n('good'),
      counts: per('good', 'good'),
      waits: per('good', 'waits'),
      fault: per('good', 'fault'),
    },
    bad: {
      n: n('bad'),
      counts: per('bad', 'fault'),
      asked: per('bad', 'asked', 'unclear', 'elsewhere'),
      good: per('bad', 'good'),
      lost: per('bad', 'none', 'waits'),
    },
    talk: {
      n: n('talk'),
      good: per('talk', 'good'),
      fault: per('talk', 'fault', 'elsewhere'),
      asked: per('talk', 'asked', 'waits', 'unclear'),
    },
  };
  const rows = Object.entries(figures).flatMap(([name, row]: [string, object | number]) =>
    typeof row === 'number'
      ? []
      : [
          `${name.padEnd(10)}${Object.entries(row)
            .map(([what, x]) => `${what} ${String(x)}`.padEnd(16))
            .join('')}`,
        ],
  );
  const head = `${String(figures.pairs)} of what is said next, part "${part}", of 100:`;
  return { json: figures, text: [head, ...rows].join('\n'), misread };
}

const RIGHT: Readonly<Record<Is, string>> = {
  rated: 'right',
  unrated: 'none',
  more: 'fault',
  good: 'good',
  bad: 'fault',
  talk: 'none',
};

function isOf({ follow: { second, rating } }: FollowSaid): Is {
  if (rating !== null) return 'rated';
  if (second === 'M') return 'more';
  if (second === null || second === 'N' || second.startsWith('T ')) return 'talk';
  return second === 'G' || second.startsWith('-') ? 'good' : 'bad';
}

/** What is made of each sentence, each behind those before it; nothing that is asked is answered. */
function readAll({ lines, at, id }: FollowSaid, reader: Reader): (readonly Statement[])[] {
  let scene: Scene = { ...FIRST_SCENE, station: at };
  return lines.map(({ say }, i) => {
    const reading = reader.read(heardOf(say, `${id}/${String(i)}`, []), {
      ...scene,
      question: null,
    });
    scene = reading.scene;
    return reading.statements;
  });
}

const observed = (statements: readonly Statement[]): Observation[] =>
  statements.flatMap((s) =>
    s.kind === 'observation' && s.force === 'result'
      ? [s]
      : s.kind === 'two-candidates'
        ? [s.said]
        : [],
  );

/** How bad the last sentence says that it is; the worst where it says several. */
function severityIn(statements: readonly Statement[]): Severity | null {
  const said = [
    ...statements.flatMap((s) => (s.kind === 'rating' ? [s.severity] : [])),
    ...observed(statements).flatMap((o) => o.severity ?? []),
  ];
  return SEVERITIES.find((s) => said.includes(s)) ?? null;
}

function madeOf(
  is: Is,
  { follow, part }: FollowSaid,
  all: readonly (readonly Statement[])[],
): string {
  const statements = all.at(-1) ?? [];
  if (is === 'rated') {
    const made = severityIn(statements);
    if (made === null) return 'none';
    const off = SEVERITIES.findIndex((s) => s === follow.rating) - SEVERITIES.indexOf(made);
    return off === 0 ? 'right' : off > 0 ? 'worse' : 'milder';
  }
  const faulty = (o: Observation): boolean =>
    o.verdict?.good === false || o.conditions.some((c) => c.present);
  const about = (o: Observation): boolean =>
    o.about.kind === 'check' && o.about.check === part.check.id;
  const results = observed(statements);
  const own = results.filter(about);
  const faults = own.filter(faulty);
  if (faults.length > 0) return faults.every((o) => o.doubtful === null) ? 'fault' : 'asked';
  const well = (o: Observation): boolean =>
    (o.verdict?.good === true && !o.verdict.actOnly) || o.conditions.some((c) => !c.present);
  if (own.some((o) => well(o) && o.doubtful === null)) return 'good';
  if (results.some((o) => !about(o) && faulty(o))) return 'elsewhere';
  if (own.some((o) => o.waits === true)) return 'waits';
  if (own.some((o) => o.doubtful !== null)) return 'asked';
  return statements.some((s) => s.kind === 'not-understood' && !s.chatter) ? 'unclear' : 'none';
}
