import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { readCorpus } from './load.ts';

/**
 * Reads a folder of single sentences with their catalogues and counts what is in them, or says
 * what is wrong and where:
 *
 *   node tests/load.mjs tests/corpus/check-singles.ts FOLDER
 */
export function main(words: string[]): number {
  const folder = words[0] ?? '.';
  let wrong = 0;
  const files = readdirSync(folder).filter((f) => f.endsWith('.yaml') && !f.includes('.catalogue'));
  for (const name of files.sort()) {
    try {
      const { utterances } = readCorpus(join(folder, name), null);
      const claims = utterances.map(({ labels }) => labels.filter((l) => l.kind === 'claim'));
      const count = (of: (row: (typeof claims)[number]) => boolean): number =>
        claims.filter(of).length;
      console.log(
        `${name}: ${String(utterances.length)} sentences, ${String(count((row) => row.some((c) => c.force === 'result')))} with a result, ` +
          `${String(count((row) => row.some((c) => c.force === 'result' && (c.good === false || c.signs.some((s) => s.present)))))} with a finding, ` +
          `${String(count((row) => row.length > 0 && row.every((c) => c.force !== 'result')))} talk that names a check, ${String(count((row) => row.length === 0))} with nothing or an order`,
      );
    } catch (error) {
      wrong += 1;
      console.log(`${name}: ${error instanceof Error ? error.message : String(error)}`);
    }
  }
  return wrong === 0 ? 0 : 1;
}
