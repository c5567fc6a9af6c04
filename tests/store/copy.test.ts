import 'fake-indexeddb/auto';
import { describe, expect, test } from 'vitest';
import { memoryStore, openStore, StoreTrouble, type Store } from '#store';
import { COPY_BEHIND, ONE_COPY } from '../../src/store/copy/copy.ts';
import { memoryFiles, type CopyFiles } from '../../src/store/copy/files.ts';
import { framesOf } from '../../src/store/copy/lines.ts';
import { parseCatalogue } from '#catalogue';
import { editionOf } from '../../src/store/catalogues.ts';
import { CATALOGUES } from '#seeds';
import { forger } from './attack.ts';
import { countingWorld, drafting } from './help.ts';

/** The second copy of the record: what it gives back when the browser loses its database. */

let count = 0;
function device() {
  count += 1;
  const name = `copied-${count}`;
  const disk = new Map<string, Uint8Array>();
  const world = countingWorld(count);
  const told: string[] = [];
  return {
    disk,
    told,
    world,
    open: (files: CopyFiles | null = memoryFiles(disk)) =>
      openStore({
        name,
        world,
        files: async () => files,
        onBroughtBack: (what) => told.push(what),
        onEmptied: (why) => told.push(why),
      }),
    /** What Chromium does with a database that it finds damaged. */
    lose: () =>
      new Promise<void>((resolve, reject) => {
        const request = indexedDB.deleteDatabase(name);
        request.onsuccess = () => resolve();
        request.onerror = () => reject(new Error('not deleted'));
      }),
    /** The database loses its last events, as a log that is cut off does. */
    loseLast: (n: number) => cut(name, n),
    log: () => [...disk].filter(([file]) => file.startsWith('log-')).map(([, data]) => data),
  };
}

async function cut(name: string, n: number): Promise<void> {
  const base = await new Promise<IDBDatabase>((resolve) => {
    const request = indexedDB.open(name);
    request.onsuccess = () => resolve(request.result);
  });
  await new Promise<void>((resolve) => {
    const tx = base.transaction(['events', 'heads'], 'readwrite');
    const all = tx.objectStore('events').getAll();
    const keys = tx.objectStore('events').getAllKeys();
    keys.onsuccess = () => {
      for (const key of keys.result.slice(-n)) tx.objectStore('events').delete(key);
      const rows = all.result as { device: string; hash: string }[];
      const head = rows.at(-n - 1);
      if (head !== undefined) tx.objectStore('heads').put(head.hash, head.device);
    };
    tx.oncomplete = () => resolve();
  });
  base.close();
}

const sound = (walk: string, chunk: number, recording = 'rec', length = 500) => ({
  walk,
  aircraft: 'R-102',
  t: chunk,
  recording,
  chunk,
  place: { recording, from: chunk, to: chunk + 1 },
  mime: 'audio/wav',
  // Line ends and the mark of a chunk inside the sound must not lead astray.
  data: Uint8Array.from(
    { length },
    (_, i) => '\n{"chunk":7\n'.charCodeAt(i % 11) + (i % 11 === 9 ? chunk : 0),
  ).buffer,
});

async function walked(store: Store, world: ReturnType<typeof countingWorld>) {
  const walk = world.id();
  const { begun, said } = drafting(world, walk);
  await store.append([begun()]);
  await store.append([said('belts good'), said('no cracks')]);
  for (let chunk = 0; chunk < 20; chunk += 1) await store.keepSound(sound(walk, chunk));
  return walk;
}

