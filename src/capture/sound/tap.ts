import worklet from './tap-worklet.ts?worker&url';

/** The samples of a microphone, as they come. */
export interface Tap {
  /** Samples a second. */
  readonly rate: number;
  /** Tries to go on after the platform suspended the sound, such as after a call. */
  resume(): Promise<void>;
  close(): void;
}

/** Seconds to wait for the browser to let sound through: without a touch it never does. */
const LET_THROUGH = 2;

async function letThrough(context: AudioContext): Promise<void> {
  await Promise.race([
    context.resume(),
    new Promise((resolve) => setTimeout(resolve, LET_THROUGH * 1000)),
  ]);
  if (context.state !== 'running') {
    throw new Error('The browser lets no sound through yet. Touch the screen and start again.');
  }
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
    if (context.state !== 'running') await letThrough(context);
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
    if (error instanceof Error && error.message.startsWith('The browser lets')) throw error;
    throw new Error('This browser cannot pass the sound of the microphone on.', { cause: error });
  }
}
