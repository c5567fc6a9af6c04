import type { Question } from '#shared/question';
import { DECODER_RATE, type Decoder } from '../embedded/decoder.ts';
import { adaptTo, checkReading, tryName, type Reading } from '../embedded/adapt.ts';
import { MOST_PHRASES, ORDINARY, type VoiceSettings } from '../embedded/voice.ts';
import { createRecogniser, type Hearing, type Recogniser } from '../embedded/recognise.ts';
import { createResampler, type Resampler } from '../signal/resample.ts';
import { createSegmenter, type Segmenter } from '../signal/segment.ts';
import { soundedOf } from '../signal/sounded.ts';
import type { FromWorker, ToWorker } from './protocol.ts';

/**
 * Seconds of silence that are not called done: the begin of a word may be in
 * them before it is noticed, and would be lost with the worker.
 */
const UNNOTICED = 1;
/** Seconds of new sound after which the words so far are shown. */
const PARTIAL_EVERY = 0.12;

/**
 * The recogniser behind messages, without a worker around it, so that a test
 * can drive it in Node.
 *
 * An utterance is decoded as soon as it may be over, while the last tenths of a
 * second of silence are still awaited: the answer is then ready when they are.
 */
export function createEngine(
  load: (modelBase: string, loading: (share: number) => void) => Promise<Decoder>,
  tell: (message: FromWorker) => void,
): (message: ToWorker) => Promise<void> {
  let near: readonly string[] = [];
  let question: Question['kind'] | null = null;
  let recogniser: Recogniser | null = null;
  let segmenter: Segmenter | null = null;
  let resampler: { from: number; it: Resampler } | null = null;
  /** What came before the recogniser was ready. */
  let early: ToWorker[] = [];
  let taken = 0;
  let decoder: Decoder | null = null;
  let voice: VoiceSettings = ORDINARY;
  /** The phrase that is being read for the ear check, and those that were. */
  let reading: string | null = null;
  let readings: Reading[] = [];
  /** Names among which the phrase is tried; null: it is read for a voice. */
  let among: readonly string[] | null = null;

  function segment(made: Recogniser): Segmenter {
    /** Decoded when the utterance seemed to be over, to be used if it was. */
    let guess: { voiceEnd: number; hearing: Hearing | null } | null = null;
    /** Words of the running utterance from before a pause in it. */
    let before = '';
    let unshown = 0;
    return createSegmenter(DECODER_RATE, {
      begun(from) {
        guess = null;
        before = '';
        unshown = 0;
        made.begin();
        tell({ kind: 'begun', from });
      },
      sound(samples) {
        const text = made.push(samples);
        unshown += samples.length / DECODER_RATE;
        if (unshown < PARTIAL_EVERY) return;
        unshown = 0;
        tell({ kind: 'partial', text: `${before} ${text}`.trim() });
      },
      maybeEnded(utterance) {
        if (reading !== null) return;
        guess = { voiceEnd: utterance.voiceEnd, hearing: made.hear(utterance.samples) };
      },
      wentOn() {
        before = guess?.hearing?.text ?? before;
        guess = null;
        made.begin();
      },
      ended(utterance) {
        if (reading !== null) {
          made.cancel();
          check(reading, utterance.samples);
          return;
        }
        const known = guess !== null && guess.voiceEnd === utterance.voiceEnd ? guess : null;
        const hearing = known === null ? made.hear(utterance.samples) : known.hearing;
        guess = null;
        made.cancel();
        tell({
          kind: 'ended',
          hearing,
          from: utterance.from,
          to: utterance.voiceEnd,
          sound: soundedOf(utterance.samples, DECODER_RATE),
        });
      },
    });
  }

  /** The ear check: the sound of each phrase stays here, and goes with this worker. */
  function check(text: string, samples: Float32Array): void {
    if (decoder === null) return;
    const one = { text, samples };
    if (among !== null && recogniser !== null) {
      tell({ kind: 'checked', text, ...tryName(decoder, recogniser, one, among) });
      return;
    }
    const { sound: how, understood } = checkReading(decoder, one);
    // Read again it takes the place of the first reading.
    readings = [...readings.filter((r) => r.text !== text), one].slice(-MOST_PHRASES);
    tell({ kind: 'checked', text, sound: how, understood });
  }

  function raised(samples: Float32Array): Float32Array {
    if (voice.gain === 0) return samples;
    const by = 10 ** (voice.gain / 20);
    return samples.map((s) => Math.max(-1, Math.min(1, s * by)));
  }

  function sound(samples: Float32Array, rate: number): void {
    if (resampler?.from !== rate)
      resampler = { from: rate, it: createResampler(rate, DECODER_RATE) };
    segmenter?.push(raised(resampler.it.push(samples)));
    taken += samples.length / rate;
    // Only then has the worker nothing that would be lost with it.
    if (segmenter?.speaking === false) tell({ kind: 'done', upTo: taken - UNNOTICED });
  }

  async function take(message: ToWorker): Promise<void> {
    if (message.kind === 'open') {
      try {
        decoder = await load(message.modelBase, (share) => tell({ kind: 'loading', share }));
        recogniser = createRecogniser(decoder, { plan: message.plan, words: message.words });
        if (message.voice !== undefined) {
          voice = message.voice;
          await recogniser.fit(voice);
        }
        recogniser.near(near, question);
        segmenter = segment(recogniser);
        tell({ kind: 'ready' });
        const waiting = early;
        early = [];
        for (const next of waiting) await take(next);
      } catch (error) {
        tell({ kind: 'failed', why: error instanceof Error ? error.message : String(error) });
      }
    } else if (message.kind === 'ping') tell({ kind: 'pong' });
    else if (message.kind === 'expect') {
      near = message.near;
      question = message.question;
      recogniser?.near(near, question);
    } else if (segmenter === null || recogniser === null || decoder === null) early.push(message);
    else if (message.kind === 'read') {
      reading = message.text;
      among = message.near ?? null;
    } else if (message.kind === 'adapt') {
      const adapted = await adaptTo(decoder, recogniser, readings, message.kept);
      readings = [];
      reading = null;
      if (adapted.ok) voice = adapted.voice;
      await recogniser.fit(voice);
      recogniser.near(near, question);
      tell({ kind: 'adapted', adapted });
    } else if (message.kind === 'sound') sound(message.samples, message.rate);
    else {
      segmenter.flush();
      tell({ kind: 'flushed' });
    }
  }

  /** One after another: while it is fitted to a voice, sound waits. */
  let turn: Promise<void> = Promise.resolve();
  return (message) => {
    turn = turn.catch(() => undefined).then(() => take(message));
    return turn;
  };
}
