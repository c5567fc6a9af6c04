import { inOrder, linkOf, type Link, type Raw } from './chain.ts';

/** What came of taking in events. */
export interface Merged {
  readonly added: number;
  /** Already here, to the letter. */
  readonly known: number;
  /** Not taken, one sentence each. */
  readonly refused: readonly { readonly event: string; readonly why: string }[];
  /** Kept aside, because it may not write what it claims to; it counts nowhere. */
  readonly aside: readonly {
    readonly event: string;
    readonly walk: string | null;
    readonly why: string;
  }[];
  /** What whoever holds this device has to know, such as a known device with a new key. */
  readonly announced: readonly string[];
  /** Of these, what has to be told in any case: a known device that seals with a new key. */
  readonly rekeyed: readonly string[];
}

interface Held extends Link {
  readonly raw: Raw;
}

/**
 * The union of two logs by event id, in the one order of the log. Commutative,
 * associative and idempotent.
 *
 * Two different events under one id cannot come from honest devices, because
 * the id is part of what is hashed. So that the union stays a union, the one
 * with the smaller hash is taken on every device; `verifyEvents` shows the hole
 * that it leaves in the other's chain.
 */
export function mergeEvents(
  a: readonly unknown[],
  b: readonly unknown[],
): readonly Record<string, unknown>[] {
  const byId = new Map<string, Held>();
  for (const raw of [...a, ...b]) {
    const link = linkOf(raw);
    if (link === null) continue;
    const there = byId.get(link.id);
    if (there === undefined || link.hash < there.hash)
      byId.set(link.id, { ...link, raw: raw as Raw });
  }
  return inOrder([...byId.values()]).map((held) => held.raw);
}
