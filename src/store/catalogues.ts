import { Catalogue } from '#shared/catalogue';
import type { Read } from '#shared/format';
import { canonical, sha256Hex } from './canonical.ts';

/** The edition of a catalogue: SHA-256, hex, of its RFC 8785 form. */
export function editionOf(catalogue: unknown): string {
  return sha256Hex(canonical(catalogue));
}

/**
 * Reads a catalogue in its full form, as it is kept under its edition. It may
 * come from a file that somebody else made, so nothing about it is taken on
 * trust: it has to be exactly what the schema would have made of it.
 */
export function readFull(input: unknown): Read<Catalogue> {
  const wrong = { ok: false as const, error: 'It is not a catalogue in its full form.' };
  try {
    const parsed = Catalogue.safeParse(withAuthorsRepeat(input));
    if (!parsed.success) {
      const issue = parsed.error.issues[0];
      return {
        ok: false,
        error: `It is not a catalogue in its full form: "${issue?.path.map(String).join('.') ?? ''}": ${issue?.message ?? 'unknown'}.`,
      };
    }
    return canonical(parsed.data) === canonical(input) ? { ok: true, value: parsed.data } : wrong;
  } catch {
    return wrong;
  }
}

type Json = Record<string, unknown>;
const isRecord = (value: unknown): value is Json =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** The schema takes the author's form of a repeat; the full form lists the places. */
function withAuthorsRepeat(input: unknown): unknown {
  if (!isRecord(input) || !Array.isArray(input['stations'])) return input;
  return {
    ...input,
    stations: input['stations'].map((station: unknown) => {
      if (!isRecord(station) || !Array.isArray(station['checks'])) return station;
      return {
        ...station,
        checks: station['checks'].map((check: unknown) => {
          if (!isRecord(check) || !isRecord(check['repeat'])) return check;
          const { instances, ...rest } = check['repeat'];
          return { ...check, repeat: { of: instances, ...rest } };
        }),
      };
    }),
  };
}
