import { EARCONS, samplesOf, secondsOf, type EarconName } from './earcon.ts';
import type { Sounder, Synth } from './voice.ts';

/** Seconds until a voice has to begin to sound; after that there is none. */
const VOICE_BEGINS = 3;

/**
 * speechSynthesis as a Synth. Where it is missing, has no voice of the
 * language, or stays silent, `say` resolves false and the caller shows the
 * words instead.
 */
export function browserSynth(scope: object = globalThis, lang = 'en'): Synth {
  const { speechSynthesis: synth, SpeechSynthesisUtterance: Utterance } = scope as Partial<
    Pick<typeof globalThis, 'speechSynthesis' | 'SpeechSynthesisUtterance'>
  >;
  if (synth === undefined || Utterance === undefined) {
    return { able: false, say: () => Promise.resolve(false), cancel: () => undefined };
  }
  // Held here: a browser that collects an utterance that is still speaking never ends it.
  let current: SpeechSynthesisUtterance | null = null;

  function voice(): SpeechSynthesisVoice | null {
    const spoken = synth?.getVoices().filter((v) => v.lang.toLowerCase().startsWith(lang)) ?? [];
    // A voice of this device works without a network and does not stop in mid-sentence.
    return (
      spoken.find((v) => v.localService && v.default) ?? spoken.find((v) => v.localService) ?? null
    );
  }

  return {
    able: true,
    say(text, started) {
      return new Promise((resolve) => {
        const utterance = new Utterance(text);
        current = utterance;
        const chosen = voice();
        if (chosen !== null) utterance.voice = chosen;
        utterance.lang = chosen?.lang ?? 'en-US';
        let over = false;
        const end = (said: boolean) => {
          if (over) return;
          over = true;
          clearTimeout(silent);
          if (current === utterance) current = null;
          resolve(said);
        };
        const silent = setTimeout(() => {
          synth.cancel();
          end(false);
        }, VOICE_BEGINS * 1000);
        utterance.onstart = () => {
          clearTimeout(silent);
          started();
        };
        utterance.onend = () => end(true);
        utterance.onerror = () => end(false);
        // A queue that was paused by the platform swallows everything.
        synth.resume();
        synth.speak(utterance);
      });
    },
    cancel() {
      synth.cancel();
    },
  };
}

/** Web Audio as a Sounder. The context is made at the first sound, which has to follow a touch. */
export function browserSounder(context: () => AudioContext): Sounder & { unlock(): Promise<void> } {
  const kept = new Map<EarconName, AudioBuffer>();

  function bufferOf(name: EarconName, audio: AudioContext): AudioBuffer {
    const known = kept.get(name);
    if (known !== undefined) return known;
    const samples = samplesOf(EARCONS[name], audio.sampleRate);
    const buffer = audio.createBuffer(1, samples.length, audio.sampleRate);
    buffer.copyToChannel(samples, 0);
    kept.set(name, buffer);
    return buffer;
  }

  return {
    async unlock() {
      await context().resume();
    },
    async sound(name) {
      try {
        const audio = context();
        if (audio.state !== 'running') await audio.resume();
        const source = audio.createBufferSource();
        source.buffer = bufferOf(name, audio);
        source.connect(audio.destination);
        await new Promise<void>((resolve) => {
          source.onended = () => resolve();
          // A context that is suspended in mid-tone never ends it.
          setTimeout(resolve, (secondsOf(EARCONS[name]) + 0.5) * 1000);
          source.start();
        });
      } catch {
        // Without sound the vibration and the screen remain.
      }
    },
  };
}

/** Vibration where the platform has it. */
export function browserVibrate(
  scope: { navigator?: object } = globalThis,
): (pattern: readonly number[]) => void {
  const { navigator } = scope;
  return (pattern) => {
    const able = navigator as { vibrate?: (pattern: number[]) => boolean } | undefined;
    able?.vibrate?.([...pattern]);
  };
}