describe('a database that is lost comes back whole from the copy', () => {
  test('R10: events, walks, catalogue, sound, settings and device; the chain verifies and goes on', async () => {
    const d = device();
    const store = await d.open();
    const walk = await walked(store, d.world);
    const parsed = parseCatalogue(CATALOGUES[0]?.text ?? '', 'x.yaml');
    if (!parsed.ok) throw new Error('no catalogue');
    const edition = editionOf(parsed.catalogue);
    await store.keepCatalogue(edition, parsed.catalogue);
    await store.setSetting('ear', 'typed');
    const before = await store.all();
    const walks = await store.walks();
    store.close();
    await d.lose();

    const again = await d.open();
    expect(again.device).toBe(store.device);
    const after = await again.all();
    expect(after.slice(0, -1)).toEqual(before);
    expect(after.at(-1)?.what).toEqual({
      kind: 'brought-back',
      events: before.length,
      chunks: 20,
      pictures: 0,
      damaged: 0,
      key: 'none',
    });
    expect(await again.walks()).toEqual(walks);
    expect(await again.catalogue(edition)).toEqual(parsed.catalogue);
    expect(await again.setting('ear')).toBe('typed');
    const heard = await again.sound('rec');
    expect(heard.missing).toEqual([]);
    expect(heard.chunks.map((c) => [...new Uint8Array(c.data)])).toEqual(
      Array.from({ length: 20 }, (_, n) => [...new Uint8Array(sound(walk, n).data)]),
    );
    expect(d.told).toEqual([
      `The browser had lost parts of its record; ${before.length} events and 20 pieces of sound came back from the second copy on this device.`,
    ]);
    await again.append([drafting(d.world, walk).said('tail good')]);
    expect(await again.verify()).toMatchObject({ ok: true, gaps: [] });
    again.close();
    // And a third time: nothing more to bring back, nothing said.
    const third = await d.open();
    expect(d.told).toHaveLength(1);
    expect(await third.verify()).toMatchObject({ ok: true, events: before.length + 2, gaps: [] });
    third.close();
  });

  test.each([1, 2, 7])('the last %i events are brought back, and only those', async (n) => {
    const d = device();
    const store = await d.open();
    await walked(store, d.world);
    const before = await store.all();
    store.close();
    await d.loseLast(n);
    const again = await d.open();
    const after = await again.all();
    expect(after.slice(0, -1)).toEqual(before);
    expect(after.at(-1)?.what).toMatchObject({ kind: 'brought-back', events: n });
    expect(await again.verify()).toMatchObject({ ok: true, gaps: [] });
    again.close();
  });

  test('events that were merged from another device come back, under that device', async () => {
    const d = device();
    const store = await d.open();
    const other = await memoryStore(countingWorld(900));
    await walked(other, countingWorld(901));
    await store.merge(await other.all());
    await walked(store, d.world);
    const before = await store.all();
    store.close();
    await d.lose();
    const again = await d.open();
    expect((await again.all()).slice(0, -1)).toEqual(before);
    expect(await again.verify()).toMatchObject({ ok: true, gaps: [] });
    again.close();
  });

  test('a key that is bytes comes back; a seal made before and one made after verify', async () => {
    const d = device();
    // Node's WebCrypto is not asked for Ed25519 where it does not know it: then the key is bytes.
    const store = await d.open();
    const walk = await walked(store, d.world);
    await store.seal(walk);
    const key = await store.publicKey();
    store.close();
    await d.lose();
    const again = await d.open();
    const back = (await again.all()).at(-1)?.what;
    const second = await walked(again, d.world);
    await again.seal(second);
    const verdict = await again.verify();
    expect(verdict).toMatchObject({ ok: true, gaps: [], seals: [{ walk }, { walk: second }] });
    // Kept when it is bytes; new, and stated so in the record, when no program may read it.
    const kept = back?.kind === 'brought-back' ? back.key : null;
    expect(kept).toBe((await again.publicKey()) === key ? 'kept' : 'new');
    expect(d.told[0]?.includes('sealed with a new key')).toBe(kept === 'new');
    again.close();
  });
});

