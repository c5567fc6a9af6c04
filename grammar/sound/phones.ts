/**
 * Phones and how alike they sound.
 *
 * Features after Chomsky & Halle, The Sound Pattern of English (1968), assigned to
 * ARPABET from memory; weights so that the order of confusions agrees with Miller &
 * Nicely (1955): place is lost first, then voicing, manner and nasality last. The
 * weights are ours and measured by the bench, not published.
 */
export const PHONES = [
  'AA',
  'AE',
  'AH',
  'AO',
  'AW',
  'AY',
  'B',
  'CH',
  'D',
  'DH',
  'EH',
  'ER',
  'EY',
  'F',
  'G',
  'HH',
  'IH',
  'IY',
  'JH',
  'K',
  'L',
  'M',
  'N',
  'NG',
  'OW',
  'OY',
  'P',
  'R',
  'S',
  'SH',
  'T',
  'TH',
  'UH',
  'UW',
  'V',
  'W',
  'Y',
  'Z',
  'ZH',
] as const;

const INDEX: ReadonlyMap<string, number> = new Map(PHONES.map((p, i) => [p, i]));
export function phoneIndex(phone: string): number | undefined {
  return INDEX.get(phone);
}

/** Consonants: voice, nasal, continuant, sonorant, strident, anterior, coronal, high-back, lateral. */
const CONSONANTS: Readonly<Record<string, string>> = {
  P: '000001000',
  B: '100001000',
  T: '000001100',
  D: '100001100',
  K: '000000010',
  G: '100000010',
  CH: '000010100',
  JH: '100010100',
  F: '001011000',
  V: '101011000',
  TH: '001001100',
  DH: '101001100',
  S: '001011100',
  Z: '101011100',
  SH: '001010100',
  ZH: '101010100',
  HH: '001000000',
  M: '110101000',
  N: '110101100',
  NG: '110100010',
  L: '101101101',
  R: '101100100',
  W: '101100010',
  Y: '101100110',
};
const CONSONANT_WEIGHTS = [0.2, 0.4, 0.25, 0.35, 0.15, 0.2, 0.25, 0.25, 0.25];

/** Vowels: high, low, back, round, tense, glide to the front, glide to the back, r-coloured. */
const VOWELS: Readonly<Record<string, string>> = {
  IY: '10001000',
  IH: '10000000',
  EY: '00001100',
  EH: '00000000',
  AE: '01000000',
  AA: '01100000',
  AO: '01110000',
  OW: '00111010',
  UH: '10110000',
  UW: '10111000',
  AH: '00100000',
  ER: '00100001',
  AW: '01100010',
  AY: '01100100',
  OY: '00110100',
};
const VOWEL_WEIGHTS = [0.2, 0.15, 0.2, 0.1, 0.1, 0.2, 0.15, 0.3];

/** A vowel against a consonant is no confusion, except for glides and r. */
const NEAR_VOWEL: Readonly<Record<string, number>> = {
  'ER R': 0.3,
  'UW W': 0.4,
  'IY Y': 0.4,
  'OW W': 0.6,
  'OW L': 0.6,
  'UH L': 0.6,
  'AH R': 0.7,
  'IH Y': 0.5,
  'UH W': 0.5,
};
const APART = 1;

/** Cost of leaving a phone out or putting one in: weak vowels, t, d, h and final s go first. */
const LOSE: Readonly<Record<string, number>> = {
  AH: 0.4,
  IH: 0.45,
  ER: 0.55,
  HH: 0.35,
  T: 0.45,
  D: 0.45,
  R: 0.5,
  L: 0.6,
  N: 0.6,
  S: 0.55,
  Z: 0.5,
  Y: 0.4,
  W: 0.5,
  G: 0.6,
  K: 0.6,
};
const LOSE_OTHER = 0.7;

const SIZE = PHONES.length;
export const LOSS = Float32Array.from(PHONES.map((p) => LOSE[p] ?? LOSE_OTHER));
const swap = new Float32Array(SIZE * SIZE);

function differ(a: string, b: string, weights: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < weights.length; i += 1) if (a[i] !== b[i]) sum += weights[i] ?? 0;
  return sum;
}
PHONES.forEach((a, i) => {
  PHONES.forEach((b, j) => {
    const ca = CONSONANTS[a];
    const cb = CONSONANTS[b];
    const va = VOWELS[a];
    const vb = VOWELS[b];
    let cost: number;
    if (a === b) cost = 0;
    else if (ca !== undefined && cb !== undefined)
      cost = Math.min(1, 0.1 + differ(ca, cb, CONSONANT_WEIGHTS));
    else if (va !== undefined && vb !== undefined)
      cost = Math.min(0.75, 0.1 + differ(va, vb, VOWEL_WEIGHTS));
    else cost = NEAR_VOWEL[`${a} ${b}`] ?? NEAR_VOWEL[`${b} ${a}`] ?? APART;
    swap[i * SIZE + j] = cost;
  });
});

/** Cost of hearing phone `b` for phone `a`, 0 to 1. */
export function confusion(a: number, b: number): number {
  return swap[a * SIZE + b] ?? APART;
}
export const CONFUSION: Float32Array = swap;
export const PHONE_COUNT = SIZE;

/** Rough classes for finding candidates: what is confused most shares a class. */
const CLASS_OF: Readonly<Record<string, number>> = {
  P: 1,
  B: 1,
  T: 2,
  D: 2,
  K: 3,
  G: 3,
  F: 4,
  V: 4,
  TH: 4,
  DH: 4,
  S: 5,
  Z: 5,
  SH: 6,
  ZH: 6,
  CH: 6,
  JH: 6,
  M: 7,
  N: 7,
  NG: 7,
  L: 8,
  R: 9,
  W: 10,
  Y: 11,
  HH: 12,
  ER: 9,
  IY: 13,
  IH: 13,
  EY: 13,
  EH: 13,
  AE: 14,
  AA: 14,
  AH: 14,
  AO: 14,
  AW: 14,
  AY: 14,
  OW: 15,
  OY: 15,
  UH: 15,
  UW: 15,
};
export const CLASSES = 16;
export const PHONE_CLASS = Uint8Array.from(PHONES.map((p) => CLASS_OF[p] ?? 0));
