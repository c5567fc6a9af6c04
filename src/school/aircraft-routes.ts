import { z } from 'zod';
import { addAircraft, changeAircraft } from './aircraft.ts';
import { fleetOf } from './fleet.ts';
import { tell } from './news.ts';
import { bodyAs, CHIEF, deed, SMALL, type Route } from './route.ts';

const Name = z.string().max(80);
const Catalogue = z.string().min(1).max(80);
const Added = z.object({ name: Name, catalogue: Catalogue });
const Change = z.object({
  name: Name.optional(),
  catalogue: Catalogue.optional(),
  retired: z.boolean().optional(),
});

export const AIRCRAFT_ROUTES: readonly Route[] = [
  {
    method: 'GET',
    path: 'fleet',
    run: async ({ parts, caller }) => ({ json: await fleetOf(parts.database, caller.school) }),
  },
  {
    method: 'POST',
    path: 'aircraft',
    roles: CHIEF,
    limit: SMALL,
    async run({ parts, caller, body }) {
      const { database, clock } = parts;
      const id = await addAircraft(database, clock, caller.school, bodyAs(Added, body));
      await deed(parts, caller, 'aircraft-added', id);
      await tell(database, caller.school);
      return { json: { id } };
    },
  },
  {
    method: 'POST',
    path: 'aircraft/*',
    roles: CHIEF,
    limit: SMALL,
    async run({ parts, caller, path: [id = ''], body }) {
      const { database, clock } = parts;
      await changeAircraft(database, clock, caller.school, id, bodyAs(Change, body));
      await deed(parts, caller, 'aircraft-changed', id);
      await tell(database, caller.school);
      return { json: {} };
    },
  },
];
