import type { Blobs } from './blobs.ts';
import type { Clock } from './clock.ts';
import type { Database } from './database.ts';
import type { News } from './news.ts';

/** One line of the log: never a word that was said, and no name. */
export type LogLine = Readonly<Record<string, string | number | null>>;

/** What the server is made of. Nothing of it remembers a request. */
export interface Parts {
  readonly database: Database;
  readonly blobs: Blobs;
  readonly clock: Clock;
  readonly news: News;
  readonly log: (line: LogLine) => void;
  /** Requests of one device in ten seconds; left out: the usual. */
  readonly rate?: number;
  /** Requests of one address before a device is in, in the same time; left out: the usual. */
  readonly guesses?: number;
}
