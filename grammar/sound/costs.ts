import { CONFUSION, LOSS, PHONE_COUNT, phoneIndex } from './phones.ts';

/** Costs are whole twentieths: every weight of phones.ts is a multiple of .05, and sums stay exact. */
export const UNIT = 20;
/** A plural s more or less at the end is no confusion worth counting. */
export const FINAL_S = 2;
const SWAP = Int32Array.from(CONFUSION, (c) => Math.round(c * UNIT));
const GAP = Int32Array.from(LOSS, (c) => Math.round(c * UNIT));
const S = phoneIndex('S') ?? 0;
const Z = phoneIndex('Z') ?? 0;
const FAR = 1 << 20;
const PHONES = PHONE_COUNT;
/** Taken apart once by a loop over phones: where modules are not bundled, an imported name is looked up anew at every use. */
export const COSTS = {
  swap: SWAP,
  gap: GAP,
  phones: PHONES,
  s: S,
  z: Z,
  finalS: FINAL_S,
  far: FAR,
} as const;
