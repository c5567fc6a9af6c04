import { afterEach, expect, test, vi } from 'vitest';
import { lettersFrom } from '../../src/wire/letters.ts';

/* Issue 16: the letters of papers, loaded when the first one is made. */

afterEach(() => vi.unstubAllGlobals());

test('what cannot be loaded is said in one sentence, and asked for anew the next time', async () => {
  const asked: string[] = [];
  let there = false;
  vi.stubGlobal('fetch', (address: string) => {
    asked.push(address);
    return there
      ? Promise.resolve(new Response(new Uint8Array([asked.length])))
      : Promise.reject(new TypeError('Failed to fetch'));
  });
  const letters = lettersFrom('https://app.example/letters/');
  expect(asked).toEqual([]);
  await expect(letters()).rejects.toThrow(/^The letters for printing could not be loaded.*\.$/);

  there = true;
  const loaded = await letters();
  expect([loaded.plain.length, loaded.bold.length]).toEqual([1, 1]);
  expect(asked.slice(-2)).toEqual([
    'https://app.example/letters/DejaVuSansCondensed.ttf',
    'https://app.example/letters/DejaVuSansCondensed-Bold.ttf',
  ]);

  // Loaded once, they are asked for no more.
  const before = asked.length;
  expect(await letters()).toBe(loaded);
  expect(asked).toHaveLength(before);
});

test('an answer that is none is no font', async () => {
  vi.stubGlobal('fetch', () => Promise.resolve(new Response('Not found', { status: 404 })));
  await expect(lettersFrom('https://app.example/')()).rejects.toThrow('could not be loaded');
});
