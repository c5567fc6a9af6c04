import { DECODER_RATE, loadDecoder } from '../embedded/decoder.ts';
import { createRecogniser, type Recogniser } from '../embedded/recognise.ts';
import { createResampler, type Resampler } from '../signal/resample.ts';
import { createSegmenter, type Segmenter, type Utterance } from '../signal/segment.ts';
import type { Hearing } from '../embedded/recognise.ts';
import type { FromWorker, ToWorker } from './protocol.ts';

/* The recogniser off the page's own thread, so that nothing on the screen ever waits for it. */

let near: readonly string[] = [];
let recogniser: Recogniser | null = null;
let segmenter: Segmenter | null = null;
let resampler: { from: number; it: Resampler } | null = null;
/** Sound that came before the recogniser was ready. */
let early: Extract<ToWorker, { kind: 'sound' }>[] = [];
/** Decoded when the utterance seemed to be over, to be used if it was. */
let guess: { voiceEnd: number; hearing: Hearing | null } | null = null;
/** Words of the running utterance from before a pause in it. */
let before = '';
let taken = 0;

function tell(message: FromWorker): void {
  postMessage(message);
}

async function open(message: Extract<ToWorker, { kind: 'open' }>): Promise<void> {
  try {
    const decoder = await loadDecoder(message.modelBase);
    const made = createRecogniser(decoder, {
      plan: message.plan,
      words: message.words,
      near: () => near,
    });
    recogniser = made;
    segmenter = createSegmenter(DECODER_RATE, {
      begun(from) {
        guess = null;
        before = '';
        made.begin();
        tell({ kind: 'begun', from });
      },
      sound(samples) {
        const text = `${before} ${made.push(samples)}`.trim();
        if (text !== '') tell({ kind: 'partial', text });
      },
      maybeEnded(utterance) {
        guess = { voiceEnd: utterance.voiceEnd, hearing: made.hear(utterance.samples) };
      },
      wentOn() {
        before = guess?.hearing?.text ?? before;
        guess = null;
        made.begin();
      },
      ended(utterance) {
        ended(utterance, made);
      },
    });
    tell({ kind: 'ready' });
    const waiting = early;
    early = [];
    for (const sound of waiting) take(sound);
  } catch (error) {
    tell({ kind: 'failed', why: error instanceof Error ? error.message : String(error) });
  }
}

function ended(utterance: Utterance, made: Recogniser): void {
  const known = guess !== null && guess.voiceEnd === utterance.voiceEnd ? guess : null;
  const hearing = known === null ? made.hear(utterance.samples) : known.hearing;
  guess = null;
  made.cancel();
  tell({ kind: 'ended', hearing, from: utterance.from, to: utterance.voiceEnd });
}

function take(sound: Extract<ToWorker, { kind: 'sound' }>): void {
  if (segmenter === null) {
    early.push(sound);
    return;
  }
  if (resampler?.from !== sound.rate) {
    resampler = { from: sound.rate, it: createResampler(sound.rate, DECODER_RATE) };
  }
  const samples = resampler.it.push(sound.samples);
  segmenter.push(samples);
  taken += samples.length;
  // Only then has the worker nothing that would be lost with it.
  if (!segmenter.speaking) tell({ kind: 'done', upTo: taken / DECODER_RATE });
}

addEventListener('message', ({ data }: MessageEvent<ToWorker>) => {
  switch (data.kind) {
    case 'open':
      void open(data);
      break;
    case 'sound':
      take(data);
      break;
    case 'expect':
      near = data.near;
      recogniser?.expect(NO_SCENE);
      break;
    case 'flush':
      segmenter?.flush();
      tell({ kind: 'flushed' });
      break;
    case 'ping':
      tell({ kind: 'pong' });
      break;
  }
});

/** `near` is worked out on the page; the scene itself is not needed here. */
const NO_SCENE = {
  station: null,
  check: null,
  instances: [],
  said: {},
  last: null,
  lastId: null,
  question: null,
  squawked: [],
};
