import type { Met } from './devices.ts';
import { deviceWords, oneLine } from './plain-words.ts';
import { wordsOfKey, type DeviceKey } from './fingerprint.ts';

/** A sentence about a key that was met now. */
export interface Announced {
  readonly text: string;
  /** Its device was known here by another key. */
  readonly changed: boolean;
}

/** What has to be told of keys that were met now: a known device with a new key above all. */
export function announce(
  before: readonly Met[],
  after: readonly Met[],
  own: string,
): readonly Announced[] {
  const had = new Set(before.map((m) => `${m.device} ${m.publicKey}`));
  return after
    .filter((m) => m.device !== own && !had.has(`${m.device} ${m.publicKey}`))
    .map((m) => {
      const name = deviceWords(m.name, m.device).replace(/^d/, 'D');
      const older = after.find((o) => o.device === m.device && o.publicKey !== m.publicKey);
      const words = `“${wordsOfKey(m.publicKey)}”`;
      const text =
        older === undefined
          ? `${name} is new here. Its key is ${words}: compare the words with whoever holds it.`
          : `${name} was known here by the key “${wordsOfKey(older.publicKey)}” and now seals with another, ${words}. A device that lost its record has a new key; so has a stranger who claims to be it. Ask whoever holds it, and compare the words.`;
      return { text, changed: older !== undefined };
    });
}

/** This device first, then those that were met. */
export function deviceKeys(
  met: readonly Met[],
  own: { readonly device: string; readonly publicKey: string; readonly name: string | null },
): readonly DeviceKey[] {
  const mine: DeviceKey = {
    ...own,
    words: wordsOfKey(own.publicKey),
    own: true,
    compared: true,
    since: 0,
    changed: false,
  };
  const others = met
    .filter((m) => m.device !== own.device)
    .map((m) => ({
      ...m,
      name: m.name === null ? null : oneLine(m.name),
      words: wordsOfKey(m.publicKey),
      own: false,
      changed: met.find((o) => o.device === m.device)?.publicKey !== m.publicKey,
    }));
  return [mine, ...others];
}
