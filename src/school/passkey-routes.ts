import { z } from 'zod';
import { PasskeyMade, PasskeyUsed } from '#shared/passkey';
import { note } from './people.ts';
import {
  addPasskey,
  askToAdd,
  askToSignIn,
  heldBy,
  passkeys,
  removePasskey,
  signInWith,
} from './passkeys.ts';
import { bodyAs, deed, Desk, parsed, SMALL, type OpenRoute, type Route } from './route.ts';

const SignIn = Desk.extend({ answer: PasskeyUsed });
const Made = z.object({ name: z.string().max(80), made: PasskeyMade });

/** A desk signs itself in, as the holder of a passkey. */
export const OPEN_PASSKEY_ROUTES: readonly OpenRoute[] = [
  {
    path: 'desk/passkey/ask',
    run: async ({ database, clock }, body, party) => ({
      json: await askToSignIn(database, clock, heldBy(party), parsed(Desk, body)),
    }),
  },
  {
    path: 'desk/passkey',
    async run({ database, clock, log }, body, party) {
      const { answer, ...desk } = parsed(SignIn, body);
      const done = await signInWith(database, clock, heldBy(party), desk, answer);
      await note(database, clock, desk.school, done.person, 'desk-by-passkey', desk.device);
      log({ what: 'signed in by passkey', device: desk.device });
      return { json: { name: done.name } };
    },
  },
];

export const PASSKEY_ROUTES: readonly Route[] = [
  {
    method: 'GET',
    path: 'passkeys',
    run: async ({ parts, caller }) => ({
      json: { passkeys: await passkeys(parts.database, caller) },
    }),
  },
  {
    method: 'POST',
    path: 'passkeys/ask',
    limit: SMALL,
    run: async ({ parts, caller, party }) => ({
      json: await askToAdd(parts.database, parts.clock, heldBy(party), caller),
    }),
  },
  {
    method: 'POST',
    path: 'passkeys',
    limit: 2 * SMALL,
    async run({ parts, caller, party, body }) {
      const { database, clock } = parts;
      const id = await addPasskey(database, clock, heldBy(party), caller, bodyAs(Made, body));
      await deed(parts, caller, 'passkey-added', id);
      return { json: { id } };
    },
  },
  {
    method: 'DELETE',
    path: 'passkeys/*',
    async run({ parts, caller, path: [id = ''] }) {
      await removePasskey(parts.database, parts.clock, caller, id);
      await deed(parts, caller, 'passkey-removed', id);
      return { json: {} };
    },
  },
];
