import { z } from 'zod';
import { JoinRequest, Role, Terms } from '#shared/school';
import { MAX_JSON_BYTES } from '#store/pure';
import { editionText, keepEdition } from './catalogues.ts';
import { deskWalks, devices } from './desk.ts';
import { feed } from './feed.ts';
import { hello } from './hello.ts';
import { MOST_EVENTS, takeEvents } from './intake.ts';
import { askIn, invite, invited, join, letIn, shutOut } from './joining.ts';
import { eraseRecordings } from './own.ts';
import { addPerson, changePerson, note, people, setTerms } from './people.ts';
import { MOST_BYTES, readPieces } from './pieces.ts';
import { picturesHere } from './pictures.ts';
import { Refused } from './refused.ts';
import type { Caller } from './roles.ts';
import { hearSound, keepPieces, seePicture, wantedPieces } from './sound.ts';
import { deleteUnkept } from './unkept.ts';
import type { Parts } from './parts.ts';
import { tell } from './news.ts';

/** A request whose signature and size hold. */
export interface Asked {
  readonly parts: Parts;
  readonly caller: Caller;
  readonly body: Uint8Array;
  /** The variable parts of the path, in order. */
  readonly path: readonly string[];
  readonly query: URLSearchParams;
}

export type Answer =
  { readonly json: unknown } | { readonly bytes: Uint8Array } | { readonly text: string };

export interface Route {
  readonly method: 'GET' | 'POST' | 'PUT' | 'DELETE';
  /** "*" stands for one part. */
  readonly path: string;
  /** Who may; left out: every device that is in. */
  readonly roles?: readonly Role[];
  /** Bytes of the body at most; left out: none. */
  readonly limit?: number;
  run(asked: Asked): Promise<Answer>;
}

/** A route before a device is in: signed by the key that the body names. */
export interface OpenRoute {
  readonly path: string;
  run(parts: Parts, body: unknown): Promise<Answer>;
}

/** Bytes of an ordinary request: names and roles. */
export const SMALL = 16 * 1024;
/** Bytes of one upload of events: half a megabyte is what a phone sends in a few seconds on a poor network. */
export const UPLOAD = 2 * 1024 * 1024;

const Code = z.object({ code: z.string().min(6).max(80) });
const Desk = z.object({
  school: z.string().max(40),
  device: z.string().regex(/^[\w-]{1,80}$/),
  publicKey: z.string().max(50),
  name: z.string().max(80),
});
const PersonBody = z.object({ name: z.string().max(80), roles: z.array(Role).max(4) });
const ChangeBody = z.object({
  roles: z.array(Role).max(4).optional(),
  voice: z.boolean().optional(),
  students: z.array(z.string().max(80)).max(500).optional(),
  gone: z.boolean().optional(),
});
const Invite = z.object({ person: z.string().max(80).nullable() });
const Hashes = z.object({ hashes: z.array(z.string().regex(/^[0-9a-f]{64}$/)).max(100) });
/** Editions are hashes; what the database could not keep is refused before it is asked. */
const Has = z.object({ editions: z.array(z.string().regex(/^[\w-]{1,64}$/)).max(500) });

/** Reads a JSON body; throws `Refused` with what is wrong. */
export function bodyAs<T>(schema: z.ZodType<T>, body: Uint8Array): T {
  let json: unknown;
  try {
    json = JSON.parse(new TextDecoder().decode(body));
  } catch {
    throw new Refused(400, 'What was sent is not JSON.');
  }
  const read = schema.safeParse(json);
  if (read.success) return read.data;
  const [issue] = read.error.issues;
  throw new Refused(
    400,
    `What was sent cannot be read: "${issue?.path.map(String).join('.') ?? ''}": ${issue?.message ?? 'unknown'}.`,
  );
}

export const OPEN_ROUTES: readonly OpenRoute[] = [
  {
    path: 'invited',
    run: async ({ database, clock }, body) => ({
      json: await invited(database, clock, parsed(Code, body).code),
    }),
  },
  {
    path: 'join',
    async run({ database, clock, log }, body) {
      const request = parsed(JoinRequest, body);
      const done = await join(database, clock, request);
      log({ what: 'joined', device: request.device });
      return { json: done };
    },
  },
  {
    path: 'desk/ask',
    async run({ database, clock }, body) {
      const desk = parsed(Desk, body);
      return { json: await askIn(database, clock, desk.school, desk) };
    },
  },
];

