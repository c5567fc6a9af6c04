import type { Event } from '#shared/event';
import { ERASED, erasedIn, KEPT, keptIn } from '#shared/kept';
import type { Proof } from '#shared/school';
import { canonical, sha256Hex } from './canonical.ts';
import { hashFits, inOrder, linkOf, type Raw } from './chain.ts';
import { readJson } from './json.ts';
import { MAX_EVENT_BYTES } from './limits.ts';
import { proofHash } from './proof.ts';
import { eventsOf, readRows } from './reading.ts';
import type { SealKey } from './seal.ts';
import type { Row, Shelf, SoundRow } from './shelf.ts';
import { besideName, namesOnShelf } from './sound.ts';

/** What a device needs of its record to be in a school. */
export interface SchoolWays {
  /** Signature of this device's key over a request; of a form that no seal has. */
  prove(proof: Omit<Proof, 'device'>): Promise<string>;
  /** Hash of the latest event that this device wrote; null: none yet. */
  ownHead(): Promise<string | null>;
  /** This device's own events as they were written, JSON, after the one with this hash; all of them when it is not here. */
  ownLog(after: string | null): Promise<readonly string[]>;
  /**
   * Steps of squawks from walks that are not handed over, and what is said of their
   * pictures, as they were written. Kept beside the log; `squawkEvents` and `pictures`
   * have them. Refused, by number: what is neither or was changed.
   */
  takeLoose(texts: readonly string[]): Promise<{ readonly refused: number }>;
  /** A piece of sound, or a picture, that is named by its hash; false: it is not, or it was erased. */
  takeSound(recording: string, chunk: number, data: Uint8Array): Promise<boolean>;
}

const LOOSE = 'setting:loose-squawks';

/** What may come without its walk. */
const LOOSE_KINDS: ReadonlySet<string> = new Set(['squawk', 'picture-kept', 'picture-erased']);

/** Steps kept: a fleet of twenty has about a thousand open and closed in a year. */
const MOST_LOOSE = 20_000;

export function schoolWays(
  shelf: Shelf,
  device: string,
  sealKey: () => Promise<SealKey>,
): SchoolWays {
  return {
    prove: async (proof) => (await sealKey()).sign(proofHash({ ...proof, device })),
    ownHead: async () => (await shelf.latest('device', device))?.hash ?? null,
    async ownLog(after) {
      const rows = inOrder(await shelf.rows({ index: 'device', value: device }));
      const at = after === null ? -1 : rows.findIndex((row) => row.hash === after);
      return rows.slice(at + 1).map((row) => row.text);
    },
    async takeLoose(texts) {
      const kept = await looseTexts(shelf);
      const all = new Set(kept);
      const erased = new Set<string>();
      let refused = 0;
      for (const text of texts) {
        const json = readJson(text, MAX_EVENT_BYTES);
        const link = json.ok ? linkOf(json.value) : null;
        const good =
          json.ok &&
          link !== null &&
          LOOSE_KINDS.has(link.kind) &&
          link.device !== device &&
          hashFits(json.value as Raw, link.hash);
        if (!good) {
          refused += 1;
          continue;
        }
        const row = { ...link, text: canonical(json.value) };
        all.add(row.text);
        for (const { what } of readRows([row]).events) {
          const gone = erasedIn(what);
          if (gone !== null) erased.add(gone);
        }
      }
      if (all.size > kept.length) await shelf.setNote(LOOSE, [...all].slice(-MOST_LOOSE));
      // The erasure first, so that the bytes do not come back when this is broken off.
      const names = await namesHere(shelf, [...erased]);
      if (names.length > 0) await shelf.write(device, () => ({ rows: [], erase: names }));
      return { refused };
    },
    async takeSound(recording, chunk, data) {
      const hash = sha256Hex(data);
      const [events, loose] = await Promise.all([
        eventsOf(shelf, [...KEPT, ...ERASED]),
        loosePictures(shelf),
      ]);
      const all = [...events, ...loose];
      if (all.some(({ what }) => erasedIn(what) === recording)) return false;
      const named = all
        .map(({ what }) => keptIn(what))
        .find((k) => k?.recording === recording && k.chunk === chunk && k.hash === hash);
      if (named === null || named === undefined) return false;
      const there = (await shelf.sounds(recording)).find((s) => s.chunk === chunk);
      const taken = there !== undefined && there.hash !== hash;
      const sound: SoundRow = {
        recording: taken ? besideName(recording, hash) : recording,
        chunk,
        place: named.place,
        mime: named.mime,
        hash,
        data: Uint8Array.from(data).buffer,
      };
      await shelf.takeSound([sound]);
      return true;
    },
  };
}

async function looseTexts(shelf: Shelf): Promise<readonly string[]> {
  const kept = await shelf.note(LOOSE);
  return Array.isArray(kept) ? kept.filter((t): t is string => typeof t === 'string') : [];
}

/** Changes when a step was given without its walk. */
export async function looseMark(shelf: Shelf): Promise<string> {
  const texts = await looseTexts(shelf);
  return `${texts.length} ${sha256Hex(texts.at(-1) ?? '')}`;
}

/** Steps of squawks that were given without their walks, but for those that are in the log by now. */
export async function looseSquawks(
  shelf: Shelf,
  here: readonly Event[],
): Promise<readonly Event[]> {
  const texts = await looseTexts(shelf);
  if (texts.length === 0) return [];
  const hashes = new Set(here.map((e) => e.hash));
  return looseIn(texts, (kind, hash) => kind === 'squawk' && !hashes.has(hash));
}

/** What was said of pictures whose walks were not handed over. */
export async function loosePictures(shelf: Shelf): Promise<readonly Event[]> {
  return looseIn(await looseTexts(shelf), (kind) => kind !== 'squawk');
}

function looseIn(
  texts: readonly string[],
  is: (kind: string, hash: string) => boolean,
): readonly Event[] {
  const rows = texts.flatMap((text): Row[] => {
    const link = linkOf(parsed(text));
    return link === null || !is(link.kind, link.hash) ? [] : [{ ...link, text }];
  });
  return readRows(rows).events;
}

/** Names under which bytes of these may lie, those as well that only a loose event names. */
async function namesHere(shelf: Shelf, erased: readonly string[]): Promise<readonly string[]> {
  if (erased.length === 0) return [];
  const loose = (await loosePictures(shelf)).flatMap(({ what }) => {
    const kept = keptIn(what);
    return kept !== null && erased.includes(kept.recording)
      ? [besideName(kept.recording, kept.hash)]
      : [];
  });
  return [...new Set([...(await namesOnShelf(shelf, erased)), ...loose])];
}

function parsed(text: string): unknown {
  const json = readJson(text, MAX_EVENT_BYTES);
  return json.ok ? json.value : null;
}
