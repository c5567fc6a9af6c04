import { beforeAll, describe, expect, test } from 'vitest';
import type { Event, Happening } from '#shared/event';
import { memoryStore, verifyFile, type Store } from '#store';
import { chain, hashOf, type Raw } from '../../src/store/chain.ts';
import { sha256Hex } from '../../src/store/canonical.ts';
import { fromBase64Url, makeKey, sealHolds, toBase64Url } from '../../src/store/seal.ts';
import { pack, specimens, type Specimen } from '../ordeal/tamper/specimen.ts';
import { forger, signedWalk, type Forger } from './attack.ts';
import { AIRCRAFT, countingWorld, drafting } from './help.ts';

/* Holes that somebody looked for who means harm, one by one: what is signed is final. */

const fresh = (seed: number) => memoryStore(countingWorld(seed), { device: `reader-${seed}` });
const bytes = async (file: Blob) => new Uint8Array(await file.arrayBuffer());
let mallory: Forger;
let alone: Specimen;
beforeAll(async () => {
  mallory = await forger();
  alone = (await specimens())[0] as Specimen;
});

/** Behind the end of a signed walk, in the name of the device that made it. */
async function behind(what: Happening): Promise<{ store: Store; walk: string }> {
  const { store: maker, walk } = await signedWalk();
  const events = await maker.walk(walk);
  const forged = mallory.chain([{ walk, ...what }], {
    device: maker.device,
    prev: events.at(-1)?.hash ?? null,
  });
  const store = await fresh(71);
  await store.merge([...events, ...forged]);
  return { store, walk };
}

describe('14.1 in the name of the device that made a walk, behind its seal', () => {
  test('a step closes no squawk, and is named', async () => {
    const step = { step: 'closed', by: 'P. Heron', note: null } as const;
    const { store, walk } = await behind({ kind: 'squawk', squawk: 's1', step });
    expect(await store.squawkEvents()).toEqual([]);
    expect((await store.judged(walk)).verdict.remarks.join()).toMatch(
      /Added and not counted: 1 event \(squawk\).*after the end/,
    );
  });

  test('R4 a squawk that it opens is looked at all the same', async () => {
    const fault = {
      words: 'upper bearing cracked',
      check: null,
      part: 'upper bearing',
      side: null,
      position: null,
      conditions: [],
      value: null,
      severity: 'ground' as const,
    };
    const from = { statement: null, heard: null, sound: null, reporter: null, found: null };
    const { store, walk } = await behind({
      kind: 'squawk',
      squawk: 's2',
      step: { step: 'opened', aircraft: AIRCRAFT, fault, ...from, hours: null, legacy: false },
    });
    expect(await store.squawkEvents()).toMatchObject([{ what: { squawk: 's2' } }]);
    expect((await store.judged(walk)).verdict.whole).toBe(true);
  });

  test('what bears on nothing is kept, and the sheet says that no seal covers it', async () => {
    const { store, walk } = await behind({ kind: 'spoken', text: 'All good.', from: 9, to: 10 });
    const { verdict } = await store.judged(walk);
    expect(verdict.whole).toBe(true);
    expect(verdict.text).toContain('Behind it came 1 event that it does not cover (spoken)');
  });
});