describe('what belongs together stays together', () => {
  test('one append is one line of the copy: cut anywhere, it is there whole or not at all (R5, R10)', async () => {
    const d = device();
    const store = await d.open();
    const walk = d.world.id();
    const { begun, said } = drafting(d.world, walk);
    await store.append([begun()]);
    const whole = (d.log()[0] as Uint8Array).length;
    const batch = await store.append([said('belts good'), said('which one?'), said('hold')]);
    store.close();
    const [file, full] = [...d.disk].find(([name]) => name.startsWith('log-')) ?? [
      '',
      new Uint8Array(),
    ];
    for (let end = whole; end <= full.length; end += 37) {
      const torn = device();
      torn.disk.set(file, full.slice(0, end));
      const again = await torn.open();
      const ids = (await again.walk(walk)).map((e) => e.id);
      const there = batch.filter((e) => ids.includes(e.id)).length;
      // Without its line's end a line that is there to its last letter counts.
      expect([0, batch.length]).toContain(there);
      expect(there).toBe(end >= full.length - 1 ? batch.length : 0);
      expect(await again.verify()).toMatchObject({ ok: true, gaps: [] });
      again.close();
    }
  });

  test('a torn last line spoils nothing that is written after it', async () => {
    const d = device();
    const store = await d.open();
    const walk = await walked(store, d.world);
    store.close();
    for (const [name, data] of d.disk) {
      const half = new TextEncoder().encode(
        name.startsWith('log-') ? '["rows",[{"aircraft":"R-1' : '{"chunk":99,"bytes":5000,"recor',
      );
      d.disk.set(name, new Uint8Array([...data, ...half]));
    }
    const next = await d.open();
    await next.append([drafting(d.world, walk).said('after the crash')]);
    await next.keepSound(sound(walk, 20));
    const before = await next.all();
    next.close();
    await d.lose();
    const again = await d.open();
    expect((await again.all()).slice(0, -1)).toEqual(before);
    expect((await again.all()).at(-1)?.what).toMatchObject({ chunks: 21, damaged: 1 });
    expect((await again.sound('rec')).missing).toEqual([]);
    again.close();
  });

  test('what the database refused is not brought back by the copy', async () => {
    const d = device();
    const store = await d.open();
    const walk = d.world.id();
    const { begun, said } = drafting(d.world, walk);
    const first = begun();
    await store.append([first]);
    await expect(store.append([said('lost'), first])).rejects.toThrow(StoreTrouble);
    await store.append([said('kept')]);
    const before = await store.all();
    store.close();
    await d.lose();
    const again = await d.open();
    expect((await again.all()).slice(0, -1)).toEqual(before);
    expect(await again.verify()).toMatchObject({ ok: true, gaps: [] });
    again.close();
  });
});

describe('a copy that is changed, late or missing', () => {
  test('an event in it that was changed is not taken, and it is said', async () => {
    const d = device();
    const store = await d.open();
    await walked(store, d.world);
    store.close();
    for (const [name, data] of d.disk)
      if (name.startsWith('log-'))
        d.disk.set(
          name,
          new TextEncoder().encode(
            new TextDecoder().decode(data).replace('no cracks', 'two cracks'),
          ),
        );
    await d.lose();
    const again = await d.open();
    const texts = (await again.all()).flatMap(({ what }) =>
      what.kind === 'heard' ? [what.heard.text] : [],
    );
    expect(texts).toEqual(['belts good']);
    expect((await again.all()).at(-1)?.what).toMatchObject({ kind: 'brought-back', damaged: 1 });
    again.close();
  });

  test('a chunk of sound in it that was changed is not taken: it is named as missing', async () => {
    const d = device();
    const store = await d.open();
    await walked(store, d.world);
    store.close();
    for (const [name, data] of d.disk)
      if (name.startsWith('sound-'))
        d.disk.set(
          name,
          data.map((b, i) => (i === 3000 ? b ^ 1 : b)),
        );
    await d.lose();
    const again = await d.open();
    expect((await again.sound('rec')).missing).toHaveLength(1);
    again.close();
  });

  test('a record that is older than the copy is copied at its first opening', async () => {
    const d = device();
    const store = await d.open(null);
    await walked(store, d.world);
    const before = await store.all();
    store.close();
    (await d.open()).close();
    await d.lose();
    const again = await d.open();
    expect(again.device).toBe(store.device);
    expect((await again.all()).slice(0, -1)).toEqual(before);
    again.close();
  });

  test('R10: the disk has no room for the copy: words go on, it is said, and the copy is filled up later', async () => {
    const d = device();
    const files = memoryFiles(d.disk);
    let full = false;
    const store = await d.open({
      ...files,
      append: (file, data) =>
        full ? Promise.reject(new Error('QuotaExceededError')) : files.append(file, data),
    });
    const walk = d.world.id();
    const { begun, said } = drafting(d.world, walk);
    await store.append([begun()]);
    expect((await store.room()).warnings).not.toContain(COPY_BEHIND);
    full = true;
    await store.append([said('belts good')]);
    full = false;
    await store.append([said('no cracks')]);
    expect((await store.room()).warnings).toContain(COPY_BEHIND);
    const before = await store.all();
    expect(before).toHaveLength(3);
    store.close();
    (await d.open()).close();
    await d.lose();
    const again = await d.open();
    expect((await again.all()).slice(0, -1)).toEqual(before);
    expect(await again.verify()).toMatchObject({ ok: true, gaps: [] });
    again.close();
  });

  test('a browser without files keeps one copy, and the pilot is told before the walk', async () => {
    const d = device();
    const store = await d.open(null);
    expect((await store.room()).warnings).toContain(ONE_COPY);
    await walked(store, d.world);
    store.close();
    await d.lose();
    const again = await d.open(null);
    expect(await again.all()).toEqual([]);
    again.close();
  });
});

