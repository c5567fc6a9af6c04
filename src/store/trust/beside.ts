import { inOrder } from '../chain.ts';
import { hashFits } from '../verify.ts';
import { BESIDE, sealFields, type Held } from './held.ts';
import { keyStanding, type KeyUse, type Known } from './keys.ts';
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
  /** Hashes of the seals over it. */
  readonly seals: ReadonlySet<string>;
  /** Sentences about what is missing among it. */
  readonly missing: readonly string[];
}

/**
 * @param begun hash of the beginning of the walk that it is about
 * @param rest events of the walk that belong to no version of it
 */
export function besideOf(
  walk: string,
  begun: string | null,
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
    let key: KeyUse | null = null;
    let covered = 0;
    let most = 0;
    for (const event of theirs) {
      if (ERASED.has(event.kind)) seals.add(event.hash);
      if (event.kind !== 'sealed') continue;
      const fields = sealFields(event);
      const { covers } = fields;
      if (covers === null || covers === 'bad' || covers.part !== 'beside') continue;
      if (covers.walk !== walk || (begun !== null && covers.begun !== begun)) continue;
      if (options.hashes && sealTrouble(fields, event.prev) !== null) continue;
      seals.add(event.hash);
      const before = words.slice(0, covers.events);
      most = Math.max(most, covers.events);
      if (before.length !== covers.events) continue;
      if (covers.root !== rootOf(before.map((e) => e.hash))) {
        most = Math.max(most, words.length + 1);
        continue;
      }
      covered = Math.max(covered, covers.events);
      const { publicKey } = fields;
      key = {
        device,
        publicKey,
        name: covers.name,
        standing: keyStanding(device, publicKey, known),
      };
    }
    if (most > covered)
      missing.push(
        `Of what device ${device} said beside this walk, a part is missing or was put in: its seal covers something else.`,
      );
    const places = new Map<string, number>();
    for (const e of words) places.set(e.prev ?? '', (places.get(e.prev ?? '') ?? 0) + 1);
    words.forEach((event, i) =>
      said.push({
        event,
        key: i < covered ? key : null,
        holds:
          (!options.hashes || hashFits(event.raw, event.hash)) &&
          places.get(event.prev ?? '') === 1,
      }),
    );
  }
  return { said, seals, missing };
}

/** An erasure was asked of every device, and names only sound. */
const ERASED: ReadonlySet<string> = new Set(['sound-erased']);