describe('14 sound is what the walk names by its hash', () => {
  /** A walk of somebody else that claims the recording of an honest one. */
  async function claim(data: Uint8Array<ArrayBuffer>) {
    const [{ recording, chunk }] = alone.parts.sounds as [Specimen['parts']['sounds'][number]];
    const store = await memoryStore(countingWorld(80), { device: 'mallory' });
    await store.keepCatalogue(alone.parts.edition, alone.parts.catalogue);
    const world = countingWorld(81);
    const walk = world.id();
    const { begun, draft } = drafting(world, walk);
    await store.append([begun()]);
    await store.keepSound({
      walk,
      aircraft: AIRCRAFT,
      t: 0,
      recording,
      chunk,
      place: { recording, from: 0, to: 2 },
      mime: 'audio/wav',
      data: data.slice().buffer,
    });
    await store.append([draft({ kind: 'signed', name: 'M.', certificate: null })]);
    return { file: await bytes((await store.backup()).file), recording, walk };
  }

  test.each(['forged first', 'honest first'] as const)(
    'R4 another walk that claims the same recording takes nothing away: %s',
    async (order) => {
      const forged = Uint8Array.from({ length: 48 }, (_, i) => 255 - i);
      const { file, recording, walk } = await claim(forged);
      const store = await fresh(72);
      const files = order === 'forged first' ? [file, alone.file] : [alone.file, file];
      for (const one of files) expect((await store.restore(one)).refused).toEqual([]);
      const honest = alone.parts.sounds[0]?.data ?? new Uint8Array();
      const heard = async (of: string) => {
        const { counts, after } = await store.judged(of);
        const { chunks, missing } = await store.sound(recording, [...counts, ...after]);
        expect(missing).toEqual([]);
        return chunks.map((c) => sha256Hex(new Uint8Array(c.data)));
      };
      expect(await heard(alone.walk)).toEqual([sha256Hex(honest)]);
      expect(await heard(walk)).toEqual([sha256Hex(forged)]);
      // Both go into a backup and come back from it.
      const again = await fresh(73);
      const restored = await again.restore((await store.backup()).file);
      expect(restored.refused).toEqual([]);
      expect(restored.sound.added).toBe(2);
      // Erased on request is erased wherever it lies.
      await store.eraseSound(recording, 'asked for');
      expect((await store.sound(recording)).chunks).toEqual([]);
      expect(await store.recordings()).toEqual([]);
    },
  );

  test('a piece that the walk names once more behind its end, with another hash, is aside', async () => {
    const events = alone.parts.events as readonly Event[];
    const kept = events.find((e) => e.what.kind === 'sound-kept');
    const other = alone.parts.sounds.map((s) => ({ ...s, data: s.data.map((b) => b ^ 255) }));
    const hash = sha256Hex(other[0]?.data ?? new Uint8Array());
    const forged = mallory.chain(
      [{ walk: alone.walk, ...(kept?.what as Happening & { kind: 'sound-kept' }), hash }],
      { device: alone.device, prev: events.at(-1)?.hash ?? null },
    );
    const file = await pack(
      { ...alone.parts, events: [...events, ...forged], sounds: other },
      { kind: 'old' },
    );
    const store = await fresh(74);
    const restored = await store.restore(file);
    expect(restored.sound.added).toBe(0);
    expect((await store.judged(alone.walk)).verdict.remarks.join()).toContain('names otherwise');
  });
});

describe('14.3 names that could pass for something else', () => {
  test('a walk named like a version of another is taken nowhere, and verify says so', async () => {
    const { store: maker, walk } = await signedWalk();
    const honest = await maker.walk(walk);
    const [mark] = [`${honest[0]?.hash.slice(0, 8)}${honest.at(-2)?.hash.slice(0, 8)}`];
    const forged = await mallory.rewrite(honest, (e) => ({ ...e, walk: `${walk}@${mark}` }), {
      device: mallory.device,
      declare: true,
    });
    const store = await fresh(75);
    await store.merge(honest);
    const merged = await store.merge(forged);
    expect(merged.added).toBe(0);
    expect(merged.refused.length).toBeGreaterThan(0);
    const lines = new TextEncoder().encode(forged.map((e) => JSON.stringify(e)).join('\n'));
    const verdict = await verifyFile(lines);
    expect(verdict.ok).toBe(false);
    expect(verdict.lines.join()).toContain('could pass for something else');
  });
});

