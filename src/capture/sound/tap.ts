import worklet from './tap-worklet.ts?worker&url';

/** The samples of a microphone, as they come. */
export interface Tap {
  /** Samples a second. */
  readonly rate: number;
  /** Tries to go on after the platform suspended the sound, such as after a call. */
  resume(): Promise<void>;
  close(): void;
}

/**
 * Passes the sound of a stream on in blocks of about 40 ms, one channel,
 * samples in [-1, 1]. The rate is the platform's own: not every browser can
 * join a microphone to a context of another rate.
 *
 * @throws Error in one sentence when this browser cannot.
 */
export async function tap(
  stream: MediaStream,
  take: (samples: Float32Array) => void,
): Promise<Tap> {
  const context = new AudioContext();
  try {
    await context.audioWorklet.addModule(worklet);
    const source = context.createMediaStreamSource(stream);
    const node = new AudioWorkletNode(context, 'tap', { numberOfOutputs: 0 });
    node.port.onmessage = ({ data }: MessageEvent<Float32Array>) => take(data);
    source.connect(node);
    if (context.state !== 'running') await context.resume();
    return {
      rate: context.sampleRate,
      async resume() {
        if (context.state !== 'running') await context.resume();
      },
      close() {
        node.port.onmessage = null;
        source.disconnect();
        void context.close();
      },
    };
  } catch (error) {
    void context.close();
    throw new Error('This browser cannot pass the sound of the microphone on.', { cause: error });
  }
}

/** Loudness of a block, 0 (silence) to 1 (full scale): root mean square, on a scale of 60 dB. */
export function loudness(samples: Float32Array): number {
  let sum = 0;
  for (const x of samples) sum += x * x;
  const decibels = 10 * Math.log10(sum / Math.max(1, samples.length) + 1e-12);
  return Math.min(1, Math.max(0, 1 + decibels / 60));
}
