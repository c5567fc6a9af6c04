import { Catalogue } from '#shared/catalogue';
import { chains } from './chains.ts';
import { readSource } from './document.ts';
import { doubts, sameNames } from './doubts.ts';
import { MAX_CHECKS, MAX_PROBLEMS } from './limits.ts';
import { doubles } from './names.ts';
import { pointers } from './pointers.ts';
import type { Found, Problem } from './problem.ts';
import { sentences } from './sentences.ts';

/** Format of an author's file that this program reads. */
const FORMAT = 1;

/** A catalogue in its full form, or every mistake that could be found in it. */
export type Parsed =
  | { readonly ok: true; readonly catalogue: Catalogue; readonly warnings: Problem[] }
  | { readonly ok: false; readonly problems: Problem[] };

/**
 * Reads a catalogue that somebody wrote, in YAML or JSON.
 *
 * Never throws and never hangs: sizes are bounded (limits.ts), and each problem
 * is one sentence with file, line, column and path. The line of a value that a
 * `*name` repeats is the line where it is written.
 */
export function parseCatalogue(text: string, file: string): Parsed {
  const read = readSource(text, file);
  if (!read.ok) return read;
  const { value, problem } = read.source;
  const refuse = (found: readonly Found[]): Parsed => ({
    ok: false,
    problems: cut(found).map(problem),
  });

  const format = field(value, 'v');
  if (typeof format === 'number' && format > FORMAT) {
    return refuse([
      {
        path: ['v'],
        text: `This catalogue has format ${format}; this Talkround knows formats up to ${FORMAT}. Update Talkround to read it.`,
      },
    ]);
  }
  const many = countChecks(value);
  if (many > MAX_CHECKS) {
    return refuse([
      {
        path: ['stations'],
        text: `The catalogue has ${many} checks; at most ${MAX_CHECKS} can be walked. Divide it.`,
      },
    ]);
  }
  const parsed = Catalogue.safeParse(value);
  if (!parsed.success) return refuse(sentences(parsed.error.issues, value));
  const catalogue = parsed.data;
  const found = [
    ...doubles(catalogue),
    ...sameNames(catalogue),
    ...pointers(catalogue),
    ...chains(catalogue),
  ];
  if (found.length > 0) return refuse(found);
  return { ok: true, catalogue, warnings: cut(doubts(catalogue)).map(problem) };
}

function cut(found: readonly Found[]): readonly Found[] {
  const more = found.length - MAX_PROBLEMS;
  return more <= 0
    ? found
    : [...found.slice(0, MAX_PROBLEMS), { path: [], text: `And ${more} more of the same file.` }];
}

/** Counted before the schema reads them, which takes a while for very many. */
function countChecks(value: unknown): number {
  const stations = field(value, 'stations');
  if (!Array.isArray(stations)) return 0;
  return stations.reduce((sum: number, station: unknown) => {
    const checks = field(station, 'checks');
    return sum + (Array.isArray(checks) ? checks.length : 0);
  }, 0);
}

function field(value: unknown, name: string): unknown {
  return typeof value === 'object' && value !== null && Object.hasOwn(value, name)
    ? (value as Record<string, unknown>)[name]
    : undefined;
}
