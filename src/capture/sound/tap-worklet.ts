/*
 * Runs on the audio thread and passes every frame on, in blocks that are worth
 * a message. No import: a worklet is one file.
 */

interface Processor {
  readonly port: MessagePort;
}
declare const AudioWorkletProcessor: new () => Processor;
declare const registerProcessor: (name: string, processor: new () => Processor) => void;
declare const sampleRate: number;

/** Seconds of sound in a message: short enough for a reply within 0.4 s of the end of speech. */
const BLOCK = 0.04;

class Tap extends AudioWorkletProcessor {
  #block = new Float32Array(Math.round(BLOCK * sampleRate));
  #filled = 0;

  process(inputs: Float32Array[][]): boolean {
    const channels = inputs[0] ?? [];
    const length = channels[0]?.length ?? 0;
    for (let i = 0; i < length; i += 1) {
      let sum = 0;
      for (const channel of channels) sum += channel[i] ?? 0;
      this.#block[this.#filled] = sum / channels.length;
      this.#filled += 1;
      if (this.#filled === this.#block.length) {
        const full = this.#block;
        // Before the old one is handed over: after that it has no length any more.
        this.#block = new Float32Array(full.length);
        this.#filled = 0;
        this.port.postMessage(full, [full.buffer]);
      }
    }
    return true;
  }
}

registerProcessor('tap', Tap);
