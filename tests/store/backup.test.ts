import { describe, expect, test } from 'vitest';
import { Catalogue } from '#shared/catalogue';
import { memoryStore, verifyFile, type Store } from '#store';
import { editionOf } from '../../src/store/catalogues.ts';
import { AIRCRAFT, countingWorld, drafting } from './help.ts';

const CATALOGUE = Catalogue.parse({
  v: 1,
  id: 'small',
  name: 'Small one',
  kind: 'other',
  stations: [
    {
      id: 'nose',
      name: 'Nose',
      place: { x: 50, y: 10 },
      checks: [{ id: 'tyre', name: 'Tyre', repeat: ['left', 'right'] }],
    },
  ],
});

/** A device with two walks, the first sealed and with two chunks of sound. */
async function device(seed = 1) {
  const world = countingWorld(seed);
  const store = await memoryStore(world);
  const edition = editionOf(JSON.parse(JSON.stringify(CATALOGUE)));
  await store.keepCatalogue(edition, CATALOGUE);
  const first = world.id();
  const one = drafting(world, first);
  const begun = one.begun();
  if (begun.what.kind !== 'walk-begun') throw new Error('not begun');
  await store.append([{ ...begun, what: { ...begun.what, edition } }, one.said('belts good')]);
  for (const chunk of [0, 1])
    await store.keepSound({
      walk: first,
      aircraft: AIRCRAFT,
      t: chunk * 2,
      recording: `rec-${seed}`,
      chunk,
      place: { recording: `rec-${seed}`, from: chunk * 2, to: chunk * 2 + 2 },
      mime: 'audio/wav',
      data: new Uint8Array([seed, chunk, 3, 4]).buffer,
    });
  await store.append([one.said('a crack at the upper bearing'), one.finished()]);
  await store.seal(first);
  const second = world.id();
  const two = drafting(world, second);
  const other = two.begun({ pilot: 'A. Wren' });
  if (other.what.kind !== 'walk-begun') throw new Error('not begun');
  await store.append([{ ...other, what: { ...other.what, edition } }, two.said('no cracks')]);
  return { store, first, second, edition };
}

async function fresh(seed = 50): Promise<Store> {
  return memoryStore(countingWorld(seed));
}

const bytesOf = async (file: Blob) => new Uint8Array(await file.arrayBuffer());

/** Changes one character of the only place where `words` are in the file. */
function touch(bytes: Uint8Array, words: string): Uint8Array {
  const at = Buffer.from(bytes).indexOf(words);
  expect(at).toBeGreaterThan(0);
  const copy = bytes.slice();
  copy[at] = (copy[at] ?? 0) ^ 1;
  return copy;
}

describe('a backup', () => {
  test('restores on another device to the same log, catalogue and sound', async () => {
    const { store, edition } = await device();
    const backup = await store.backup();
    expect(backup).toMatchObject({
      events: 9,
      chunks: 2,
      notes: [],
      name: 'talkround-2026-01-05.zip',
    });
    const other = await fresh();
    const restored = await other.restore(backup.file);
    expect(restored).toMatchObject({
      ok: true,
      events: { added: 9, known: 0 },
      catalogues: { added: 1, known: 0 },
      sound: { added: 2, known: 0 },
      refused: [],
    });
    expect(await other.all()).toEqual(await store.all());
    expect(await other.catalogue(edition)).toEqual(CATALOGUE);
    expect(await other.sound('rec-1')).toEqual(await store.sound('rec-1'));
    expect((await other.verify()).ok).toBe(true);
    expect((await other.restore(await bytesOf(backup.file))).text).toEqual([
      'Events: 0 restored, 9 here already.',
      'Catalogues: 0 restored, 1 here already.',
      'Chunks of sound: 0 restored, 2 here already.',
      expect.stringMatching(/^Signed as a whole by device .* with the key “(\w+ ?){8}”\.$/),
    ]);
  });

  test('restores on the device that made it without a change', async () => {
    const { store } = await device();
    const before = await store.all();
    const restored = await store.restore((await store.backup()).file);
    expect(restored).toMatchObject({ ok: true, events: { added: 0, known: 9 } });
    expect(await store.all()).toEqual(before);
  });

  test('of what was merged is a backup of all devices', async () => {
    const [a, b] = [await device(1), await device(2)];
    await a.store.restore((await b.store.backup()).file);
    const other = await fresh();
    expect(await other.restore((await a.store.backup()).file)).toMatchObject({
      ok: true,
      events: { added: 18 },
      sound: { added: 4 },
    });
    expect(await other.all()).toEqual(await a.store.all());
  });

  test('of one walk hands over that walk and verifies', async () => {
    const { store, first, second } = await device();
    const backup = await store.backup({ walks: [second] });
    expect(backup).toMatchObject({ events: 2, chunks: 0 });
    expect((await verifyFile(await bytesOf(backup.file))).ok).toBe(true);
    const other = await fresh();
    await other.restore(backup.file);
    expect((await other.walks()).map((w) => w.walk)).toEqual([second]);
    // The rest may come later and closes the gap.
    await other.restore((await store.backup({ walks: [first], sound: false })).file);
    expect((await other.verify()).gaps).toEqual([]);
    expect(await other.sound('rec-1')).toMatchObject({ chunks: [], missing: [0, 1] });
  });

  test('verifies, and says by which key a walk was sealed', async () => {
    const { store, first } = await device();
    const verdict = await verifyFile(await bytesOf((await store.backup()).file));
    expect(verdict.ok).toBe(true);
    expect(verdict.lines.join('\n')).toMatch(
      new RegExp(
        `Walk ${first}: This walk is sealed and whole: 6 events, under the key “(\\w+ ?){8}”`,
      ),
    );
  });

  test('says when a catalogue is not there to be saved', async () => {
    const other = await fresh();
    const { begun } = drafting(countingWorld(9), 'w');
    await other.append([begun()]);
    expect((await other.backup()).notes).toEqual([
      expect.stringContaining('is not on this device'),
    ]);
  });
});

