/** The author's catalogue: read from YAML with every mistake named, and pinned by its content. */
export { parseCatalogue, type Parsed } from './parse.ts';
export type { Problem } from './problem.ts';
export { editionOf } from './edition.ts';
export { catalogueJsonSchema } from './schema.ts';
export { JASC, jascName } from './jasc.ts';
