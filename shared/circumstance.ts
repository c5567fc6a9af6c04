import { z } from 'zod';

/** What about today makes further checks required. */
export const Circumstance = z.enum([
  'first-flight',
  'night',
  'cold',
  'after-maintenance',
  'after-squawk',
]);
export type Circumstance = z.infer<typeof Circumstance>;

export const CIRCUMSTANCE_WORDS: Readonly<Record<Circumstance, string>> = {
  'first-flight': 'first flight of the day',
  night: 'night',
  cold: 'cold weather',
  'after-maintenance': 'after maintenance',
  'after-squawk': 'after a squawk',
};
