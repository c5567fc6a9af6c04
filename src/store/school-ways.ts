import type { Event } from '#shared/event';
import type { Proof } from '#shared/school';
import { canonical, sha256Hex } from './canonical.ts';
import { hashFits, inOrder, linkOf, type Raw } from './chain.ts';
import { readJson } from './json.ts';
import { MAX_EVENT_BYTES } from './limits.ts';
import { proofHash } from './proof.ts';
import { readRows } from './reading.ts';
import type { SealKey } from './seal.ts';
import type { Row, Shelf, SoundRow } from './shelf.ts';
import { besideName } from './sound.ts';

/** What a device needs of its record to be in a school. */
export interface SchoolWays {
  /** Signature of this device's key over a request; of a form that no seal has. */
  prove(proof: Omit<Proof, 'device'>): Promise<string>;
  /** Hash of the latest event that this device wrote; null: none yet. */
  ownHead(): Promise<string | null>;
  /** This device's own events as they were written, JSON, after the one with this hash; all of them when it is not here. */
  ownLog(after: string | null): Promise<readonly string[]>;
  /**
   * Steps of squawks from walks that are not handed over, as they were written.
   * Kept beside the log; `squawkEvents` has them. Refused, by number: what is no
   * step of a squawk or was changed.
   */
  takeLoose(texts: readonly string[]): Promise<{ readonly refused: number }>;
  /** A piece of sound that the log names by its hash; false: it does not, or it was erased. */
  takeSound(recording: string, chunk: number, data: Uint8Array): Promise<boolean>;
}

const LOOSE = 'setting:loose-squawks';

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
      let refused = 0;
      for (const text of texts) {
        const json = readJson(text, MAX_EVENT_BYTES);
        const link = json.ok ? linkOf(json.value) : null;
        const good =
          json.ok &&
          link?.kind === 'squawk' &&
          link.device !== device &&
          hashFits(json.value as Raw, link.hash);
        if (good) all.add(canonical(json.value));
        else refused += 1;
      }
      if (all.size > kept.length) await shelf.setNote(LOOSE, [...all].slice(-MOST_LOOSE));
      return { refused };
    },
    async takeSound(recording, chunk, data) {
      const hash = sha256Hex(data);
      const [kept, erased] = await Promise.all([
        shelf.rows({ index: 'kind', value: 'sound-kept' }),
        shelf.rows({ index: 'kind', value: 'sound-erased' }),
      ]);
      const gone = readRows(erased).events.some(
        ({ what }) => what.kind === 'sound-erased' && what.recording === recording,
      );
      const named = readRows(kept)
        .events.map(({ what }) => what)
        .find(
          (what) =>
            what.kind === 'sound-kept' &&
            what.recording === recording &&
            what.chunk === chunk &&
            what.hash === hash,
        );
      if (gone || named?.kind !== 'sound-kept') return false;
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
  const rows = texts.flatMap((text): Row[] => {
    const link = linkOf(parsed(text));
    return link === null || hashes.has(link.hash) ? [] : [{ ...link, text }];
  });
  return readRows(rows).events;
}

function parsed(text: string): unknown {
  const json = readJson(text, MAX_EVENT_BYTES);
  return json.ok ? json.value : null;
}
