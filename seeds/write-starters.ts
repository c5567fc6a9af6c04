import { writeFile } from 'node:fs/promises';
import { editionOf, parseCatalogue } from '#catalogue';
import { CATALOGUES } from '#seeds';

const FILE = 'seeds/starters.json';

/** The text of the starter catalogues, read, as it is committed: a line each, because all of it is in the app. */
export function startersText(): string {
  const starters = CATALOGUES.map(({ text, file }) => {
    const parsed = parseCatalogue(text, file);
    if (!parsed.ok) throw new Error(parsed.problems[0]?.text ?? `${file} cannot be read.`);
    return { edition: editionOf(parsed.catalogue), catalogue: parsed.catalogue };
  });
  return `[\n${starters.map((s) => JSON.stringify(s)).join(',\n')}\n]\n`;
}

/** `node tests/load.mjs seeds/write-starters.ts` writes seeds/starters.json anew. */
export async function main(): Promise<number> {
  await writeFile(FILE, startersText());
  return 0;
}
