import { parseArgs } from 'node:util';
import { CorpusError } from '../corpus/format.ts';
import { conditionLabels, ownCorpus, readCorpus, SETS, type CorpusSet } from '../corpus/load.ts';
import { LEVELS, ourRead, peersOf, scoreAt, type Level, type PeerFigures } from './grammar/run.ts';
import { maintie, maintnet, negation } from './grammar/outside.ts';
import { speedOf } from './grammar/speed.ts';

const USAGE = `Usage: npm run bench:grammar -- [--json] [--part work|report|all] [--set all|first|fresh|stranger]
  [--corpus FILE] [--catalogue FILE] [--errors [--wer 20]] [--quick] [--speed]
  --part      which part of our own corpus (default: report)
  --set       of that part, the files written first, the fresh ones, the stranger's, or all (default)
  --corpus    somebody else's utterances (tests/corpus/README.md shows the format)
  --catalogue the catalogue that they are about, instead of the one the file names
  --errors    list what was misread, for our own work part or for --corpus; --wer 20 for damaged words
  --quick     one seed of damage, no peers, no speed
  --speed     speed alone`;

/** Three draws of the channel at each level: one alone moves the rare errors by chance. */
const SEEDS = [1, 2, 3];
/** Phrases of the catalogues that speed is measured on, and readings timed at each. */
const SIZES = [400, 2000, 8000];
const RUNS = 400;

/** Measures the phrase grammar. Exits 0; 2 on bad input. */
export async function main(words: string[]): Promise<number> {
  let options;
  try {
    options = parseArgs({
      args: words,
      options: {
        json: { type: 'boolean', default: false },
        errors: { type: 'boolean', default: false },
        quick: { type: 'boolean', default: false },
        speed: { type: 'boolean', default: false },
        part: { type: 'string', default: 'report' },
        set: { type: 'string', default: 'all' },
        corpus: { type: 'string' },
        catalogue: { type: 'string' },
        wer: { type: 'string', default: '0' },
      },
    }).values;
  } catch (error) {
    console.error(`${error instanceof Error ? error.message : String(error)}\n${USAGE}`);
    return 2;
  }
  const { part } = options;
  if (part !== 'work' && part !== 'report' && part !== 'all') {
    console.error(`--part is work, report or all, not "${part}".\n${USAGE}`);
    return 2;
  }
  const set = SETS.find((name) => name === options.set);
  if (set === undefined) {
    console.error(`--set is all, first, fresh or stranger, not "${options.set}".\n${USAGE}`);
    return 2;
  }
  if (!(Number(options.wer) >= 0 && Number(options.wer) <= 60)) {
    console.error(`--wer is a word error rate from 0 to 60, not "${options.wer}".`);
    return 2;
  }
  if (options.catalogue !== undefined && options.corpus === undefined) {
    console.error(
      `--catalogue goes with --corpus: our own corpus has its own catalogues.\n${USAGE}`,
    );
    return 2;
  }
  if (options.speed) {
    const speed = speedOf(SIZES, RUNS);
    console.log(options.json ? JSON.stringify({ speed }, null, 2) : speedLines(speed));
    return 0;
  }
  let sets: CorpusSet[];
  try {
    sets =
      options.corpus === undefined
        ? ownCorpus(options.errors ? 'work' : part, set)
        : [readCorpus(options.corpus, options.catalogue ?? null)];
  } catch (error) {
    if (!(error instanceof CorpusError)) throw error;
    console.error(error.message);
    return 2;
  }
  if (options.errors) return listErrors(sets, Number(options.wer));

  const crashes: string[] = [];
  const measured = (own: readonly CorpusSet[]) => ({
    ours: new Map(
      LEVELS.map((level) => [
        level,
        scoreAt(own, ourRead(crashes), level, options.quick ? [1] : SEEDS),
      ]),
    ),
    peers: options.quick ? [] : peersOf(own),
  });
  const { ours, peers } = measured(sets);
  const outside = {
    negation: negation(null),
    maintie: maintie(null),
    maintnet: maintnet(conditionLabels(), null),
  };
  const speed = options.quick ? null : speedOf(SIZES, RUNS);

  if (options.json) {
    console.log(JSON.stringify(jsonOf(ours, peers, outside, speed), null, 2));
    return 0;
  }
  const name =
    options.corpus ?? `our own corpus, part "${part}"${set === 'all' ? '' : `, ${set} files only`}`;
  const show = (own: readonly CorpusSet[], what: string, figures: ReturnType<typeof measured>) => {
    const count = own.reduce((n, s) => n + s.utterances.length, 0);
    console.log(`\n${count} utterances of ${what}. Rates in %.\n`);
    console.log(accuracyTable(figures.ours, figures.peers));
    console.log(`\n${peerTable(figures.ours, figures.peers)}`);
  };
  show(sets, name, { ours, peers });
  if (options.corpus === undefined && set === 'all') {
    // The files written first are not blind; the others are. Each by itself as well.
    for (const kind of ['first', 'fresh', 'stranger'] as const) {
      const own = ownCorpus(part, kind);
      show(own, `them, the ${kind} files only`, measured(own));
    }
  }
  console.log(`\n${outsideLines(outside)}`);
  if (speed !== null) console.log(`\n${speedLines(speed)}`);
  if (crashes.length > 0) console.log(`\nCrashes: ${crashes.length}\n${crashes.join('\n')}`);
  return 0;
}

