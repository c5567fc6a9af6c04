import type { Heard } from '#shared/heard';
import type { Listening } from '#shared/listening';
import { heardIn } from '../embedded/recognise.ts';
import type { WorkerLike } from './ear.ts';

export interface FileNeeds {
  /** Address of the folder that holds `en-us/`, ending in "/". */
  readonly modelBase: string;
  readonly grammar: Listening;
  id(): string;
  /** Part of the sound that is done, 0 to 1. */
  progress(part: number): void;
}

/** Seconds of sound that are sent at a time. */
const PIECE = 1;
/** Pieces that are on their way: all at once would be a second copy of the whole in the queue. */
const AHEAD = 30;

/**
 * Hears a whole recording in the recogniser's worker, so that the page stays
 * alive. Times in seconds from its begin. Rejects with one sentence.
 */
export function hearFileIn(
  worker: WorkerLike,
  samples: Float32Array,
  rate: number,
  needs: FileNeeds,
): Promise<Heard[]> {
  const heard: Heard[] = [];
  const seconds = samples.length / rate;
  const step = Math.round(rate * PIECE);
  let sent = 0;
  /** Sends the next pieces; a ping behind them comes back when they are heard. */
  function send(): void {
    const until = Math.min(samples.length, sent + AHEAD * step);
    for (; sent < until; sent += step)
      worker.post({ kind: 'sound', samples: samples.slice(sent, sent + step), rate });
    worker.post({ kind: sent < samples.length ? 'ping' : 'flush' });
  }
  return new Promise<Heard[]>((resolve, reject) => {
    worker.onDeath(() =>
      reject(new Error('The recogniser stopped. Try the file again, or a shorter one.')),
    );
    worker.onMessage((message) => {
      if (message.kind === 'failed') reject(new Error(message.why));
      else if (message.kind === 'ready' || message.kind === 'pong') send();
      else if (message.kind === 'done') needs.progress(Math.min(1, message.upTo / seconds));
      else if (message.kind === 'flushed') resolve(heard);
      else if (message.kind === 'ended' && message.hearing !== null) {
        const { hearing, from, to } = message;
        heard.push(heardIn(hearing, from, to, needs.id(), 'sound-file'));
      }
    });
    const { plan, words } = needs.grammar;
    worker.post({ kind: 'open', modelBase: needs.modelBase, plan, words });
  }).finally(() => worker.end());
}
