import type { Heard } from '#shared/heard';
import type { Listening } from '#shared/listening';
import { baseOf } from '../embedded/model.ts';
import type { VoiceSettings } from '../embedded/voice.ts';
import type { EarParts } from '../ear.ts';
import type { LiveParts } from '../live.ts';
import { microphone } from '../sound/microphone.ts';
import { tap } from '../sound/tap.ts';
import { earCheck, type EarCheck, type EarCheckParts } from './check.ts';
import { ownEar, type WorkerLike } from './ear.ts';
import { hearFileIn, type FileNeeds } from './file.ts';
import type { FromWorker } from './protocol.ts';

/*
 * Our own recogniser in this browser, for `liveEarHere`. Not in the stage's
 * index: a program in Node has neither a worker of this kind nor a microphone.
 */

export interface OwnNeeds extends EarParts {
  /** Address of the folder that holds `en-us/`, ending in "/". */
  readonly modelBase: string;
  readonly grammar: Listening;
  /** Whose voice it is, when a recogniser is opened; null: nobody's in particular. */
  voice?(): VoiceSettings | null;
}

/** What `liveEarHere` wants to have as `embedded`. */
export function embeddedHere(needs: OwnNeeds): LiveParts<MediaStream>['embedded'] {
  const { grammar, ...parts } = needs;
  return {
    probe: () => probeOwn(needs.modelBase),
    make: (microphone) =>
      ownEar<MediaStream>({
        ...parts,
        plan: grammar.plan,
        words: grammar.words,
        near: (scene) => grammar.near?.(scene) ?? [],
        stream: () => microphone.stream(),
        tap,
        worker: browserWorker,
      }),
  };
}

/** The ear check on this browser's microphone. */
export function earCheckHere(
  needs: Omit<EarCheckParts<MediaStream>, 'microphone' | 'tap' | 'worker'>,
): EarCheck {
  return earCheck<MediaStream>({
    ...needs,
    // Missing on pages that are not secure, whatever the types say.
    microphone: microphone(navigator.mediaDevices as MediaDevices | undefined),
    tap,
    worker: browserWorker,
  });
}

/** Hears a whole recording in a worker of this browser. */
export function hearFileHere(
  samples: Float32Array,
  rate: number,
  needs: FileNeeds,
): Promise<Heard[]> {
  return hearFileIn(browserWorker(), samples, rate, needs);
}

/** The worker of this browser. */
function browserWorker(): WorkerLike {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
  return {
    post: (message) => worker.postMessage(message),
    onMessage: (take) =>
      worker.addEventListener('message', ({ data }: MessageEvent<FromWorker>) => take(data)),
    onDeath: (take) =>
      worker.addEventListener('error', ({ message }) => take(message || 'it broke')),
    end: () => worker.terminate(),
  };
}

/** Whether our own recogniser can run here: what the platform must have, and the model's first file. */
async function probeOwn(modelBase: string): Promise<{ able: true } | { able: false; why: string }> {
  if (typeof WebAssembly === 'undefined' || typeof AudioWorkletNode === 'undefined') {
    return { able: false, why: 'This browser is too old for the recogniser of this device.' };
  }
  try {
    // A small one of its files; the worker looks at them all.
    const answer = await fetch(new URL('en-us/feat_params.json', baseOf(modelBase)));
    if (answer.ok) return { able: true };
  } catch {
    // Not there, and no network to get it.
  }
  return { able: false, why: "The recogniser's files are not on this device yet." };
}
