import type { KeyView, Outcome, Services, WalkDevices, WalkRecord } from '#screens';
import { wordsOfKey, type DeviceKey, type Store, type WalkTrust } from '#store';
import type { Event, Happening } from '#shared/event';
import { bad, good } from './outcome.ts';

/** Letters of a code (key-code.ts) that are looked at: a name is at most 80, the rest about 150. */
const LONGEST_CODE = 400;
const CODE = /key of ([^\n]{1,80}?): ([a-z ]+)\. Device ([\w-]{1,80}), key ([\w-]{43})\./;

/** A key from the words that a camera read; one sentence when they are not all there. */
export function keyFrom(text: string, known: readonly DeviceKey[]): Outcome<KeyView> {
  const [, name = '', said = '', device = '', publicKey = ''] =
    CODE.exec(text.slice(0, LONGEST_CODE).replace(/\s+/g, ' ')) ?? [];
  if (publicKey === '')
    return bad(
      'These are not the words of a device’s code. Let the camera read the code under Settings of the other device, and paste all that it read.',
    );
  const words = wordsOfKey(publicKey);
  if (words !== said)
    return bad(
      'The words in this code are not those of its key: it was changed on the way. Let the camera read it again, from the other device itself.',
    );
  const [own] = known;
  if (own?.device === device) return bad('This is the code of this very device.');
  const there = known.find((k) => k.device === device && k.publicKey === publicKey);
  if (there !== undefined) return good(there);
  const changed = known.some((k) => k.device === device);
  return good({
    device,
    publicKey,
    name: name === 'a device' ? null : name,
    words,
    own: false,
    compared: false,
    since: 0,
    changed,
  });
}

/** Who writes into a walk, for its sheet. */
export async function devicesOf(
  store: Store,
  { counts, strangers }: Pick<WalkTrust, 'counts' | 'strangers'>,
  { walk, open }: { walk: string; open: boolean },
): Promise<WalkDevices> {
  const [first] = counts;
  const letIns = letInsIn(counts);
  const own = first?.device === store.device && first.walk === walk;
  const guest = !own && (await guestTrouble(store, counts)) === null;
  const names = new Map(
    letIns.length === 0 ? [] : (await store.devices()).map((k) => [k.publicKey, k.name]),
  );
  return {
    role: own ? 'own' : guest && first?.walk === walk ? 'guest' : 'none',
    open,
    letIn: letIns.map(({ event, what }) => ({
      device: what.device,
      name: names.get(what.publicKey) ?? null,
      words: wordsOfKey(what.publicKey),
      by: what.by,
      at: event.at,
      said: counts.filter((e) => e.device === what.device && e.what.kind === 'heard').length,
    })),
    waiting: strangers,
  };
}

type LetIn = Extract<Happening, { kind: 'let-in' }>;

/** Of each device the last: one that lost its record is let in again, under its new key. */
function letInsIn(events: readonly Event[]): readonly { event: Event; what: LetIn }[] {
  const found = new Map<string, { event: Event; what: LetIn }>();
  for (const event of events)
    if (event.what.kind === 'let-in') found.set(event.what.device, { event, what: event.what });
  return [...found.values()];
}

/** One sentence when a walk of another device has not let this one in; null when it has. */
export async function guestTrouble(
  store: Pick<Store, 'device' | 'publicKey'>,
  events: readonly Event[],
): Promise<string | null> {
  const mine = letInsIn(events).find(({ what }) => what.device === store.device);
  if (mine === undefined)
    return 'This walk was begun on another device, and only that one can go on with it, or let this one in. Begin a walk of your own here.';
  return mine.what.publicKey === (await store.publicKey())
    ? null
    : 'This walk let in another key of this device, which has lost it since. Let the device that began the walk let this one in again.';
}

export interface LetInParts {
  readonly store: Store;
  open(walk: string): Promise<Outcome<WalkRecord>>;
  /** Writes into a walk of this device, through its session where it is in progress. */
  write(record: WalkRecord, what: Happening): Promise<Outcome>;
  /** Ends the session of a walk that is in progress; one sentence when words of it still wait to be written (R10). */
  leave(walk: string): Promise<string | null>;
}

/** Longest name that a person gives themselves, letters. */
const LONGEST_NAME = 80;

/** A second device in a walk: let in, and handing over. */
export function lettingIn({
  store,
  open,
  write,
  leave,
}: LetInParts): Required<Pick<Services, 'readKey' | 'letIn' | 'handOver' | 'walkFile'>> {
  return {
    readKey: async (text) => keyFrom(text, await store.devices()),
    async letIn(walk, { device, publicKey, name }, by) {
      const opened = await open(walk);
      if (!opened.ok) return opened;
      const { devices } = opened.value;
      if (by.trim() === '') return bad('Say who lets it in.');
      if (devices?.role !== 'own')
        return bad('Only the device that began this walk lets another one in.');
      if (!devices.open) return bad('This walk is over: nobody is let in any more.');
      const what = {
        kind: 'let-in' as const,
        device,
        publicKey,
        by: by.trim().slice(0, LONGEST_NAME),
      };
      const done = await write(opened.value, what);
      if (!done.ok) return done;
      await store.meetDevice({ device, publicKey, name });
      return open(walk);
    },
    async handOver(walk) {
      const opened = await open(walk);
      if (!opened.ok) return opened;
      if (opened.value.devices?.role !== 'guest')
        return bad('Only a walk that was begun elsewhere and let this device in is handed over.');
      if (!opened.value.devices.open)
        return bad('This walk is over: what was said here is kept, and not counted any more.');
      // Before the seal: what an ear still has is written by then, and sealed.
      const waits = await leave(walk);
      if (waits !== null) return bad(waits);
      await store.seal(walk);
      return good(null);
    },
    async walkFile(walk) {
      const { file, name } = await store.backup({ walks: [walk] });
      return good({ name, blob: file });
    },
  };
}