describe('a backup with one byte changed', () => {
  test('in a sealed walk: that walk is refused with the event named, the other is kept', async () => {
    const { store, first, second } = await device();
    const event = (await store.walk(first)).find(
      (e) => e.what.kind === 'heard' && e.what.heard.text.includes('crack'),
    );
    const bytes = touch(await bytesOf((await store.backup()).file), 'crack at the upper');
    const verdict = await verifyFile(bytes);
    expect(verdict).toMatchObject({ ok: false, broken: event?.id });
    const other = await fresh();
    const restored = await other.restore(bytes);
    expect(restored.ok).toBe(false);
    expect(restored.events).toEqual({ added: 2, known: 0 });
    expect(restored.text.join('\n')).toContain(`Not restored: ${event?.id}. It was changed`);
    expect(restored.text.join('\n')).toContain(`walk ${first}`);
    expect((await other.walks()).map((w) => w.walk)).toEqual([second]);
    expect((await other.verify()).ok).toBe(true);
  });

  test('can be salvaged on request: every event that holds, and the hole is named', async () => {
    const { store, first } = await device();
    const bytes = touch(await bytesOf((await store.backup()).file), 'crack at the upper');
    const other = await fresh();
    const restored = await other.restore(bytes, { salvage: true });
    expect(restored).toMatchObject({ ok: false, events: { added: 8 } });
    expect(await other.walk(first)).toHaveLength(6);
    expect(await other.verify()).toMatchObject({ ok: false, broken: { kind: 'missing' } });
  });

  test('in the last event of a walk, so that no link shows it: still refused', async () => {
    const { store, second } = await device();
    const bytes = touch(await bytesOf((await store.backup()).file), '"text":"no cracks"');
    const other = await fresh();
    const restored = await other.restore(bytes);
    expect(restored.ok).toBe(false);
    expect((await other.walks()).some((w) => w.walk === second)).toBe(false);
  });

  test('in a chunk of sound: that chunk is refused, everything else is kept', async () => {
    const { store } = await device();
    const bytes = await bytesOf((await store.backup()).file);
    const at = Buffer.from(bytes).indexOf(Buffer.from([1, 1, 3, 4]));
    expect(at).toBeGreaterThan(0);
    bytes[at + 3] = 9;
    const other = await fresh();
    const restored = await other.restore(bytes);
    expect(restored).toMatchObject({ events: { added: 9 }, sound: { added: 1 } });
    expect(restored.refused).toEqual([
      { entry: 'sound/rec-1/000001.wav', why: expect.stringContaining('hash does not match') },
    ]);
    expect(await other.sound('rec-1')).toMatchObject({ missing: [1] });
  });

  test('in a catalogue: refused, everything else is kept', async () => {
    const { store } = await device();
    const bytes = touch(await bytesOf((await store.backup()).file), 'Small one');
    const restored = await (await fresh()).restore(bytes);
    expect(restored).toMatchObject({ events: { added: 9 }, catalogues: { added: 0 } });
    expect(restored.refused).toMatchObject([{ entry: expect.stringContaining('catalogues/') }]);
  });

  test('cut off in the middle: refused in words', async () => {
    const { store } = await device();
    const bytes = await bytesOf((await store.backup()).file);
    const restored = await (await fresh()).restore(bytes.slice(0, bytes.length / 2));
    expect(restored).toMatchObject({ ok: false, events: { added: 0 } });
    expect(restored.text[0]).toContain('not a readable zip');
  });

  test('with the end of the log cut off is seen by the manifest', async () => {
    const { store, second } = await device();
    const bytes = Buffer.from(await bytesOf((await store.backup()).file));
    // The last line becomes spaces: a log that ends earlier is a log without a broken link.
    const id = (await store.walk(second)).at(-1)?.id ?? '';
    const idAt = bytes.indexOf(`"id":"${id}","prev"`);
    const start = bytes.lastIndexOf('\n', idAt) + 1;
    bytes.fill(' ', start, bytes.indexOf('\n', idAt));
    const verdict = await verifyFile(bytes);
    expect(verdict.ok).toBe(false);
    expect(verdict.lines.join('\n')).toContain(
      `${id}. The log of device ${store.device} should end`,
    );
  });
});

