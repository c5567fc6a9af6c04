import { joined, RATE, say } from '../speech/voice.ts';

/** One thing in the microphone: silence before it in seconds, the words, and whose voice. */
export interface Line {
  readonly after: number;
  readonly say: string;
  /** Our own voice, coming back through the loudspeaker. */
  readonly own?: true;
}

/** The microphone of a whole walk, and when each line ends in it, in seconds. */
export async function microphoneOf(
  lines: readonly Line[],
): Promise<{ samples: Float32Array; ends: number[]; seconds: number }> {
  const pieces: Float32Array[] = [];
  const ends: number[] = [];
  let at = 0;
  for (const line of lines) {
    const speech = await say(line.say, line.own === true ? 'slt' : 'rms');
    const silence = new Float32Array(Math.round(line.after * RATE));
    pieces.push(silence, speech);
    at += line.after + speech.length / RATE;
    ends.push(at);
  }
  const { samples } = joined([...pieces, new Float32Array(RATE * 2)], 0);
  return { samples, ends, seconds: at + 2 };
}

/**
 * A voice for a browser that has none: it sounds nowhere, and takes as long as
 * the words say. Its text is kept in `window.spoken`. Runs in the page.
 */
export function silentVoice(): void {
  const spoken: { text: string; at: number }[] = [];
  Object.assign(window, { spoken });
  class Utterance {
    voice = null;
    lang = '';
    onstart: (() => void) | null = null;
    onend: (() => void) | null = null;
    onerror: (() => void) | null = null;
    constructor(readonly text: string) {}
  }
  let current: number | null = null;
  const synth = {
    getVoices: () => [],
    resume: () => undefined,
    cancel() {
      if (current !== null) window.clearTimeout(current);
      current = null;
    },
    speak(utterance: Utterance) {
      spoken.push({ text: utterance.text, at: performance.now() / 1000 });
      window.setTimeout(() => utterance.onstart?.(), 50);
      // A question is spoken slowly, so that its echo in the microphone file falls into it.
      const slow = utterance.text.includes('?');
      const seconds = slow ? 9 : utterance.text.split(' ').length / 6;
      current = window.setTimeout(() => utterance.onend?.(), seconds * 1000);
    },
  };
  Object.defineProperty(window, 'speechSynthesis', { value: synth });
  Object.defineProperty(window, 'SpeechSynthesisUtterance', { value: Utterance });
}

/** A tone as the page sounded it. */
export interface Toned {
  /** Length of its sound, which no two tones share. */
  readonly seconds: number;
  /** Seconds since the page was loaded. */
  readonly at: number;
  /** Place of the kept sound that was playing; null when none was. */
  readonly in: number | null;
}

/** Notes every tone that the page sounds in `window.toned`. Runs in the page. */
export function notedTones(): void {
  const toned: Toned[] = [];
  Object.assign(window, { toned });
  let sound: HTMLMediaElement | null = null;
  const keep = (element: HTMLMediaElement) => (sound = element);
  const play = Reflect.get(HTMLMediaElement.prototype, 'play') as (
    this: HTMLMediaElement,
  ) => Promise<void>;
  HTMLMediaElement.prototype.play = function (this: HTMLMediaElement) {
    // The headset's button needs an element that plays silence for ever.
    if (!this.loop) keep(this);
    return play.call(this);
  };
  const start = Reflect.get(AudioBufferSourceNode.prototype, 'start') as (
    this: AudioBufferSourceNode,
  ) => void;
  AudioBufferSourceNode.prototype.start = function (this: AudioBufferSourceNode) {
    const at = performance.now() / 1000;
    const place = sound === null || sound.paused ? null : sound.currentTime;
    toned.push({ seconds: this.buffer?.duration ?? 0, at, in: place });
    start.call(this);
  };
}
