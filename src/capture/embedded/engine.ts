import { createResampler } from '../signal/resample.ts';
import { createSegmenter, type Utterance } from '../signal/segment.ts';
import { DECODER_RATE, type Decoder } from './decoder.ts';
import type { FromWorker, ToWorker } from './messages.ts';
import { createRecogniser, type Hearing, type Recogniser } from './recognise.ts';

/** Seconds of new sound after which the words so far are shown. */
const PARTIAL_EVERY = 0.1;

/**
 * The recogniser behind messages, without a worker around it, so that a test
 * can drive it in Node.
 *
 * An utterance is decoded as soon as it may be over, while the last tenths of
 * a second of silence are still awaited: the answer is then ready when the
 * silence is long enough.
 */
export function createEngine(
  load: (modelBase: string) => Promise<Decoder>,
  post: (message: FromWorker) => void,
): (message: ToWorker) => Promise<void> {
  let recogniser: Recogniser | null = null;
  let push: ((samples: Float32Array) => void) | null = null;
  let flush: (() => void) | null = null;
  let before: ToWorker[] | null = [];

  function listen(rate: number): void {
    const resampler = createResampler(rate, DECODER_RATE);
    let early: { voiceEnd: number; hearing: Hearing | null } | null = null;
    let prefix = '';
    let unshown: Float32Array[] = [];
    let taken = 0;
    const segmenter = createSegmenter(DECODER_RATE, {
      begun(from) {
        early = null;
        prefix = '';
        unshown = [];
        post({ kind: 'begun', from });
        recogniser?.begin();
      },
      sound(samples) {
        unshown.push(samples);
        const length = unshown.reduce((sum, piece) => sum + piece.length, 0);
        if (length < PARTIAL_EVERY * DECODER_RATE) return;
        let text = '';
        for (const piece of unshown) text = recogniser?.push(piece) ?? '';
        unshown = [];
        post({ kind: 'partial', text: [prefix, text].filter((t) => t !== '').join(' ') });
      },
      maybeEnded(utterance) {
        early = { voiceEnd: utterance.voiceEnd, hearing: hear(utterance) };
      },
      wentOn() {
        prefix = early?.hearing?.text ?? '';
        early = null;
        recogniser?.begin();
      },
      ended(utterance) {
        const hearing =
          early !== null && early.voiceEnd === utterance.voiceEnd ? early.hearing : hear(utterance);
        early = null;
        post({ kind: 'partial', text: '' });
        if (hearing !== null)
          post({ kind: 'heard', hearing, from: utterance.from, to: utterance.voiceEnd });
        post({ kind: 'settled', upTo: utterance.to });
      },
    });
    push = (samples) => {
      segmenter.push(resampler.push(samples));
      taken += samples.length;
      // Keep enough of the silence for the begin of a word that is not yet noticed.
      if (!segmenter.speaking) post({ kind: 'settled', upTo: Math.max(0, taken / rate - 1) });
    };
    flush = () => {
      segmenter.push(resampler.flush());
      segmenter.flush();
    };
  }

  function hear(utterance: Utterance): Hearing | null {
    return recogniser?.hear(utterance.samples) ?? null;
  }

  return async function take(message): Promise<void> {
    if (message.kind === 'open') {
      try {
        const decoder = await load(message.modelBase);
        recogniser = createRecogniser(decoder, {
          plan: message.plan,
          words: message.words,
          near: () => message.near,
        });
        listen(message.rate);
        post({ kind: 'ready', heap: decoder.heap() });
        const waiting = before ?? [];
        before = null;
        for (const next of waiting) await take(next);
      } catch (error) {
        post({ kind: 'failed', sentence: error instanceof Error ? error.message : String(error) });
      }
    } else if (before !== null) before.push(message);
    else if (message.kind === 'sound') push?.(message.samples);
    else if (message.kind === 'near') recogniser?.near(message.names, message.question);
    else {
      flush?.();
      post({ kind: 'flushed' });
    }
  };
}
