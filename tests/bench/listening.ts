import { loadDecoder } from '../../src/capture/embedded/decoder.ts';
import { AIDS, createRecogniser, type Aids } from '../../src/capture/embedded/recognise.ts';
import { seeded } from '../speech/noise.ts';
import { VOICES } from '../speech/voice.ts';
import { commandsAlone } from './listening-commands.ts';
import { human, nonWalk, recordings } from './listening-others.ts';
import { byVoice, PLACES, SPOKEN_TO } from './listening-voices.ts';
import { walks } from './listening-walk.ts';
import {
  closeDecoders,
  CONDITIONS,
  live,
  run,
  type Condition,
  type Score,
} from './listening-run.ts';
import {
  aircraft,
  generated,
  modelFolder,
  numbered,
  walkUtterances,
  type Said,
} from './listening-set.ts';

/*
 * How well the embedded recogniser listens: `npm run bench:listening -- [--quick]
 * [--json] [--show] [--only PARTS] [--conditions LIST]
 * [--utterances N] [--speech FOLDER]`. What is
 * measured and how: LISTENING.md.
 */

const SEED = 20_251_125;

/** Sizes of a full and of a quick run: within 25 and within 2 minutes on one free core. */
const FULL = { walk: 40, generated: 40, numbers: 30, ablation: 16, live: 20 };
const QUICK = { walk: 6, generated: 4, numbers: 4, ablation: 4, live: 4 };

/** Parts of the table, for `--only`. */
const PARTS = ['conditions', 'live', 'commands', 'others', 'people', 'ablation'] as const;
type Part = (typeof PARTS)[number];

const ABLATIONS: readonly { name: string; aids: Partial<Aids> }[] = [
  { name: 'as shipped', aids: {} },
  { name: 'without the phone loop', aids: { loop: null } },
  { name: 'without suppression', aids: { suppressBelow: -Infinity } },
  { name: 'without the station first', aids: { near: 1 } },
  { name: 'without commands alone', aids: { commands: false } },
  { name: 'without the coverage gate', aids: { coverage: 0 } },
  { name: 'without the margin gate', aids: { margin: false } },
  { name: 'without sense in the margin', aids: { sense: false } },
];

/** The figures of `--json`: null where a part was left out or its recordings are not here. */
interface Figures {
  conditions: Partial<Record<Condition, { checks: number; findings: number; numbers: number }>>;
  nonWalk: { hours: number; falseSpokenFor: number } | null;
  human: { digits: number | null; words: number | null };
  ackSecondsP95: number | null;
  realTimeFactor: number | null;
  readySeconds: number;
}

function option(words: readonly string[], name: string): string | undefined {
  const at = words.indexOf(name);
  return at < 0 ? undefined : words[at + 1];
}

