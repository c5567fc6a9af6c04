import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Question } from '#shared/question';
import { FIRST_SCENE, type Scene } from '#shared/scene';
import { createRecogniser, hearSamples, type Aids } from '../../src/capture/embedded/recognise.ts';
import { resample } from '../../src/capture/signal/resample.ts';
import { readWav } from '../../src/capture/signal/wav.ts';
import { NOISES, noise, over } from '../speech/noise.ts';
import { joined, RATE, say, VOICES } from '../speech/voice.ts';
import { meaningOf, typed, type Aircraft } from './listening-set.ts';
import { decoderFor, wrongIn, type Score } from './listening-run.ts';

/** Sentences that belong to no walk, our own. */
export const UNRELATED: readonly string[] = [
  'The train to the coast leaves at a quarter past nine.',
  'She put the kettle on and looked out at the rain.',
  'We had soup for lunch and a very good apple cake.',
  'My brother is learning to play the cello this winter.',
  'Could you pass me the newspaper when you have read it?',
  'The meeting was moved to Thursday because of the holiday.',
  'There were three boats in the harbour and none of them moved.',
  'He laughed so much that he had to sit down on the stairs.',
  'The library closes early on Saturdays in the summer.',
  'I think we should paint the kitchen yellow and the door green.',
  'Nobody had seen the cat since Tuesday evening.',
  'The old man counted his change twice and went home.',
  'If it rains tomorrow we will go to the museum instead.',
  'The recipe says two eggs, some flour and a pinch of salt.',
  'They walked along the river until it was dark.',
  'A parcel came for you while you were out.',
  'The children built a castle and the sea took it away.',
  'Please remember to water the plants on the balcony.',
  'He wrote to her every week for eleven years.',
  'The film was long, but the music in it was wonderful.',
  'Thanks, see you later.',
  'Is he coming?',
  'I left my keys in the car again.',
  'Two coffees, please, and one tea.',
  'The weather looks fine for the weekend.',
  'She is on the phone with her mother.',
  'No, I have not been there yet.',
  'My sister has a new job at the bank.',
  'It was a good match but we lost in the end.',
  'Where did you park the van?',
  'They are closed on Mondays and Tuesdays.',
  'All the lights were out when we came home.',
  'He has three sons and a daughter.',
  'The shop on the corner sells fresh bread.',
  'You can have the rest of the cake if you like.',
  'Our train was forty minutes late this morning.',
  'That is a beautiful picture on the wall.',
  'Good morning, how are you today?',
  'The fuel prices went up again last week.',
  'Nothing happened for a long time, then the phone rang.',
];

/** `../shared/datasets`, where it is there. */
export function datasets(): string | null {
  const folder = resolve('..', 'shared', 'datasets');
  return existsSync(folder) ? folder : null;
}

function soundAt(file: string): Float32Array | null {
  const sound = readWav(readFileSync(file));
  return sound.ok ? resample(sound.samples, sound.rate, RATE) : null;
}

function padded(samples: Float32Array): Float32Array {
  return joined([samples], 0.5).samples;
}

export interface NonWalk {
  readonly seconds: number;
  readonly falseSpokenFor: number;
  /** Commands that nobody gave, and the words that were taken for them. */
  readonly orders: number;
  readonly orderly: readonly string[];
  readonly words: readonly string[];
}

/** Decibels of unrelated sentences over noise: as people shout beside an engine. */
const SHOUTED = 10;

/**
 * Everything that is no walk: reading by people, unrelated sentences, clean and
 * over noise, and noise alone, heard at every station in turn.
 *
 * @param talkers other voices that say the same sentences, clean and over noise in turn.
 */
export async function nonWalk(
  planes: readonly Aircraft[],
  aids: Aids,
  quick: boolean,
  talkers: readonly ((text: string) => Promise<Float32Array>)[] = [],
): Promise<NonWalk> {
  const pieces: Float32Array[] = [];
  const folder = datasets();
  if (folder !== null)
    for (const file of readdirSync(join(folder, 'out-of-grammar'))) {
      const sound = soundAt(join(folder, 'out-of-grammar', file));
      if (sound !== null) pieces.push(padded(sound));
    }
  const voices = quick ? VOICES.slice(0, 1) : VOICES;
  for (const [i, text] of UNRELATED.entries())
    for (const [v, voice] of voices.entries()) {
      if ((i + v) % 2 !== 0 || (quick && i % 8 !== 0)) continue;
      const clean = padded(await say(text, voice));
      pieces.push(clean);
      const kind = NOISES[(i + v) % NOISES.length] ?? 'pink';
      if (!quick && v < 2) pieces.push(over(clean, kind, SHOUTED, RATE, 500 + i));
    }
  for (const [t, talker] of talkers.entries())
    for (const [i, text] of UNRELATED.entries()) {
      if (quick && (i + t) % 8 !== 0) continue;
      const clean = padded(await talker(text));
      const kind = NOISES[(i + t) % NOISES.length] ?? 'pink';
      pieces.push((i + t) % 2 === 0 ? clean : over(clean, kind, SHOUTED, RATE, 800 + i));
    }
  for (const kind of NOISES)
    pieces.push(noise(kind, RATE * (quick ? 10 : 40), RATE, 5).map((s) => s * 0.05));
  let seconds = 0;
  let falseSpokenFor = 0;
  let orders = 0;
  const orderly: string[] = [];
  const words: string[] = [];
  for (const plane of planes) {
    const recogniser = createRecogniser(await decoderFor(plane), plane.parts, aids);
    const { stations } = plane.catalogue;
    for (const [i, samples] of pieces.entries()) {
      seconds += samples.length / RATE;
      let scene: Scene = { ...FIRST_SCENE, station: stations[i % stations.length]?.id ?? null };
      recogniser.expect(scene);
      const heard = await hearSamples(recogniser, samples, RATE, { id: () => 'other' });
      for (const one of heard) {
        const reading = plane.grammar.read(one, scene);
        const good = [...meaningOf(reading.statements).checks].filter((key) =>
          key.endsWith(' good'),
        ).length;
        words.push(good > 0 ? `${one.text} (spoken for)` : one.text);
        falseSpokenFor += good;
        const given = reading.statements.filter((s) => s.kind === 'command').length;
        if (given > 0) orderly.push(one.text);
        orders += given;
        scene = reading.scene;
      }
    }
  }
  return { seconds, falseSpokenFor, orders, orderly, words };
}

