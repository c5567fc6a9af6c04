import { describe, expect, test } from 'vitest';
import type { Event } from '#shared/event';
import { memoryStore, verifyFile } from '#store';
import { canonical, sha256Hex } from '../../src/store/canonical.ts';
import { countingWorld, drafting } from './help.ts';
import { openBackup } from '../../src/store/read-backup.ts';
import { backupOf, utf8, zipOf, type Piece } from './zips.ts';

/** Backups that somebody made to hurt. Each is refused in words, and the honest part is kept. */

async function honest(): Promise<readonly Event[]> {
  const world = countingWorld(3);
  const store = await memoryStore(world);
  const { begun, said } = drafting(world, world.id());
  return store.append([begun(), said('belts good')]);
}
async function honestPiece(): Promise<Piece & { kind: string }> {
  const lines = (await honest()).map((e) => canonical(e)).join('\n');
  return { kind: 'events', path: 'events/other-001.jsonl', data: utf8(lines) };
}
async function restore(bytes: Uint8Array) {
  const store = await memoryStore(countingWorld(60));
  const restored = await store.restore(bytes);
  return { store, restored, words: restored.text.join('\n') };
}
const MB = 1024 * 1024;

describe('paths', () => {
  test.each([
    '../../etc/passwd',
    '/etc/passwd',
    'C:\\windows\\x',
    'events\\..\\..\\x',
    'events/./x',
    `${'a/'.repeat(200)}x`,
    'events/a\nb',
  ])('%j is refused by name, the rest restored', async (path) => {
    const bytes = await backupOf([await honestPiece(), { kind: 'events', path, data: utf8('{}') }]);
    const { restored } = await restore(bytes);
    expect(restored.events.added).toBe(2);
    expect(restored.refused).toHaveLength(1);
    expect(restored.refused[0]?.why).toMatch(/leave the backup|300 characters/);
  });

  test('an entry that the manifest does not name is left alone', async () => {
    const piece = await honestPiece();
    const bytes = await backupOf([piece]);
    // Made again with one more file that the manifest knows nothing of.
    const manifest = Buffer.from(bytes).toString('latin1');
    const start = manifest.indexOf('{"format"');
    const text = manifest.slice(start, manifest.indexOf('"chains":[]}') + 12);
    const more = await zipOf([
      piece,
      { path: 'talkround.json', data: utf8(text) },
      { path: 'events/extra.jsonl', data: utf8('{}') },
    ]);
    const { restored } = await restore(more);
    expect(restored.refused).toEqual([
      { entry: 'events/extra.jsonl', why: expect.stringContaining('does not name it') },
    ]);
  });
});

