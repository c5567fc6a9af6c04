import { sql } from 'kysely';
import type { Database } from './database.ts';

/** One channel for all schools of a database. */
const CHANNEL = 'talkround';

/** Tells every server, and so every desk, that there is something new. */
export async function tell({ sql: db }: Database, school: string): Promise<void> {
  await sql`select pg_notify(${CHANNEL}, ${school})`.execute(db);
}

/** Who waits for news of a school, at this server. */
export interface News {
  wait(school: string, run: () => void): () => void;
}

export async function newsFrom(database: Database): Promise<News> {
  const waiting = new Map<string, Set<() => void>>();
  await database.listen(CHANNEL, (school) => {
    for (const run of [...(waiting.get(school) ?? [])]) run();
  });
  return {
    wait(school, run) {
      const runs = waiting.get(school) ?? new Set();
      waiting.set(school, runs.add(run));
      return () => {
        runs.delete(run);
        if (runs.size === 0 && waiting.get(school) === runs) waiting.delete(school);
      };
    },
  };
}
