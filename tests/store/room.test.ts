import { describe, expect, test } from 'vitest';
import { memoryStore, StoreTrouble } from '#store';
import { localRecorder } from '../../src/store/recorder.ts';
import { askRoom, RESERVE_FOR_WORDS, SOUND_RATE } from '../../src/store/room.ts';
import { memoryShelf } from '../../src/store/shelf-memory.ts';
import { storeOver } from '../../src/store/store.ts';
import { AIRCRAFT, countingWorld, drafting } from './help.ts';

const GB = 1024 ** 3;

describe('room before a walk', () => {
  test('plenty, and the browser promised to keep it: nothing to say', async () => {
    const room = await askRoom({
      persist: async () => true,
      persisted: async () => false,
      estimate: async () => ({ quota: 2 * GB, usage: 1000 }),
    });
    expect(room).toMatchObject({ persistent: true, enoughForWords: true, warnings: [] });
    expect(room.minutesOfSound).toBeGreaterThan(1000);
  });

  test.each([
    [
      'the browser promises nothing',
      { persist: async () => false, estimate: async () => ({ quota: GB, usage: 0 }) },
      /has not promised.*seven days/,
    ],
    ['the browser does not say', {}, /has not promised/],
    [
      'asking fails',
      {
        persist: async () => {
          throw new Error('no');
        },
        estimate: async () => {
          throw new Error('no');
        },
      },
      /has not promised/,
    ],
    [
      'little room',
      {
        persisted: async () => true,
        estimate: async () => ({ quota: RESERVE_FOR_WORDS + 600 * SOUND_RATE + 5, usage: 0 }),
      },
      /about 10 minutes of sound/,
    ],
    [
      'room for words only',
      { persisted: async () => true, estimate: async () => ({ quota: 100, usage: 50 }) },
      /words but not for sound/,
    ],
    [
      'no room at all',
      { persisted: async () => true, estimate: async () => ({ quota: 100, usage: 100 }) },
      /hardly any room left/,
    ],
  ])('%s: the pilot is told', async (_name, storage, sentence) => {
    expect((await askRoom(storage)).warnings.join(' ')).toMatch(sentence);
  });
});

describe('the disk fills in mid-walk', () => {
  const chunkOf = (walk: string, chunk: number) => ({
    walk,
    aircraft: AIRCRAFT,
    t: chunk * 2,
    recording: 'rec',
    chunk,
    place: { recording: 'rec', from: chunk * 2, to: chunk * 2 + 2 },
    mime: 'audio/wav',
    data: new Uint8Array(1000).buffer,
  });

  async function check(
    make: (
      world: ReturnType<typeof countingWorld>,
      full: { now: boolean },
    ) => ReturnType<typeof memoryStore>,
  ) {
    const world = countingWorld();
    const full = { now: false };
    const store = await make(world, full);
    const walk = world.id();
    const { begun, said } = drafting(world, walk);
    await store.append([begun()]);
    expect((await store.keepSound(chunkOf(walk, 0))).kept).toBe(true);
    full.now = true;
    const refused = await store.keepSound(chunkOf(walk, 1));
    expect(refused).toMatchObject({
      kept: false,
      why: expect.stringContaining('The walk goes on in words'),
      event: { what: { kind: 'sound-missing' } },
    });
    // Said once, not for every chunk.
    expect(await store.keepSound(chunkOf(walk, 2))).toMatchObject({ kept: false, event: null });
    await store.append([said('a crack at the upper bearing')]);
    full.now = false;
    expect((await store.keepSound(chunkOf(walk, 3))).kept).toBe(true);
    expect((await store.walk(walk)).map((e) => e.what.kind)).toEqual([
      'walk-begun',
      'sound-kept',
      'sound-missing',
      'heard',
      'sound-kept',
    ]);
    expect((await store.verify()).ok).toBe(true);
  }

  test('R10: words go on, sound stops, the pilot is told (the quota comes near)', () =>
    check((world, full) =>
      memoryStore(world, {
        storage: {
          estimate: async () => ({ quota: GB, usage: full.now ? GB - RESERVE_FOR_WORDS : 0 }),
        },
      }),
    ));

  test('R10: words go on, sound stops, the pilot is told (the write itself fails)', () =>
    check((world, full) => {
      const shelf = memoryShelf();
      return storeOver({
        shelf: {
          ...shelf,
          write: (device, make) =>
            shelf.write(device, (head) => {
              const work = make(head);
              if (full.now && (work.sounds ?? []).length > 0)
                throw new StoreTrouble('full', 'There is no room left on this device.');
              return work;
            }),
        },
        world,
        recorder: localRecorder(),
        subtle: undefined,
        storage: undefined,
        reserve: null,
        channel: null,
      });
    }));

  test('R10: words get the room that was kept for them when nothing fits any more', async () => {
    const world = countingWorld();
    const shelf = memoryShelf();
    const disk = { full: false, reserve: false };
    const store = await storeOver({
      shelf: {
        ...shelf,
        async write(device, make) {
          if (disk.full && disk.reserve) throw new StoreTrouble('full', 'There is no room left.');
          return shelf.write(device, make);
        },
      },
      world,
      recorder: localRecorder(),
      subtle: undefined,
      storage: undefined,
      reserve: {
        fill: async () => !disk.full && (disk.reserve = true),
        release: async () => disk.reserve && !(disk.reserve = false),
      },
      channel: null,
    });
    expect((await store.room()).enoughForWords).toBe(true);
    const walk = world.id();
    const { begun, said } = drafting(world, walk);
    await store.append([begun()]);
    disk.full = true;
    await store.append([said('a crack at the upper bearing')]);
    expect(disk.reserve).toBe(false);
    // The room that was given up is for words: no sound goes into it.
    expect(await store.keepSound(chunkOf(walk, 0))).toMatchObject({ kept: false });
    expect((await store.room()).warnings.join(' ')).toMatch(/hardly any room/);
    disk.full = false;
    await store.room();
    expect(await store.keepSound(chunkOf(walk, 1))).toMatchObject({ kept: true });
    expect((await store.verify()).ok).toBe(true);
  });
});

test('what is written twice takes twice the room, and one copy alone is said', async () => {
  const storage = { estimate: async () => ({ quota: 1000 * 1024 * 1024, usage: 0 }) };
  const one = await askRoom(storage, null, { count: 1, trouble: 'One copy only.' });
  const two = await askRoom(storage, null, { count: 2, trouble: null });
  expect(one.minutesOfSound).toBe(Math.floor(((1000 - 8) * 1024 * 1024) / 32_000 / 60));
  expect(two.minutesOfSound).toBe(Math.floor(((1000 - 8) * 1024 * 1024) / 64_000 / 60));
  expect(one.warnings).toContain('One copy only.');
  expect(two.warnings).not.toContain('One copy only.');
});
