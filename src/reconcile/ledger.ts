import type { Observation, SetAside, Statement, TwoCandidates } from '#shared/statement';
import { get, type PMap } from './map.ts';

/** A statement as it stands in the ledger of each check that it concerns. */
export interface Entry {
  /** Id of the statement. */
  readonly id: string;
  readonly event: string;
  /** Place in the walk: a later statement has a larger one. */
  readonly order: number;
  readonly said: Statement;
  /** Earlier statement that it amends, takes back or rates. */
  readonly target: string | null;
  /** Asserts something abnormal (R3, R8). */
  readonly finding: boolean;
  /** Checks that it concerns by itself, as indexes; the last index stands for "no check". */
  readonly spots: readonly number[];
  /** Placed here by hand: the event that did, and where. */
  readonly placed?: { readonly event: string; readonly instances: readonly string[] };
  /** What a reviewer would have read: the review's event, and the statement it replaces. */
  readonly review?: { readonly event: string; readonly of: string };
}

/** What later events did to a statement. The statement itself stays as it was (R6). */
export interface Mark {
  readonly kind: 'amended' | 'retracted' | 'rated' | 'placed' | 'reviewed' | 'cleared';
  /** Statement that did it, or event where it was done by hand. */
  readonly by: string;
  readonly order: number;
  /** For "placed" and "reviewed": the check that the statement was moved to. */
  readonly spot?: number;
}

export interface Records {
  readonly entries: PMap<Entry>;
  readonly marks: PMap<readonly Mark[]>;
}

const UNMARKED: readonly Mark[] = [];

export function marksOn(records: Records, id: string): readonly Mark[] {
  return get(records.marks, id) ?? UNMARKED;
}

/** Taken back, and the taking back was not itself taken back. */
export function isRetracted(records: Records, id: string): boolean {
  return marksOn(records, id).some((m) => m.kind === 'retracted' && !isRetracted(records, m.by));
}

/** Statements that amend this one and were not taken back. */
export function amenders(records: Records, id: string): readonly string[] {
  return marksOn(records, id).flatMap((m) =>
    m.kind === 'amended' && !isRetracted(records, m.by) ? [m.by] : [],
  );
}

/** Whether a statement still counts. */
export function isLive(records: Records, id: string): boolean {
  const marks = get(records.marks, id);
  if (marks === undefined) return true;
  return !isRetracted(records, id) && amenders(records, id).length === 0;
}

/** Whether a finding lives on in the statement that amended it, so that it is listed there. */
export function isCarriedOn(records: Records, id: string): boolean {
  return amenders(records, id).some(
    (by) =>
      get(records.entries, by)?.finding === true &&
      (isLive(records, by) || isCarriedOn(records, by)),
  );
}

/** The findings that this one amends, oldest first, itself last. */
export function chainOf(records: Records, entry: Entry): readonly Entry[] {
  const chain = [entry];
  for (;;) {
    const target = chain[0]?.target ?? null;
    const before = target === null ? undefined : get(records.entries, target);
    if (before === undefined || !before.finding || before.order >= (chain[0]?.order ?? 0)) {
      return chain;
    }
    chain.unshift(before);
  }
}

/** Severity ratings of a statement that were not taken back. */
export function ratingsOf(records: Records, id: string): readonly Entry[] {
  return marksOn(records, id).flatMap((m) => {
    const entry = m.kind === 'rated' ? get(records.entries, m.by) : undefined;
    return entry !== undefined && !isRetracted(records, m.by) ? [entry] : [];
  });
}

/** Words that said that maintenance has cleared it, and were not taken back; null when none did. */
export function clearanceOf(records: Records, id: string): Entry | null {
  const mark = marksOn(records, id).findLast(
    (m) => m.kind === 'cleared' && !isRetracted(records, m.by),
  );
  return mark === undefined ? null : (get(records.entries, mark.by) ?? null);
}

/** The last mark of a kind; null when there is none. */
export function lastMark(records: Records, id: string, kind: Mark['kind']): Mark | null {
  return (
    marksOn(records, id)
      .filter((m) => m.kind === kind)
      .at(-1) ?? null
  );
}

/** Statements that can be in the ledger of a check. */
export type Said = Observation | TwoCandidates | SetAside;

/** The observation in an entry: a near-tie's as it would stand once it is settled. */
export function observationIn(entry: Entry): Observation | null {
  if (entry.said.kind === 'observation') return entry.said;
  return entry.said.kind === 'two-candidates' ? entry.said.said : null;
}

export function wordsOf(entry: Entry): string {
  return entry.said.span.words;
}