describe('14.4 verify is not silent', () => {
  test('when the catalogue by which a walk is counted is not in the file', async () => {
    const parts = { ...alone.parts, edition: 'f'.repeat(64) };
    const said = (await verifyFile(await pack(parts, { kind: 'old' }))).lines.join('\n');
    expect(said).toContain('The catalogue by which a walk is counted is not in this file');
    const honest = (await verifyFile(alone.file)).lines.join('\n');
    expect(honest).not.toContain('The catalogue by which');
  });

  test('when a letter of a key or signature says more than its bytes (RFC 4648, 3.5)', async () => {
    const { publicKey } = await makeKey(undefined);
    const letters = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_';
    const ways = [...letters].map((l) => `${publicKey.slice(0, -1)}${l}`);
    const read = ways.filter((way) => {
      const raw = fromBase64Url(way);
      return raw !== null && toBase64Url(raw) === publicKey;
    });
    expect(read).toEqual([publicKey]);
    expect(fromBase64Url('AB')).toBeNull();
    expect(fromBase64Url('AA')).toEqual(Uint8Array.of(0));
  });

  test('no key of small order seals anything (RFC 8032, strict)', () => {
    const zero = toBase64Url(new Uint8Array(32));
    const one = toBase64Url(Uint8Array.from({ length: 32 }, (_, i) => (i === 0 ? 1 : 0)));
    for (const key of [zero, one])
      for (const r of [zero, one]) {
        const signature = toBase64Url(
          Uint8Array.from([...(fromBase64Url(r) ?? []), ...new Uint8Array(32)]),
        );
        expect(sealHolds(key, signature, 'a'.repeat(64))).toBe(false);
      }
  });
});

test('14 what this version cannot read of a sealed walk is not called whole', async () => {
  const { store: maker, walk } = await signedWalk();
  const events = await maker.walk(walk);
  /** As a newer Talkround would write it: a kind that nobody here knows. */
  const newer = await mallory.rewrite(
    events,
    (e) =>
      e.what.kind === 'heard' && e.what.heard.text.includes('crack')
        ? ({ ...e, what: { kind: 'seen', by: 'camera' } } as unknown as Event)
        : e,
    { declare: true },
  );
  const store = await fresh(76);
  await store.merge(newer);
  const { verdict, counts } = await store.judged(walk);
  expect(counts).toHaveLength(newer.length - 2);
  expect(verdict.whole).toBe(false);
  expect(verdict.remarks[0]).toMatch(/^1 event of this walk cannot be read by this version/);
});

describe('14.2 two seals', () => {
  test('the first that holds is the seal; a second one by another key changes nothing', async () => {
    const { store: maker, walk } = await signedWalk();
    const events = await maker.walk(walk);
    const before = (await maker.judged(walk)).verdict.text;
    const last = events.at(-1) as Event;
    const over = last.hash;
    const raw: Raw = {
      ...last,
      id: countingWorld(5).id(),
      prev: over,
      what: {
        kind: 'sealed',
        publicKey: mallory.key.publicKey,
        signature: await mallory.key.sign(over),
        over,
      },
    };
    const second = { ...raw, hash: hashOf(raw) } as unknown as Event;
    const store = await fresh(77);
    await store.merge([...events, second]);
    const { verdict, counts } = await store.judged(walk);
    expect(counts).toEqual((await maker.judged(walk)).counts);
    expect(verdict.text.split('under')[0]).toBe(before.split('under')[0]);
    expect(verdict.whole).toBe(true);
  });

  test('an amendment in the name of the maker, by another key, stands beside and says so', async () => {
    const { store: maker, walk } = await signedWalk();
    const events = await maker.walk(walk);
    const forged = mallory.chain(
      [{ walk, kind: 'amendment', by: 'P. Heron', note: 'There was no crack.' }],
      { device: maker.device, prev: events.at(-1)?.hash ?? null },
    );
    const store = await fresh(78);
    await store.merge([...events, ...forged]);
    const { besideLines, counts, verdict } = await store.judged(walk);
    expect(counts).toEqual((await maker.judged(walk)).counts);
    expect(verdict.whole).toBe(true);
    expect(besideLines.join()).toContain('not sealed');
    await maker.merge(forged);
    expect((await maker.judged(walk)).besideLines).toEqual([]);
  });

  test('finished and not signed: more may be said, and it is called neither signed nor sealed', async () => {
    const world = countingWorld(9);
    const store = await memoryStore(world);
    const walk = world.id();
    const { begun, said, finished } = drafting(world, walk);
    await store.append([begun(), said('belts good'), finished()]);
    await store.append([said('a crack at the mast')]);
    const { verdict, counts } = await store.judged(walk);
    expect(counts).toHaveLength(4);
    expect(verdict.whole).toBe(false);
    expect(verdict.text).toContain('not signed and not sealed');
    const file = chain([], store.device, null);
    expect(file).toEqual([]);
  });
});
