import { joinSound } from '#capture';
import type { Outcome, Player, Told } from '#screens';
import type { Store } from '#store';
import type { SoundPlace } from '#shared/heard';
import { liveValue } from './live-value.ts';
import { bad, good } from './outcome.ts';
import { dueBetween, type Said } from './replies.ts';
import type { Retelling } from './retell.ts';

/** Of an audio element what a replay needs. */
export type Playing = Pick<
  HTMLAudioElement,
  'currentTime' | 'ontimeupdate' | 'onended' | 'onpause' | 'play' | 'pause'
>;

export interface Replies {
  /** What Talkround gave back while this recording ran. */
  in(recording: string): readonly Said[];
  /** The recording that follows in the walk. */
  next(recording: string): SoundPlace | null;
  readonly retelling: Retelling;
}

/**
 * Plays kept sound from any place of a walk to its end, and gives back what
 * Talkround gave back, tone and words, where it did, so that a listener with
 * closed eyes can follow.
 */
export function playerOf(
  store: Pick<Store, 'sound'>,
  replies?: Replies,
  open: (address: string) => Playing = (address) => new Audio(address),
): Player {
  const at = liveValue<{ recording: string; seconds: number } | null>(null);
  const told = liveValue<Told | null>(null);
  let audio: Playing | null = null;
  let address: string | null = null;
  let loaded: string | null = null;
  /** Which replay this is: one that was stopped has nothing more to say. */
  let turn = 0;

  function stop(): void {
    turn += 1;
    if (audio !== null) {
      audio.onpause = null;
      audio.pause();
    }
    replies?.retelling.hush();
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
    audio = open(address);
    loaded = recording;
    return good(null);
  }

  async function play(place: SoundPlace): Promise<Outcome> {
    stop();
    const mine = turn;
    const ready = await load(place.recording);
    if (!ready.ok || audio === null) return ready;
    if (mine !== turn) return good(null);
    const playing = audio;
    playing.currentTime = place.from;
    const said = replies?.in(place.recording) ?? [];
    replies?.retelling.begin((now) => told.set(now));
    // From the very begin on, also what was said before the recording began.
    let until = place.from === 0 ? -Infinity : place.from;
    const tellUpTo = (now: number) => {
      for (const s of dueBetween(said, until, now)) replies?.retelling.tell(s);
      until = Math.max(until, now);
    };
    playing.ontimeupdate = () => {
      if (mine !== turn) return;
      const now = playing.currentTime;
      at.set({ recording: place.recording, seconds: now });
      tellUpTo(now);
    };
    playing.onpause = () => {
      if (mine === turn) at.set(null);
    };
    playing.onended = () => {
      if (mine !== turn) return;
      // The last answers came after the last sound.
      tellUpTo(Infinity);
      at.set(null);
      const next = replies?.next(place.recording) ?? null;
      if (next === null) return;
      void replies?.retelling.done().then(() => (mine === turn ? play(next) : null));
    };
    try {
      await playing.play();
      return good(null);
    } catch {
      return bad('This browser cannot play the kept sound.');
    }
  }

  return { at, told, stop, play };
}
