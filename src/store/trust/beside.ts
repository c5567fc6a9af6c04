import { ERASED as ERASURES } from '#shared/kept';
import { idWords } from './plain-words.ts';
import { inOrder } from '../chain.ts';
import { BESIDE, sealFields, type Held } from './held.ts';
import { keyStanding, type KeyUse, type Known } from './keys.ts';
import { byPlace } from './pool.ts';
import { rootOf } from './merkle.ts';
import { sealTrouble } from './seal-form.ts';

/** One thing that was said beside a walk: a review, an amendment. */
export interface Said {
  readonly event: Held;
  /** Under which key; null when no seal covers it. */
  readonly key: KeyUse | null;
  /** It has its hash, and its device has not written two things in one place. */
  readonly holds: boolean;
}

/** What was said beside a walk, a chain for each device. Never a part of the coverage. */
export interface Beside {
  readonly said: readonly Said[];
  /** Erasures of sound and pictures that other devices were asked for. */
  readonly erased: readonly Held[];
  /** Hashes of the seals over it, and of the erasures. */
  readonly seals: ReadonlySet<string>;
  /** Sentences about what is missing among it. */
  readonly missing: readonly string[];
}

/**
 * @param begun hashes of the beginnings of the walk, in any version of it
 * @param rest events of the walk that belong to no version of it
 */
export function besideOf(
  walk: string,
  begun: ReadonlySet<string>,
  rest: readonly Held[],
  known: Known,
  options: { readonly hashes: boolean },
): Beside {
  const said: Said[] = [];
  const seals = new Set<string>();
  const missing: string[] = [];
  const mine = (e: Held) => e.place === 'here' || e.device !== known.own?.device;
  const ordered = inOrder(
    rest.filter(
      (e) => mine(e) && (BESIDE.has(e.kind) || e.kind === 'sealed' || ERASED.has(e.kind)),
    ),
  );
  for (const device of new Set(ordered.map((e) => e.device))) {
    const theirs = ordered.filter((e) => e.device === device);
    const words = theirs.filter((e) => BESIDE.has(e.kind));
    const keys = new Map<string, KeyUse>();
    const chain = chainOf(theirs);
    let torn = false;
    // The latest, and those that lie here before what came with a file.
    const latest = theirs.filter((e) => e.kind === 'sealed').reverse();
    const looked = new Set([...latest].sort(byPlace).slice(0, SEALS_LOOKED_AT));
    for (const event of theirs) {
      if (ERASED.has(event.kind)) seals.add(event.hash);
      if (event.kind !== 'sealed') continue;
      const fields = sealFields(event);
      const { covers } = fields;
      if (covers === null || covers === 'bad' || covers.part !== 'beside') continue;
      if (covers.walk !== walk || !begun.has(covers.begun)) continue;
      seals.add(event.hash);
      if (!looked.has(event)) continue;
      if (options.hashes && sealTrouble(fields, event.prev) !== null) {
        torn = true;
        continue;
      }
      const before = chain.before(event).filter((e) => BESIDE.has(e.kind));
      const root = rootOf(before.map((e) => e.hash));
      if (before.length !== covers.events || root !== covers.root) {
        torn = true;
        continue;
      }
      const { publicKey } = fields;
      const standing = keyStanding(device, publicKey, known);
      for (const e of before) keys.set(e.hash, { device, publicKey, name: covers.name, standing });
    }
    if (torn)
      missing.push(
        `Of what device ${idWords(device)} said beside this walk, a part is missing or was put in: its seal covers something else.`,
      );
    for (const event of words)
      said.push({
        event,
        key: keys.get(event.hash) ?? null,
        holds: (!options.hashes || event.fits) && (event.place === 'here' || chain.alone(event)),
      });
  }
  return { said, erased: ordered.filter((e) => ERASED.has(e.kind)), seals, missing };
}

/** What one device wrote beside a walk, along its links. */
function chainOf(theirs: readonly Held[]) {
  const byHash = new Map(theirs.map((e) => [e.hash, e]));
  const places = new Map<string, number>();
  for (const e of theirs) places.set(e.prev ?? '', (places.get(e.prev ?? '') ?? 0) + 1);

  /** From the event back to where its links lead out of what is here. */
  function back(event: Held): Held[] {
    const path: Held[] = [];
    const seen = new Set<string>();
    for (let at: Held | undefined = event; at !== undefined && !seen.has(at.hash);) {
      seen.add(at.hash);
      path.unshift(at);
      at = at.prev === null ? undefined : byHash.get(at.prev);
    }
    return path;
  }
  /** Where the stretch of each event begins; found once, whatever is asked. */
  const starts = new Map<string, Held>();
  function startOf(event: Held): Held {
    const path: Held[] = [];
    const seen = new Set<string>();
    let at = event;
    for (;;) {
      const found = starts.get(at.hash);
      const before = at.prev === null ? undefined : byHash.get(at.prev);
      path.push(at);
      seen.add(at.hash);
      if (found === undefined && before !== undefined && !seen.has(before.hash)) {
        at = before;
        continue;
      }
      const start = found ?? at;
      for (const e of path) starts.set(e.hash, start);
      return start;
    }
  }
  return {
    /** Nothing else claims its place. */
    alone: (event: Held) => places.get(event.prev ?? '') === 1,
    /**
     * What came before it: on its own links, and on stretches before them, with
     * other walks in between; not what was written in their place.
     */
    before(event: Held): Held[] {
      const path = back(event);
      const first = path[0] ?? event;
      const earlier = theirs.filter((e) => {
        const start = startOf(e);
        return (
          start !== undefined &&
          start.hash !== first.hash &&
          start.prev !== first.prev &&
          start.id < first.id
        );
      });
      return [...earlier, ...path];
    },
  };
}

/**
 * Each seal covers all that its device said before it, so the latest tell
 * everything; more are not looked at, so that many cannot make a sheet slow.
 */
const SEALS_LOOKED_AT = 32;

/** An erasure was asked of every device, and names only sound or a picture. */
const ERASED: ReadonlySet<string> = new Set(ERASURES);
