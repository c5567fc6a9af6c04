// Runs on the audio thread: hands the microphone's sound on in pieces of about 40 ms.
const { AudioWorkletProcessor, registerProcessor } = globalThis;
const PIECE = 2048;

class Tap extends AudioWorkletProcessor {
  constructor() {
    super();
    this.held = new Float32Array(PIECE);
    this.length = 0;
  }

  process(inputs) {
    const block = inputs[0]?.[0];
    if (block === undefined) return true;
    for (let i = 0; i < block.length; i++) {
      this.held[this.length++] = block[i];
      if (this.length === PIECE) {
        this.port.postMessage(this.held, [this.held.buffer]);
        this.held = new Float32Array(PIECE);
        this.length = 0;
      }
    }
    return true;
  }
}

registerProcessor('talkround-tap', Tap);