function parsed<T>(schema: z.ZodType<T>, body: unknown): T {
  return bodyAs(schema, new TextEncoder().encode(JSON.stringify(body)));
}

const CHIEF = ['chief'] as const;

export const ROUTES: readonly Route[] = [
  {
    method: 'POST',
    path: 'hello',
    limit: 64 * 1024,
    run: async ({ parts, caller, body }) => ({
      json: await hello(parts.database, parts.clock, caller, bodyAs(Has, body).editions),
    }),
  },
  {
    method: 'POST',
    path: 'events',
    limit: UPLOAD,
    async run({ parts, caller, body }) {
      const lines = new TextDecoder()
        .decode(body)
        .split('\n')
        .filter((line) => line !== '');
      if (lines.length > MOST_EVENTS)
        throw new Refused(413, `More than ${MOST_EVENTS} events at once: send them in parts.`);
      const { database, clock, blobs } = parts;
      const { taken, drop } = await takeEvents(database, clock, caller, lines);
      if (drop.length > 0) await deleteUnkept(database, blobs, caller.school);
      if (taken.added > 0) await tell(database, caller.school);
      return { json: taken };
    },
  },
  {
    method: 'GET',
    path: 'feed',
    run: async ({ parts, caller, query }) => ({
      json: await feed(parts.database, caller, query.get('after')),
    }),
  },
  {
    method: 'GET',
    path: 'wanted',
    run: async ({ parts, caller, query }) => ({
      json: await wantedPieces(parts.database, caller, query.get('after')),
    }),
  },
  {
    method: 'POST',
    path: 'pieces',
    limit: MOST_BYTES,
    async run({ parts: { database, blobs, clock }, caller, body }) {
      const pieces = readPieces(body);
      const { kept, refused, news } = await keepPieces(database, blobs, clock, caller, pieces);
      if (news) await tell(database, caller.school);
      return { json: { kept, refused } };
    },
  },
  {
    method: 'POST',
    path: 'pictures',
    limit: SMALL,
    run: async ({ parts, caller, body }) => ({
      json: { here: await picturesHere(parts.database, caller, bodyAs(Hashes, body).hashes) },
    }),
  },
  {
    method: 'GET',
    path: 'pictures/*',
    run: async ({ parts: { database, blobs }, caller, path: [hash = ''] }) => ({
      bytes: await seePicture(database, blobs, caller, hash),
    }),
  },
  {
    method: 'GET',
    path: 'sound/*',
    run: async ({ parts: { database, blobs }, caller, path: [hash = ''] }) => ({
      bytes: await hearSound(database, blobs, caller, hash),
    }),
  },
  {
    method: 'GET',
    path: 'editions/*',
    run: async ({ parts, caller, path: [edition = ''] }) => ({
      text: await editionText(parts.database, caller.school, edition),
    }),
  },
  {
    // What a device walked with is kept; only the chief's are walked with by others.
    method: 'PUT',
    path: 'editions',
    limit: MAX_JSON_BYTES / 4,
    run: async ({ parts, caller, body }) => ({
      json: await keepEdition(
        parts.database,
        parts.clock,
        caller,
        new TextDecoder().decode(body),
        false,
      ),
    }),
  },
  {
    method: 'PUT',
    path: 'editions/current',
    roles: CHIEF,
    limit: MAX_JSON_BYTES / 4,
    async run({ parts, caller, body }) {
      const { database, clock } = parts;
      const text = new TextDecoder().decode(body);
      const edition = await keepEdition(database, clock, caller, text, true);
      await deed(parts, caller, 'edition', edition.edition);
      await tell(database, caller.school);
      return { json: edition };
    },
  },
  {
    method: 'POST',
    path: 'desk/let',
    limit: SMALL,
    async run({ parts, caller, body }) {
      const done = await letIn(parts.database, parts.clock, caller, bodyAs(Code, body).code);
      await deed(parts, caller, 'desk', done.name);
      return { json: done };
    },
  },
  {
    // A desk signs itself out.
    method: 'POST',
    path: 'desk/leave',
    limit: SMALL,
    async run({ parts, caller }) {
      if (!caller.desk)
        throw new Refused(409, 'This device is a phone: it is shut out at the desk.');
      await shutOut(parts.database, parts.clock, caller, caller.device);
      return { json: {} };
    },
  },
  {
    method: 'GET',
    path: 'walks',
    run: async ({ parts, caller, query }) => ({
      json: await deskWalks(parts.database, caller, query.get('before')),
    }),
  },
  {
    method: 'GET',
    path: 'people',
    roles: ['chief', 'instructor'],
    run: async ({ parts, caller }) => ({
      json: { people: await people(parts.database, caller.school) },
    }),
  },
  {
    method: 'POST',
    path: 'people',
    roles: CHIEF,
    limit: SMALL,
    async run({ parts, caller, body }) {
      const id = await addPerson(
        parts.database,
        parts.clock,
        caller.school,
        bodyAs(PersonBody, body),
      );
      await deed(parts, caller, 'person-added', id);
      await tell(parts.database, caller.school);
      return { json: { id } };
    },
  },
  {
    method: 'POST',
    path: 'people/*',
    roles: CHIEF,
    limit: SMALL,
    async run({ parts, caller, path: [id = ''], body }) {
      const change = bodyAs(ChangeBody, body);
      await changePerson(parts.database, parts.clock, caller.school, id, change);
      await deed(parts, caller, 'person-changed', id);
      await tell(parts.database, caller.school);
      return { json: {} };
    },
  },
  {
    method: 'DELETE',
    path: 'people/*/sound',
    async run({ parts, caller, path: [id = ''] }) {
      if (id !== caller.person && !caller.roles.has('chief'))
        throw new Refused(403, 'Only the person whose sound it is and the chief have it erased.');
      const { database, clock, blobs } = parts;
      const why = 'asked for by or for the person';
      const erased = { recordings: 0, pictures: 0 };
      for (;;) {
        const done = await eraseRecordings(database, clock, caller.school, { person: id }, why);
        if (done.recordings + done.pictures === 0) break;
        erased.recordings += done.recordings;
        erased.pictures += done.pictures;
      }
      await deleteUnkept(database, blobs, caller.school);
      await deed(parts, caller, 'sound-erased', id);
      await tell(database, caller.school);
      return { json: erased };
    },
  },
  {
    method: 'GET',
    path: 'devices',
    roles: ['chief', 'instructor'],
    run: async ({ parts, caller }) => ({
      json: { devices: await devices(parts.database, caller.school) },
    }),
  },
  {
    method: 'POST',
    path: 'devices/*/shut',
    roles: CHIEF,
    limit: SMALL,
    async run({ parts, caller, path: [device = ''] }) {
      await shutOut(parts.database, parts.clock, caller, device);
      await deed(parts, caller, 'shut-out', device);
      await tell(parts.database, caller.school);
      return { json: {} };
    },
  },
  {
    method: 'POST',
    path: 'invitations',
    roles: CHIEF,
    limit: SMALL,
    async run({ parts, caller, body }) {
      const { person } = bodyAs(Invite, body);
      const by = caller.person ?? caller.device;
      const made = await invite(parts.database, parts.clock, caller.school, by, person);
      await deed(parts, caller, 'invited', person ?? 'shared');
      return { json: made };
    },
  },
  {
    method: 'PUT',
    path: 'terms',
    roles: CHIEF,
    limit: SMALL,
    async run({ parts, caller, body }) {
      await setTerms(parts.database, caller.school, bodyAs(Terms, body));
      await deed(parts, caller, 'terms', '');
      return { json: {} };
    },
  },
];

function deed({ database, clock }: Parts, caller: Caller, kind: string, of: string): Promise<void> {
  return note(database, clock, caller.school, caller.person ?? caller.device, kind, of);
}
