import type { FromWorker } from './messages.ts';
import type { Tap, WorkerLike } from './ear.ts';
import { baseOf, MODEL_FILES, type ModelCheck } from './model.ts';
import workletAddress from './worklet.js?url&no-inline';

/*
 * The platform's side of the embedded recogniser: a worker, and an audio
 * worklet on the microphone's stream. Both are files of our own, so that a
 * strict content security policy allows them.
 */

export function browserWorker(): WorkerLike {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
  return {
    postMessage: (message) => {
      worker.postMessage(message);
    },
    onMessage(take) {
      worker.addEventListener('message', (event: MessageEvent<FromWorker>) => {
        take(event.data);
      });
    },
    onGone(take) {
      worker.addEventListener('error', take);
      worker.addEventListener('messageerror', take);
    },
    terminate: () => {
      worker.terminate();
    },
  };
}

/** Seconds to wait for the browser to let sound through before saying that it does not. */
const LET_THROUGH = 2;

/** Taps a microphone's stream. The stream stays the caller's; only the tap is closed. */
export async function browserTap(stream: MediaStream): Promise<Tap> {
  const context = new AudioContext({ latencyHint: 'interactive' });
  try {
    await context.audioWorklet.addModule(workletAddress);
    if (context.state !== 'running')
      await Promise.race([
        context.resume(),
        new Promise((resolve) => setTimeout(resolve, LET_THROUGH * 1000)),
      ]);
    if (context.state !== 'running')
      throw new Error('The browser lets no sound through yet. Touch the screen and start again.');
    const source = context.createMediaStreamSource(stream);
    const node = new AudioWorkletNode(context, 'talkround-tap', {
      numberOfInputs: 1,
      numberOfOutputs: 0,
      channelCount: 1,
      channelCountMode: 'explicit',
    });
    source.connect(node);
    let take: (samples: Float32Array) => void = () => undefined;
    node.port.addEventListener('message', (event: MessageEvent<Float32Array>) => {
      take(event.data);
    });
    node.port.start();
    return {
      rate: context.sampleRate,
      onSound(taker) {
        take = taker;
      },
      async close() {
        source.disconnect();
        node.disconnect();
        node.port.close();
        await context.close();
      },
    };
  } catch (error) {
    await context.close();
    throw error instanceof Error ? error : new Error('The microphone could not be listened to.');
  }
}

/** Whether the model is beside the page, without loading it: for choosing who listens. */
export async function probeModel(modelBase: string): Promise<ModelCheck> {
  if (typeof WebAssembly === 'undefined' || typeof AudioWorkletNode === 'undefined')
    return { able: false, why: 'This browser is too old for the recogniser on this device.' };
  const base = baseOf(modelBase);
  for (const name of Object.keys(MODEL_FILES)) {
    try {
      const answer = await fetch(`${base}en-us/${name}`, { method: 'HEAD' });
      if (!answer.ok)
        return {
          able: false,
          why: `The recogniser on this device is not complete: its file "${name}" is missing.`,
        };
    } catch {
      return {
        able: false,
        why: `The recogniser on this device is not here yet: its file "${name}" cannot be read. Open the page once with a network.`,
      };
    }
  }
  return { able: true };
}
