import { loadDecoder } from '../../src/capture/embedded/decoder.ts';
import { AIDS, createRecogniser, type Aids } from '../../src/capture/embedded/recognise.ts';
import { seeded } from '../speech/noise.ts';
import { human, nonWalk, recordings } from './listening-others.ts';
import {
  closeDecoders,
  CONDITIONS,
  live,
  run,
  type Condition,
  type Score,
} from './listening-run.ts';
import { aircraft, generated, modelFolder, walkUtterances, type Said } from './listening-set.ts';

/*
 * How well the embedded recogniser listens: `npm run bench:listening -- [--quick]
 * [--json] [--show] [--speech FOLDER]`. What is measured and how: LISTENING.md.
 */

const SEED = 20_251_125;

/** Sizes of a full and of a quick run, chosen to end within eight minutes on two cores. */
const FULL = { walk: 36, generated: 24, ablation: 15, live: 15 };
const QUICK = { walk: 9, generated: 6, ablation: 6, live: 5 };

const ABLATIONS: readonly { name: string; aids: Partial<Aids> }[] = [
  { name: 'as shipped', aids: {} },
  { name: 'without the phone loop', aids: { loop: null } },
  { name: 'loop ten times stronger', aids: { loop: AIDS.loop === null ? null : AIDS.loop * 10 } },
  { name: 'without suppression', aids: { suppressBelow: -Infinity } },
  { name: 'without the station first', aids: { near: 1 } },
  { name: 'without commands alone', aids: { commands: false } },
  { name: 'without the coverage gate', aids: { coverage: 0 } },
  { name: 'without the margin gate', aids: { margin: null } },
];

export async function main(words: string[]): Promise<number> {
  const json = words.includes('--json');
  const quick = words.includes('--quick');
  const size = quick ? QUICK : FULL;
  const print = (line: string) => {
    if (!json) console.log(line);
  };
  const planes = aircraft();
  const folder = words[words.indexOf('--speech') + 1];
  if (words.includes('--speech')) {
    if (folder === undefined) {
      console.error('Which folder? --speech FOLDER');
      return 2;
    }
    const score = await recordings(folder, planes, AIDS, print);
    print(
      `checks ${share(score.checks)}  findings ${share(score.findings)}  numbers ${share(score.numbers)}`,
    );
    if (json) console.log(JSON.stringify(score));
    return 0;
  }

  const started = performance.now();
  const plane = planes[0];
  if (plane === undefined) throw new Error('There is no catalogue.');
  const warm = performance.now();
  createRecogniser(await loadDecoder(modelFolder()), plane.parts);
  const readySeconds = (performance.now() - warm) / 1000;

  const inWalks = shuffled(walkUtterances(planes));
  const said: Said[] = [...inWalks.slice(0, size.walk), ...generated(planes, size.generated, SEED)];
  print(
    `${String(said.length)} utterances (${String(size.walk)} of ${String(inWalks.length)} of the sample walks, ${String(size.generated)} generated), five synthetic voices, seed ${String(SEED)}`,
  );
  print('condition   checks        findings      numbers       wrong  real-time factor');
  const conditions: Record<string, { checks: number; findings: number; numbers: number }> = {};
  for (const condition of CONDITIONS) {
    const { score, busy, sound, misses } = await run(said, condition);
    conditions[condition] = {
      checks: part(score.checks),
      findings: part(score.findings),
      numbers: part(score.numbers),
    };
    print(row(condition, score, busy / sound));
    if (words.includes('--show')) for (const miss of misses) print(`    ${miss}`);
  }

  const talk = await live(said.slice(0, size.live), 'clean');
  const noisy = await live(said.slice(0, size.live), 'snr10');
  const acks = [...talk.acks, ...noisy.acks].sort((a, b) => a - b);
  const realTimeFactor = (talk.busy + noisy.busy) / (talk.sound + noisy.sound);
  const heap = Math.max(talk.heap, noisy.heap);
  print(
    `live way, clean and 10 dB: answered ${at(acks, 0.5).toFixed(2)} s (p50), ${at(acks, 0.95).toFixed(2)} s (p95) after the end of speech; real-time factor ${realTimeFactor.toFixed(3)}; recogniser's heap ${(heap / 1e6).toFixed(0)} MB; ready in ${readySeconds.toFixed(2)} s`,
  );

  const other = await nonWalk(planes.slice(0, 2), AIDS, quick);
  print(
    `no walk: ${(other.seconds / 60).toFixed(1)} min of reading, unrelated sentences and noise; ${String(other.falseSpokenFor)} false "spoken for"; ${String(other.words.length)} utterances taken for words`,
  );
  if (words.includes('--show')) for (const text of other.words) print(`    "${text}"`);

  const people = await human(plane, AIDS, quick);
  print(
    people.digits === null || people.words === null
      ? 'recordings of people: not here, skipped'
      : `people, single words after a question: digits ${percent(people.digits.right)} right, ${percent(people.digits.wrong)} wrong; yes/no/left/right ${percent(people.words.right)} right, ${percent(people.words.wrong)} wrong`,
  );

  if (!json) await ablate(said, size.ablation, planes.slice(0, 1), quick, print);
  closeDecoders();
  print(`took ${((performance.now() - started) / 1000).toFixed(0)} s`);
  if (json)
    console.log(
      JSON.stringify({
        conditions,
        nonWalk: { hours: other.seconds / 3600, falseSpokenFor: other.falseSpokenFor },
        human: { digits: people.digits?.right ?? null, words: people.words?.right ?? null },
        ackSecondsP95: at(acks, 0.95),
        realTimeFactor,
        readySeconds,
      }),
    );
  return 0;
}

async function ablate(
  said: readonly Said[],
  count: number,
  planes: Parameters<typeof nonWalk>[0],
  quick: boolean,
  print: (line: string) => void,
): Promise<void> {
  // Every third, so that walks and generated sentences are both among them.
  const some = said.filter((_, i) => i % Math.ceil(said.length / count) === 0);
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
      `  ${name.padEnd(28)} ${cells.join('  ')}  no walk: ${String(other.words.length)} taken, ${String(other.falseSpokenFor)} false${quick ? ' (quick)' : ''}`,
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
  return `${condition.padEnd(10)}  ${share(score.checks).padEnd(13)} ${share(score.findings).padEnd(13)} ${share(score.numbers).padEnd(13)} ${String(score.wrong).padEnd(6)} ${factor.toFixed(3)}`;
}
