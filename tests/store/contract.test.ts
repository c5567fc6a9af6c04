import 'fake-indexeddb/auto';
import { afterEach, describe, expect, test } from 'vitest';
import { Catalogue } from '#shared/catalogue';
import type { Event } from '#shared/event';
import { memoryStore, openStore, StoreTrouble, type Store } from '#store';
import { editionOf } from '../../src/store/catalogues.ts';
import { hashOf } from '../../src/store/chain.ts';
import { sealTrouble } from '../../src/store/trust/seal-form.ts';
import { AIRCRAFT, countingWorld, drafting } from './help.ts';

/** What every store has to do, wherever it keeps its record. */
let count = 0;
const open: Store[] = [];
afterEach(() => {
  for (const store of open.splice(0)) store.close();
});
const kinds: [string, () => Promise<{ store: Store; world: ReturnType<typeof countingWorld> }>][] =
  [
    [
      'in memory',
      async () => {
        const world = countingWorld();
        return { store: await memoryStore(world), world };
      },
    ],
    [
      'in a database',
      async () => {
        const world = countingWorld();
        count += 1;
        return { store: await openStore({ name: `contract-${count}`, world }), world };
      },
    ],
  ];

describe.each(kinds)('a store %s', (_kind, make) => {
  async function begin() {
    const { store, world } = await make();
    open.push(store);
    const walk = world.id();
    return { store, world, walk, ...drafting(world, walk) };
  }

  test('chains what is appended, and gives a walk back oldest first', async () => {
    const { store, walk, begun, said } = await begin();
    const first = await store.append([begun(), said('belts good')]);
    const second = await store.append([said('left brake line dry')]);
    const events = await store.walk(walk);
    expect(events).toEqual([...first, ...second]);
    expect(events.map((e) => e.prev)).toEqual([null, events[0]?.hash, events[1]?.hash]);
    expect(events.every((e) => e.device === store.device)).toBe(true);
    expect((await store.verify()).ok).toBe(true);
  });

  test('serialises appends that are made at once', async () => {
    const { store, walk, begun, said } = await begin();
    await Promise.all(
      [begun(), ...Array.from({ length: 20 }, (_, i) => said(`number ${i}`))].map((draft) =>
        store.append([draft]),
      ),
    );
    expect(await store.walk(walk)).toHaveLength(21);
    expect(await store.verify()).toMatchObject({ ok: true, events: 21, gaps: [] });
  });

  test('appends all of it or nothing', async () => {
    const { store, walk, begun, said } = await begin();
    const good = begun();
    await store.append([good]);
    await expect(store.append([said('belts good'), good])).rejects.toThrow();
    expect(await store.walk(walk)).toHaveLength(1);
    await store.append([said('belts good')]);
    expect((await store.verify()).ok).toBe(true);
  });

  test('refuses a draft that could not be read back, and names it', async () => {
    const { store, begun } = await begin();
    const draft = begun();
    await expect(store.append([{ ...draft, at: Number.NaN }])).rejects.toThrow(
      /"walk-begun".*"at"/,
    );
    expect(await store.all()).toEqual([]);
  });

  test('lists walks, latest first, with how far they have come', async () => {
    const { store, world, walk, begun, said, finished } = await begin();
    const other = drafting(world, world.id());
    await store.append([begun(), said('belts good'), finished()]);
    await store.append([other.begun({ pilot: 'A. Wren' })]);
    expect(await store.walks()).toMatchObject([
      { pilot: 'A. Wren', finished: false, events: 1, sealed: false, own: true },
      { walk, pilot: 'P. Heron', finished: true, events: 3, aircraft: AIRCRAFT },
    ]);
  });

  test('finds what belongs to an aircraft and to squawks', async () => {
    const { store, world, begun, draft } = await begin();
    await store.append([begun()]);
    await store.append([
      {
        ...draft({
          kind: 'squawk',
          squawk: 's1',
          step: { step: 'closed', by: 'A. Wren', note: null },
        }),
        walk: null,
        id: world.id(),
      },
    ]);
    expect(await store.aircraftEvents(AIRCRAFT)).toHaveLength(2);
    expect(await store.aircraftEvents('other')).toHaveLength(0);
    expect(await store.squawkEvents()).toMatchObject([{ what: { squawk: 's1' } }]);
  });

  test('keeps editions of a catalogue under their hash and no other', async () => {
    const { store } = await begin();
    const catalogue = Catalogue.parse({
      v: 1,
      id: 'small',
      name: 'Small one',
      kind: 'other',
      stations: [
        {
          id: 'nose',
          name: 'Nose',
          place: { x: 50, y: 10 },
          checks: [{ id: 'tyre', name: 'Tyre', repeat: { of: 2, sides: ['left', 'right'] } }],
        },
      ],
    });
    const edition = editionOf(JSON.parse(JSON.stringify(catalogue)));
    await store.keepCatalogue(edition, catalogue);
    expect(await store.catalogue(edition)).toEqual(catalogue);
    expect(await store.catalogue('f'.repeat(64))).toBeNull();
    expect(await store.editions()).toEqual([edition]);
    await expect(store.keepCatalogue('f'.repeat(64), catalogue)).rejects.toThrow(StoreTrouble);
  });

  test('keeps sound with its event, and gives it back in order', async () => {
    const { store, walk, begun } = await begin();
    await store.append([begun()]);
    for (const chunk of [1, 0]) {
      const kept = await store.keepSound({
        walk,
        aircraft: AIRCRAFT,
        t: chunk,
        recording: 'rec',
        chunk,
        place: { recording: 'rec', from: chunk * 2, to: chunk * 2 + 2 },
        mime: 'audio/wav',
        data: new Uint8Array([chunk, 9, 9]).buffer,
      });
      expect(kept.kept).toBe(true);
    }
    const sound = await store.sound('rec');
    expect(sound).toMatchObject({ mime: 'audio/wav', missing: [], erased: null });
    expect(sound.chunks.map((c) => new Uint8Array(c.data)[0])).toEqual([0, 1]);
    expect(await store.recordings()).toEqual([{ recording: 'rec', bytes: 6, chunks: 2 }]);
    expect((await store.walk(walk)).map((e) => e.what.kind)).toEqual([
      'walk-begun',
      'sound-kept',
      'sound-kept',
    ]);
  });

  test('erases the sound of a person on request: the chain holds and the gap is visible', async () => {
    const { store, walk, begun, said } = await begin();
    await store.append([begun({ pilot: 'P. Heron' }), said('belts good', 'other', 'A. Wren')]);
    await store.keepSound({
      walk,
      aircraft: AIRCRAFT,
      t: 1,
      recording: 'rec',
      chunk: 0,
      place: { recording: 'rec', from: 0, to: 2 },
      mime: 'audio/wav',
      data: new Uint8Array(8).buffer,
    });
    expect(await store.recordingsOf(' p. heron ')).toEqual(['rec']);
    expect(await store.recordingsOf('A. Wren')).toEqual(['other']);
    const event = await store.eraseSound('rec', 'asked for by P. Heron');
    expect(event).toMatchObject({ walk, what: { kind: 'sound-erased', recording: 'rec' } });
    expect(await store.sound('rec')).toMatchObject({
      chunks: [],
      missing: [0],
      erased: 'asked for by P. Heron',
    });
    expect(await store.recordings()).toEqual([]);
    expect((await store.verify()).ok).toBe(true);
    await expect(store.eraseSound('nothing', 'x')).rejects.toThrow('no recording nothing');
  });

  test('seals a walk with the key of the device', async () => {
    const { store, walk, begun, finished } = await begin();
    await store.append([begun(), finished()]);
    const event = await store.seal(walk);
    if (event.what.kind !== 'sealed') throw new Error('not a seal');
    expect(event.what.publicKey).toBe(await store.publicKey());
    expect(event.what.over).toBe(event.prev);
    expect(event.what.covers).toMatchObject({ walk, part: 'walk', events: 2, heads: [] });
    expect(
      sealTrouble({ ...event.what, covers: event.what.covers ?? null }, event.prev),
    ).toBeNull();
    expect(await store.verify()).toMatchObject({ ok: true, seals: [{ walk, event: event.id }] });
    expect(await store.walks()).toMatchObject([{ sealed: true }]);
    await expect(store.seal('no such walk')).rejects.toThrow('no walk');
  });

  test('keeps settings', async () => {
    const { store } = await begin();
    expect(await store.setting('listening')).toBeUndefined();
    await store.setSetting('listening', { only: 'here' });
    await store.setSetting('listening', { only: 'here', said: true });
    expect(await store.setting('listening')).toEqual({ only: 'here', said: true });
  });

  test('tells its listeners what was written', async () => {
    const { store, begun, said } = await begin();
    const seen: string[] = [];
    const off = store.subscribe(({ events }) => seen.push(...events.map((e) => e.what.kind)));
    await store.append([begun()]);
    off();
    await store.append([said('belts good')]);
    expect(seen).toEqual(['walk-begun']);
  });

  test('lets one record at a time', async () => {
    const { store } = await begin();
    const off = await store.takeRecorder();
    expect(off).not.toBeNull();
    expect(await store.takeRecorder()).toBeNull();
    expect(await store.recording()).toBe(true);
    const waiting = store.waitForRecorder();
    off?.();
    const second = await waiting;
    expect(await store.recording()).toBe(true);
    second();
    await new Promise((resolve) => setTimeout(resolve, 0));
    expect(await store.recording()).toBe(false);
  });

  test('takes in events of another device, and reports one that it cannot read', async () => {
    const { store, begun } = await begin();
    await store.append([begun()]);
    const world = countingWorld(7);
    const other = await memoryStore(world);
    const its = drafting(world, world.id());
    const events = await other.append([its.begun({ pilot: 'A. Wren' }), its.said('belts good')]);
    const newer = futureEvent(events.at(-1), world.id());
    expect(await store.merge([...events, newer])).toMatchObject({
      added: 3,
      known: 0,
      refused: [],
    });
    expect(await store.merge(events)).toMatchObject({ added: 0, known: 2, refused: [] });
    expect(await store.walks()).toMatchObject([{ own: false, pilot: 'A. Wren' }, { own: true }]);
    expect(await store.unreadable()).toMatchObject([
      { id: newer['id'], error: expect.stringContaining('format 2') },
    ]);
    expect(await store.verify()).toMatchObject({ ok: true, events: 4 });
  });

  test('refuses a walk with a changed event whole, names the event, and keeps the other walk', async () => {
    const { store, begun } = await begin();
    const [own] = await store.append([begun()]);
    const world = countingWorld(7);
    const other = await memoryStore(world);
    const good = drafting(world, world.id());
    const bad = drafting(world, world.id());
    const [g1, g2] = await other.append([good.begun(), good.said('belts good')]);
    const [b1, b2, b3] = await other.append([bad.begun(), bad.said('no cracks'), bad.finished()]);
    const changed = { ...b2, at: 1 };
    const merged = await store.merge([g1, g2, b1, changed, b3, { ...own, at: 1 }, 'nonsense']);
    expect(merged.added).toBe(2);
    expect(merged.refused).toEqual([
      { event: b2?.id, why: expect.stringContaining('changed after it was written') },
      { event: own?.id, why: expect.stringContaining('changed after it was written') },
      { event: 'number 7', why: expect.stringContaining('not an event') },
      { event: `walk ${b1?.walk}`, why: expect.stringContaining(`its event ${b2?.id} does not`) },
    ]);
    expect((await store.verify()).ok).toBe(true);
  });
});

/** An event of a format that is not known yet, properly chained. */
function futureEvent(after: Event | undefined, id: string): Record<string, unknown> {
  const event = {
    v: 2,
    id,
    device: after?.device,
    walk: after?.walk,
    aircraft: null,
    at: 1,
    t: null,
    what: { kind: 'dreamt', of: 'flying' },
    prev: after?.hash,
  };
  return { ...event, hash: hashOf(event) };
}
