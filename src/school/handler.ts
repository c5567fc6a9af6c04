import { createHash } from 'node:crypto';
import type { IncomingMessage, ServerResponse } from 'node:http';
import { sql } from 'kysely';
import { z } from 'zod';
import { sha256Hex } from '#store/pure';
import { StoreAway } from './blobs.ts';
import { live } from './live.ts';
import { forgetNonces } from './nonces.ts';
import type { Parts } from './parts.ts';
import { callerOf, claimed, GUESSES, holds, inTime, onceAndSlowly, type Claimed } from './proof.ts';
import { Refused } from './refused.ts';
import { forgetChallenges } from './challenges.ts';
import { partyOf } from './party.ts';
import { bodyAs, SMALL, type Answer, type OpenRoute, type Route } from './route.ts';
import { OPEN_ROUTES, ROUTES } from './routes.ts';

/** Below which everything of the school lies. */
export const BASE = '/school/';

/** Of so many requests one also sweeps out old nonces. */
const SWEEP = 200;

/** Answers what is the school's; false: it is not, and somebody else answers. */
export type Handler = (request: IncomingMessage, response: ServerResponse) => boolean;

/** The school over HTTP. Everything that can throw is caught here and becomes one sentence. */
export function schoolHandler(parts: Parts): Handler {
  let served = 0;
  return (request, response) => {
    const url = addressOf(request.url ?? '/');
    if (url === null) return false;
    if (url.pathname !== '/health' && !url.pathname.startsWith(BASE)) return false;
    const began = performance.now();
    const method = request.method ?? 'GET';
    response.setHeader('Cache-Control', 'no-store');
    const log = (status: number, route: string, device: string | null) =>
      parts.log({
        at: parts.clock.now(),
        method,
        route,
        status,
        ms: Math.round((performance.now() - began) * 10) / 10,
        device,
      });
    const done = {
      route: url.pathname === '/health' ? 'health' : '?',
      device: null as string | null,
    };
    answer(parts, request, response, url, done).then(
      () => log(response.statusCode, done.route, done.device),
      (error: unknown) => {
        const refused = refusalOf(error);
        if (error !== refused)
          parts.log({
            at: parts.clock.now(),
            what: 'failed',
            route: done.route,
            error: error instanceof StoreAway ? error.message : nameOf(error),
          });
        log(refused.status, done.route, done.device);
        if (response.headersSent) return response.destroy();
        // What else it sends is not read.
        if (!request.complete) response.shouldKeepAlive = false;
        response
          .writeHead(refused.status, { 'Content-Type': 'application/json', ...refused.headers })
          .end(JSON.stringify({ error: refused.message, now: parts.clock.now() }));
      },
    );
    served += 1;
    if (served % SWEEP === 0) void sweep(parts).catch(() => {});
    return true;
  };
}

/** What whoever asked is told; the log of the server says more. */
function refusalOf(error: unknown): Refused {
  if (error instanceof Refused) return error;
  if (error instanceof StoreAway) return new Refused(503, AWAY);
  return new Refused(500, 'The school could not do this: try again. Its log says more.');
}

/** Words went before, and are kept. */
const AWAY =
  'Where the school keeps sound and pictures cannot be reached now. They stay on this device and are sent again by themselves.';

/** What was good for minutes only, and is no longer. */
async function sweep({ database, clock }: Parts): Promise<void> {
  await forgetNonces(database, clock.now());
  await forgetChallenges(database, clock.now());
}

/** Null for what is no address: a request may carry anything there ("/\\", "http://x:99999/"). */
function addressOf(words: string): URL | null {
  return URL.canParse(words, 'http://school') ? new URL(words, 'http://school') : null;
}

/** What went wrong, without what it went wrong with: a message of the database quotes values. */
function nameOf(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  return `${error instanceof Error ? error.name : typeof error} ${code}`.trim();
}

async function answer(
  parts: Parts,
  request: IncomingMessage,
  response: ServerResponse,
  url: URL,
  done: { route: string; device: string | null },
): Promise<void> {
  if (url.pathname === '/health') return health(parts, response);
  if (url.pathname === `${BASE}about` && request.method === 'GET')
    return about(parts, request, response, done);
  const path = url.pathname.slice(BASE.length);
  const method = request.method ?? 'GET';
  const open = method === 'POST' ? OPEN_ROUTES.find((route) => route.path === path) : undefined;
  const claim = claimed(request.headers.authorization, method, path + url.search);
  if (open !== undefined) {
    done.route = open.path;
    return reply(response, await openAnswer(parts, request, claim, open));
  }
  const found = path === 'live' ? null : routeOf(method, path);
  if (found === undefined) throw new Refused(404, 'The school has nothing at this address.');
  done.route = found?.route.path ?? 'live';
  done.device = claim.device;
  const { database, clock } = parts;
  const caller = await callerOf(database, claim, clock.now(), parts.rate);
  if (found === null) return live(parts, caller, response);
  const { route, path: names } = found;
  if (route.roles !== undefined && !route.roles.some((role) => caller.roles.has(role)))
    throw new Refused(403, `This is for ${route.roles.join(' or ')} only.`);
  const body = await bodyOf(request, claim, route.limit ?? 0);
  const query = url.searchParams;
  const party = partyOf(request.headers.host);
  reply(response, await route.run({ parts, caller, body, path: names, query, party }));
}

