import { execFile, execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { resample } from '../../src/capture/signal/resample.ts';
import { readWav } from '../../src/capture/signal/wav.ts';
import { level, RATE, say, type Voice } from './voice.ts';

/*
 * The voices that listening is measured with, in two groups by voice. What is
 * chosen or tuned is chosen with `work` alone; `report` is only looked at.
 *
 * festival and espeak-ng are Debian packages; where one is not installed its
 * voices are said to be missing and left out.
 */

export type Group = 'work' | 'report';

export interface Speaker {
  readonly name: string;
  readonly group: Group;
  /** natural: made of recorded speech (units or statistics of it). formant: made by rules. */
  readonly kind: 'natural' | 'formant';
  readonly program: 'flite' | 'festival' | 'espeak-ng';
  readonly voice: string;
  /** Length of each sound against the voice's own: 1.2 is slower. */
  readonly stretch?: number;
  /** Pitch in Hz (festival), or espeak's own 0 to 99. */
  readonly pitch?: number;
  /**
   * Frequencies against the voice's own, pitch and resonances alike, by
   * resampling: 1.15 is a vocal tract 13 % shorter. Its length in time is made up for.
   */
  readonly shift?: number;
}

const natural = (
  group: Group,
  program: Speaker['program'],
  name: string,
  voice: string,
  more: Partial<Speaker> = {},
): Speaker => ({ name, group, kind: 'natural', program, voice, ...more });
const formant = (
  group: Group,
  name: string,
  voice: string,
  more: Partial<Speaker> = {},
): Speaker => ({ name, group, kind: 'formant', program: 'espeak-ng', voice, ...more });

export const SPEAKERS: readonly Speaker[] = [
  natural('work', 'flite', 'slt', 'slt'),
  natural('work', 'flite', 'rms', 'rms'),
  natural('work', 'flite', 'awb', 'awb'),
  natural('work', 'flite', 'kal16', 'kal16'),
  natural('work', 'flite', 'rms-fast', 'rms', { stretch: 0.8 }),
  natural('work', 'flite', 'rms-short', 'rms', { shift: 1.18 }),
  natural('work', 'flite', 'slt-long', 'slt', { shift: 0.85 }),
  natural('work', 'flite', 'awb-short', 'awb', { shift: 1.12 }),
  formant('work', 'us', 'en-us'),
  formant('work', 'us-f2', 'en-us+f2'),
  formant('work', 'rp-m3', 'en-gb-x-rp+m3'),
  natural('report', 'festival', 'ked', 'ked_diphone'),
  natural('report', 'festival', 'ked-fast', 'ked_diphone', { stretch: 0.8 }),
  natural('report', 'festival', 'ked-high', 'ked_diphone', { pitch: 150 }),
  natural('report', 'festival', 'ked-short', 'ked_diphone', { shift: 1.16 }),
  natural('report', 'festival', 'ked-long', 'ked_diphone', { shift: 0.88 }),
  natural('report', 'festival', 'slt-hts', 'cmu_us_slt_arctic_hts'),
  natural('report', 'festival', 'slt-hts-slow', 'cmu_us_slt_arctic_hts', { stretch: 1.25 }),
  natural('report', 'festival', 'slt-hts-short', 'cmu_us_slt_arctic_hts', { shift: 1.12 }),
  formant('report', 'gb-f4', 'en-gb+f4'),
  formant('report', 'scotland-m7', 'en-gb-scotland+m7'),
  formant('report', 'us-klatt4', 'en-us+klatt4'),
  formant('report', 'caribbean-fast', 'en-029', { stretch: 0.8 }),
];

/** What each program needs, as Debian calls it. */
const PACKAGES: Readonly<Record<string, string>> = {
  ked_diphone: 'festvox-kdlpc16k',
  cmu_us_slt_arctic_hts: 'festvox-us-slt-hts',
};

/** Why a voice cannot speak here: the package that is missing; null when it can. */
export function missing({ program, voice }: Speaker): string | null {
  if (program === 'flite') return null;
  try {
    execFileSync('which', [program], { stdio: 'ignore' });
  } catch {
    return program;
  }
  if (program === 'espeak-ng') return null;
  const places = ['english', 'us'].map((folder) => `/usr/share/festival/voices/${folder}/${voice}`);
  return places.some((p) => existsSync(p)) ? null : (PACKAGES[voice] ?? voice);
}

const speak = promisify(execFile);
/** What was spoken once is kept here, so that a bench that is run again has only to listen. */
const KEPT = join(tmpdir(), 'talkround-speakers');
/** Loudest sample of what is spoken, as with the other voices of the tests. */
const PEAK = 0.5;
/** Words a minute of espeak-ng at its own speed. */
const WORDS_A_MINUTE = 160;

/** Synthetic speech, mono at 16,000 samples a second, peak about 0.5. */
export async function speech(speaker: Speaker, text: string): Promise<Float32Array> {
  const shift = speaker.shift ?? 1;
  // Shifted up it gets shorter by as much: it is spoken slower by as much before.
  const stretch = (speaker.stretch ?? 1) * shift;
  const own =
    speaker.program === 'flite'
      ? await say(text, speaker.voice as Voice, stretch)
      : await spoken(speaker, text, stretch);
  const shifted = shift === 1 ? own : resample(own, RATE * shift, RATE);
  return level(shifted, PEAK);
}

async function spoken(speaker: Speaker, text: string, stretch: number): Promise<Float32Array> {
  const { program, voice, pitch } = speaker;
  const name = createHash('sha256')
    .update(JSON.stringify([program, voice, pitch ?? null, stretch, text]))
    .digest('hex');
  const kept = join(KEPT, `${name}.wav`);
  if (!existsSync(kept)) {
    mkdirSync(KEPT, { recursive: true });
    const folder = mkdtempSync(join(KEPT, 'new-'));
    const out = join(folder, 'speech.wav');
    try {
      if (program === 'festival') await festival(folder, out, speaker, text, stretch);
      else
        await speak('espeak-ng', [
          ...['-v', voice, '-s', String(Math.round(WORDS_A_MINUTE / stretch))],
          ...(pitch === undefined ? [] : ['-p', String(pitch)]),
          ...['-w', out, text],
        ]);
      // In one step, so that nobody reads half a file.
      renameSync(out, kept);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  }
  const sound = readWav(readFileSync(kept));
  if (!sound.ok) throw new Error(sound.error);
  return resample(sound.samples, sound.rate, RATE);
}

/** Pitch of the diphone voice's own model, in Hz, which its settings are relative to. */
const MODEL_PITCH = { mean: 170, spread: 34 };

async function festival(
  folder: string,
  out: string,
  { voice, pitch }: Speaker,
  text: string,
  stretch: number,
): Promise<void> {
  const script = join(folder, 'say.scm');
  const words = text.replace(/["\\]/g, ' ');
  writeFileSync(
    script,
    [
      `(voice_${voice})`,
      ...(pitch === undefined
        ? []
        : [
            `(set! int_lr_params '((target_f0_mean ${pitch}) (target_f0_std 20) (model_f0_mean ${MODEL_PITCH.mean}) (model_f0_std ${MODEL_PITCH.spread})))`,
          ]),
      // The statistical voice has a speed of its own parameter.
      voice.endsWith('hts')
        ? `(set! hts_engine_params (append (list (list "-r" ${(1 / stretch).toFixed(4)})) hts_engine_params))`
        : `(Parameter.set 'Duration_Stretch ${stretch})`,
      `(set! said (utt.synth (Utterance Text "${words}")))`,
      `(utt.save.wave said "${out}" 'riff)`,
    ].join('\n'),
  );
  await speak('festival', ['-b', script]);
}
