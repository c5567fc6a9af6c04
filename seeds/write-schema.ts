import { writeFile } from 'node:fs/promises';
import { format, resolveConfig } from 'prettier';
import { catalogueJsonSchema } from '#catalogue';

const FILE = 'seeds/catalogue.schema.json';

/** The text of the catalogue's JSON Schema as it is committed. */
export async function schemaText(): Promise<string> {
  const config = await resolveConfig(FILE);
  return format(JSON.stringify(catalogueJsonSchema()), { ...config, filepath: FILE });
}

/** `node tests/load.mjs seeds/write-schema.ts` writes seeds/catalogue.schema.json anew. */
export async function main(): Promise<number> {
  await writeFile(FILE, await schemaText());
  return 0;
}
