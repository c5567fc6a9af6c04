import { Refused } from './refused.ts';
import { deed, type Route } from './route.ts';
import { erasePhrases, phrasesFor } from './phrases.ts';
import { tell } from './news.ts';

export const PHRASE_ROUTES: readonly Route[] = [
  {
    method: 'GET',
    path: 'phrases',
    run: async ({ parts, caller, query }) => ({
      json: await phrasesFor(parts.database, caller, query.get('after')),
    }),
  },
  {
    method: 'DELETE',
    path: 'people/*/phrases',
    async run({ parts, caller, path: [id = ''] }) {
      if (id !== caller.person && !caller.roles.has('chief'))
        throw new Refused(403, 'Only the person who taught it and the chief have it erased.');
      const { database, clock } = parts;
      const phrases = await erasePhrases(database, clock, caller.school, id);
      await deed(parts, caller, 'phrases-erased', id);
      await tell(database, caller.school);
      return { json: { phrases } };
    },
  },
];
