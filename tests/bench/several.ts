import { instancesOf, type Catalogue } from '#shared/catalogue';
import type { Observation, Statement } from '#shared/statement';
import { checksById, type Claim, type Utterance } from '../corpus/format.ts';
import { placedSeveral, severalOf, severalWriters } from '../corpus/several.ts';
import { random } from './channel.ts';
import { ourReader } from './grammar/ours.ts';
import { runSaying } from './saying.ts';
import { lentAircraft, statementsOf } from './turns.ts';

/*
 * What strangers say of several parts alike (tests/corpus/several), said of parts of many aircraft: of
 * the places that are reported good how many count, of those at fault how many are found there, and how
 * many are spoken for that nobody reported (R5).
 */

const SEED = 20261201;

/** How many of each hundred places end how, by what was said of them. */
export interface SeveralFigures {
  readonly turns: number;
  /** Reported good: counts; waits or is asked about; is called a fault; nothing is made of it. */
  readonly good: { places: number; counts: number; open: number; fault: number; lost: number };
  /** Reported at fault: a fault there; asked about, or of which is; called good; nothing is made of it. */
  readonly bad: { places: number; counts: number; open: number; good: number; lost: number };
  /** Of which nothing was reported: called good; called a fault. */
  readonly unsaid: { places: number; good: number; fault: number };
}

type Is = 'good' | 'bad' | 'doubt' | 'unsaid';
type Made = 'good' | 'fault' | 'open' | 'none';

export const main = (words: string[]): number =>
  runSaying('several', words, severalWriters, ({ part, writers, times }) => {
    const { figures, misread } = judged(writers, times);
    return { json: figures, text: textOf(part, figures), misread };
  });

function judged(
  writers: readonly string[],
  times: number,
): { figures: SeveralFigures; misread: string[] } {
  const catalogues = lentAircraft();
  const counts = new Map<string, number>();
  const misread: string[] = [];
  const turns = writers.flatMap(severalOf);
  for (const set of placedSeveral(turns, catalogues, times, random(SEED))) {
    const reader = ourReader(set.catalogue);
    for (const u of set.utterances) {
      const statements = statementsOf(u, reader);
      let right = true;
      for (const { is, place } of truthOf(u, set.catalogue)) {
        const made = madeOf(statements, place);
        const key = `${is} ${made}`;
        counts.set(key, (counts.get(key) ?? 0) + 1);
        right &&= made === RIGHT[is];
      }
      if (!right) misread.push(`${[...u.after, u.say].join(' // ')} | ${u.is}`);
    }
  }
  const n = (is: Is, ...made: Made[]): number =>
    made.reduce((sum, one) => sum + (counts.get(`${is} ${one}`) ?? 0), 0);
  const all = (is: Is): number => n(is, 'good', 'fault', 'open', 'none');
  const per = (is: Is, made: Made): number =>
    Math.round((1000 * n(is, made)) / Math.max(1, all(is))) / 10;
  return {
    misread,
    figures: {
      turns: turns.length * times,
      good: {
        places: all('good'),
        counts: per('good', 'good'),
        open: per('good', 'open'),
        fault: per('good', 'fault'),
        lost: per('good', 'none'),
      },
      bad: {
        places: all('bad'),
        counts: per('bad', 'fault'),
        open: per('bad', 'open'),
        good: per('bad', 'good'),
        lost: per('bad', 'none'),
      },
      unsaid: {
        places: all('unsaid'),
        good: per('unsaid', 'good'),
        fault: per('unsaid', 'fault'),
      },
    },
  };
}

const RIGHT: Readonly<Record<Is, Made>> = {
  good: 'good',
  bad: 'fault',
  doubt: 'open',
  unsaid: 'none',
};

interface Place {
  readonly check: string;
  readonly instance: string;
}

/** What was said of each place of the check; nothing for what is only talked about, and of no check. */
function truthOf(u: Utterance, catalogue: Catalogue): { is: Is; place: Place }[] {
  const claims = u.labels.filter((l): l is Claim => l.kind === 'claim');
  const check = checksById(catalogue).get(claims[0]?.checks[0] ?? '');
  if (check === undefined) return [];
  const results = claims.filter((c) => c.force === 'result');
  // "One of them is cracked": which has to be asked, and no place is right.
  if (results.some((c) => c.instances.includes('one'))) return [];
  return instancesOf(check).map((instance) => {
    const own = results.filter((c) => c.instances.includes(instance));
    const bad = own.some((c) => c.good === false || c.signs.some((s) => s.present));
    const is: Is =
      own.length === 0 ? 'unsaid' : own.some((c) => c.asked) ? 'doubt' : bad ? 'bad' : 'good';
    return { is, place: { check: check.id, instance } };
  });
}

function madeOf(statements: readonly Statement[], { check, instance }: Place): Made {
  const own = statements.filter(
    (s): s is Observation =>
      s.kind === 'observation' &&
      s.force === 'result' &&
      s.about.kind === 'check' &&
      s.about.check === check,
  );
  const isAt = (o: Observation): boolean =>
    o.about.kind === 'check' &&
    (o.about.which.how === 'all' || o.about.which.instances.includes(instance));
  const isFault = (o: Observation): boolean =>
    o.verdict?.good === false || o.conditions.some((c) => c.present);
  const isGood = (o: Observation): boolean =>
    (o.verdict?.good === true && !o.verdict.actOnly) || o.conditions.some((c) => !c.present);
  const here = own.filter((o) => isAt(o) && o.doubtful === null);
  if (here.some(isFault)) return 'fault';
  // Which of them is asked about: nothing of it counts before.
  const isOpen = (o: Observation): boolean =>
    (isAt(o) && o.doubtful !== null) ||
    (isFault(o) && o.about.kind === 'check' && o.about.which.instances.length === 0);
  if (own.some(isOpen)) return 'open';
  return here.some(isGood) ? 'good' : 'none';
}

function textOf(part: string, f: SeveralFigures): string {
  const row = (name: string, figures: Readonly<Record<string, number>>): string =>
    name.padEnd(16) +
    Object.entries(figures)
      .map(([what, x]) => `${what} ${String(x)}`.padEnd(16))
      .join('');
  return [
    `${String(f.turns)} turns about several of the part "${part}", of 100 places:`,
    row('reported good', f.good),
    row('at fault', f.bad),
    row('not spoken of', f.unsaid),
  ].join('\n');
}