test('sound that was erased on request does not come back from an old backup', async () => {
  const { store } = await device();
  const old = (await store.backup()).file;
  await store.eraseSound('rec-1', 'asked for');
  const restored = await store.restore(old);
  expect(restored.sound).toEqual({ added: 0, known: 0 });
  expect(restored.refused.map((r) => r.why)).toEqual([
    'This sound was erased on request. It was not restored.',
    'This sound was erased on request. It was not restored.',
  ]);
  expect((await store.sound('rec-1')).chunks).toEqual([]);
});

describe('an erasure that another device made', () => {
  /** Two devices with the same sound; the second one is asked to erase it. */
  async function erasedElsewhere() {
    const { store: first, first: walk } = await device(1);
    const before = (await first.backup()).file;
    const second = await fresh(60);
    await second.restore(before);
    expect((await second.sound('rec-1')).chunks).toHaveLength(2);
    const erasure = await second.eraseSound('rec-1', 'asked for by P. Heron');
    return { first, second, walk, before, erasure };
  }

  test('erases the sound here when it arrives by merge; the chain verifies, the gap is visible', async () => {
    const { first, second } = await erasedElsewhere();
    expect(await first.merge(await second.all())).toMatchObject({ added: 1, refused: [] });
    expect(await first.sound('rec-1')).toMatchObject({
      chunks: [],
      missing: [0, 1],
      erased: 'asked for by P. Heron',
    });
    expect(await first.recordings()).toEqual([]);
    expect((await first.verify()).ok).toBe(true);
  });

  test('erases it when it arrives in a backup', async () => {
    const { first, second } = await erasedElsewhere();
    expect(await first.restore((await second.backup()).file)).toMatchObject({ ok: true });
    expect((await first.sound('rec-1')).chunks).toEqual([]);
  });

  test.each(['sound first', 'erasure first'])(
    'in either order (%s) a third device ends up the same',
    async (order) => {
      const { second, before } = await erasedElsewhere();
      const after = (await second.backup()).file;
      const third = await fresh(70);
      for (const file of order === 'sound first' ? [before, after] : [after, before])
        await third.restore(file);
      expect(await third.sound('rec-1')).toMatchObject({
        chunks: [],
        erased: 'asked for by P. Heron',
      });
      expect((await third.all()).map((e) => e.id)).toEqual((await second.all()).map((e) => e.id));
    },
  );

  test('erases nothing when it was changed on the way', async () => {
    const { first, second, erasure } = await erasedElsewhere();
    const events = (await second.all()).map((e) =>
      e.id === erasure.id ? { ...e, what: { ...e.what, why: 'because' } } : e,
    );
    const merged = await first.merge(events);
    expect(merged).toMatchObject({ added: 0 });
    expect(merged.refused[0]).toMatchObject({ event: erasure.id });
    expect((await first.sound('rec-1')).chunks).toHaveLength(2);
  });
});
