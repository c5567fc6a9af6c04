import { adaptTo, phrasesToRead, type Reading } from '../../src/capture/embedded/adapt.ts';
import { DECODER_RATE } from '../../src/capture/embedded/decoder.ts';
import { AIDS, createRecogniser, hearSamples } from '../../src/capture/embedded/recognise.ts';
import { ORDINARY, type Adapted, type VoiceSettings } from '../../src/capture/embedded/voice.ts';
import { resample } from '../../src/capture/signal/resample.ts';
import { LEAST_VOICED } from '../../src/wire/unheard.ts';
import { NOISES, over } from '../speech/noise.ts';
import { inRoom } from '../speech/room.ts';
import { joined, RATE } from '../speech/voice.ts';
import { missing, speech, SPEAKERS, type Group, type Speaker } from '../speech/voices.ts';
import { commandFigures, type CommandFigures } from './listening-orders.ts';
import { decoderFor, judge, read, type Score } from './listening-run.ts';
import { generated, walkUtterances, type Aircraft, type Said } from './listening-set.ts';

/*
 * Listening by voice: `npm run bench:listening -- --voices work|report|all
 * [--adapted] [--json]`. What is measured and how: LISTENING.md.
 */

export const PLACES = ['clean', 'room', 'snr20', 'snr10'] as const;
export type Place = (typeof PLACES)[number];

/** The catalogue that all voices speak of. */
export const SPOKEN_TO = 'training-helicopter';

export interface VoiceRow {
  readonly speaker: Speaker;
  readonly place: Place;
  readonly checks: readonly [right: number, of: number];
  readonly wrong: number;
  /** Utterances of which nothing was understood, and those among them that nobody was told of. */
  readonly unheard: number;
  readonly silent: number;
}

export interface ByVoice {
  checks: number;
  wrong: number;
  checksAdapted: number | null;
  wrongAdapted: number | null;
}

export interface VoiceFigures {
  readonly byVoice: Record<string, ByVoice>;
  silentLosses: number;
  commands: CommandFigures | null;
  readonly missing: string[];
}

/** Phrases that are read to the ear check before `--adapted`: as many as the short one of the app has. */
const READ = 3;
/** Half the reverberation of a hangar's corner, after which nobody would speak to a phone. */
const ROOM_SECONDS = 0.4;
/** Seconds of silence, or noise alone, around each utterance. */
const AROUND = 0.6;
const SEEDS: Readonly<Record<Group, number>> = { work: 4100, report: 5200 };

/** What a group says: half from the sample walks, half made from the catalogue. Groups share no made sentence. */
export function saidBy(group: Group, plane: Aircraft, count: number): Said[] {
  const walks = walkUtterances([plane]).filter((_, i) => i % 2 === (group === 'work' ? 0 : 1));
  const half = Math.ceil(count / 2);
  const step = Math.max(1, Math.floor(walks.length / half));
  return [
    ...walks.filter((_, i) => i % step === 0).slice(0, half),
    ...generated([plane], count - half, SEEDS[group]),
  ];
}

export async function soundAt(
  speaker: Speaker,
  text: string,
  place: Place,
  number: number,
): Promise<Float32Array> {
  const dry = await speech(speaker, text);
  if (place === 'room')
    return joined([inRoom(dry, ROOM_SECONDS, RATE, 70 + number)], AROUND).samples;
  const clean = joined([dry], AROUND).samples;
  if (place === 'clean') return clean;
  const kind = NOISES[number % NOISES.length] ?? 'pink';
  return over(clean, kind, Number(place.slice(3)), RATE, 2000 + number);
}

/** What the ear check makes of a voice: phrases of the aircraft read once, in quiet. */
export async function earCheck(speaker: Speaker, plane: Aircraft): Promise<Adapted> {
  const decoder = await decoderFor(plane);
  const readings: Reading[] = [];
  for (const text of phrasesToRead(plane.parts.plan, READ)) {
    const samples = resample(await soundAt(speaker, text, 'clean', 0), RATE, DECODER_RATE);
    readings.push({ text, samples });
  }
  return adaptTo(decoder, createRecogniser(decoder, plane.parts, AIDS), readings, null);
}

/** One voice in one place. */
export async function heardBy(
  speaker: Speaker,
  place: Place,
  said: readonly Said[],
  plane: Aircraft,
  show: (line: string) => void,
  voice: VoiceSettings = ORDINARY,
): Promise<VoiceRow> {
  const recogniser = createRecogniser(await decoderFor(plane), plane.parts, AIDS);
  await recogniser.fit(voice);
  const score: Score = { checks: [0, 0], findings: [0, 0], numbers: [0, 0], wrong: 0 };
  let unheard = 0;
  let silent = 0;
  for (const [i, one] of said.entries()) {
    const samples = await soundAt(speaker, one.text, place, i);
    recogniser.expect(one.scene);
    let told = false;
    const heard = await hearSamples(recogniser, samples, RATE, {
      id: () => `v${String(i)}`,
      lost: (sound) => (told ||= sound.voiced >= LEAST_VOICED),
    });
    if (heard.length === 0) {
      unheard += 1;
      if (!told) silent += 1;
    }
    if (judge(one, read(one, heard), score))
      show(`    "${one.text}" heard as "${heard.map((h) => h.text).join(' | ')}"`);
  }
  return { speaker, place, checks: score.checks, wrong: score.wrong, unheard, silent };
}