export async function main(words: string[]): Promise<number> {
  const json = words.includes('--json');
  const quick = words.includes('--quick');
  const show = words.includes('--show');
  const most = Math.floor(Number(option(words, '--utterances') ?? 0) / 2);
  const size = {
    ...(quick ? QUICK : FULL),
    ...(most > 0 ? { walk: most, generated: most, numbers: Math.ceil(most / 2) } : {}),
  };
  const print = (line: string) => {
    if (!json) console.log(line);
  };
  if (words.includes('--walk')) return walked(words, aircraft(SPOKEN_TO), json);
  if (words.includes('--voices')) return voices(words, aircraft(SPOKEN_TO), json);
  const planes = aircraft();
  if (words.includes('--speech')) return others(option(words, '--speech'), planes, json);
  const only = option(words, '--only')?.split(',') ?? [...PARTS];
  const chosen = option(words, '--conditions')?.split(',') ?? [...CONDITIONS];
  const unknown = [
    ...only.filter((p) => !PARTS.some((known) => known === p)),
    ...chosen.filter((c) => !CONDITIONS.some((known) => known === c)),
  ];
  if (unknown.length > 0) {
    console.error(
      `There is no "${unknown.join(', ')}": --only takes ${PARTS.join(',')}; --conditions ${CONDITIONS.join(',')}.`,
    );
    return 2;
  }
  const wants = (part: Part) => only.includes(part);

  const started = performance.now();
  const plane = planes[0];
  if (plane === undefined) throw new Error('There is no catalogue.');
  const warm = performance.now();
  createRecogniser(await loadDecoder(modelFolder()), plane.parts);
  const readySeconds = (performance.now() - warm) / 1000;
  print(`recogniser ready in ${readySeconds.toFixed(2)} s (Node, model on disk)`);
  const figures: Figures = {
    conditions: {},
    nonWalk: null,
    human: { digits: null, words: null },
    ackSecondsP95: null,
    realTimeFactor: null,
    readySeconds,
  };

  const inWalks = shuffled(walkUtterances(planes));
  const said: Said[] = [...inWalks.slice(0, size.walk), ...generated(planes, size.generated, SEED)];
  const values = numbered(planes, size.numbers, SEED);
  if (wants('conditions')) {
    print(
      `${String(said.length)} utterances (${String(size.walk)} of ${String(inWalks.length)} of the sample walks, ${String(size.generated)} generated) and ${String(values.length)} with a value, for numbers and wrong only; five synthetic voices, seed ${String(SEED)}`,
    );
    print('condition   checks          findings        numbers         wrong  real-time factor');
    for (const condition of CONDITIONS.filter((c) => chosen.includes(c))) {
      const { score, busy, sound, misses } = await run(said, condition);
      const told = await run(values, condition);
      score.numbers[0] += told.score.numbers[0];
      score.numbers[1] += told.score.numbers[1];
      score.wrong += told.score.wrong;
      figures.conditions[condition] = {
        checks: part(score.checks),
        findings: part(score.findings),
        numbers: part(score.numbers),
      };
      print(row(condition, score, busy / sound));
      if (show) for (const miss of [...misses, ...told.misses]) print(`    ${miss}`);
    }
  }

  if (wants('live')) {
    const some = thinned(said, size.live);
    const talk = await live(some, 'clean');
    const noisy = await live(some, 'snr10');
    const acks = [...talk.acks, ...noisy.acks].sort((a, b) => a - b);
    figures.ackSecondsP95 = at(acks, 0.95);
    figures.realTimeFactor = (talk.busy + noisy.busy) / (talk.sound + noisy.sound);
    print(
      `live way, ${String(some.length)} utterances clean and at 10 dB, ${String(acks.length)} answered: ${at(acks, 0.5).toFixed(2)} s (p50), ${at(acks, 0.95).toFixed(2)} s (p95) after the end of speech; real-time factor ${figures.realTimeFactor.toFixed(3)}; recogniser's heap ${(Math.max(talk.heap, noisy.heap) / 1e6).toFixed(0)} MB`,
    );
  }

  if (wants('commands') && !json) {
    const conditions: Condition[] = ['clean', 'snr20'];
    print(
      `commands alone, voices ${VOICES.join(' ')}; r right, w taken for what does something else, o for words that do nothing, - rejected:`,
    );
    const rows = await commandsAlone(plane, AIDS, conditions);
    for (const { text, marks, taken } of rows) {
      const cells = conditions.map((c) => `${c} ${marks[c] ?? ''}`).join('  ');
      print(`  ${text.padEnd(16)} ${cells}${taken.length > 0 ? `  ${taken.join('; ')}` : ''}`);
    }
    for (const c of conditions) {
      const all = rows.map((r) => r.marks[c] ?? '').join('');
      const count = (mark: string) => String(all.split(mark).length - 1);
      print(
        `  ${c}: ${count('r')} right, ${count('w')} wrong, ${count('o')} other words, ${count('-')} rejected of ${String(all.length)}`,
      );
    }
  }

  if (wants('others')) {
    const other = await nonWalk(planes.slice(0, 2), AIDS, quick);
    figures.nonWalk = { hours: other.seconds / 3600, falseSpokenFor: other.falseSpokenFor };
    print(
      `no walk: ${(other.seconds / 60).toFixed(1)} min of reading, unrelated sentences and noise; ${String(other.falseSpokenFor)} false "spoken for"; ${String(other.words.length)} utterances taken for words`,
    );
    if (show) for (const text of other.words) print(`    "${text}"`);
  }

  if (wants('people')) {
    const people = await human(plane, AIDS, quick);
    figures.human = {
      digits: people.digits?.right ?? null,
      words: people.words?.right ?? null,
    };
    print(
      people.digits === null || people.words === null
        ? 'recordings of people: not here, skipped'
        : `people, single words after a question: ${shares('digits', people.digits)}; ${shares('yes/no/left/right', people.words)}`,
    );
  }

  if (wants('ablation') && !json) await ablate(said, size.ablation, planes.slice(0, 1), print);
  closeDecoders();
  print(`took ${((performance.now() - started) / 1000).toFixed(0)} s`);
  if (json) console.log(JSON.stringify(figures));
  return 0;
}

/** The table by voice. */
async function voices(
  words: readonly string[],
  planes: Parameters<typeof byVoice>[0],
  json: boolean,
): Promise<number> {
  const groups = { work: ['work'], report: ['report'], all: ['report', 'work'] } as const;
  const group = Object.entries(groups).find(([name]) => name === option(words, '--voices'))?.[1];
  const places = PLACES.filter((p) =>
    (option(words, '--conditions')?.split(',') ?? ['clean']).includes(p),
  );
  if (group === undefined || places.length === 0) {
    console.error(
      `Which voices? --voices work, report or all; --conditions some of ${PLACES.join(',')}.`,
    );
    return 2;
  }
  const figures = await byVoice(
    planes,
    {
      groups: group,
      places,
      adapted: words.includes('--adapted'),
      utterances: Number(option(words, '--utterances') ?? 20),
      only: option(words, '--only')?.split(',') ?? [],
      commands: !words.includes('--without-commands'),
      quick: words.includes('--quick'),
      show: words.includes('--show'),
    },
    (line) => {
      if (!json) console.log(line);
      // Beside the figures for a program, which stand alone in what it reads.
      else if (words.includes('--show')) console.error(line);
    },
  );
  closeDecoders();
  if (json) console.log(JSON.stringify(figures));
  return 0;
}

