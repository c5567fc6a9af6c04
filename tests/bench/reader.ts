import { existsSync, readdirSync, statSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { CorpusError } from '../corpus/format.ts';
import { conditionLabels, readCorpus } from '../corpus/load.ts';
import { singlesIn } from '../corpus/singles.ts';
import { ownWalks, PARTS, walksIn } from '../corpus/walks.ts';
import { conversationOf, voicesOf, type Conversation } from './reader/conversation.ts';
import { hashOf, judge, type Judged } from './reader/judge.ts';
import { PEER_NAMES, peersOf } from './reader/peers.ts';
import { jsonOf, textOf } from './reader/print.ts';
import { proseOf, sentencesIn } from './reader/prose.ts';
import { keptOf, readKept, worsened } from './reader/ratchet.ts';
import { READERS, WEIGHTS } from './reader/readers.ts';
import { keepRules, keptRules } from './reader/rules.ts';
import { readerSpeed, weightsKb } from './reader/speed.ts';

const USAGE = `Usage: npm run bench:reader -- [--json] [--part learn|tune|work|report|waiting] [--writers A,B] [--levels 0,10,20,30] [--here]
  [--walks FOLDER] [--corpus FILE [--catalogue FILE]] [--prose FILE] [--quick] [--errors]
  [--all-peers] [--hold] [--keep-hold] [--keep-rules FILE]
  --part       which part of our own walks (default: report)
  --writers    only these writers of the part, as folders parted by commas
  --levels     word error rates in per cent
  --here       the reader is told the station of each label, as a screen would tell it
  --walks      other walks, with their catalogues beside them; folders in the folder are read too
  --corpus     single utterances, as bench:grammar reads them, or a folder of such files; --catalogue takes the place of the one it names
  --prose      talk that is no walk, one sentence a line: what is made of it
  --quick      0 and 20 % only, our reader only, no speed
  --errors     list what was misread, at 0 % or the levels given; for the learn and tune parts and single utterances only
  --all-peers  the two slow peers as well (several minutes more)
  --hold       exit 1 when the report part is worse than what is kept
  --keep-hold  keep the figures of this run for --hold
  --keep-rules keep the figures of the rules in FILE, for when they have left the project`;

const LEVELS = [0, 10, 20, 30];
const QUICK_LEVELS = [0, 20];
/** Past this, hardly a word is left of what was said. */
const MOST_ERRORS = 60;
/** They take ten times as long as the others together and came out behind them on the tune part. */
const SLOW_PEERS: readonly string[] = ['fuse.js', 'uFuzzy'];
const KEPT = join(dirname(fileURLToPath(import.meta.url)), 'reader-ratchet.json');

interface Options {
  readonly json: boolean;
  readonly here: boolean;
  readonly quick: boolean;
  readonly errors: boolean;
  readonly hold: boolean;
  readonly 'keep-hold': boolean;
  readonly 'all-peers': boolean;
  readonly part?: string | undefined;
  readonly writers?: string | undefined;
  readonly levels?: string | undefined;
  readonly walks?: string | undefined;
  readonly corpus?: string | undefined;
  readonly catalogue?: string | undefined;
  readonly prose?: string | undefined;
  readonly 'keep-rules'?: string | undefined;
}

/** Judges the reader on whole walks. Exits 0; 1 when --hold finds it worse; 2 on bad input. */
export async function main(words: string[]): Promise<number> {
  let options: Options;
  try {
    const no = { type: 'boolean', default: false } as const;
    const text = { type: 'string' } as const;
    options = parseArgs({
      args: words,
      options: {
        json: no,
        here: no,
        quick: no,
        errors: no,
        hold: no,
        'keep-hold': no,
        'all-peers': no,
        part: text,
        writers: text,
        levels: text,
        walks: text,
        corpus: text,
        catalogue: text,
        prose: text,
        'keep-rules': text,
      },
    }).values;
    refuseContradictions(options);
  } catch (error) {
    console.error(`${error instanceof Error ? error.message : String(error)}\n${USAGE}`);
    return 2;
  }
  try {
    return run(options);
  } catch (error) {
    if (!(error instanceof CorpusError)) throw error;
    console.error(error.message);
    return 2;
  }
}

/** Throws CorpusError with one sentence. */
function refuseContradictions(o: Options): void {
  const sources = [o.part, o.walks, o.corpus, o.prose].filter((s) => s !== undefined);
  if (sources.length > 1) {
    throw new CorpusError(
      'Only one of --part, --walks, --corpus and --prose can be judged at once.',
    );
  }
  if (o.catalogue !== undefined && o.corpus === undefined) {
    throw new CorpusError('--catalogue goes with --corpus: walks name their own catalogues.');
  }
  const part = o.part ?? 'report';
  if (!PARTS.some((p) => p === part)) {
    throw new CorpusError(`--part is learn, tune, work, report or waiting, not "${part}".`);
  }
  const ownReport = sources.length === 0 || o.part === 'report';
  if (o.errors && ownReport) {
    throw new CorpusError(
      '--errors does not list the report part: nobody reads its errors, so that its figures stay those of strangers. Use --part work, --part tune or --part learn.',
    );
  }
  if (o.errors && o.part === 'waiting') {
    throw new CorpusError(
      '--errors does not list what is waiting: nobody reads its errors before it is learned from. Use --part work, --part tune or --part learn.',
    );
  }
  if (o.errors && o.part === undefined && o.corpus === undefined) {
    throw new CorpusError(
      '--errors lists our own learn and tune parts and single utterances: walks of others are for figures.',
    );
  }
  if (o.writers !== undefined && o.walks !== undefined) {
    throw new CorpusError('--writers goes with --part: other walks are given by their folder.');
  }
  const plain = ownReport && !o.here && !o.quick && o.writers === undefined;
  if ((o.hold || o['keep-hold']) && !plain) {
    throw new CorpusError(
      'What is held is the report part with the station not given: leave out --here, --quick and other walks.',
    );
  }
}

function levelsOf(o: Options): readonly number[] {
  if (o.levels === undefined) return o.errors ? [0] : o.quick ? QUICK_LEVELS : LEVELS;
  const levels = o.levels.split(',').map((text) => Number(text.trim() || 'none'));
  if (!levels.every((l) => Number.isInteger(l) && l >= 0 && l <= MOST_ERRORS)) {
    throw new CorpusError(
      `--levels are word error rates from 0 to ${MOST_ERRORS}, such as 0,20, not "${o.levels}".`,
    );
  }
  return [...new Set(levels)].sort((a, b) => a - b);
}

function conversationsOf(o: Options): Conversation[] {
  if (o.corpus !== undefined) return singlesAt(o.corpus, o.catalogue ?? null, o.errors);
  if (o.walks !== undefined) return othersIn(o.walks).map(conversationOf);
  const part = PARTS.find((p) => p === (o.part ?? 'report')) ?? 'report';
  const walks = ownWalks(part);
  if (o.writers === undefined) return walks.map(conversationOf);
  const wanted = o.writers.split(',').map((w) => w.trim());
  const missing = wanted.find((w) => !walks.some((walk) => walk.writer === w));
  if (missing !== undefined)
    throw new CorpusError(`--writers: the ${part} part has no writer "${missing}".`);
  return walks.filter((walk) => wanted.includes(walk.writer)).map(conversationOf);
}

/** A file of single utterances, or all in a folder and in folders of it. */
function singlesAt(path: string, catalogue: string | null, errors: boolean): Conversation[] {
  const folder = existsSync(path) && statSync(path).isDirectory();
  if (folder && catalogue !== null)
    throw new CorpusError('--catalogue goes with one file: in a folder each names its own.');
  const sets = folder ? singlesIn(path) : [readCorpus(path, catalogue)];
  if (sets.length === 0) throw new CorpusError(`${path} holds no single utterances (.yaml).`);
  const sealed = sets.find(({ utterances }) => utterances.some(({ part }) => part === 'report'));
  if (errors && sealed !== undefined)
    throw new CorpusError(
      `--errors does not list ${sealed.name}, whose part is report: nobody reads its errors, so that its figures stay those of strangers.`,
    );
  return sets.flatMap(voicesOf);
}

function othersIn(folder: string) {
  if (!existsSync(folder)) throw new CorpusError(`There is no folder ${folder}.`);
  const folders = readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map((entry) => join(folder, entry.name))
    .sort();
  const walks = [folder, ...folders].flatMap((f) => walksIn(f, basename(f)));
  if (walks.length === 0) {
    throw new CorpusError(
      `${folder} holds no walks: their files end in .walk.yaml, in the folder or in folders of it.`,
    );
  }
  return walks;
}

function run(o: Options): number {
  const ours = READERS[0];
  if (o.prose !== undefined && ours !== undefined) {
    console.log(JSON.stringify({ prose: proseOf(sentencesIn(o.prose), ours) }));
    return 0;
  }
  const conversations = conversationsOf(o);
  const levels = levelsOf(o);
  const conditions = conditionLabels();
  const alone = o.quick || o.errors;
  const names = PEER_NAMES.filter((n) => o['all-peers'] || !SLOW_PEERS.includes(n));
  const judged = judge({
    conversations,
    levels,
    readers: alone ? READERS.slice(0, 1) : READERS,
    peers: alone ? [] : peersOf(names, conditions),
    here: o.here,
    conditions,
    errors: o.errors,
  });
  if (o.errors) {
    for (const line of [...judged.crashes, ...judged.errors]) console.log(line);
    return 0;
  }
  const walks = hashOf(conversations);
  const gone = READERS.find((r) => r.name === 'rules' && r.build === null)?.kept ?? null;
  const rules = gone === null || alone ? null : keptRules(gone, { walks, here: o.here });
  const extra = {
    keptRules: rules,
    speed: alone || ours === undefined ? null : readerSpeed(ours),
    weightsKb: weightsKb(WEIGHTS),
  };
  const what = o.corpus ?? o.walks ?? `our own walks, part "${o.part ?? 'report'}"`;
  if (o.json) console.log(JSON.stringify(jsonOf(judged, extra), null, 2));
  else {
    const count = conversations.reduce((n, c) => n + c.lines.length, 0);
    const how = o.here ? 'the station given' : 'the station not given';
    console.log(
      `${count} utterances in ${conversations.length} conversations of ${what}, ${how}.\n`,
    );
    console.log(textOf(judged, conversations, extra));
    if (gone !== null && rules === null && !alone) {
      console.log('\nOf the rules no figures are kept for these walks read in this way.');
    }
  }
  if (o['keep-rules'] !== undefined) keepRulesOf(judged, o['keep-rules'], what, walks, o.here);
  return held(o, judged, walks);
}

function keepRulesOf(
  judged: Judged,
  file: string,
  what: string,
  walks: string,
  here: boolean,
): void {
  const rows = [...judged.rows].flatMap(([level, row]) => {
    const rules = row.get('rules');
    return rules === undefined ? [] : [{ level: String(level), rules }];
  });
  if (rows.length === 0)
    throw new CorpusError('--keep-rules: the rules were not read in this run.');
  keepRules(file, {
    of: basename(what),
    walks,
    here,
    wer: Object.fromEntries(rows.map(({ level, rules }) => [level, rules.measures])),
    intervals: Object.fromEntries(
      rows.map(({ level, rules }) => [level, { ...(rules.intervals ?? {}) }]),
    ),
    byForm: Object.fromEntries(
      [...judged.byForm].flatMap(([family, row]) => {
        const rules = row.get('rules');
        return rules === undefined ? [] : [[family, rules]];
      }),
    ),
  });
}

/** Keeps the figures of our reader, or holds them against what is kept. */
function held(o: Options, judged: Judged, walks: string): number {
  const own = new Map(
    [...judged.rows].flatMap(([level, row]) => {
      const ours = row.get('ours');
      return ours === undefined || ours.intervals === null
        ? []
        : [[level, { measures: ours.measures, intervals: ours.intervals }] as const];
    }),
  );
  if (o['keep-hold']) writeFileSync(KEPT, `${JSON.stringify(keptOf(walks, own), null, 2)}\n`);
  if (!o.hold) return 0;
  const kept = readKept(KEPT);
  if (kept.walks === undefined) {
    console.error('Nothing is kept yet to hold this run against; --keep-hold keeps it.');
    return 0;
  }
  if (kept.walks !== walks) {
    console.error(
      'The walks of the report part are not those that the kept figures are of; look at the figures, then keep them anew with --keep-hold.',
    );
    return 1;
  }
  const now = Object.fromEntries([...own].map(([level, { measures }]) => [level, measures]));
  const worse = worsened(kept, now);
  for (const line of worse) console.error(line);
  return worse.length === 0 ? 0 : 1;
}
