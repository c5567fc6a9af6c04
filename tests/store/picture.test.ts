import { describe, expect, test } from 'vitest';
import { Catalogue } from '#shared/catalogue';
import { memoryStore, verifyFile } from '#store';
import { editionOf } from '../../src/store/catalogues.ts';
import { mend, inSentence } from '../../src/store/copy/mend.ts';
import { copiedShelf } from '../../src/store/copy/copied-shelf.ts';
import { copyOver } from '../../src/store/copy/copy.ts';
import { memoryFiles } from '../../src/store/copy/files.ts';
import { localRecorder } from '../../src/store/recorder.ts';
import { memoryShelf } from '../../src/store/shelf-memory.ts';
import { storeOver } from '../../src/store/store.ts';
import { AIRCRAFT, countingWorld, drafting } from './help.ts';

/** Issue 16: a picture is kept like sound. */

const CATALOGUE = Catalogue.parse({
  v: 1,
  id: 'small',
  name: 'Small one',
  kind: 'other',
  stations: [
    { id: 'nose', name: 'Nose', place: { x: 5, y: 5 }, checks: [{ id: 'tyre', name: 'Tyre' }] },
  ],
});

const BYTES = new Uint8Array([0xff, 0xd8, 0xff, 0xe0, 7, 7, 7, 0xff, 0xd9]);
const SHOWN = { kind: 'finding', statement: 's-1' } as const;

const drawn = (walk: string | null, picture = 'pic-1') => ({
  walk,
  aircraft: AIRCRAFT,
  t: 5,
  picture,
  of: SHOWN,
  mime: 'image/jpeg',
  width: 40,
  height: 30,
  data: BYTES.buffer.slice(0),
});

async function pictured(files = memoryFiles()) {
  const world = countingWorld(3);
  const shelf = memoryShelf();
  const copy = await copyOver(files, () => undefined);
  const store = await storeOver({
    shelf: copiedShelf(shelf, copy),
    world,
    recorder: localRecorder(),
    subtle: undefined,
    storage: undefined,
    reserve: null,
    channel: null,
  });
  const edition = editionOf(JSON.parse(JSON.stringify(CATALOGUE)));
  await store.keepCatalogue(edition, CATALOGUE);
  const walk = world.id();
  const { begun, said, finished } = drafting(world, walk);
  const begin = begun();
  if (begin.what.kind !== 'walk-begun') throw new Error('not begun');
  await store.append([{ ...begin, what: { ...begin.what, edition } }, said('tyre is cut')]);
  const event = await store.keepPicture(drawn(walk));
  await store.append([finished()]);
  await store.seal(walk);
  return { store, walk, event, shelf, copy, files };
}

const bytesOf = async (file: Blob) => new Uint8Array(await file.arrayBuffer());

