import type { Catalogue } from '#shared/catalogue';
import text from './starters.json?raw';

/** A starter catalogue as the app offers it, with the edition that pins it. */
export interface Starter {
  readonly edition: string;
  readonly catalogue: Catalogue;
}

/**
 * The starter catalogues, read. To read them from YAML took a quarter of all work
 * before the first screen, at every opening. The file is made from the YAML by
 * `node tests/load.mjs seeds/write-starters.ts`; a test fails when it is stale.
 */
export function starters(): readonly Starter[] {
  return JSON.parse(text) as readonly Starter[];
}
