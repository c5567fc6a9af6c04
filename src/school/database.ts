import { mkdirSync } from 'node:fs';
import { PGlite } from '@electric-sql/pglite';
import { Kysely, PostgresDialect, type PostgresPool, type PostgresPoolClient } from 'kysely';
import pg from 'pg';
import { migrate } from './migrations.ts';
import type { Tables } from './tables.ts';

/** The one database of a server, embedded or elsewhere. The SQL is the same. */
export interface Database {
  readonly kind: 'pglite' | 'postgres';
  readonly sql: Kysely<Tables>;
  /** Runs at every notice on the channel, whichever server gave it. */
  listen(channel: string, take: (payload: string) => void): Promise<void>;
  close(): Promise<void>;
}

/**
 * Connections to a PostgreSQL at once. A server of one machine gains nothing by
 * more; a hundred servers with more would use up what one database allows.
 */
const CONNECTIONS = 8;

/** Numbers of 64 bits come as numbers: ours are milliseconds and counters, far below 2^53. */
const INT8 = 20;

/**
 * Opens the database and brings its tables up to date.
 *
 * @param where a folder for the embedded one, or the address of a PostgreSQL 15 or later;
 *   "memory" keeps nothing, for tests
 */
export async function openDatabase(
  where: { readonly folder: string } | { readonly url: string } | 'memory',
): Promise<Database> {
  const opened =
    typeof where === 'object' && 'url' in where ? elsewhere(where.url) : await embedded(where);
  await migrate(opened.sql);
  return opened;
}

async function embedded(where: { readonly folder: string } | 'memory'): Promise<Database> {
  if (where !== 'memory') mkdirSync(where.folder, { recursive: true, mode: 0o700 });
  const lite = await PGlite.create({
    ...(where === 'memory' ? {} : { dataDir: where.folder }),
    parsers: { [INT8]: Number },
  });
  return {
    kind: 'pglite',
    sql: new Kysely<Tables>({ dialect: new PostgresDialect({ pool: onePool(lite) }) }),
    async listen(channel, take) {
      await lite.listen(channel, take);
    },
    close: () => lite.close(),
  };
}

/** The embedded database has one connection; who asks for it waits until the one before has given it back. */
function onePool(lite: PGlite): PostgresPool {
  let free: Promise<void> = Promise.resolve();
  return {
    async connect() {
      const before = free;
      let release = () => {};
      free = new Promise((resolve) => (release = resolve));
      await before;
      const client = {
        async query(text: string, parameters: readonly unknown[]) {
          const { rows, affectedRows = 0 } = await lite.query(text, [...parameters]);
          return { command: commandOf(text), rowCount: affectedRows || rows.length, rows };
        },
        release: () => release(),
      };
      // The overloads for cursors are not used.
      return client as PostgresPoolClient;
    },
    async end() {},
  };
}

function commandOf(text: string): 'SELECT' | 'INSERT' | 'UPDATE' | 'DELETE' {
  const word = /^\s*(insert|update|delete)/i.exec(text)?.[1]?.toUpperCase();
  return word === 'INSERT' || word === 'UPDATE' || word === 'DELETE' ? word : 'SELECT';
}

function elsewhere(url: string): Database {
  const types = new pg.TypeOverrides();
  types.setTypeParser(INT8, Number);
  const pool = new pg.Pool({ connectionString: url, max: CONNECTIONS, types });
  // A connection that breaks while it waits: the next request opens another.
  pool.on('error', () => {});
  let listener: pg.Client | null = null;
  let closed = false;
  const takers = new Map<string, (payload: string) => void>();

  async function connect(): Promise<void> {
    const client = new pg.Client({ connectionString: url });
    client.on('notification', ({ channel, payload = '' }) => takers.get(channel)?.(payload));
    client.on('error', () => again());
    await client.connect();
    listener = client;
    for (const channel of takers.keys())
      await client.query(`LISTEN ${pg.escapeIdentifier(channel)}`);
  }
  function again(): void {
    listener = null;
    if (!closed) setTimeout(() => void connect().catch(again), LISTEN_AGAIN).unref();
  }
  return {
    kind: 'postgres',
    sql: new Kysely<Tables>({ dialect: new PostgresDialect({ pool }) }),
    async listen(channel, take) {
      takers.set(channel, take);
      if (listener === null) await connect();
      else await listener.query(`LISTEN ${pg.escapeIdentifier(channel)}`);
    },
    async close() {
      closed = true;
      await listener?.end();
      await pool.end();
    },
  };
}

/** Milliseconds until a broken connection for notices is opened again. Until then desks see what is new when they ask. */
const LISTEN_AGAIN = 2_000;
