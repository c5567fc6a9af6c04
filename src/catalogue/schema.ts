import { z } from 'zod';
import { Catalogue } from '#shared/catalogue';

/** JSON Schema (draft 2020-12) of what an author may write, for completion in an editor. */
export function catalogueJsonSchema(): Record<string, unknown> {
  return {
    ...z.toJSONSchema(Catalogue, { io: 'input' }),
    title: 'Talkround catalogue',
    description: 'Everything that has to be checked on one type of aircraft, in walking order.',
  };
}
