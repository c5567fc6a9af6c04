import { expect, test } from 'vitest';
import { memoryStore } from '#store';
import { bringIn } from '../../src/wire/bring-in.ts';
import { openShelf } from '../../src/wire/shelf.ts';
import { countingWorld } from '../store/help.ts';

const MB = 1024 * 1024;

/** A file of that size whose bytes nobody may read. */
function unread(name: string, size: number): File {
  const file = new File([''], name);
  Object.defineProperty(file, 'size', { value: size });
  for (const way of ['text', 'arrayBuffer'] as const)
    Object.defineProperty(file, way, {
      value: () => Promise.reject(new Error('It was read.')),
    });
  return file;
}

test.each([
  ['walk.json', 200 * MB, /walk\.json has 200 MB of text; Talkround reads at most 16 MB/],
  ['walk.vtt', 17 * MB, /walk\.vtt has 17 MB of text/],
  ['walk.txt', 200 * MB, /200 MB of text/],
  ['walk.wav', 701 * MB, /larger than 700 MB/],
])(
  'hostile: %s of %i bytes is refused in words, before a byte of it is read',
  async (name, size, why) => {
    const world = countingWorld();
    const store = await memoryStore(world);
    const outcome = await bringIn(
      {
        store,
        world,
        shelf: await openShelf(store),
        readerFor: () => Promise.reject(new Error('no reader')),
        offer: () => Promise.resolve({ ok: true as const, value: null }),
      hearSound: () => Promise.reject(new Error('no ear')),
      },
      unread(name, size),
      { aircraft: 'R-102', catalogue: 'training-helicopter' },
      () => undefined,
    );
    expect(outcome.ok).toBe(false);
    expect(outcome.ok ? '' : outcome.error).toMatch(why);
  },
);
