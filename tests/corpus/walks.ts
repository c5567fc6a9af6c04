import { readFileSync, readdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parse } from 'yaml';
import { z } from 'zod';
import type { Catalogue } from '#shared/catalogue';
import { checksById, CorpusError, parseLabel, type Label } from './format.ts';
import { conditionLabels, readCatalogue } from './load.ts';

/** Whole spoken walks with labels, read: one file a walk, its catalogue beside it. */

const Asked = z.strictObject({
  kind: z.enum(['which-check', 'which-instance', 'unit', 'value', 'severity', 'polarity', 'place']),
  options: z.array(z.string()).default([]),
});

const WalkFile = z.strictObject({
  v: z.literal(1),
  walk: z.string().regex(/^[a-z0-9-]+$/),
  catalogue: z.string(),
  voice: z.string().min(20),
  setting: z.string().min(10),
  form: z.string().min(3),
  talk: z
    .array(
      z.strictObject({
        at: z.string().nullable(),
        say: z.string().min(1),
        is: z.string(),
        asked: Asked.optional(),
        why: z.string().optional(),
      }),
    )
    .min(5),
});

/** One utterance of a walk, with its labels read. */
export interface Spoken {
  readonly at: string | null;
  readonly say: string;
  readonly asked: z.infer<typeof Asked> | null;
  readonly labels: readonly Label[];
}

export interface SpokenWalk {
  /** Folder and file: "writer/walk". */
  readonly id: string;
  readonly writer: string;
  readonly form: string;
  readonly catalogue: Catalogue;
  /** Tells catalogues of one id apart. */
  readonly catalogueKey: string;
  readonly talk: readonly Spoken[];
}

/**
 * What a writer's walks may be used for. Apart by writer, never by utterance. What is `waiting`
 * came after the last learning: strangers to the reader until the next. What is `work` did too, and
 * its errors are read.
 */
export const PARTS = ['learn', 'tune', 'report', 'waiting', 'work'] as const;
export type Part = (typeof PARTS)[number];

const here = join(dirname(fileURLToPath(import.meta.url)), 'walks');

/** Every writer's folder and its part, as `walks/parts.yaml` says. */
export function writersOf(part: Part | 'all'): string[] {
  const table = z
    .record(z.string(), z.enum(PARTS))
    .parse(parse(readFileSync(join(here, 'parts.yaml'), 'utf8')));
  return Object.entries(table).flatMap(([writer, own]) =>
    part === 'all' || own === part ? [writer] : [],
  );
}

/** The walks of one part of our own corpus. */
export function ownWalks(part: Part | 'all'): SpokenWalk[] {
  return writersOf(part).flatMap((writer) => walksIn(join(here, writer), writer));
}

/** The walks in a folder. Throws CorpusError with one sentence. */
export function walksIn(folder: string, writer: string): SpokenWalk[] {
  let names: string[];
  try {
    names = readdirSync(folder);
  } catch {
    throw new CorpusError(`There is no folder ${folder}.`);
  }
  const catalogues = new Map<string, Catalogue>();
  return names
    .filter((n) => n.endsWith('.walk.yaml'))
    .sort()
    .map((name) => readWalk(join(folder, name), writer, catalogues));
}

function readWalk(file: string, writer: string, catalogues: Map<string, Catalogue>): SpokenWalk {
  let data: unknown;
  try {
    data = parse(readFileSync(file, 'utf8'), { maxAliasCount: 0 });
  } catch (error) {
    throw new CorpusError(
      `${file} is not YAML: ${error instanceof Error ? (error.message.split('\n')[0] ?? '') : ''}`,
    );
  }
  const read = WalkFile.safeParse(data);
  if (!read.success) {
    const issue = read.error.issues[0];
    throw new CorpusError(
      `${file}: at "${issue?.path.map(String).join('.') ?? ''}": ${issue?.message ?? ''}`,
    );
  }
  const from = join(dirname(file), read.data.catalogue);
  let catalogue = catalogues.get(from);
  if (catalogue === undefined) catalogues.set(from, (catalogue = readCatalogue(from)));
  const checks = checksById(catalogue);
  const conditions = conditionLabels();
  const stations = new Set(catalogue.stations.map((s) => s.id));
  return {
    id: `${writer}/${read.data.walk}`,
    writer,
    form: read.data.form,
    catalogue,
    catalogueKey: `${writer}/${catalogue.id}`,
    talk: read.data.talk.map((u, i) => {
      const where = `${file}, utterance ${String(i + 1)}`;
      if (u.at !== null && !stations.has(u.at))
        throw new CorpusError(`${where}: no station "${u.at}".`);
      try {
        const labels = u.is
          .split(';')
          .map((part) => part.trim())
          .filter((part) => part !== '')
          .map((part) => parseLabel(part, catalogue, checks, conditions));
        return { at: u.at, say: u.say, asked: u.asked ?? null, labels };
      } catch (error) {
        throw new CorpusError(`${where}: ${error instanceof Error ? error.message : ''}`);
      }
    }),
  };
}
