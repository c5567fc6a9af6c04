import { joinSound } from '#capture';
import type { Outcome, Player } from '#screens';
import type { Store } from '#store';
import type { SoundPlace } from '#shared/heard';
import { liveValue } from './live-value.ts';
import { bad, good } from './outcome.ts';
import { dueBetween, type Said } from './replies.ts';

export interface Replies {
  /** What Talkround said while this recording ran. */
  in(recording: string): readonly Said[];
  say(text: string): void;
  hush(): void;
}

/**
 * Plays kept sound from any place of a recording, and says what Talkround said
 * where it said it, so that a listener with closed eyes can follow.
 */
export function playerOf(store: Store, replies?: Replies): Player {
  const at = liveValue<{ recording: string; seconds: number } | null>(null);
  let audio: HTMLAudioElement | null = null;
  let address: string | null = null;
  let loaded: string | null = null;

  function stop(): void {
    audio?.pause();
    replies?.hush();
    at.set(null);
  }

  async function load(recording: string): Promise<Outcome> {
    if (loaded === recording && audio !== null) return good(null);
    const sound = await store.sound(recording);
    if (sound.erased !== null) return bad(`This sound was erased: ${sound.erased}.`);
    const joined = joinSound(sound.chunks);
    if (joined === null) return bad('The sound of this walk is not on this device.');
    if (joined.data.byteLength === 0) return bad(joined.warning ?? 'This sound cannot be played.');
    if (address !== null) URL.revokeObjectURL(address);
    address = URL.createObjectURL(new Blob([joined.data], { type: joined.mime }));
    audio?.pause();
    audio = new Audio(address);
    loaded = recording;
    return good(null);
  }

  return {
    at,
    stop,
    async play(place: SoundPlace) {
      stop();
      const ready = await load(place.recording);
      if (!ready.ok || audio === null) return ready;
      const playing = audio;
      playing.currentTime = place.from;
      const said = replies?.in(place.recording) ?? [];
      let until = place.from;
      playing.ontimeupdate = () => {
        const now = playing.currentTime;
        for (const { text } of dueBetween(said, until, now)) replies?.say(text);
        until = now;
        at.set({ recording: place.recording, seconds: now });
      };
      playing.onended = stop;
      playing.onpause = () => at.set(null);
      try {
        await playing.play();
        return good(null);
      } catch {
        return bad('This browser cannot play the kept sound.');
      }
    },
  };
}
