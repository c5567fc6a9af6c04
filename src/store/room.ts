/** What there is to know about room before a walk. Bytes. */
export interface Room {
  /** What the browser would let us use; null when it does not say. */
  readonly quota: number | null;
  readonly used: number | null;
  /** true: the browser promised not to delete by itself. Null when it does not say. */
  readonly persistent: boolean | null;
  /** Minutes of sound that fit beside the reserve for words; null when unknown. */
  readonly minutesOfSound: number | null;
  /** Whether a walk's words fit. Words need little; false means that something is very wrong. */
  readonly enoughForWords: boolean;
  /** One sentence each, to be shown before the walk. Empty when there is nothing to say. */
  readonly warnings: readonly string[];
}

/**
 * Kept free for words: sound stops before it is touched, and it is really taken
 * (see reserve.ts). An hour of talk is about 2 MB of events (1,500 utterances
 * with what was made of them). Too small loses words, which can kill; too large
 * loses sound a little early.
 */
export const RESERVE_FOR_WORDS = 8 * 1024 * 1024;

/** 16-bit PCM at 16 kHz, the thirstiest form in which sound is kept. Bytes each second. */
export const SOUND_RATE = 32_000;

/** Below this many minutes of sound the pilot is told before the walk: longer than most walks. */
export const ENOUGH_MINUTES = 60;

/** The parts of `navigator.storage` that are used; passed in, so that a full disk can be played. */
export interface Storage {
  estimate?(): Promise<{ quota?: number; usage?: number }>;
  persist?(): Promise<boolean>;
  persisted?(): Promise<boolean>;
}

/** How often everything lies on the disk, and what there is to say of that before a walk. */
export interface Copies {
  readonly count: 1 | 2;
  readonly trouble: string | null;
}

/**
 * Asks for persistent storage, then for the room that there is. Never rejects.
 *
 * @param copies sound takes its room as many times
 * @param reserved whether the reserve for words could be taken; null where there is none to take
 */
export async function askRoom(
  storage: Storage | undefined,
  reserved: boolean | null = null,
  copies: Copies = { count: 1, trouble: null },
): Promise<Room> {
  const persistent = await persist(storage);
  const { quota, used } = await estimate(storage);
  const free = quota === null || used === null ? null : Math.max(0, quota - used);
  const minutesOfSound =
    free === null
      ? null
      : Math.max(0, Math.floor((free - RESERVE_FOR_WORDS) / (SOUND_RATE * copies.count) / 60));
  return {
    quota,
    used,
    persistent,
    minutesOfSound,
    enoughForWords: reserved !== false && (free === null || free > 0),
    warnings: [
      ...warningsOf(persistent, minutesOfSound, free, reserved),
      ...(copies.trouble === null ? [] : [copies.trouble]),
    ],
  };
}

function warningsOf(
  persistent: boolean | null,
  minutes: number | null,
  free: number | null,
  reserved: boolean | null,
): string[] {
  const warnings: string[] = [];
  if (persistent !== true)
    warnings.push(
      'This browser has not promised to keep the record: it may delete it when space runs short, and some browsers do so after seven days without use. Install Talkround, or save a backup after the walk.',
    );
  if (free === 0 || reserved === false)
    warnings.push('There is hardly any room left on this device. Free some space before the walk.');
  else if (minutes === 0)
    warnings.push('There is room for words but not for sound. The walk can be recorded in words.');
  else if (minutes !== null && minutes < ENOUGH_MINUTES)
    warnings.push(
      minutes === 1
        ? 'There is room for about one minute of sound. After that the walk goes on in words.'
        : `There is room for about ${String(minutes)} minutes of sound. After that the walk goes on in words.`,
    );
  return warnings;
}

async function persist(storage: Storage | undefined): Promise<boolean | null> {
  try {
    if ((await storage?.persisted?.()) === true) return true;
    return (await storage?.persist?.()) ?? null;
  } catch {
    return null;
  }
}

async function estimate(
  storage: Storage | undefined,
): Promise<{ quota: number | null; used: number | null }> {
  try {
    const told = await storage?.estimate?.();
    return { quota: told?.quota ?? null, used: told?.usage ?? null };
  } catch {
    return { quota: null, used: null };
  }
}

/** true when a chunk would eat into the reserve for words. Unknown counts as room: the put itself decides. */
export async function tooTight(storage: Storage | undefined, bytes: number): Promise<boolean> {
  const { quota, used } = await estimate(storage);
  return quota !== null && used !== null && quota - used < RESERVE_FOR_WORDS + bytes;
}
