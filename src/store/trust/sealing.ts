import type { Draft, Event, SealCovers } from '#shared/event';
import { inOrder } from '../chain.ts';
import { heldRow } from '../reading.ts';
import type { SealKey } from '../seal.ts';
import type { Row, Shelf } from '../shelf.ts';
import { BESIDE, type Held } from './held.ts';
import { judgeWalk } from './judge.ts';
import { countable } from './members.ts';
import { rowsAround } from './judging.ts';
import type { Known } from './keys.ts';
import { poolOf } from './pool.ts';
import { rootOf } from './merkle.ts';
import { signedHash } from './seal-form.ts';

export interface SealParts {
  readonly shelf: Shelf;
  readonly device: string;
  readonly key: SealKey;
  readonly known: Known;
  /** What the device is called. */
  readonly name: string | null;
}

/**
 * What a seal over a walk says, with events that are about to be written behind
 * it. The walk itself is sealed by whoever belongs to it; anybody else seals
 * what they said beside it. Null when nothing of the walk is here.
 */
export async function sealOver(
  parts: SealParts,
  walk: string,
  coming: readonly Row[],
  head: string,
): Promise<Extract<Event['what'], { kind: 'sealed' }> | null> {
  const { device, key, known, name } = parts;
  const rows = await rowsAround(parts.shelf, walk);
  if (rows.length + coming.length === 0) return null;
  const pool = poolOf([...rows, ...coming].map(heldRow));
  const judged = judgeWalk(walk, pool, known, { hashes: false });
  const version = judged.version;
  const isBeside = coming.some((row) => BESIDE.has(row.kind));
  const of = { walk, begun: version?.beginning.hash ?? '', name };
  const covers = (
    part: SealCovers['part'],
    events: readonly Held[],
    heads: SealCovers['heads'],
  ) => ({
    ...of,
    part,
    events: events.length,
    root: rootOf(events.map((e) => e.hash)),
    heads,
  });
  const mine = inOrder(pool.ofWalk(walk).filter((e) => e.device === device && e.place === 'here'));
  const own = version !== null && version.device === device;
  const said = () =>
    covers(
      'beside',
      mine.filter((e) => BESIDE.has(e.kind)),
      [],
    );
  const added = () => covers('walk', countable(mine), []);
  const whole = () => covers('walk', version?.counts ?? [], headsOf(version?.counts ?? [], device));
  const over = isBeside
    ? said()
    : own
      ? whole()
      : isLetIn(pool.ofWalk(walk), device)
        ? added()
        : said();
  const signature = await key.sign(signedHash(head, key.publicKey, over));
  return { kind: 'sealed', publicKey: key.publicKey, signature, over: head, covers: over };
}

/** The last event of each other device that counts. */
function headsOf(counts: readonly Held[], device: string): SealCovers['heads'] {
  const heads = new Map<string, string>();
  for (const e of counts) if (e.device !== device) heads.set(e.device, e.hash);
  return [...heads].map(([d, hash]) => ({ device: d, hash }));
}

/** Whether the walk has let a device in. */
export function isLetIn(events: readonly Held[], device: string): boolean {
  return events.some((e) => {
    const what = e.raw['what'];
    return (
      e.kind === 'let-in' &&
      e.place === 'here' &&
      typeof what === 'object' &&
      what !== null &&
      Reflect.get(what, 'device') === device
    );
  });
}

/** Kinds that are sealed in the write that they come with. */
export function sealsItself(draft: Draft): boolean {
  return draft.walk !== null && (draft.what.kind === 'signed' || BESIDE.has(draft.what.kind));
}
