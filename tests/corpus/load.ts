import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parse } from 'yaml';
import { Catalogue } from '#shared/catalogue';
import { ConditionLabels, CorpusError, corpusFile, parseCorpus, type Utterance } from './format.ts';

/** Utterances over one catalogue. */
export interface CorpusSet {
  readonly name: string;
  readonly catalogue: Catalogue;
  readonly utterances: readonly Utterance[];
}

const here = dirname(fileURLToPath(import.meta.url));

let conditions: ConditionLabels | null = null;
export function conditionLabels(): ConditionLabels {
  conditions ??= ConditionLabels.parse(parse(readFileSync(join(here, 'conditions.yaml'), 'utf8')));
  return conditions;
}

export function readCatalogue(file: string): Catalogue {
  let written: unknown;
  try {
    written = parse(textOf(file), { maxAliasCount: 0 });
  } catch (error) {
    if (error instanceof CorpusError) throw error;
    throw new CorpusError(`${file} is not YAML: ${firstLine(error)}`);
  }
  const read = Catalogue.safeParse(written);
  if (read.success) return read.data;
  const issue = read.error.issues[0];
  const at = issue?.path.map(String).join('.') ?? '';
  throw new CorpusError(
    `${file} is not a catalogue: ${at === '' ? '' : `at "${at}": `}${issue?.message ?? ''}`,
  );
}

/** A file's text, or a sentence that says why there is none. */
function textOf(file: string): string {
  try {
    return readFileSync(file, 'utf8');
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : null;
    if (code === 'ENOENT') throw new CorpusError(`There is no file ${file}.`);
    if (code === 'EISDIR') throw new CorpusError(`${file} is a folder; give a file.`);
    throw new CorpusError(`${file} cannot be read: ${firstLine(error)}`);
  }
}

function firstLine(error: unknown): string {
  return (error instanceof Error ? error.message : String(error)).split('\n')[0] ?? '';
}

/** One corpus file; the catalogue stands beside it, beside this folder, or is given. */
export function readCorpus(file: string, catalogueFile: string | null): CorpusSet {
  const text = textOf(file);
  const named = corpusFile(text, file).catalogue;
  const found = catalogueFile ?? join(dirname(file), named);
  if (catalogueFile === null && !existsSync(found)) {
    throw new CorpusError(
      `${file} names the catalogue "${named}", which is not there. Its path is relative to the corpus file; --catalogue FILE takes its place.`,
    );
  }
  const catalogue = readCatalogue(found);
  return {
    name: `${basename(dirname(file))}/${basename(file)}`,
    catalogue,
    utterances: parseCorpus(text, file, catalogue, conditionLabels()),
  };
}

/** Which files of our own corpus: `fresh-*`, `stranger-*`, the first ones (neither), or all. */
export const SETS = ['all', 'first', 'fresh', 'stranger'] as const;
export type SetName = (typeof SETS)[number];

/** The set that a file is of, by how its name begins. */
export function setOf(file: string): Exclude<SetName, 'all'> {
  if (file.startsWith('fresh-')) return 'fresh';
  return file.startsWith('stranger-') ? 'stranger' : 'first';
}

/** Our own corpus, or a part of it. */
export function ownCorpus(part: 'work' | 'report' | 'all', set: SetName = 'all'): CorpusSet[] {
  const wanted = (name: string) => set === 'all' || setOf(name) === set;
  return (part === 'all' ? ['work', 'report'] : [part]).flatMap((folder) =>
    readdirSync(join(here, folder))
      .filter((name) => name.endsWith('.yaml') && wanted(name))
      .sort()
      .map((name) => readCorpus(join(here, folder, name), null)),
  );
}