function listErrors(sets: readonly CorpusSet[], level: number): number {
  const crashes: string[] = [];
  const { tally, figures } = scoreAt(sets, ourRead(crashes), level, [1]);
  const outside: string[] = [];
  negation(outside);
  maintie(outside);
  maintnet(conditionLabels(), outside);
  for (const line of [...crashes, ...tally.errors, ...outside]) console.log(line);
  console.log(figures);
  return 0;
}

type Ours = ReadonlyMap<number, Level>;
interface Outside {
  negation: ReturnType<typeof negation>;
  maintie: ReturnType<typeof maintie>;
  maintnet: ReturnType<typeof maintnet>;
}

function bestPeer(peers: readonly PeerFigures[], level: number): { name: string; f1: number } {
  return peers
    .map((p) => ({ name: p.name, f1: p.levels[level]?.checkF1 ?? 0 }))
    .reduce((a, b) => (b.f1 > a.f1 ? b : a), { name: 'none', f1: 0 });
}

/** The shape that issue and acceptance ask for; null where the data is not here. */
function jsonOf(
  ours: Ours,
  peers: readonly PeerFigures[],
  outside: Outside,
  speed: ReturnType<typeof speedOf> | null,
): object {
  const wer = Object.fromEntries(
    [...ours].map(([level, { figures: f }]) => [
      String(level),
      {
        checkF1: f.checkF1,
        bestPeerF1: bestPeer(peers, level).f1,
        bestPeer: bestPeer(peers, level).name,
        polarity: f.polarity,
        condition: f.condition,
        force: f.force,
        falseSpokenForPer1000: f.falseSpokenForPer1000,
        findingsLostPer1000: f.findingsLostPer1000,
        questionsPer100: f.questionsPer100,
      },
    ]),
  );
  const { negation: n, maintie: m } = outside;
  return {
    wer,
    negation: n === null ? null : { precision: n.precision, recall: n.recall, f1: n.f1 },
    maintie: m === null ? null : { precision: m.precision, recall: m.recall },
    speed:
      speed === null
        ? null
        : { p99Ms: speed.p99Ms, timesFasterThanFuse: speed.timesFasterThanFuse },
  };
}

function table(rows: readonly (readonly string[])[]): string {
  const width = (rows[0] ?? []).map((_, i) => Math.max(...rows.map((r) => (r[i] ?? '').length)));
  return rows
    .map((row) =>
      row
        .map((cell, i) => (i === 0 ? cell.padEnd(width[i] ?? 0) : cell.padStart(width[i] ?? 0)))
        .join('  '),
    )
    .join('\n');
}

const percent = (value: number) => (100 * value).toFixed(1);

