import type { Draft, Event } from './event.ts';

/** The append-only log as the other stages see it. There is no update and no delete. */
export interface Log {
  /**
   * Chains the drafts and writes them in one durable transaction; resolves only
   * when they are on disk (R10).
   */
  append(drafts: readonly Draft[]): Promise<readonly Event[]>;
  /** The events of a walk, oldest first. */
  walk(id: string): Promise<readonly Event[]>;
}

/** Ids and time, passed in so that a walk can be replayed to the letter. */
export interface World {
  /** A new UUIDv7. */
  id(): string;
  /** Milliseconds since 1970, by the device's clock. */
  now(): number;
  /** Seconds by a clock that cannot jump. */
  steady(): number;
}
