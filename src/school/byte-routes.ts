import { z } from 'zod';
import { tell } from './news.ts';
import { eraseRecordings } from './own.ts';
import { picturesHere } from './pictures.ts';
import { MOST_BYTES, readPieces } from './pieces.ts';
import { Refused } from './refused.ts';
import { bodyAs, deed, SMALL, type Route } from './route.ts';
import { hearSound, keepPieces, seePicture, wantedPieces } from './sound.ts';
import { deleteUnkept } from './unkept.ts';

const Hashes = z.object({ hashes: z.array(z.string().regex(/^[0-9a-f]{64}$/)).max(100) });

/** Sound and pictures: what is wanted, brought, asked for and erased. */
export const BYTE_ROUTES: readonly Route[] = [
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
];
