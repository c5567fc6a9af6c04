import { randomBytes, timingSafeEqual } from 'node:crypto';
import { createServer } from 'node:http';
import { readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { backUp } from './backup.ts';
import type { OpenSchool } from './main.ts';

const Note = z.object({ port: z.number().int(), key: z.string() });
const Answer = z.object({ lines: z.array(z.string()).optional(), error: z.string().optional() });

const noteIn = (folder: string) => join(folder, 'control.json');

/**
 * A way in for commands on this machine while the server has the database: on
 * loopback only, for whoever may read the folder.
 */
export async function startControl(
  folder: string,
  school: Pick<OpenSchool, 'parts'>,
): Promise<{ close(): Promise<void> }> {
  const key = randomBytes(32).toString('base64url');
  const server = createServer((request, response) => {
    const say = (status: number, body: object) =>
      response.writeHead(status, { 'Content-Type': 'application/json' }).end(JSON.stringify(body));
    const given = Buffer.from(String(request.headers['x-talkround-control'] ?? ''));
    const wanted = Buffer.from(key);
    if (given.length !== wanted.length || !timingSafeEqual(given, wanted))
      return say(403, { error: 'Not for you.' });
    const file = new URL(request.url ?? '/', 'http://control').searchParams.get('file') ?? '';
    const { database, blobs, clock } = school.parts;
    backUp(database, blobs, file, clock.now()).then(
      (lines) => say(200, { lines }),
      (error: unknown) =>
        say(500, { error: error instanceof Error ? error.message : 'It failed.' }),
    );
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  const port = typeof address === 'object' && address !== null ? address.port : 0;
  await writeFile(noteIn(folder), JSON.stringify({ port, key }), { mode: 0o600 });
  return {
    async close() {
      await rm(noteIn(folder), { force: true });
      await new Promise((resolve) => {
        server.close(resolve);
        server.closeAllConnections();
      });
    },
  };
}

/** Asks a running server for a backup. Null: none is running here. Throws its sentence when it fails. */
export async function askBackup(folder: string, file: string): Promise<readonly string[] | null> {
  const text = await readFile(noteIn(folder), 'utf8').catch(() => null);
  const note = Note.safeParse(text === null ? null : JSON.parse(text));
  if (!note.success) return null;
  const url = `http://127.0.0.1:${note.data.port}/backup?file=${encodeURIComponent(file)}`;
  const headers = { 'x-talkround-control': note.data.key };
  const response = await fetch(url, { headers }).catch(() => null);
  // Left by a server that was killed.
  if (response === null) return null;
  const answer = Answer.parse(await response.json());
  if (answer.lines === undefined) throw new Error(answer.error ?? 'The backup failed.');
  return answer.lines;
}