/** A short walk by single voices after their ear check. */
async function walked(
  words: readonly string[],
  [plane]: Parameters<typeof byVoice>[0],
  json: boolean,
): Promise<number> {
  const places = PLACES.filter((p) =>
    (option(words, '--conditions')?.split(',') ?? ['clean', 'snr20']).includes(p),
  );
  const names = option(words, '--walk')?.split(',') ?? [];
  if (plane === undefined) throw new Error('There is no catalogue of the helicopter.');
  try {
    const figures = await walks(names, places, plane, (line) => {
      if (!json) console.log(line);
    });
    if (json) console.log(JSON.stringify(figures));
    return 0;
  } catch (error) {
    console.error(error instanceof Error ? error.message : String(error));
    return 2;
  } finally {
    closeDecoders();
  }
}

/** Other recordings, as LISTENING.md says. */
async function others(
  folder: string | undefined,
  planes: Parameters<typeof recordings>[1],
  json: boolean,
): Promise<number> {
  if (folder === undefined) {
    console.error('Which folder? --speech FOLDER');
    return 2;
  }
  try {
    const score = await recordings(folder, planes, AIDS, (line) => {
      if (!json) console.log(line);
    });
    if (json) console.log(JSON.stringify(score));
    else
      console.log(
        `checks ${share(score.checks)}  findings ${share(score.findings)}  numbers ${share(score.numbers)}  wrong ${String(score.wrong)}`,
      );
    return 0;
  } catch (error) {
    console.error(error instanceof Error ? error.message : String(error));
    return 2;
  } finally {
    closeDecoders();
  }
}

function shares(name: string, of: { right: number; wrong: number; all: number }): string {
  return `${name} ${percent(of.right)} right, ${percent(of.wrong)} wrong of ${String(of.all)}`;
}

/** Evenly taken from the whole, so that walks and generated sentences are both among them. */
function thinned(said: readonly Said[], count: number): Said[] {
  return Array.from(
    { length: Math.min(count, said.length) },
    (_, i) => said[Math.floor((i * said.length) / count)] as Said,
  );
}

async function ablate(
  said: readonly Said[],
  count: number,
  planes: Parameters<typeof nonWalk>[0],
  print: (line: string) => void,
): Promise<void> {
  const some = thinned(said, count);
  print(`each aid by itself, ${String(some.length)} utterances:`);
  for (const { name, aids } of ABLATIONS) {
    const with_ = { ...AIDS, ...aids };
    const cells: string[] = [];
    for (const condition of ['clean', 'snr10'] as Condition[]) {
      const { score, busy, sound } = await run(some, condition, with_);
      cells.push(
        `${condition} ${share(score.checks)} wrong ${String(score.wrong)} rtf ${(busy / sound).toFixed(2)}`,
      );
    }
    const other = await nonWalk(planes, with_, true);
    print(
      `  ${name.padEnd(28)} ${cells.join('  ')}  no walk, ${(other.seconds / 60).toFixed(1)} min: ${String(other.words.length)} taken, ${String(other.falseSpokenFor)} false`,
    );
  }
  // The narrow pass for answers has a measure of its own.
  const [plane] = planes;
  if (plane === undefined) return;
  for (const [name, aids] of [
    ['as shipped', AIDS],
    ['without the pass for answers', { ...AIDS, narrow: false }],
  ] as const) {
    const { digits } = await human(plane, aids, true);
    print(
      `  ${name.padEnd(28)} ${digits === null ? 'recordings not here' : shares('digits of people', digits)}`,
    );
  }
}

function shuffled<T>(all: readonly T[]): T[] {
  const random = seeded(SEED);
  return all
    .map((value) => ({ value, by: random() }))
    .sort((a, b) => a.by - b.by)
    .map(({ value }) => value);
}

function part([right, of]: readonly [number, number]): number {
  return of === 0 ? 1 : right / of;
}

function percent(share: number): string {
  return `${(share * 100).toFixed(0)} %`;
}

function share(score: readonly [number, number]): string {
  return `${percent(part(score))} (${String(score[0])}/${String(score[1])})`;
}

function at(sorted: readonly number[], part: number): number {
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * part))] ?? 0;
}

function row(condition: string, score: Score, factor: number): string {
  return `${condition.padEnd(10)}  ${share(score.checks).padEnd(15)} ${share(score.findings).padEnd(15)} ${share(score.numbers).padEnd(15)} ${String(score.wrong).padEnd(6)} ${factor.toFixed(3)}`;
}
