import { z } from 'zod';
import { Catalogue } from '#shared/catalogue';

/**
 * JSON Schema of what an author may write, for completion in an editor. Draft 7,
 * because that is what YAML language servers of every age understand.
 */
export function catalogueJsonSchema(): Record<string, unknown> {
  return {
    ...z.toJSONSchema(Catalogue, { io: 'input', target: 'draft-7' }),
    title: 'Talkround catalogue',
    description: 'Everything that has to be checked on one type of aircraft, in walking order.',
  };
}