/** Signed by the key in the body, so that a code is used by who holds the key; and slowly, against guessing. */
async function openAnswer(
  parts: Parts,
  request: IncomingMessage,
  claim: Claimed,
  route: OpenRoute,
): Promise<Answer> {
  const from = createHash('sha256')
    .update(`talkround ${request.socket.remoteAddress ?? ''}`)
    .digest('hex');
  const now = parts.clock.now();
  // First, because what is counted is counted by its time.
  inTime(claim, now);
  const who = { ...claim, school: '', who: `address ${from.slice(0, 16)}` };
  await onceAndSlowly(parts.database, who, now, parts.guesses ?? GUESSES);
  const body = await bodyOf(request, claim, SMALL);
  const { publicKey, device } = bodyAs(Signed, body);
  if (device !== claim.device)
    throw new Refused(401, 'This request is signed by another device than it names.');
  holds(claim, publicKey, now);
  const party = partyOf(request.headers.host);
  return route.run(parts, JSON.parse(new TextDecoder().decode(body)), party);
}

const Signed = z.object({ publicKey: z.string().max(50), device: z.string().max(80) });

function routeOf(method: string, path: string): { route: Route; path: string[] } | undefined {
  const given = path.split('/');
  for (const route of ROUTES) {
    const wanted = route.path.split('/');
    if (route.method !== method || wanted.length !== given.length) continue;
    if (wanted.every((part, i) => part === '*' || part === given[i]))
      return { route, path: given.filter((_, i) => wanted[i] === '*') };
  }
  return undefined;
}

/** Reads the body as far as it may go; it has to be the one that was signed. */
async function bodyOf(
  request: IncomingMessage,
  claim: Claimed,
  limit: number,
): Promise<Uint8Array> {
  const parts: Buffer[] = [];
  let size = 0;
  const tooLarge = new Refused(
    413,
    `What was sent is larger than ${limit} bytes, which is the limit.`,
  );
  if (Number(request.headers['content-length'] ?? 0) > limit) throw tooLarge;
  for await (const part of request) {
    const bytes: unknown = part;
    if (!Buffer.isBuffer(bytes)) continue;
    size += bytes.length;
    if (size > limit) throw tooLarge;
    parts.push(bytes);
  }
  const body = Uint8Array.from(Buffer.concat(parts));
  if (sha256Hex(body) !== claim.body)
    throw new Refused(401, 'What was sent is not what was signed.');
  return body;
}

function reply(response: ServerResponse, answer: Answer): void {
  if ('bytes' in answer) {
    // Never shown as a page, whatever is in it.
    response
      .writeHead(200, { 'Content-Type': 'application/octet-stream' })
      .end(Buffer.from(answer.bytes));
    return;
  }
  const text = 'text' in answer ? answer.text : JSON.stringify(answer.json);
  response.writeHead(200, { 'Content-Type': 'application/json' }).end(text);
}

/**
 * Whether it can answer: the database does. That sound and pictures cannot be kept
 * now is told and no reason to take the server away: words go on.
 */
async function health({ database, blobs }: Parts, response: ServerResponse): Promise<void> {
  const [ok, keeps] = await Promise.all([
    within(sql`select 1`.execute(database.sql)),
    within(blobs.check()),
  ]);
  response
    .writeHead(ok ? 200 : 503, { 'Content-Type': 'application/json' })
    .end(JSON.stringify({ ok, store: database.kind, sound: keeps ? 'kept' : 'away' }));
}

/** Whoever asks for the health has no patience, milliseconds. */
const HEALTH_PATIENCE = 3_000;

async function within(work: Promise<unknown>): Promise<boolean> {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const late = new Promise<boolean>((resolve) => {
    timer = setTimeout(() => resolve(false), HEALTH_PATIENCE);
  });
  const done = work.then(
    () => true,
    () => false,
  );
  const answer = await Promise.race([done, late]);
  clearTimeout(timer);
  return answer;
}

/** Which school this is, for a page that has to know whom to ask: the one of this folder. */
async function about(
  { database }: Parts,
  request: IncomingMessage,
  response: ServerResponse,
  done: { route: string },
): Promise<void> {
  done.route = 'about';
  const row = await database.sql
    .selectFrom('school')
    .select(['id', 'name'])
    .orderBy('id')
    .executeTakeFirst();
  if (row === undefined) throw new Refused(404, 'There is no school here.');
  const passkeys = partyOf(request.headers.host) !== null;
  reply(response, { json: { school: row.id, name: row.name, passkeys } });
}
