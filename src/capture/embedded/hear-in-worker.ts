import type { Heard } from '#shared/heard';
import type { WorkerLike } from './ear.ts';
import { heardIn, type GrammarParts } from './recognise.ts';

export interface HearInWorkerParts {
  readonly worker: WorkerLike;
  readonly modelBase: string;
  readonly grammar: GrammarParts;
  id(): string;
  /** Part of the sound that is done, 0 to 1. */
  readonly progress?: (part: number) => void;
}

/** Seconds of sound that are sent at a time. */
const PIECE = 1;

/**
 * Hears a whole recording in the recogniser's worker, so that the page stays
 * alive. The worker is ended afterwards. Rejects with one sentence.
 */
export function hearInWorker(
  samples: Float32Array,
  rate: number,
  parts: HearInWorkerParts,
): Promise<Heard[]> {
  const { worker } = parts;
  const heard: Heard[] = [];
  const seconds = samples.length / rate;
  return new Promise<Heard[]>((resolve, reject) => {
    worker.onGone(() => {
      reject(new Error('The recogniser stopped. Try the file again, or a shorter one.'));
    });
    worker.onMessage((message) => {
      if (message.kind === 'heard')
        heard.push(heardIn(message.hearing, message.from, message.to, parts.id(), 'sound-file'));
      else if (message.kind === 'settled') parts.progress?.(Math.min(1, message.upTo / seconds));
      else if (message.kind === 'flushed') resolve(heard);
      else if (message.kind === 'failed') reject(new Error(message.sentence));
    });
    worker.postMessage({
      kind: 'open',
      modelBase: parts.modelBase,
      plan: parts.grammar.plan,
      words: parts.grammar.words,
      near: [],
      rate,
    });
    const step = Math.round(rate * PIECE);
    for (let at = 0; at < samples.length; at += step)
      worker.postMessage({ kind: 'sound', samples: samples.slice(at, at + step) });
    worker.postMessage({ kind: 'flush' });
  }).finally(() => {
    worker.terminate();
  });
}
