import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { z } from 'zod';
import { Ends } from './intervals.ts';
import { Measures } from './measures.ts';

/**
 * Figures of a reader that has left the project, kept so that its rows can still
 * be shown beside the new one's. They hold for the same walks read in the same
 * way, and for nothing else.
 */
const Entry = z.strictObject({
  /** What was judged, for people. */
  of: z.string(),
  /** Hash of the walks and their labels. */
  walks: z.string(),
  /** Whether the reader was told the station. */
  here: z.boolean(),
  wer: z.record(z.string(), Measures),
  intervals: z.record(z.string(), z.record(z.string(), Ends)),
  byForm: z.record(z.string(), Measures),
});
export type KeptRules = z.infer<typeof Entry>;
const File = z.strictObject({ v: z.literal(1), kept: z.array(Entry) });

function fileAt(path: string): z.infer<typeof File> {
  if (!existsSync(path)) return { v: 1, kept: [] };
  return File.parse(JSON.parse(readFileSync(path, 'utf8')));
}

const isSame = (a: Pick<KeptRules, 'walks' | 'here'>, b: Pick<KeptRules, 'walks' | 'here'>) =>
  a.walks === b.walks && a.here === b.here;

/** The kept figures of these walks, read in this way; null when there are none. */
export function keptRules(path: string, what: Pick<KeptRules, 'walks' | 'here'>): KeptRules | null {
  return fileAt(path).kept.find((k) => isSame(k, what)) ?? null;
}

/** Adds figures to the file, or puts them in the place of older ones of the same walks. */
export function keepRules(path: string, entry: KeptRules): void {
  const others = fileAt(path).kept.filter((k) => !isSame(k, entry));
  writeFileSync(path, `${JSON.stringify({ v: 1, kept: [...others, entry] }, null, 2)}\n`);
}
