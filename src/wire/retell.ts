import type { Told } from '#screens';
import type { Sounder, Synth } from '#speak';
import { secondsToSay } from '#shared/speech';
import type { Said } from './replies.ts';

export interface RetellParts {
  readonly sounder: Pick<Sounder, 'sound'>;
  readonly synth: Pick<Synth, 'able' | 'say' | 'cancel'>;
  wait(seconds: number, then: () => void): () => void;
}

/** Says again, in a replay, what Talkround said: the tone, then the words. */
export interface Retelling {
  /** Begins a replay: a voice that failed in the one before is tried again. */
  begin(onTold: (told: Told | null) => void): void;
  tell(said: Said): void;
  hush(): void;
  /** Resolves when nothing is left to tell. */
  done(): Promise<void>;
}

/**
 * Where there is no voice the tone sounds all the same and the words are shown
 * for as long as they would take. A voice that failed once is left alone until
 * the next replay: each trial takes seconds, and the tones would come late.
 */
export function retelling({ sounder, synth, wait }: RetellParts): Retelling {
  const queue: Said[] = [];
  let generation = 0;
  let mute = false;
  let show: (told: Told | null) => void = () => undefined;
  let running: Promise<void> | null = null;

  async function perform({ tone, text }: Said): Promise<void> {
    const mine = generation;
    let aloud = text !== '' && synth.able && !mute;
    show({ tone, text, aloud });
    if (tone !== null) await sounder.sound(tone);
    if (mine !== generation || text === '') return;
    if (aloud) {
      aloud = await synth.say(text, () => undefined);
      if (aloud || mine !== generation) return;
      mute = true;
      show({ tone, text, aloud });
    }
    await new Promise<void>((resolve) => wait(secondsToSay(text), resolve));
  }

  async function run(): Promise<void> {
    const mine = generation;
    for (let said = queue.shift(); said !== undefined; said = queue.shift()) {
      await perform(said);
      if (mine !== generation) return;
    }
    running = null;
    show(null);
  }

  return {
    begin(onTold) {
      show = onTold;
      mute = false;
    },
    tell(said) {
      queue.push(said);
      running ??= run();
    },
    hush() {
      generation += 1;
      queue.length = 0;
      running = null;
      synth.cancel();
      show(null);
    },
    done: () => running ?? Promise.resolve(),
  };
}
