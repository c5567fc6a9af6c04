import type { Catalogue } from '#shared/catalogue';
import type { CheckCoverage, Coverage, Finding } from '#shared/coverage';
import { placeOf } from '#shared/names';

/**
 * How much is said aloud.
 *
 * - tones: earcons only, and the answer to an order such as "what's left"
 * - exceptions: also questions, findings, cautions, follow-ups, what went wrong
 * - everything: also each check that is now spoken for
 */
export type Talk = 'tones' | 'exceptions' | 'everything';

export interface ReplySettings {
  readonly catalogue: Catalogue;
  readonly talk: Talk;
}

export interface Around {
  /** Before it happened; null at the begin of a walk. */
  readonly before: Coverage | null;
  readonly after: Coverage;
  /** The pilot was told in this hold already that results do not count. */
  readonly toldHeld?: boolean;
}

export /** One thing to say. Smaller rank is more urgent; `at` is its place in what is said. */
interface Line {
  readonly text: string;
  readonly rank: number;
  readonly from: 'order' | 'exception' | 'confirmation';
}

export function exception(text: string, rank: number): Line {
  return { text, rank, from: 'exception' };
}

export function checkName(catalogue: Catalogue, id: string): string {
  return placeOf(catalogue, id)?.check.name ?? id;
}

export function stationName(catalogue: Catalogue, id: string | null): string | null {
  return id === null ? null : (catalogue.stations.find((s) => s.id === id)?.name ?? id);
}

/** Findings that are new, or read differently than before. */
export function newFindings({ before, after }: Around): Finding[] {
  const key = (f: Finding) =>
    JSON.stringify([f.check, f.instances, f.conditions, f.value, f.severity, f.settled]);
  const known = new Map((before?.findings ?? []).map((f) => [f.id, key(f)]));
  return after.findings.filter((f) => f.settled !== 'taken-back' && known.get(f.id) !== key(f));
}

/** Checks that stand otherwise than before. */
export function changed({ before, after }: Around): CheckCoverage[] {
  const was = new Map((before?.checks ?? []).map((c) => [c.check, c]));
  return after.checks.filter((c) => was.get(c.check)?.standing !== c.standing);
}
