import { z } from 'zod';

/** The furthest that a date can be from 1970, milliseconds (ECMA-262, Time Values and Time Range). */
const FURTHEST = 8.64e15;

/** Whether a number can be shown as a date at all: what cannot would end whatever shows it. */
export function isInstant(at: number): boolean {
  return Math.abs(at) <= FURTHEST;
}

/** Milliseconds since 1970 that a clock can show. */
export const Instant = z.number().min(-FURTHEST).max(FURTHEST);