function accuracyTable(ours: Ours, peers: readonly PeerFigures[]): string {
  const cells = (name: string, of: (l: Level, level: number) => string) => [
    name,
    ...[...ours].map(([level, l]) => of(l, level)),
  ];
  return table([
    cells('word error rate asked for', (_, level) => `${level} %`),
    cells('measured', (l) => percent(l.measured)),
    cells('names still to be known by sound', (l) => percent(l.audible)),
    cells('check F1', (l) => percent(l.figures.checkF1)),
    ...(peers.length === 0
      ? []
      : [
          cells('best peer, check F1', (_, level) => percent(bestPeer(peers, level).f1)),
          cells('  which', (_, level) => bestPeer(peers, level).name),
        ]),
    cells('right polarity', (l) => percent(l.figures.polarity)),
    cells('condition F1', (l) => percent(l.figures.condition)),
    cells('right force', (l) => percent(l.figures.force)),
    cells('right place (of repeats)', (l) => percent(l.figures.which)),
    cells('right value', (l) => percent(l.figures.value)),
    cells('commands and asides F1', (l) => percent(l.figures.orderF1)),
    cells('rightly spoken for', (l) => percent(l.figures.spokenRecall)),
    cells('FALSE spoken for, per 1,000', (l) => l.figures.falseSpokenForPer1000.toFixed(1)),
    cells('  how many', (l) => `${l.tally.falseSpoken} of ${l.tally.stakes}`),
    cells('findings LOST, per 1,000', (l) => l.figures.findingsLostPer1000.toFixed(1)),
    cells('  how many', (l) => `${l.tally.lost} of ${l.tally.findings}`),
    cells('  of them misplaced', (l) => String(l.tally.misplaced)),
    cells('finding words gone by damage, utterances', (l) => String(l.unknowable.finding)),
    cells('denial words gone', (l) => String(l.unknowable.denial)),
    cells('words of talk or doubt gone', (l) => String(l.unknowable.talk)),
    cells('  false spoken for in all these', (l) => String(l.unknowable.falseThere)),
    cells('  findings lost in all these', (l) => String(l.unknowable.lostThere)),
    cells('talk taken for a result', (l) => String(l.tally.talkAsResult)),
    cells('questions per 100', (l) => l.figures.questionsPer100.toFixed(1)),
    cells('asked where it had to be', (l) => percent(l.figures.askedRecall)),
  ]);
}

function peerTable(ours: Ours, peers: readonly PeerFigures[]): string {
  if (peers.length === 0) return 'Peers: left out (--quick).';
  const levels = [...ours.keys()];
  return table([
    [
      'check F1 / false spoken / lost, per 1,000',
      'threshold',
      ...levels.map((level) => `${level} %`),
    ],
    ['ours', '', ...levels.map((level) => cell(ours.get(level)?.figures))],
    ...peers.map((p) => [
      p.name,
      String(p.threshold),
      ...levels.map((level) => cell(p.levels[level])),
    ]),
  ]);
}

function cell(f: Level['figures'] | undefined): string {
  return f === undefined
    ? ''
    : `${percent(f.checkF1)} / ${f.falseSpokenForPer1000.toFixed(0)} / ${f.findingsLostPer1000.toFixed(0)}`;
}

function outsideLines({ negation: n, maintie: m, maintnet: e }: Outside): string {
  const prf = (x: { precision: number; recall: number; f1: number }) =>
    `P ${x.precision.toFixed(3)}, R ${x.recall.toFixed(3)}, F1 ${x.f1.toFixed(3)}`;
  const away = 'not here, skipped';
  return [
    `negation, ${n === null ? away : `${n.sentences} sentences, ${n.unplaced} phrases not found: ${prf(n)}`}`,
    n === null ? '' : `  historical or recent: ${prf(n.time)}`,
    `MaintIE states, ${m === null ? away : `${m.texts} texts, overlapping spans: ${prf(m)}; same ends: ${prf(m.exact)}`}`,
    `MaintNet, ${
      e === null
        ? away
        : `${e.entries} entries: condition and part read from ${percent(e.both)} %; ${e.judged} judged by hand: condition right ${percent(e.condition)} %, part right ${percent(e.part)} %, silent where no condition is said ${percent(e.silent)} %`
    }`,
  ]
    .filter((line) => line !== '')
    .join('\n');
}

function speedLines(speed: ReturnType<typeof speedOf>): string {
  const sizes = Object.keys(speed.p99Ms);
  const row = (name: string, of: Record<string, number>, digits: number) => [
    name,
    ...sizes.map((s) => (of[s] ?? 0).toFixed(digits)),
  ];
  return `${table([
    ['25 words, by phrases', ...sizes],
    row('readings timed', speed.count, 0),
    row('median, µs', speed.medianUs, 0),
    row('mean, µs', speed.meanUs, 0),
    row('p99, ms', speed.p99Ms, 2),
    row('compiled in, ms', speed.buildMs, 0),
    row('heap at most, MB', speed.heapMB, 1),
  ])}\nfuse.js windows at ${sizes[0] ?? ''}: median ${speed.fuseMedianUs.toFixed(0)} µs, ${speed.timesFasterThanFuse.toFixed(1)} times ours`;
}
