import type { z } from 'zod';

/**
 * A record that may have been written by an older version of this program.
 *
 * `version` is the format this code writes. `upcasters[n]` turns format n into
 * format n + 1. Old records are read through the chain and never rewritten.
 */
export interface Format<S extends z.ZodType> {
  readonly name: string;
  readonly version: number;
  readonly schema: S;
  readonly upcasters: Readonly<Record<number, (old: Record<string, unknown>) => unknown>>;
}

/** What came of reading a record: the value, or one sentence that says what is wrong. */
export type Read<T> = { ok: true; value: T } | { ok: false; error: string };

/** The format number of a record: its `v`, or null when it has none. */
function versionOf(record: Record<string, unknown>): number | null {
  const v = record['v'];
  return typeof v === 'number' && Number.isInteger(v) && v >= 1 ? v : null;
}

/**
 * Reads one record of any format up to the current one.
 *
 * Never throws: bad input is a result with one sentence in it.
 */
export function readAs<S extends z.ZodType>(format: Format<S>, input: unknown): Read<z.infer<S>> {
  if (typeof input !== 'object' || input === null || Array.isArray(input)) {
    return { ok: false, error: `A ${format.name} has to be an object.` };
  }
  let record = input as Record<string, unknown>;
  const found = versionOf(record);
  if (found === null) {
    return { ok: false, error: `This ${format.name} has no format number "v".` };
  }
  if (found > format.version) {
    return {
      ok: false,
      error: `This ${format.name} has format ${found}; this Talkround knows formats up to ${format.version}. Update Talkround to read it.`,
    };
  }
  for (let v = found; v < format.version; v += 1) {
    const up = format.upcasters[v];
    if (up === undefined) {
      return { ok: false, error: `Format ${v} of a ${format.name} can no longer be read.` };
    }
    record = up(record) as Record<string, unknown>;
  }
  const parsed = format.schema.safeParse(record);
  if (parsed.success) return { ok: true, value: parsed.data };
  const issue = parsed.error.issues[0];
  const where = issue === undefined ? '' : issue.path.map(String).join('.');
  return {
    ok: false,
    error: `This ${format.name} is not readable at "${where}": ${issue?.message ?? 'unknown'}.`,
  };
}
