import { randomBytes } from 'node:crypto';
import { v7 } from 'uuid';

/** Time, ids and chance, passed in so that a test can play them. */
export interface Clock {
  /** Milliseconds since 1970. */
  now(): number;
  /** UUIDv7: sorts by time. */
  id(): string;
  bytes(count: number): Uint8Array;
}

export const realClock: Clock = {
  now: () => Date.now(),
  id: () => v7(),
  bytes: (count) => Uint8Array.from(randomBytes(count)),
};
