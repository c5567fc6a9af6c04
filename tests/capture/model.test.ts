import { existsSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import {
  baseOf,
  checkModel,
  lengthOf,
  MODEL_FILES,
  sharesOf,
} from '../../src/capture/embedded/model.ts';
import { createEngine } from '../../src/capture/own/engine.ts';
import { hearFileIn } from '../../src/capture/own/file.ts';
import type { FromWorker } from '../../src/capture/own/protocol.ts';
import { modelFolder } from '../bench/listening-set.ts';

/** The model on disk, with one of its files changed. */
function disk(changed: Record<string, 'missing' | 'cut' | 'unreadable'> = {}) {
  return (address: string) => {
    const how = changed[address.split('/').pop() ?? ''];
    if (how === 'unreadable') return Promise.reject(new Error('no network'));
    const length = existsSync(address) ? statSync(address).size : 0;
    return Promise.resolve({
      ok: how !== 'missing' && length > 0,
      length: () => Promise.resolve(how === 'cut' ? Math.floor(length / 2) : length),
    });
  };
}

test('the model as it is installed is whole', async () => {
  expect(await checkModel(modelFolder(), disk())).toEqual({ able: true });
});

test.each(Object.keys(MODEL_FILES))('%s missing, cut or unreadable: named', async (name) => {
  for (const [how, words] of [
    ['missing', `"${name}" is missing`],
    ['cut', `"${name}" is cut: `],
    ['unreadable', `"${name}" cannot be read`],
  ] as const) {
    const check = await checkModel(modelFolder(), disk({ [name]: how }));
    expect(check.able ? '' : check.why).toContain(words);
    expect(check.able ? '' : check.why).toContain('Open the page once with a network');
  }
});

test('issue 17: the share of the model that is here grows to all of it, in steps that are seen', async () => {
  const shares: number[] = [];
  const came = sharesOf((share) => shares.push(share));
  const PIECE = 16_384;
  for (const length of Object.values(MODEL_FILES)) {
    const pieces = new ReadableStream<Uint8Array>({
      start(to) {
        for (let at = 0; at < length; at += PIECE)
          to.enqueue(new Uint8Array(Math.min(PIECE, length - at)));
        to.close();
      },
    });
    expect(await lengthOf(pieces, came)).toBe(length);
  }
  expect(shares.at(-1)).toBe(1);
  expect(shares).toEqual([...shares].sort((a, b) => a - b));
  expect(shares.length).toBeGreaterThan(20);
  expect(shares.length).toBeLessThanOrEqual(51);
});

test('a file without a body has no length', async () => {
  expect(await lengthOf(null, () => undefined)).toBe(0);
});

test('the folder of the model is found from either address', () => {
  for (const address of ['/app/model/en-us/', '/app/model/en-us', '/app/model/', '/app/model'])
    expect(baseOf(address)).toBe('/app/model/');
  expect(readFileSync(join(modelFolder(), 'en-us/feat_params.json')).byteLength).toBe(
    MODEL_FILES['feat_params.json'],
  );
});

test('a model that cannot be opened: the worker says why, and answers no sound with words', async () => {
  const told: FromWorker[] = [];
  const take = createEngine(
    () => Promise.reject(new Error('its file "means" is cut')),
    (message) => told.push(message),
  );
  await take({ kind: 'open', modelBase: '', plan: PLAN, words: [] });
  await take({ kind: 'sound', samples: new Float32Array(800), rate: 8000 });
  await take({ kind: 'ping' });
  expect(told).toEqual([{ kind: 'failed', why: 'its file "means" is cut' }, { kind: 'pong' }]);
});

test('a sound file whose worker dies: one sentence, and the worker is ended', async () => {
  let die: (why: string) => void = () => undefined;
  let ended = false;
  const heard = hearFileIn(
    {
      post: () => undefined,
      onMessage: () => undefined,
      onDeath: (take) => void (die = take),
      end: () => void (ended = true),
    },
    new Float32Array(8000),
    8000,
    {
      modelBase: '',
      grammar: { plan: PLAN, words: [] },
      id: () => 'h',
      progress: () => undefined,
    },
  );
  die('out of memory');
  await expect(heard).rejects.toThrow('The recogniser stopped. Try the file again');
  expect(ended).toBe(true);
});

const PLAN = { rules: '', hubs: {}, groups: {}, start: 'start' };