export interface VoiceOptions {
  readonly groups: readonly Group[];
  readonly adapted: boolean;
  readonly places: readonly Place[];
  readonly utterances: number;
  /** Names of voices; empty: all of the groups. */
  readonly only: readonly string[];
  /** Commands and unrelated talk too. */
  readonly commands: boolean;
  readonly quick: boolean;
  readonly show: boolean;
}

export async function byVoice(
  planes: readonly Aircraft[],
  options: VoiceOptions,
  print: (line: string) => void,
): Promise<VoiceFigures> {
  const plane = planes.find((p) => p.name === SPOKEN_TO);
  if (plane === undefined) throw new Error('There is no catalogue of the helicopter.');
  const wanted = SPEAKERS.filter(
    (s) =>
      options.groups.includes(s.group) &&
      (options.only.length === 0 || options.only.includes(s.name)),
  );
  const lacking = wanted.flatMap((s) => {
    const what = missing(s);
    return what === null ? [] : [`${s.name} (${what})`];
  });
  for (const one of lacking) print(`not here, left out: ${one}`);
  const speakers = wanted
    .filter((s) => missing(s) === null)
    // Report first: it is what counts.
    .sort((a, b) => a.group.localeCompare(b.group) || 0);
  const figures: VoiceFigures = { byVoice: {}, silentLosses: 0, commands: null, missing: lacking };
  const rows: (VoiceRow & { adapted: boolean })[] = [];
  print(
    'voice             group   kind     place  ear check checks       wrong  nothing understood, untold',
  );
  for (const speaker of speakers) {
    const said = saidBy(speaker.group, plane, options.utterances);
    const of: ByVoice = { checks: 0, wrong: 0, checksAdapted: null, wrongAdapted: null };
    figures.byVoice[speaker.name] = of;
    const show = options.show ? print : () => undefined;
    const note = (row: VoiceRow, adapted: boolean) => {
      rows.push({ ...row, adapted });
      print(lineOf({ ...row, adapted }));
      figures.silentLosses += row.silent;
      if (row.place !== options.places[0]) return;
      const checks = row.checks[0] / Math.max(1, row.checks[1]);
      if (adapted) Object.assign(of, { checksAdapted: checks, wrongAdapted: row.wrong });
      else Object.assign(of, { checks, wrong: row.wrong });
    };
    const measure = async (voice: VoiceSettings | null) => {
      for (const place of options.places)
        note(await heardBy(speaker, place, said, plane, show, voice ?? ORDINARY), voice !== null);
    };
    await measure(null);
    if (!options.adapted) continue;
    const adapted = await earCheck(speaker, plane);
    if (!adapted.ok) {
      print(`    ear check: no settings, ${adapted.why}`);
      continue;
    }
    const { warp, tract, strict, gain } = adapted.voice;
    print(
      `    ear check: warp ${String(warp)} (likeliest ${String(tract)}), strict ${strict.toFixed(2)}, gain ${String(gain)} dB`,
    );
    // Left as the model was made, every sound would give what it gave before.
    if (warp === 1 && strict === 1 && gain === 0)
      for (const row of rows.filter((r) => r.speaker === speaker)) note(row, true);
    else await measure(adapted.voice);
  }
  for (const group of options.groups)
    for (const kind of ['natural', 'formant'] as const)
      for (const place of options.places)
        for (const adapted of options.adapted ? [false, true] : [false])
          print(
            `${adapted ? 'after' : 'before'}: ${sumOf(
              rows.filter((r) => r.adapted === adapted),
              group,
              kind,
              place,
            )}`,
          );
  const natural = speakers.filter((s) => s.kind === 'natural');
  if (options.commands)
    figures.commands = await commandFigures(plane, natural, AIDS, options.quick, print);
  return figures;
}

function lineOf(row: VoiceRow & { adapted: boolean }): string {
  const { speaker, place, checks, wrong, unheard, silent, adapted } = row;
  return [
    speaker.name.padEnd(17),
    speaker.group.padEnd(7),
    speaker.kind.padEnd(8),
    place.padEnd(6),
    (adapted ? 'after' : 'before').padEnd(6),
    shareOf(checks).padEnd(15),
    String(wrong).padEnd(6),
    `${String(unheard)}, ${String(silent)}`,
  ].join(' ');
}

function sumOf(rows: readonly VoiceRow[], group: Group, kind: string, place: Place): string {
  const of = rows.filter(
    (r) => r.speaker.group === group && r.speaker.kind === kind && r.place === place,
  );
  const sum = (f: (r: VoiceRow) => number) => of.reduce((total, r) => total + f(r), 0);
  const checks: [number, number] = [sum((r) => r.checks[0]), sum((r) => r.checks[1])];
  return `all ${group} ${kind} ${place}: ${shareOf(checks)} of ${String(of.length)} voices, wrong ${String(sum((r) => r.wrong))}, untold ${String(sum((r) => r.silent))}`;
}

function percent(share: number): string {
  return `${(share * 100).toFixed(0)} %`;
}

function shareOf([right, of]: readonly [number, number]): string {
  return of === 0 ? 'not heard' : `${percent(right / of)} (${String(right)}/${String(of)})`;
}
