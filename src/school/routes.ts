import { z } from 'zod';
import { JoinRequest, Role, Terms } from '#shared/school';
import { MAX_JSON_BYTES } from '#store/pure';
import { editionText, keepEdition } from './catalogues.ts';
import { deskWalks, devices } from './desk.ts';
import { feed } from './feed.ts';
import { hello } from './hello.ts';
import { MOST_EVENTS, takeEvents } from './intake.ts';
import { askIn, invite, invited, join, letIn, shutOut } from './joining.ts';
import { addPerson, changePerson, people, setTerms } from './people.ts';
import { AIRCRAFT_ROUTES } from './aircraft-routes.ts';
import { BYTE_ROUTES } from './byte-routes.ts';
import { OPEN_PASSKEY_ROUTES, PASSKEY_ROUTES } from './passkey-routes.ts';
import { PHRASE_ROUTES } from './phrase-routes.ts';
import { Refused } from './refused.ts';
import { bodyAs, CHIEF, deed, Desk, parsed, SMALL, type OpenRoute, type Route } from './route.ts';
import { deleteUnkept } from './unkept.ts';
import { tell } from './news.ts';

/** Bytes of one upload of events: half a megabyte is what a phone sends in a few seconds on a poor network. */
export const UPLOAD = 2 * 1024 * 1024;

const Code = z.object({ code: z.string().min(6).max(80) });
const PersonBody = z.object({ name: z.string().max(80), roles: z.array(Role).max(4) });
const ChangeBody = z.object({
  roles: z.array(Role).max(4).optional(),
  voice: z.boolean().optional(),
  students: z.array(z.string().max(80)).max(500).optional(),
  gone: z.boolean().optional(),
});
const Invite = z.object({ person: z.string().max(80).nullable() });
/** Editions are hashes; what the database could not keep is refused before it is asked. */
const Has = z.object({ editions: z.array(z.string().regex(/^[\w-]{1,64}$/)).max(500) });

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
  ...OPEN_PASSKEY_ROUTES,
];

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
  ...BYTE_ROUTES,
  ...PASSKEY_ROUTES,
  ...AIRCRAFT_ROUTES,
  ...PHRASE_ROUTES,
];
