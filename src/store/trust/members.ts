import { inOrder } from '../chain.ts';
import type { SealCovers } from '#shared/event';
import { BESIDE, sealFields, textIn, type Held } from './held.ts';
import { rootOf } from './merkle.ts';
import { sealTrouble } from './seal-form.ts';

/**
 * What counts of a walk: the events of the device that began it, and after them
 * those of each device that it let in, in the order of the devices' ids. A
 * device's own word is not enough to belong: what it added counts when the
 * walk's seal names its last event, or when it has sealed it with the key that
 * it was let in with.
 *
 * @param main events of the device that began the walk, up to its end
 * @param covers what the walk's own seal says; null where there is none
 */
export function letIn(
  walk: string,
  main: readonly Held[],
  all: readonly Held[],
  covers: SealCovers | null,
  options: { readonly hashes: boolean },
): readonly Held[] {
  const keys = new Map<string, string>();
  for (const e of main) {
    const device = e.kind === 'let-in' ? textIn(e, 'device') : null;
    if (device !== null && device !== e.device) keys.set(device, textIn(e, 'publicKey') ?? '');
  }
  if (keys.size === 0) return main;
  const added = [...keys.keys()].sort().flatMap((device) => {
    const theirs = chainOf(device, all);
    const head = covers?.heads.find((h) => h.device === device)?.hash;
    if (head !== undefined) return upTo(theirs, (e) => e.hash === head);
    return sealedBy(keys.get(device) ?? '', walk, main[0]?.hash ?? '', theirs, options);
  });
  return [...main, ...added];
}

function chainOf(device: string, all: readonly Held[]): readonly Held[] {
  return inOrder(all.filter((e) => e.device === device));
}

function countable(events: readonly Held[]): readonly Held[] {
  return events.filter(
    (e) => !BESIDE.has(e.kind) && e.kind !== 'sealed' && e.kind !== 'walk-begun',
  );
}

function upTo(events: readonly Held[], is: (e: Held) => boolean): readonly Held[] {
  return countable(events.slice(0, events.findIndex(is) + 1));
}

/** As far as the last of its seals that holds. */
function sealedBy(
  key: string,
  walk: string,
  begun: string,
  events: readonly Held[],
  options: { readonly hashes: boolean },
): readonly Held[] {
  for (let i = events.length - 1; i >= 0; i -= 1) {
    const seal = events[i];
    if (seal?.kind !== 'sealed') continue;
    const fields = sealFields(seal);
    const { covers } = fields;
    if (covers === null || covers === 'bad' || covers.part !== 'walk') continue;
    if (fields.publicKey !== key || covers.walk !== walk || covers.begun !== begun) continue;
    const counts = countable(events.slice(0, i));
    const root = rootOf(counts.map((e) => e.hash));
    if (covers.events !== counts.length || covers.root !== root) continue;
    if (!options.hashes || sealTrouble(fields, seal.prev) === null) return counts;
  }
  return [];
}