// Large files on a busy machine take their time.
describe('sizes', { timeout: 60_000 }, () => {
  test('a zip bomb is refused before it is unpacked', async () => {
    const bomb = await backupOf(
      [
        await honestPiece(),
        { kind: 'events', path: 'events/bomb.jsonl', data: new Uint8Array(30 * MB) },
      ],
      9,
    );
    expect(bomb.length).toBeLessThan(MB);
    const { restored, words } = await restore(bomb);
    expect(restored.events.added).toBe(2);
    expect(words).toContain('more than 200 times its size, which is the limit');
  });

  test('a zip bomb that lies about its size is stopped while it unpacks', async () => {
    const bomb = await backupOf(
      [
        await honestPiece(),
        { kind: 'events', path: 'events/bomb.jsonl', data: new Uint8Array(20 * MB) },
      ],
      9,
    );
    // Both headers are made to say 1,000 bytes.
    const lying = Buffer.from(bomb);
    const size = Buffer.alloc(4);
    size.writeUInt32LE(20 * MB);
    const lie = Buffer.alloc(4);
    lie.writeUInt32LE(1000);
    let lies = 0;
    for (let at = lying.indexOf(size); at >= 0; at = lying.indexOf(size, at + 4)) {
      lie.copy(lying, at);
      lies += 1;
    }
    expect(lies).toBeGreaterThan(0);
    const { restored } = await restore(lying);
    expect(restored.refused.map((r) => r.entry)).toContain('events/bomb.jsonl');
    expect(restored.events.added).toBe(2);
  });

  test('200 MB of JSON is refused with the limit named', async () => {
    const bytes = await backupOf([
      await honestPiece(),
      { kind: 'events', path: 'events/large.jsonl', data: new Uint8Array(200 * MB).fill(32) },
    ]);
    const { restored, words } = await restore(bytes);
    expect(restored.events.added).toBe(2);
    expect(words).toContain('events/large.jsonl. It is larger than 32 MB, which is the limit.');
  });

  test('many files that come to too much together are refused from there on', async () => {
    const entries = Array.from({ length: 5 }, (_, i) => ({
      kind: 'events',
      path: `events/large-${i}.jsonl`,
      data: new Uint8Array(MB).fill(10),
    }));
    const opened = await openBackup(await backupOf([await honestPiece(), ...entries]), 3 * MB);
    if (!opened.ok) throw new Error(opened.error);
    expect(opened.backup.events).toHaveLength(2);
    const words = opened.backup.refused.filter((r) => r.why.includes('more than 3 MB')).length;
    expect(words).toBe(3);
  });

  test('200 MB of JSON by itself does not verify, in words', async () => {
    const verdict = await verifyFile(new Uint8Array(200 * MB).fill(91));
    expect(verdict).toMatchObject({ ok: false });
    expect(verdict.lines.join()).toContain('which is the limit');
  });

  test('one event of 2 MB is refused', async () => {
    const line = JSON.stringify({ id: 'long', walk: 'w', what: { kind: 'x'.repeat(2 * MB) } });
    const bytes = await backupOf([{ kind: 'events', path: 'events/x.jsonl', data: utf8(line) }]);
    const { restored } = await restore(bytes);
    expect(restored.refused).toEqual([
      { entry: 'long', why: 'It is longer than 1 MB, which is the limit.' },
    ]);
  });
});

test('a file of a million lines that are no events is refused with a short answer', async () => {
  const bytes = await backupOf([
    { kind: 'events', path: 'events/x.jsonl', data: utf8('{}\n'.repeat(1_000_000)) },
  ]);
  const { restored } = await restore(bytes);
  expect(restored.ok).toBe(false);
  expect(restored.text.length).toBeLessThan(110);
  expect(restored.text.join(' ')).toContain('Not restored: 599');
}, 60_000);

