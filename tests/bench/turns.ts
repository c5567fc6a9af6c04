import type { Catalogue } from '#shared/catalogue';
import type { Reader } from '#shared/reader';
import { FIRST_SCENE, type Scene } from '#shared/scene';
import type { Observation, Statement } from '#shared/statement';
import type { Utterance } from '../corpus/format.ts';
import { placedTurns, turnsOf, turnWriters } from '../corpus/turns.ts';
import { ownWalks } from '../corpus/walks.ts';
import { random } from './channel.ts';
import { heardOf, ourReader } from './grammar/ours.ts';
import { runSaying } from './saying.ts';

/*
 * Turns of speech of strangers (tests/corpus/turns), said of parts of many aircraft: how many of
 * what is reported good counts, of what is reported at fault is a fault, and what is made of what is
 * only talked about. Every part is named in full: what is measured is the way of saying.
 */

/** Every so many walks of the waiting and learn parts lend their aircraft. */
const HOSTS = 5;
const SEED = 20261130;

/** What became of a turn. */
type Outcome = 'good' | 'waits' | 'fault' | 'asked' | 'elsewhere' | 'unclear' | 'none';

/** How many of each hundred end how, by what they are. */
export interface TurnFigures {
  readonly turns: number;
  /** Reported good: counts as good; waits; is called a fault. */
  readonly good: { n: number; counts: number; waits: number; fault: number };
  /** Reported at fault: a fault counts; is asked about; is called good; nothing is made of it. */
  readonly bad: { n: number; counts: number; asked: number; good: number; lost: number };
  /** A doubt: asked about; called good. */
  readonly doubt: { n: number; asked: number; good: number };
  /** Only talk: called good; called a fault; asked about. */
  readonly talk: { n: number; good: number; fault: number; asked: number };
}

export const main = (words: string[]): number =>
  runSaying('turns', words, turnWriters, ({ part, writers, times }) => {
    const { figures, misread } = judged(writers, times);
    return { json: figures, text: textOf(part, figures), misread };
  });

/** The aircraft that turns are said of: every so many of those that the net learned from or waits with. */
export function lentAircraft(): Catalogue[] {
  const hosts = new Map<string, Catalogue>();
  for (const part of ['learn', 'waiting'] as const)
    ownWalks(part).forEach((walk) => hosts.set(walk.catalogueKey, walk.catalogue));
  return [...hosts.values()].filter((_, n) => n % HOSTS === 0);
}

export function judged(
  writers: readonly string[],
  times: number,
): { figures: TurnFigures; misread: string[] } {
  const catalogues = lentAircraft();
  const counts = new Map<string, number>();
  const add = (kind: string, what: string): void => {
    const key = `${kind} ${what}`;
    counts.set(key, (counts.get(key) ?? 0) + 1);
  };
  const misread: string[] = [];
  const turns = writers.flatMap(turnsOf);
  for (const set of placedTurns(turns, catalogues, times, random(SEED))) {
    const reader = ourReader(set.catalogue);
    for (const u of set.utterances) {
      const kind = kindOf(u);
      const outcome = outcomeOf(u, statementsOf(u, reader));
      add(kind, 'n');
      add(kind, outcome);
      if (!isRight(kind, outcome))
        misread.push(`${kind} ${outcome} | ${[...u.after, u.say].join(' // ')} | ${u.is}`);
    }
  }
  const n = (kind: string, ...what: string[]): number =>
    what.reduce((sum, one) => sum + (counts.get(`${kind} ${one}`) ?? 0), 0);
  const per = (kind: string, ...what: string[]): number =>
    Math.round((1000 * n(kind, ...what)) / Math.max(1, n(kind, 'n'))) / 10;
  const g = (what: string) => per('good', what);
  return {
    misread,
    figures: {
      turns: turns.length * times,
      good: { n: n('good', 'n'), counts: g('good'), waits: g('waits'), fault: g('fault') },
      bad: {
        n: n('bad', 'n'),
        counts: per('bad', 'fault'),
        asked: per('bad', 'asked', 'unclear', 'elsewhere'),
        good: per('bad', 'good'),
        lost: per('bad', 'none', 'waits'),
      },
      doubt: {
        n: n('doubt', 'n'),
        asked: per('doubt', 'asked', 'waits', 'unclear', 'elsewhere', 'fault'),
        good: per('doubt', 'good'),
      },
      talk: {
        n: n('talk', 'n'),
        good: per('talk', 'good'),
        fault: per('talk', 'fault', 'elsewhere'),
        asked: per('talk', 'asked', 'waits', 'unclear'),
      },
    },
  };
}