describe('an erasure', () => {
  test('erases both copies: lost and brought back, the sound stays gone and the chain verifies', async () => {
    const d = device();
    const store = await d.open();
    const walk = await walked(store, d.world);
    await store.keepSound(sound(walk, 0, 'other'));
    expect([...d.disk.keys()].filter((n) => n.startsWith('sound-'))).toHaveLength(2);
    await store.eraseSound('rec', 'asked for');
    expect([...d.disk.keys()].filter((n) => n.startsWith('sound-'))).toHaveLength(1);
    store.close();
    await d.lose();
    const again = await d.open();
    const rec = await again.sound('rec');
    expect(rec).toMatchObject({ chunks: [], erased: 'asked for' });
    expect((await again.sound('other')).chunks).toHaveLength(1);
    expect(await again.verify()).toMatchObject({ ok: true, gaps: [] });
    again.close();
  });

  test('that arrives from another device erases both copies', async () => {
    const d = device();
    const store = await d.open();
    await walked(store, d.world);
    const other = await memoryStore(countingWorld(910));
    await other.merge(await store.all());
    await store.merge([await other.eraseSound('rec', 'asked for there')]);
    expect([...d.disk.keys()].some((n) => n.startsWith('sound-'))).toBe(false);
    store.close();
    await d.lose();
    const again = await d.open();
    expect(await again.sound('rec')).toMatchObject({ chunks: [], erased: 'asked for there' });
    again.close();
  });

  test('that was cut off between the copies is carried to its end at the next opening', async () => {
    const d = device();
    const files = memoryFiles(d.disk);
    const store = await d.open({ ...files, remove: () => Promise.reject(new Error('cut off')) });
    await walked(store, d.world);
    await store.eraseSound('rec', 'asked for');
    expect([...d.disk.keys()].some((n) => n.startsWith('sound-'))).toBe(true);
    store.close();
    (await d.open()).close();
    expect([...d.disk.keys()].some((n) => n.startsWith('sound-'))).toBe(false);
  });
});

test('a log of many segments is read whole, and the last ones are enough to see that all is well', async () => {
  const d = device();
  const store = await d.open();
  const walk = d.world.id();
  const { begun, draft } = drafting(d.world, walk);
  await store.append([begun()]);
  for (let n = 0; n < 30; n += 1)
    await store.append([draft({ kind: 'sound-missing', why: 'x'.repeat(60_000) + String(n) })]);
  const before = await store.all();
  store.close();
  expect(d.log().length).toBeGreaterThan(2);
  const read: string[] = [];
  const files = memoryFiles(d.disk);
  (
    await d.open({
      ...files,
      read: (file, ...rest) => {
        read.push(file);
        return files.read(file, ...rest);
      },
    })
  ).close();
  expect(read).toHaveLength(2);
  await d.lose();
  const again = await d.open();
  expect((await again.all()).slice(0, -1)).toEqual(before);
  again.close();
});

test('a file of sound that is nothing but noise gives nothing and ends', async () => {
  const noise = Uint8Array.from({ length: 5000 }, (_, i) => (i * 7919) % 256);
  const found = [];
  for await (const frame of framesOf(async (from, to) => noise.slice(from, to), noise.length))
    found.push(frame);
  expect(found).toEqual([]);
});

test('14.1 what was set aside comes back aside: after a crash a stranger counts no more than before', async () => {
  const d = device();
  const store = await d.open();
  const walk = await walked(store, d.world);
  const stranger = await forger();
  await store.merge([
    ...stranger.chain([{ walk, kind: 'signed', name: 'Mallory', certificate: null }]),
    ...stranger.chain([{ walk, kind: 'finished', open: [] }]),
  ]);
  const before = await store.judged(walk);
  expect(before.verdict.remarks).toHaveLength(1);
  store.close();
  await d.lose();
  const again = await d.open();
  const after = await again.judged(walk);
  expect(after.counts).toEqual(before.counts);
  expect(after.verdict.remarks).toEqual(before.verdict.remarks);
  expect(await again.walks()).toMatchObject([{ signed: null, finished: false }]);
  again.close();
});