describe('contents', () => {
  test.each([
    ['prototype keys', '{"__proto__":{"polluted":true},"v":1}', '"__proto__"'],
    [
      'prototype keys deep inside',
      '{"v":1,"what":{"a":[{"__proto__":{"polluted":true}}]}}',
      '"__proto__"',
    ],
    [
      'nesting without end',
      `{"a":${'['.repeat(50_000)}${']'.repeat(50_000)}}`,
      'nested deeper than 60',
    ],
    ['no JSON', 'rm -rf /', 'not JSON'],
    ['no event', '{"v":1}', 'not an event'],
    [
      'an event with an invented hash',
      '{"v":1,"id":"a","device":"d","walk":null,"aircraft":null,"what":{"kind":"heard"},"prev":null,"hash":"00"}',
      'changed after',
    ],
  ])('%s in an event: refused, the rest restored', async (_name, line, why) => {
    const piece = await honestPiece();
    const bytes = await backupOf([
      piece,
      { kind: 'events', path: 'events/x.jsonl', data: utf8(line) },
    ]);
    const { restored, words } = await restore(bytes);
    expect(restored.events.added).toBe(2);
    expect(restored.refused.length).toBeGreaterThan(0);
    expect(words).toContain(why);
    expect(Reflect.get({}, 'polluted')).toBeUndefined();
  });

  test('script in names is text like any other, restored to the letter', async () => {
    const script = '<script>alert(1)</script><img src=x onerror=alert(1)>';
    const world = countingWorld(4);
    const store = await memoryStore(world);
    const { begun, said } = drafting(world, world.id());
    await store.append([begun({ pilot: script }), said(script)]);
    const { store: other } = await restore(
      new Uint8Array(await (await store.backup()).file.arrayBuffer()),
    );
    expect(await other.walks()).toMatchObject([{ pilot: script }]);
  });

  test('events that claim to come from the device that restores are refused', async () => {
    const store = await memoryStore(countingWorld(60));
    const world = countingWorld(4);
    const forger = await memoryStore(world, { device: store.device });
    const { begun, said } = drafting(world, world.id());
    await forger.append([begun(), said('everything is good')]);
    const restored = await store.restore((await forger.backup()).file);
    expect(restored).toMatchObject({ ok: false, events: { added: 0 } });
    expect(restored.text.join('\n')).toContain('claims to come from this device');
  });

  test('sound that no event names is refused', async () => {
    const data = utf8('RIFF');
    const bytes = await backupOf([
      await honestPiece(),
      {
        kind: 'sound',
        path: 'sound/r/000000.wav',
        data,
        recording: 'r',
        chunk: 0,
        from: 0,
        to: 2,
        mime: 'text/html',
      },
    ]);
    const { restored, words } = await restore(bytes);
    expect(restored.sound.added).toBe(0);
    expect(words).toContain('No event that was taken names this sound');
  });

  test.each([
    ['is no catalogue', { v: 1, id: 'x' }, 'not a catalogue'],
    [
      'has another field',
      { v: 1, id: 'x', name: 'x', kind: 'other', evil: 1, stations: [] },
      'not a catalogue',
    ],
  ])('a catalogue that %s is refused', async (_name, value, why) => {
    const data = utf8(canonical(value));
    const bytes = await backupOf([
      await honestPiece(),
      { kind: 'catalogue', path: 'catalogues/x.json', data, edition: sha256Hex(data) },
    ]);
    const { restored, words } = await restore(bytes);
    expect(restored).toMatchObject({ events: { added: 2 }, catalogues: { added: 0 } });
    expect(words).toContain(why);
  });

  test('an entry named twice in the manifest counts once', async () => {
    const piece = await honestPiece();
    const twice = {
      ...piece,
      bytes: piece.data.length,
      sha256: sha256Hex(piece.data),
      data: undefined,
    };
    const bytes = await backupOf([piece], 0, { entries: [twice, twice] });
    const { restored } = await restore(bytes);
    expect(restored).toMatchObject({ events: { added: 2 } });
    expect(restored.refused).toMatchObject([{ why: 'The manifest names it twice.' }]);
  });
});

describe('a file that is no backup', () => {
  test.each([
    ['empty', new Uint8Array(0), 'not a readable zip'],
    ['a picture', utf8('\u0089PNG'), 'not a readable zip'],
  ])('%s', async (_name, bytes, why) => {
    const { restored } = await restore(bytes);
    expect(restored.ok).toBe(false);
    expect(restored.text.join(' ')).toContain(why);
  });

  test('a zip without a manifest', async () => {
    const { words } = await restore(await zipOf([{ path: 'a.txt', data: utf8('a') }]));
    expect(words).toContain('has no talkround.json');
  });

  test.each([
    ['is not JSON', 'x', 'not JSON'],
    ['comes from a newer Talkround', '{"v":2}', 'Update Talkround'],
    ['is something else', '{"v":1,"format":"other"}', 'not readable at "format"'],
    ['has no format number', '{}', 'no format number'],
  ])('a manifest that %s', async (_name, text, why) => {
    const { words } = await restore(await zipOf([{ path: 'talkround.json', data: utf8(text) }]));
    expect(words).toContain(why);
  });
});
