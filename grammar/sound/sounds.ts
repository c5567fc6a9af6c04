import type { Ear } from './ear.ts';
import { three } from './shapes.ts';

/** How many of the threes are heard in the words [from, to). */
export function shared(threes: Uint16Array, sound: Sound, from: number, to: number): number {
  const heard = sound.threes;
  const first = sound.place[from] ?? 0;
  const end = (sound.place[to] ?? 0) - 2;
  let count = 0;
  for (const key of threes) {
    for (let i = first; i < end; i += 1) {
      if (heard[i] !== key) continue;
      count += 1;
      break;
    }
  }
  return count;
}

/** Words that a phrase stretches over at most: it begins no earlier before an open word. */
export const LONGEST = 8;

/** Words as one row of phones, with the words that begin and end at each place (-1 for none). */
export interface Sound {
  /** Whether words that are asked about lie in [from, to). */
  worth(from: number, to: number): boolean;
  readonly stream: Uint8Array;
  /** By place: the rough classes of the three phones from there on. */
  readonly threes: Uint16Array;
  /** Where each word begins, and after the last one the end. */
  readonly place: Int32Array;
  readonly begins: Int32Array;
  readonly ends: Int32Array;
}

export function soundOf(
  words: readonly string[],
  from: number,
  to: number,
  ear: Ear,
  open?: readonly boolean[],
  begun?: readonly boolean[],
): Sound {
  /** How many open words lie before a word; a phrase over none of them is not begun. */
  const before = new Int32Array(words.length + 1);
  for (let w = 0; w < words.length; w += 1)
    before[w + 1] = (before[w] ?? 0) + (open === undefined || open[w] === true ? 1 : 0);
  const worth = (a: number, b: number): boolean => (before[b] ?? 0) > (before[a] ?? 0);
  const sounds: Uint8Array[] = [];
  let length = 0;
  for (let w = from; w < to; w += 1) {
    const phones = ear.of(words[w] ?? '')[0] ?? new Uint8Array(0);
    sounds.push(phones);
    length += phones.length;
  }
  const stream = new Uint8Array(length);
  const begins = new Int32Array(length + 1).fill(-1);
  const ends = new Int32Array(length + 1).fill(-1);
  const place = new Int32Array(to + 1);
  let end = 0;
  sounds.forEach((phones, k) => {
    place[from + k] = end;
    if (begun?.[from + k] ?? worth(from + k, Math.min(to, from + k + LONGEST)))
      begins[end] = from + k;
    stream.set(phones, end);
    end += phones.length;
    ends[end] = from + k + 1;
  });
  place[to] = end;
  const threes = new Uint16Array(length);
  for (let i = 0; i + 2 < length; i += 1) threes[i] = three(stream, i);
  return { stream, threes, place, begins, ends, worth };
}
