import { parse } from 'yaml';
import { Truth } from './truth.ts';

export { starters, type Starter } from './starters.ts';
export { Truth } from './truth.ts';

/** A starter catalogue as its author wrote it. */
export interface SeedCatalogue {
  /** File stem, such as "training-helicopter". */
  readonly name: string;
  readonly file: string;
  readonly text: string;
}

/** A sample walk: a transcript, and what has to come of it. */
export interface SeedWalk {
  readonly name: string;
  /** File stem of its catalogue. */
  readonly catalogue: string;
  readonly file: string;
  readonly text: string;
  readonly truth: Truth;
}

const catalogueFiles = import.meta.glob<string>('./catalogues/*.yaml', {
  query: '?raw',
  import: 'default',
  eager: true,
});
const walkFiles = import.meta.glob<string>('./walks/*.{vtt,srt,txt}', {
  query: '?raw',
  import: 'default',
  eager: true,
});
const truthFiles = import.meta.glob<string>('./walks/*.truth.yaml', {
  query: '?raw',
  import: 'default',
  eager: true,
});

function fileOf(path: string): string {
  return path.slice(path.lastIndexOf('/') + 1);
}

function stemOf(path: string): string {
  return fileOf(path).replace(/\..*$/, '');
}

const ORDER = ['training-helicopter', 'training-aeroplane', 'appendix-d'];

// Marked as pure: the app takes the starters as they were read, and has no use for
// the authors' files nor for the sample walks, which were read at every opening.

/** The starter catalogues as their authors wrote them, the one for pilots first. */
export const CATALOGUES: readonly SeedCatalogue[] = /* @__PURE__ */ catalogues();

/** The sample walks, by name. */
export const WALKS: readonly SeedWalk[] = /* @__PURE__ */ walks();

function catalogues(): readonly SeedCatalogue[] {
  return Object.entries(catalogueFiles)
    .map(([path, text]) => ({ name: stemOf(path), file: fileOf(path), text }))
    .sort((a, b) => ORDER.indexOf(a.name) - ORDER.indexOf(b.name));
}

function walks(): readonly SeedWalk[] {
  return Object.entries(walkFiles)
    .map(([path, text]): SeedWalk => {
      const truthText = truthFiles[`./walks/${stemOf(path)}.truth.yaml`];
      if (truthText === undefined) throw new Error(`${fileOf(path)} has no truth beside it.`);
      const truth = Truth.parse(parse(truthText));
      return { name: stemOf(path), catalogue: truth.catalogue, file: fileOf(path), text, truth };
    })
    .sort((a, b) => (a.name < b.name ? -1 : 1));
}
