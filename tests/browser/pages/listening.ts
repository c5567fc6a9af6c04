import { microphone } from '../../../src/capture/sound/microphone.ts';
import {
  joinSound,
  platformRecorder,
  recorder,
  type RecordedChunk,
} from '../../../src/capture/sound/recorder.ts';
import { loudness } from '../../../src/capture/sound/level.ts';
import { tap } from '../../../src/capture/sound/tap.ts';
import { awakePlatform, stayAwake } from '../../../src/capture/platform/awake.ts';
import { headset, headsetPlatform } from '../../../src/capture/platform/headset.ts';
import { browserSounder, browserSynth, EARCONS, type EarconName } from '#speak';

/** Parts of listening and speaking that only a real browser can try, for the test to call. */

const began = performance.now();
const seconds = () => (performance.now() - began) / 1000;
let ids = 0;
const world = {
  id: () => `id-${String((ids += 1))}`,
  now: () => Date.now(),
  steady: () => performance.now() / 1000,
};

/** Records so many seconds; what was kept, how late each slice was, and what it sounds like again. */
async function record(length: number) {
  const mic = microphone<MediaStream>(navigator.mediaDevices, {
    echoCancellation: false,
    noiseSuppression: false,
    autoGainControl: false,
  });
  const opened = await mic.open();
  if (!opened.ok) return { ok: false as const, sentence: opened.sentence };
  const chunks: RecordedChunk[] = [];
  const late: number[] = [];
  const missing: string[] = [];
  const it = recorder({
    world,
    seconds,
    keep: (chunk) => {
      chunks.push(chunk);
      late.push(seconds() - start - chunk.place.from);
      return Promise.resolve({ kept: true });
    },
    onMissing: (why) => missing.push(why),
    ...platformRecorder(),
  });
  const start = seconds();
  it.start(opened.stream);
  await new Promise((resolve) => setTimeout(resolve, length * 1000));
  await it.stop();
  mic.close();
  const joined = joinSound(chunks);
  const audio = new AudioContext();
  const buffer = await audio.decodeAudioData((joined?.data ?? new Uint8Array(0)).slice().buffer);
  const samples = buffer.getChannelData(0);
  const loudness = (from: number, to: number) => {
    const part = samples.subarray(from * buffer.sampleRate, to * buffer.sampleRate);
    return Math.sqrt(part.reduce((sum, x) => sum + x * x, 0) / Math.max(1, part.length));
  };
  return {
    ok: true as const,
    mime: joined?.mime ?? '',
    numbers: chunks.map((c) => c.chunk),
    latest: Math.max(...late),
    missing,
    seconds: buffer.duration,
    tenths: Array.from({ length: Math.floor(buffer.duration * 10) }, (_, i) =>
      loudness(i / 10, (i + 1) / 10),
    ),
    place: it.place(start + 0.5, start + 1),
  };
}

/** Taps the microphone for so many seconds: how much came, and how loud it was. */
async function listen(length: number) {
  const mic = microphone<MediaStream>(navigator.mediaDevices, {
    echoCancellation: false,
    noiseSuppression: false,
    autoGainControl: false,
  });
  const opened = await mic.open();
  if (!opened.ok) return null;
  const levels: number[] = [];
  let samples = 0;
  const it = await tap(opened.stream, (block) => {
    samples += block.length;
    levels.push(loudness(block));
  });
  await new Promise((resolve) => setTimeout(resolve, length * 1000));
  it.close();
  mic.close();
  return { rate: it.rate, seconds: samples / it.rate, levels };
}

let context: AudioContext | null = null;
const sounder = browserSounder(() => (context ??= new AudioContext()));

async function sound(name: EarconName) {
  const from = performance.now();
  await sounder.sound(name);
  return { milliseconds: performance.now() - from, state: context?.state ?? 'none' };
}

async function speak(text: string) {
  const synth = browserSynth();
  const from = performance.now();
  const said = await synth.say(text, () => undefined);
  return { able: synth.able, said, milliseconds: performance.now() - from };
}

async function buttons() {
  const it = headset(headsetPlatform(globalThis));
  const reached = await it.on({ toggle: () => undefined, next: () => undefined });
  it.state(true, 'Talkround');
  const state = navigator.mediaSession.playbackState;
  it.off();
  return { reached, state };
}

async function awake() {
  const it = stayAwake(awakePlatform(document, navigator));
  const granted = await it.on();
  await it.off();
  return granted;
}

const harness = { record, listen, sound, speak, buttons, awake, earcons: Object.keys(EARCONS) };
export type Harness = typeof harness;
declare global {
  interface Window {
    harness: Harness;
  }
}
window.harness = harness;