const DIGITS = ['zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine'];
/** Single words of the recordings that mean something as an answer. */
const ANSWERS: ReadonlySet<string> = new Set(['yes', 'no', 'left', 'right']);

/** Shares of `all`. */
export interface Answers {
  readonly right: number;
  readonly wrong: number;
  readonly all: number;
}

export interface Human {
  /** Shares right, and shares that were taken for another word; null when the recordings are not here. */
  readonly digits: Answers | null;
  readonly words: Answers | null;
}

/** Short answers by people, as after a question of ours. */
export async function human(plane: Aircraft, aids: Aids, quick: boolean): Promise<Human> {
  const folder = datasets();
  if (folder === null) return { digits: null, words: null };
  const recogniser = createRecogniser(await decoderFor(plane), plane.parts, aids);
  async function share(
    name: string,
    wanted: (file: string) => string | null,
    kind: (want: string) => Question['kind'],
  ): Promise<Answers> {
    let right = 0;
    let wrong = 0;
    let all = 0;
    const files = readdirSync(join(folder ?? '', name)).filter((_, i) => !quick || i % 5 === 0);
    for (const file of files) {
      const want = wanted(file);
      if (want === null) continue;
      const sound = soundAt(join(folder ?? '', name, file));
      if (sound === null) continue;
      all++;
      recogniser.near([], kind(want));
      const heard = await hearSamples(recogniser, padded(sound), RATE, { id: () => 'human' });
      const text = heard.map((h) => h.text).join(' ');
      const said = text.replace(/\boh\b/g, 'zero').replace(/\bniner\b/g, 'nine');
      if (said === want) right++;
      else if (said !== '') wrong++;
    }
    return { right: right / Math.max(1, all), wrong: wrong / Math.max(1, all), all };
  }
  return {
    digits: await share(
      'spoken-digits',
      (file) => DIGITS[Number(file[0])] ?? null,
      () => 'value',
    ),
    words: await share(
      'spoken-words',
      (file) => {
        const word = file.split('-')[0] ?? '';
        return ANSWERS.has(word) ? word : null;
      },
      (want) => (/left|right/.test(want) ? 'which-instance' : 'polarity'),
    ),
  };
}

/** Other recordings, named in `list.tsv` of a folder: file, catalogue, what is said (see LISTENING.md). */
export async function recordings(
  folder: string,
  planes: readonly Aircraft[],
  aids: Aids,
  print: (line: string) => void,
): Promise<Score> {
  const list = join(folder, 'list.tsv');
  if (!existsSync(list)) throw new Error(`There is no ${list}: see tests/bench/LISTENING.md.`);
  const score = {
    checks: [0, 0] as [number, number],
    findings: [0, 0] as [number, number],
    numbers: [0, 0] as [number, number],
    wrong: 0,
  };
  for (const [i, line] of readFileSync(list, 'utf8').split(/\r?\n/).entries()) {
    if (line.trim() === '' || line.startsWith('#')) continue;
    const [file, catalogue, text, station] = line.split('\t');
    const plane = planes.find((p) => p.name === catalogue);
    if (file === undefined || text === undefined || plane === undefined)
      throw new Error(`Line ${String(i + 1)} of list.tsv needs: file, catalogue, words.`);
    const samples = soundAt(join(folder, file));
    if (samples === null) throw new Error(`${file} is no WAV file that can be read.`);
    const scene: Scene = { ...FIRST_SCENE, station: station ?? null };
    const recogniser = createRecogniser(await decoderFor(plane), plane.parts, aids);
    recogniser.expect(scene);
    let then = scene;
    const statements = (
      await hearSamples(recogniser, padded(samples), RATE, { id: () => 'other' })
    ).flatMap((heard) => {
      const reading = plane.grammar.read(heard, then);
      then = reading.scene;
      return reading.statements;
    });
    const meant = meaningOf(plane.grammar.read(typed(text), scene).statements);
    const got = meaningOf(statements);
    let bad = false;
    for (const kind of ['checks', 'findings', 'numbers'] as const) {
      const right = [...meant[kind]].filter((key) => got[kind].has(key)).length;
      score[kind][0] += right;
      score[kind][1] += meant[kind].size;
      bad ||= right < meant[kind].size;
    }
    score.wrong += wrongIn(meant, got);
    if (bad) print(`  missed in ${file}: "${text}"`);
  }
  return score;
}
