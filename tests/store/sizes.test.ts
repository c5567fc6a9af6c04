import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { memoryStore, verifyFile } from '#store';
import { MANIFEST } from '../../src/store/manifest.ts';
import { countingWorld, drafting } from './help.ts';
import { rawZip, type RawEntry } from './raw-zip.ts';
import { utf8 } from './zips.ts';

/** Issue 14.9: a small file may not cost minutes or half a gigabyte, and says in one sentence what is wrong. */
const MANY = 20_000;
/** Ten times what it takes here; it took 59 s. */
const SECONDS = 15;

const sha = (data: Uint8Array) => createHash('sha256').update(data).digest('hex');
const numbers = Array.from({ length: MANY }, (_, i) => String(i).padStart(6, '0'));

function named(kind: string, data: Uint8Array, over = false): Uint8Array<ArrayBuffer> {
  const more = {
    events: {},
    catalogue: { edition: sha(data) },
    sound: { recording: 'r', from: 0, to: 1, mime: 'audio/wav' },
  }[kind];
  const entries = numbers.map((n, i) => ({
    kind,
    path: `e/${n}`,
    bytes: data.length,
    sha256: sha(data),
    ...more,
    ...(kind === 'sound' ? { chunk: i } : {}),
  }));
  const manifest = {
    format: 'talkround-backup',
    v: 1,
    made: 0,
    device: 'other',
    entries,
    chains: [],
  };
  const pieces: RawEntry[] = numbers.map((n, i) => ({ path: `e/${n}`, data, over: over && i > 0 }));
  return rawZip([...pieces, { path: MANIFEST, data: utf8(JSON.stringify(manifest)) }]);
}

async function both(bytes: Uint8Array<ArrayBuffer>) {
  const began = performance.now();
  const store = await memoryStore(countingWorld(60));
  const restored = await store.restore(new Blob([bytes]));
  const verdict = await verifyFile(bytes);
  return { restored, verdict, seconds: (performance.now() - began) / 1000 };
}

describe(`14.9: a zip with ${MANY} entries`, () => {
  test.each(['events', 'catalogue', 'sound'])(
    'that are empty, all named as %s, is refused in one sentence',
    async (kind) => {
      const { restored, verdict, seconds } = await both(named(kind, new Uint8Array(0)));
      const why =
        'This zip has more than 100 empty entries, and a backup has none. Nothing was taken from it.';
      expect(restored.text).toEqual([why, 'Nothing was restored.']);
      expect(verdict).toMatchObject({ ok: false, lines: [why] });
      expect(seconds).toBeLessThan(SECONDS);
    },
  );

  test('and no manifest is refused in one sentence', async () => {
    const { restored, verdict, seconds } = await both(
      rawZip(numbers.map((n) => ({ path: n, data: utf8('x') }))),
    );
    const why = 'This is not a backup of Talkround: it has no talkround.json.';
    expect(restored.text).toEqual([why, 'Nothing was restored.']);
    expect(verdict.lines).toEqual([why]);
    expect(seconds).toBeLessThan(SECONDS);
  });

  test.each(['events', 'catalogue', 'sound'])(
    'of one byte each, all named as %s, is read to its end and nothing is taken',
    async (kind) => {
      const { restored, verdict, seconds } = await both(named(kind, utf8('x')));
      expect(restored.ok).toBe(false);
      expect(restored.events.added + restored.sound.added + restored.catalogues.added).toBe(0);
      expect(restored.text.length).toBeLessThan(110);
      expect(verdict.ok).toBe(false);
      expect(seconds).toBeLessThan(SECONDS);
    },
  );

  test('that the manifest does not name gets one sentence for all of them', async () => {
    const manifest = { format: 'talkround-backup', v: 1, made: 0, device: 'other' };
    const { restored } = await both(
      rawZip([
        ...numbers.map((n) => ({ path: n, data: utf8('x') })),
        {
          path: MANIFEST,
          data: utf8(JSON.stringify({ ...manifest, entries: [], chains: [] })),
        },
      ]),
    );
    expect(restored.refused).toEqual([
      { entry: `${MANY} entries`, why: 'The manifest does not name them. They were left alone.' },
    ]);
  });

  test('that all lie over the same piece is refused before it is unpacked 20,000 times', async () => {
    const { restored, seconds } = await both(named('sound', new Uint8Array(16 * 1024), true));
    expect(restored.text[0]).toContain('lie over each other');
    expect(seconds).toBeLessThan(SECONDS);
  });
});

test('14.9: what no backup would take back is not written, and one sentence says so', async () => {
  const world = countingWorld(61);
  const store = await memoryStore(world);
  const { begun, draft } = drafting(world, world.id());
  await store.append([begun()]);
  const note = 'é'.repeat(600_000);
  const decided = { kind: 'decided', decision: 'fly', by: 'A', authority: null, note } as const;
  await expect(store.append([draft(decided)])).rejects.toThrow(
    /^An event of kind "decided" has more than 1 MB of text, which no backup takes back\. Shorten what was written\.$/,
  );
  expect(await store.all()).toHaveLength(1);
  await store.append([draft({ ...decided, note: 'é'.repeat(200_000) })]);
  const other = await memoryStore(countingWorld(62));
  expect((await other.restore((await store.backup()).file)).ok).toBe(true);
  expect(await other.all()).toHaveLength(2);
});
