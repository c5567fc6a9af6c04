import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parse } from 'yaml';
import { z } from 'zod';
import { CorpusError } from './format.ts';
import { readCorpus, type CorpusSet } from './load.ts';

/**
 * Single sentences of strangers, a folder for each writer with catalogues beside them; what each
 * writer's are for stands in `single/parts.yaml`: to learn from, looked at (their errors were read
 * and mended, so they are known ground), or `sealed`: figures only, nobody reads an error.
 */
const SINGLE_PARTS = ['learn', 'looked-at', 'sealed'] as const;
export type SinglePart = (typeof SINGLE_PARTS)[number];

const here = join(dirname(fileURLToPath(import.meta.url)), 'single');

/** The writers of a part, as folders. */
export function singleWriters(part: SinglePart): string[] {
  const table = z
    .record(z.string(), z.enum(SINGLE_PARTS))
    .parse(parse(readFileSync(join(here, 'parts.yaml'), 'utf8')));
  return Object.entries(table).flatMap(([writer, own]) => (own === part ? [writer] : []));
}

/** The sentences of one writer, a set for each file. Throws CorpusError with one sentence. */
export function singlesOf(writer: string): CorpusSet[] {
  return singlesIn(join(here, writer));
}

/** All sentences of a part, a set for each file. Throws CorpusError with one sentence. */
export function ownSingles(part: SinglePart): CorpusSet[] {
  return singleWriters(part).flatMap(singlesOf);
}

/** The sentences in a folder and in folders of it. Throws CorpusError with one sentence. */
export function singlesIn(folder: string): CorpusSet[] {
  if (!existsSync(folder)) throw new CorpusError(`There is no folder ${folder}.`);
  const entries = readdirSync(folder, { withFileTypes: true }).sort((a, b) =>
    a.name < b.name ? -1 : 1,
  );
  return entries.flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return singlesIn(path);
    const corpus = /(?<!\.catalogue)\.yaml$/.test(entry.name) && entry.name !== 'parts.yaml';
    return corpus ? [readCorpus(path, null)] : [];
  });
}