describe('16: a picture is kept like sound', () => {
  test('R10 its bytes and its event are written together, and are covered by chain and seal', async () => {
    const { store, walk, event } = await pictured();
    expect(event.what).toMatchObject({ kind: 'picture-kept', of: SHOWN, width: 40, height: 30 });
    const shown = await store.picture('pic-1');
    expect(shown).toMatchObject({ state: 'here', mime: 'image/jpeg' });
    if (shown.state === 'here') expect(new Uint8Array(shown.data)).toEqual(BYTES);
    expect(await store.pictures()).toMatchObject([{ walk, picture: { picture: 'pic-1' } }]);
    expect((await store.verify()).ok).toBe(true);
    const trust = await store.judged(walk);
    expect(trust.verdict.whole).toBe(true);
    expect(trust.counts.some((e) => e.what.kind === 'picture-kept')).toBe(true);
    const without = (await store.all()).filter((e) => e.what.kind !== 'picture-kept');
    const other = await memoryStore(countingWorld(9));
    expect((await other.merge(without)).refused).not.toEqual([]);
  });

  test('after the signature a walk takes no picture, and a squawk still does', async () => {
    const { store, walk } = await pictured();
    await expect(store.keepPicture(drawn(walk, 'late'))).rejects.toThrow('signed and sealed');
    const of = { kind: 'squawk', squawk: 'q-1' } as const;
    await store.keepPicture({ ...drawn(null, 'squawk'), of });
    expect(await store.picture('squawk')).toMatchObject({ state: 'here' });
  });

  test('erased on request: the chain holds, and the gap is said', async () => {
    const { store, walk, files } = await pictured();
    const before = (await files.list()).filter((f) => f.startsWith('sound-')).length;
    await store.erasePicture('pic-1', 'a face is in it');
    expect(await store.picture('pic-1')).toEqual({ state: 'erased', why: 'a face is in it' });
    expect((await files.list()).filter((f) => f.startsWith('sound-')).length).toBe(before - 1);
    expect((await store.verify()).ok).toBe(true);
    const { verdict } = await store.judged(walk);
    expect([verdict.whole, verdict.remarks]).toEqual([true, []]);
    await expect(store.erasePicture('no', 'x')).rejects.toThrow('no such picture');
  });

  test('a full disk says so in one sentence, and the words go on', async () => {
    const world = countingWorld(4);
    const store = await memoryStore(world, {
      storage: { estimate: () => Promise.resolve({ quota: 1000, usage: 999 }) },
    });
    await expect(store.keepPicture(drawn(null))).rejects.toThrow('no room left for pictures');
    expect(await store.all()).toEqual([]);
  });

  test('R10 comes back from the second copy when the browser lost its database', async () => {
    const { files } = await pictured();
    const shelf = memoryShelf();
    const back = await mend(shelf, await copyOver(files, () => undefined), true);
    expect(back).toMatchObject({ pictures: 1, chunks: 0 });
    expect(back === null ? '' : inSentence(back)).toContain('and 1 picture came back');
    expect((await shelf.sounds('pic-1'))[0]?.hash).toHaveLength(64);
  });
});

describe('16: a picture in a backup', () => {
  test('is in it, verifies, and comes back on another device', async () => {
    const { store } = await pictured();
    const { file, pictures } = await store.backup();
    expect(pictures).toBe(1);
    const told = await verifyFile(await bytesOf(file));
    expect(told.ok, told.lines.join('\n')).toBe(true);
    expect(told.lines.join('\n')).toContain('0 chunks of sound, 1 picture.');
    const other = await memoryStore(countingWorld(60));
    const restored = await other.restore(file);
    expect(restored.ok, restored.text.join('\n')).toBe(true);
    expect(restored.pictures).toEqual({ added: 1, known: 0 });
    expect(restored.text).toContain('Pictures: 1 restored, 0 here already.');
    expect(await other.picture('pic-1')).toMatchObject({ state: 'here' });
    expect((await other.restore(file)).pictures).toEqual({ added: 0, known: 1 });
  });

  test('changed bytes are refused and named, like changed sound', async () => {
    const bytes = await bytesOf((await (await pictured()).store.backup()).file);
    const at = Buffer.from(bytes).indexOf(Buffer.from(BYTES));
    bytes[at + 5] = 9;
    const told = await verifyFile(bytes);
    expect(told.ok).toBe(false);
    expect(told.lines.join('\n')).toContain('Does not hold: pictures/pic-1.jpg. It was changed');
    const other = await memoryStore(countingWorld(61));
    const restored = await other.restore(new Blob([bytes]));
    expect(restored.refused.map((r) => r.entry)).toEqual(['pictures/pic-1.jpg']);
    expect(await other.picture('pic-1')).toEqual({ state: 'gone' });
  });

  test('one whose bytes are gone is said, in verify and on the device that brings it in', async () => {
    const { store, shelf } = await pictured();
    await shelf.write('', () => ({ rows: [], erase: ['pic-1'] }));
    const { file, pictures } = await store.backup();
    expect(pictures).toBe(0);
    const told = await verifyFile(await bytesOf(file));
    expect(told.lines.join('\n')).toMatch(/Pictures that the log names .* 1\./);
    const other = await memoryStore(countingWorld(62));
    await other.restore(file);
    expect(await other.picture('pic-1')).toEqual({ state: 'gone' });
  });

  test('an erased one never comes back', async () => {
    const { store } = await pictured();
    const { file } = await store.backup();
    await store.erasePicture('pic-1', 'asked for');
    const restored = await store.restore(file);
    expect(restored.refused).toMatchObject([
      { why: expect.stringContaining('picture was erased') as string },
    ]);
    expect(await store.picture('pic-1')).toMatchObject({ state: 'erased' });
  });
});