type Kind = 'good' | 'bad' | 'doubt' | 'talk';

function kindOf({ labels }: Utterance): Kind {
  const [label] = labels;
  if (label?.kind !== 'claim' || label.force !== 'result') return 'talk';
  if (label.asked) return 'doubt';
  return label.good === false || label.signs.some((s) => s.present) ? 'bad' : 'good';
}

const isRight = (kind: Kind, outcome: Outcome): boolean =>
  kind === 'talk'
    ? outcome === 'none'
    : kind === 'doubt'
      ? outcome === 'asked' || outcome === 'unclear'
      : outcome === (kind === 'bad' ? 'fault' : 'good');

/** What is made of the last of what is said, behind all of it. */
export function statementsOf(u: Utterance, reader: Reader): readonly Statement[] {
  let scene: Scene = u.at === undefined ? FIRST_SCENE : { ...FIRST_SCENE, station: u.at };
  u.after.forEach((say, i) => {
    ({ scene } = reader.read(heardOf(say, `before-${String(i)}`, []), scene));
  });
  return reader.read(heardOf(u.say, u.id, []), { ...scene, question: null }).statements;
}

/** What is made of the check that a turn is about; of anything, where it is about none. */
function outcomeOf({ labels }: Utterance, statements: readonly Statement[]): Outcome {
  const [label] = labels;
  const check = label?.kind === 'claim' ? label.checks[0] : undefined;
  const results = statements.filter(
    (s): s is Observation => s.kind === 'observation' && s.force === 'result',
  );
  const faulty = (o: Observation): boolean =>
    o.verdict?.good === false || o.conditions.some((c) => c.present);
  const about = (o: Observation): boolean =>
    check === undefined || (o.about.kind === 'check' && o.about.check === check);
  const own = results.filter(about);
  const faults = own.filter(faulty);
  if (faults.length > 0)
    return faults.every((o) => o.doubtful === null || o.doubtful === undefined) ? 'fault' : 'asked';
  const well = (o: Observation): boolean =>
    (o.verdict?.good === true && !o.verdict.actOnly) || o.conditions.some((c) => !c.present);
  if (own.some((o) => well(o) && o.doubtful === null)) return 'good';
  if (results.some((o) => !about(o) && faulty(o))) return 'elsewhere';
  if (own.some((o) => o.waits === true)) return 'waits';
  if (own.some((o) => o.doubtful !== null)) return 'asked';
  const open = statements.some(
    (s) => s.kind === 'two-candidates' || (s.kind === 'not-understood' && !s.chatter),
  );
  return open ? 'unclear' : 'none';
}

function textOf(part: string, f: TurnFigures): string {
  const row = (name: string, cells: readonly (readonly [string, number])[]): string =>
    `${name.padEnd(16)}${cells.map(([what, x]) => `${what} ${String(x)}`.padEnd(18)).join('')}`;
  return [
    `${String(f.turns)} turns of the part "${part}", of 100:`,
    row('reported good', [
      ['n', f.good.n],
      ['counts', f.good.counts],
      ['waits', f.good.waits],
      ['a fault', f.good.fault],
    ]),
    row('at fault', [
      ['n', f.bad.n],
      ['counts', f.bad.counts],
      ['asked', f.bad.asked],
      ['called good', f.bad.good],
      ['lost', f.bad.lost],
    ]),
    row('in doubt', [
      ['n', f.doubt.n],
      ['asked', f.doubt.asked],
      ['called good', f.doubt.good],
    ]),
    row('only talk', [
      ['n', f.talk.n],
      ['called good', f.talk.good],
      ['a fault', f.talk.fault],
      ['asked', f.talk.asked],
    ]),
  ].join('\n');
}
