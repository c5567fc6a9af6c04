import type { Draft, Happening } from '#shared/event';
import type { World } from '#shared/log';
import { Catalogue } from '#shared/catalogue';
import { memoryStore, StoreTrouble, type Store } from '#store';
import { editionOf } from '#catalogue';
import { seeded } from '../random.ts';

/**
 * Everything that has to happen wholly or not at all: finish, sign with its
 * seal, restore, merge, catalogue import, and each of them on a disk that
 * refuses to be written.
 */
export type Act = 'sign' | 'restore' | 'merge' | 'catalogue';

export interface ActsSaid {
  /** Acknowledged: it has to be there, whole, after whatever comes. */
  readonly did?: Act;
  /** The walk or the edition that it is about. */
  readonly of?: string;
  /** About to be done: it may be there or not, and never in part. */
  readonly begins?: Act;
  /** A write that the full disk refused, and how it was told. */
  readonly refused?: string;
  readonly failed?: string;
}

/** A part of all acts that meet a full disk. */
const FULL = 0.25;

/** While it is so, the database takes nothing, as a full disk does. */
let full = false;
function playFull(): void {
  for (const name of ['add', 'put'] as const) {
    const plain = IDBObjectStore.prototype[name];
    IDBObjectStore.prototype[name] = function (this: IDBObjectStore, ...words) {
      if (full) throw new DOMException('There is no room.', 'QuotaExceededError');
      return plain.apply(this, words);
    };
  }
}

function walkDrafts(world: World, walk: string, aircraft: string, edition: string): Draft[] {
  const draft = (what: Happening, t: number): Draft => ({
    v: 1,
    id: world.id(),
    walk,
    aircraft,
    at: world.now(),
    t,
    what,
  });
  return [
    draft(
      {
        kind: 'walk-begun',
        aircraft,
        catalogue: 'ordeal',
        edition,
        circumstances: [],
        pilot: null,
        instructor: null,
        hours: null,
        listening: 'scripted',
        squawks: [],
      },
      0,
    ),
    draft({ kind: 'station-set', station: 'nose' }, 1),
    draft({ kind: 'finished', open: [], how: 'said' }, 2),
    draft({ kind: 'decided', decision: 'ground', by: 'P', authority: null, note: null }, 3),
    draft({ kind: 'signed', name: 'P', certificate: null }, 4),
  ];
}

function catalogueOf(n: number): Catalogue {
  return Catalogue.parse({
    v: 1,
    id: `ordeal-${n}`,
    name: `Ordeal ${n}`,
    kind: 'other',
    stations: [
      { id: 'nose', name: 'Nose', place: { x: 5, y: 5 }, checks: [{ id: 'tyre', name: 'Tyre' }] },
    ],
  });
}

/** Does one act after the other until somebody kills the browser. */
export async function act(
  store: Store,
  world: World,
  seed: number,
  say: (what: ActsSaid) => void,
): Promise<void> {
  playFull();
  const random = seeded(seed);
  for (let n = 0; ; n += 1) {
    const kinds: readonly Act[] = ['sign', 'restore', 'merge', 'catalogue'];
    const kind = kinds[Math.floor(random() * kinds.length)] ?? 'sign';
    const { of, run } = await prepared(kind, store, world, Math.floor(random() * 2 ** 30));
    full = random() < FULL;
    say({ begins: kind, of });
    try {
      await run();
      say({ did: kind, of });
    } catch (error) {
      full = false;
      const words = error instanceof StoreTrouble ? error.kind : String(error);
      say(words === 'full' ? { refused: kind, of } : { failed: `${kind}: ${words}`, of });
    } finally {
      full = false;
    }
  }
}

async function prepared(
  kind: Act,
  store: Store,
  world: World,
  n: number,
): Promise<{ of: string; run: () => Promise<unknown> }> {
  const catalogue = catalogueOf(n);
  const edition = editionOf(catalogue);
  if (kind === 'catalogue')
    return { of: edition, run: () => store.keepCatalogue(edition, catalogue) };
  const walk = world.id();
  const drafts = walkDrafts(world, walk, 'R-102', edition);
  if (kind === 'sign') {
    await store.append(drafts.slice(0, -2));
    return {
      of: walk,
      run: async () => {
        await store.append(drafts.slice(-2, -1));
        await store.append(drafts.slice(-1));
      },
    };
  }
  const other = await memoryStore(world);
  await other.keepCatalogue(edition, catalogue);
  await other.append(drafts);
  if (kind === 'merge') {
    const events = await other.all();
    return { of: walk, run: () => store.merge(events) };
  }
  const { file } = await other.backup();
  return { of: walk, run: () => store.restore(file) };
}

/** How things stand with what the acts were about, after a restart. */
export async function lookAtActs(
  store: Store,
  of: readonly string[],
): Promise<readonly { of: string; there: boolean; signed: boolean; whole: boolean }[]> {
  const editions = new Set(await store.editions());
  return Promise.all(
    of.map(async (name) => {
      if (editions.has(name)) return { of: name, there: true, signed: false, whole: true };
      const { counts, verdict } = await store.judged(name);
      const signed = counts.some((e) => e.what.kind === 'signed');
      return { of: name, there: counts.length > 0, signed, whole: verdict.whole };
    }),
  );
}
