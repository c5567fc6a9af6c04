import { ONCE, type Check } from './catalogue.ts';
import type { CheckCoverage, Coverage, SaidOf, Told } from './coverage.ts';
import { atPlace, saidFigures } from './figures.ts';

const NOTHING: Told = { explained: [], done: [], reported: [] };

/** Talk by what it was, as it stands behind its words; teaching goes without saying. */
const TALK: Readonly<Record<SaidOf['force'], string>> = {
  result: '',
  teaching: '',
  intention: ' (an intention)',
  hypothesis: ' (a what-if)',
  question: ' (a question)',
  past: ' (about the past)',
  hearsay: ' (hearsay)',
};

/** What was said of a check; nothing where an older version did not keep it. */
export function toldIn({ told }: CheckCoverage): Told {
  return told ?? NOTHING;
}

/** The words of one class, each once, quoted: “fan belt, no nicks”; “now the belt” (an intention). */
export function quotedWords(said: readonly SaidOf[]): string {
  return [...new Set(said.map((s) => `“${s.words}”${TALK[s.force]}`))].join('; ');
}

/**
 * Whether a check was reported, done or explained, a line each with its words.
 * Explained is not checked, and the line says so (R2).
 */
export function toldLines(check: CheckCoverage): string[] {
  const { explained, done, reported } = toldIn(check);
  return [
    reported.length === 0 ? null : `reported: ${quotedWords(reported)}`,
    done.length === 0 ? null : `done: ${quotedWords(done)}`,
    explained.length === 0 ? null : `explained, not counted: ${quotedWords(explained)}`,
  ].filter((line) => line !== null);
}

/**
 * What was measured, in figures: "28 psi", or of several places "76 psi at 1, 74 psi at 2".
 * The measure is named where the check has more than one. null: nothing was.
 */
export function measuredWords(
  { measured }: CheckCoverage,
  check: Check | undefined,
): string | null {
  if (measured === undefined || measured.length === 0) return null;
  const ids = [...new Set(measured.map((m) => m.measure))];
  return ids
    .map((id) => {
      const name = check?.measures.find((m) => m.id === id)?.name ?? id;
      const here = measured.filter((m) => m.measure === id);
      const values = here.map((m) =>
        atPlace(saidFigures(m), m.instance === ONCE ? { instance: null } : m),
      );
      // Of left and right nobody can tell which was read first.
      const unplaced = here.length > 1 && here.some((m) => m.instance === null);
      const told = `${values.join(', ')}${unplaced ? ' (which is which was not said)' : ''}`;
      return (check?.measures.length ?? 1) > 1 ? `${name} ${told}` : told;
    })
    .join('; ');
}

/** Words behind the standing that stand in no class, such as those of a question or of what was taken back. */
export function otherWords(check: CheckCoverage): string[] {
  const { explained, done, reported } = toldIn(check);
  const told = new Set([...explained, ...done, ...reported].map((s) => s.words));
  // A reason that rests on several statements joins their words.
  const said = check.reasons.flatMap((r) => r.words?.split(' … ') ?? []);
  return [...new Set(said)].filter((words) => !told.has(words));
}

/** How many checks were explained, done and reported. */
export interface ToldCount {
  readonly checks: number;
  readonly explained: number;
  readonly done: number;
  readonly reported: number;
}

/** Over the checks that are required today or were spoken of. */
export function toldCount(checks: readonly CheckCoverage[]): ToldCount {
  const told = checks.map((c) => ({ today: c.required.today, ...toldIn(c) }));
  const some = (of: 'explained' | 'done' | 'reported') => told.filter((t) => t[of].length > 0);
  return {
    checks: told.filter((t) => t.today || t.explained.length + t.reported.length > 0).length,
    explained: some('explained').length,
    done: some('done').length,
    reported: some('reported').length,
  };
}

/** One sentence for a walk on which things were explained; null for any other. */
export function toldSentence(coverage: Coverage): string | null {
  const { checks, explained, done, reported } = toldCount(coverage.checks);
  if (explained === 0) return null;
  return `Of ${checks} checks ${explained} ${were(explained)} explained, ${done} done and ${reported} reported. Explained is not checked.`;
}

function were(count: number): string {
  return count === 1 ? 'was' : 'were';
}
