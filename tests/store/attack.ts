import type { Event, Happening } from '#shared/event';
import type { World } from '#shared/log';
import { memoryStore, type Store } from '#store';
import { chain, hashOf, type Raw } from '../../src/store/chain.ts';
import { keyOf, type KeptKey, type SealKey } from '../../src/store/seal.ts';
import { makeKey } from '../../src/store/seal.ts';
import { rowOf } from '../../src/store/store.ts';
import { memoryShelf } from '../../src/store/shelf-memory.ts';
import { KNOWS_NOBODY } from '../../src/store/trust/keys.ts';
import { sealOver } from '../../src/store/trust/sealing.ts';
import { countingWorld, drafting } from './help.ts';

/** What somebody who means harm can do: write any event, with any id, and seal it with a key of their own. */
export interface Forger {
  readonly device: string;
  readonly key: SealKey;
  readonly world: World;
  /** Events chained behind one another, in the name of any device. */
  chain(
    happenings: readonly (Happening & { walk: string })[],
    as?: { device?: string; prev?: string | null },
  ): readonly Event[];
  /** The same walk with some of its events changed or left out, every hash and the seal made anew. */
  rewrite(
    events: readonly Event[],
    change: (event: Event) => Event | null,
    options?: { sealed?: boolean; device?: string; declare?: boolean },
  ): Promise<readonly Event[]>;
}

export async function forger(seed = 66): Promise<Forger> {
  const world = countingWorld(seed);
  const kept: KeptKey = await makeKey(undefined);
  const key = keyOf(kept, undefined);
  const device = `stranger-${seed}`;
  return {
    device,
    key,
    world,
    chain(happenings, as = {}) {
      const drafts = happenings.map(({ walk, ...what }) => ({
        v: 1 as const,
        id: world.id(),
        walk,
        aircraft: 'R-102',
        at: world.now(),
        t: 500,
        what: what as Happening,
      }));
      return chain(drafts, as.device ?? device, as.prev ?? null).map((c) => c.event);
    },
    async rewrite(events, change, options = {}) {
      let prev: string | null = events[0]?.prev ?? null;
      const out: Event[] = [];
      for (const event of events) {
        if (event.what.kind === 'sealed') {
          if (options.sealed === false) continue;
          const shelf = memoryShelf();
          await shelf.take(out.map((e) => rowOf({ event: e, text: JSON.stringify(e) })));
          const by = options.device ?? event.device;
          const parts = { shelf, device: by, key, name: null };
          const known = { ...KNOWS_NOBODY, own: { device: by, keys: new Set([key.publicKey]) } };
          const what = await sealOver({ ...parts, known }, event.walk ?? '', [], prev ?? '');
          if (what === null) throw new Error('nothing to seal');
          const raw: Raw = { ...event, device: by, prev, what };
          const made = { ...raw, hash: hashOf(raw) } as unknown as Event;
          out.push(made);
          prev = made.hash;
          continue;
        }
        const changed = change(event);
        if (changed === null) continue;
        const what =
          changed.what.kind === 'walk-begun' && options.declare === true
            ? { ...changed.what, key: key.publicKey }
            : changed.what;
        const raw: Raw = { ...changed, what, device: options.device ?? changed.device, prev };
        const made = { ...raw, hash: hashOf(raw) } as unknown as Event;
        out.push(made);
        prev = made.hash;
      }
      return out;
    },
  };
}

/** A device with one walk: begun, two things said (a crack among them), finished, decided, signed, sealed. */
export async function signedWalk(seed = 1): Promise<{ store: Store; walk: string; world: World }> {
  const world = countingWorld(seed);
  const store = await memoryStore(world);
  const walk = world.id();
  const { draft, begun, said, finished } = drafting(world, walk);
  await store.append([begun(), said('belts good'), said('a crack at the upper bearing')]);
  await store.append([finished()]);
  await store.append([
    draft({ kind: 'decided', decision: 'ground', by: 'P. Heron', authority: null, note: null }),
  ]);
  await store.append([draft({ kind: 'signed', name: 'P. Heron', certificate: null })]);
  return { store, walk, world };
}

/** As older versions wrote it: no key in the beginning, a seal over the chain alone. */
export async function oldWalk(events: readonly Event[], key: SealKey): Promise<readonly Event[]> {
  let prev: string | null = null;
  const out: Event[] = [];
  for (const event of events) {
    let what: Happening = event.what;
    if (what.kind === 'walk-begun') {
      what = { ...what };
      delete what.key;
    }
    if (what.kind === 'sealed')
      what = {
        kind: 'sealed',
        publicKey: key.publicKey,
        signature: await key.sign(prev ?? ''),
        over: prev ?? '',
      };
    const raw: Raw = { ...event, what, prev };
    const made = { ...raw, hash: hashOf(raw) } as unknown as Event;
    out.push(made);
    prev = made.hash;
  }
  return out;
}

export const kinds = (events: readonly Event[]): string[] => events.map((e) => e.what.kind);

export function words(events: readonly Event[]): string[] {
  return events.flatMap((e) => (e.what.kind === 'heard' ? [e.what.heard.text] : []));
}
