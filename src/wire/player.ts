import { joinSound } from '#capture';
import type { Outcome, Player } from '#screens';
import type { Store } from '#store';
import type { SoundPlace } from '#shared/heard';
import { liveValue } from './live-value.ts';
import { bad, good } from './outcome.ts';

/** Plays kept sound from any place of a recording. */
export function playerOf(store: Store): Player {
  const at = liveValue<{ recording: string; seconds: number } | null>(null);
  let audio: HTMLAudioElement | null = null;
  let address: string | null = null;
  let loaded: string | null = null;

  function stop(): void {
    audio?.pause();
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
      playing.ontimeupdate = () =>
        at.set({ recording: place.recording, seconds: playing.currentTime });
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
