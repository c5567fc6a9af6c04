import { beforeAll, describe, expect, test } from 'vitest';
import type { Event } from '#shared/event';
import { memoryStore, verifyFile, type Store } from '#store';
import { forger, kinds, oldWalk, signedWalk, words, type Forger } from './attack.ts';
import { countingWorld, drafting } from './help.ts';

const SAID = ['belts good', 'a crack at the upper bearing'];
const lines = (events: readonly unknown[]) =>
  new TextEncoder().encode(events.map((e) => JSON.stringify(e)).join('\n'));
const bytes = async (file: Blob) => new Uint8Array(await file.arrayBuffer());
const fresh = (seed = 50) => memoryStore(countingWorld(seed));

let stranger: Forger;
beforeAll(async () => {
  stranger = await forger();
});

describe('14.1 a file of a made-up device', () => {
  async function attacked() {
    const { store, walk } = await signedWalk();
    const forged = stranger.chain([
      { walk, kind: 'station-set', station: 'nose' },
      { walk, kind: 'decided', decision: 'fly', by: 'Mallory', authority: null, note: null },
      { walk, kind: 'signed', name: 'Mallory', certificate: null },
    ]);
    return { store, walk, forged, merged: await store.merge(forged) };
  }

  test('adds nothing to a signed walk on the device that made it', async () => {
    const { store, walk } = await signedWalk();
    const before = await store.judged(walk);
    const { store: same, merged } = await attacked();
    const after = await same.judged(walk);
    expect(kinds(after.counts)).toEqual(kinds(before.counts));
    expect(merged).toMatchObject({ added: 0, refused: [] });
    expect(merged.aside).toHaveLength(3);
    expect(await same.walks()).toMatchObject([{ decision: 'ground', signed: 'P. Heron' }]);
  });

  test('is told on the sheet: what was added, by whom, when', async () => {
    const { store, walk } = await attacked();
    const { verdict } = await store.judged(walk);
    expect(verdict.whole).toBe(true);
    expect(verdict.text).toMatch(/^This walk is sealed and whole: 6 events, up to the signature/);
    expect(verdict.remarks).toEqual([
      expect.stringMatching(
        /^Added and not counted: 3 events \(station-set, decided, signed\), the first 2026-\S+ \S+ UTC, of device stranger-66\. .*does not belong to this walk\.$/,
      ),
    ]);
  });

  test('is kept: a backup has it, and verify does not say that all is well', async () => {
    const { store, forged } = await attacked();
    const verdict = await verifyFile(await bytes((await store.backup()).file));
    expect(verdict.ok).toBe(false);
    expect(verdict.lines.join('\n')).toContain('Added and not counted: 3 events');
    const ids = (await store.all()).map((e) => e.id);
    for (const e of forged) expect(ids).toContain(e.id);
  });

  test('with its own beginning of the walk is another version, not the walk', async () => {
    const { store, walk } = await signedWalk();
    const forged = await stranger.rewrite(
      await store.walk(walk),
      (e) => (e.what.kind === 'heard' && e.what.heard.text.includes('crack') ? null : e),
      { device: stranger.device, declare: true },
    );
    await store.merge(forged);
    const trust = await store.judged(walk);
    expect(words(trust.counts)).toEqual(SAID);
    expect(trust.verdict.whole).toBe(true);
    expect(trust.versions).toHaveLength(1);
    expect(trust.verdict.remarks[0]).toContain('There is another version of this walk');
    const other = await store.judged(trust.versions[0]?.name ?? '');
    expect(words(other.counts)).toEqual(['belts good']);
    expect(other.verdict.whole).toBe(false);
  });

  test('carries no statement of one walk into another', async () => {
    const { store, walk, world } = await signedWalk();
    const other = world.id();
    const { begun, said } = drafting(world, other);
    const its = await store.append([begun(), said('everything is good')]);
    const moved = await stranger.rewrite(its, (e) => ({ ...e, walk }), { device: store.device });
    const merged = await store.merge(moved);
    expect(merged.added).toBe(0);
    expect(words((await store.judged(walk)).counts)).toEqual(SAID);
    expect(words((await store.judged(other)).counts)).toEqual(['everything is good']);
  });

  test('does not settle a squawk from inside a walk that it does not belong to; what it opens is looked at (R4)', async () => {
    const { store, walk } = await signedWalk();
    await store.merge(
      stranger.chain([
        {
          walk,
          kind: 'squawk',
          squawk: 's1',
          step: { step: 'closed', by: 'Mallory', note: null },
        },
      ]),
    );
    expect(await store.squawkEvents()).toEqual([]);
  });
});

describe('14.2 what is signed is final', () => {
  test('nothing that counts is written into a signed walk', async () => {
    const { store, walk, world } = await signedWalk();
    const { said, draft } = drafting(world, walk);
    await expect(store.append([said('belts good')])).rejects.toThrow(
      /signed and sealed: nothing more is written into it.*debrief, or begin a new walk/,
    );
    await expect(
      store.append([draft({ kind: 'signed', name: 'Again', certificate: null })]),
    ).rejects.toThrow(/signed and sealed/);
    expect((await store.judged(walk)).verdict.whole).toBe(true);
  });

  test('the seal is in the same write as the signature', async () => {
    const { store, walk } = await signedWalk();
    expect(kinds(await store.walk(walk)).slice(-2)).toEqual(['signed', 'sealed']);
  });

  test('what an older version let into a signed walk is named and not counted', async () => {
    const { store, walk, world } = await signedWalk();
    const events = await store.walk(walk);
    const { said } = drafting(world, walk);
    const late = stranger.chain([{ walk, ...said('belts good').what }], {
      device: store.device,
      prev: events.at(-1)?.hash ?? null,
    });
    const other = await fresh();
    await other.merge([...events, ...late]);
    const { counts, verdict } = await other.judged(walk);
    expect(words(counts)).toEqual(SAID);
    expect(verdict.remarks).toEqual([
      expect.stringContaining('Added and not counted: 1 event (heard)'),
    ]);
  });

  test('a review stands beside it, sealed by whoever reviewed, and never among what counts', async () => {
    const { store, walk } = await signedWalk();
    const school = await fresh();
    await school.nameDevice('School tablet');
    await school.merge(await store.walk(walk));
    const { draft } = drafting(countingWorld(90), walk);
    const review = draft({
      kind: 'reviewed',
      by: 'I. Structor',
      note: '',
      of: { kind: 'standing', check: 'belts', standing: 'unspoken' },
    });
    expect(kinds(await school.append([review]))).toEqual(['reviewed', 'sealed']);
    await store.merge(await school.all());
    for (const s of [school, store]) {
      const trust = await s.judged(walk);
      expect(kinds(trust.counts)).not.toContain('reviewed');
      expect(kinds(trust.beside)).toEqual(['reviewed']);
      expect(trust.verdict).toMatchObject({ whole: true, remarks: [] });
      expect(trust.besideLines[0]).toMatch(/^Reviewed by I\. Structor, .*key/);
    }
    expect((await store.judged(walk)).besideLines[0]).toContain('“School tablet”');
    expect((await verifyFile(await bytes((await store.backup()).file))).ok).toBe(true);
    // A device that the walk has not let in adds nothing else to it.
    const { said } = drafting(countingWorld(91), walk);
    await expect(school.append([said('belts good')])).rejects.toThrow(/begun on another device/);
  });

  test('a review that was taken out from among others is missed', async () => {
    const { store, walk, world } = await signedWalk();
    const { draft } = drafting(world, walk);
    const review = (note: string) =>
      draft({
        kind: 'reviewed',
        by: 'I. Structor',
        note,
        of: { kind: 'standing', check: 'belts', standing: 'unspoken' },
      });
    const [first] = await store.append([review('one')]);
    await store.append([review('two')]);
    const left = (await store.walk(walk)).filter((e) => e.id !== first?.id);
    const verdict = await verifyFile(lines(left));
    expect(verdict.ok).toBe(false);
    expect(verdict.lines.join('\n')).toContain('a part is missing or was put in');
  });
});

describe('14.3 the app takes nothing that verify refuses', () => {
  test('a signed walk whose end was cut off is nowhere called whole', async () => {
    const { store, walk } = await signedWalk();
    const events = await store.walk(walk);
    for (const cut of [1, 2, 3]) {
      const left = events.slice(0, -cut);
      const other = await fresh();
      await other.merge(left);
      const { verdict } = await other.judged(walk);
      expect(verdict.whole).toBe(false);
      expect(verdict.text).toMatch(/NOT sealed|not signed and not sealed/);
      const said = (await verifyFile(lines(left))).lines.join('\n');
      expect(said).toContain(verdict.text);
      expect(said).toContain('0 walks of 1 sealed and whole');
    }
  });
});

describe('14.4 verify is not silent', () => {
  test.each<
    [string, (e: readonly Event[]) => Promise<readonly unknown[]> | readonly unknown[], string]
  >([
    ['the seal is gone', (e) => e.slice(0, -1), 'was signed and is NOT sealed'],
    [
      'a finding is removed and all is sealed again under a new key',
      (e) => stranger.rewrite(e, (x) => (words([x])[0]?.includes('crack') ? null : x)),
      'is NOT sealed by the key that it was begun with',
    ],
    [
      'a finding is removed and nothing is sealed',
      (e) =>
        stranger.rewrite(e, (x) => (words([x])[0]?.includes('crack') ? null : x), {
          sealed: false,
        }),
      'was signed and is NOT sealed',
    ],
    [
      'its seal is replaced by one of a new key',
      (e) => stranger.rewrite(e, (x) => x),
      'is NOT sealed by the key that it was begun with',
    ],
    [
      'an event hangs on after the seal',
      (e) => [
        ...e,
        ...stranger.chain([{ walk: e[0]?.walk ?? '', kind: 'station-set', station: 'nose' }], {
          device: e[0]?.device ?? '',
          prev: e.at(-1)?.hash ?? null,
        }),
      ],
      'Added and not counted: 1 event (station-set)',
    ],
  ])('when %s', async (_name, change, sentence) => {
    const { store, walk } = await signedWalk();
    const verdict = await verifyFile(lines(await change(await store.walk(walk))));
    expect(verdict.lines.join('\n')).toContain(sentence);
    expect(verdict.ok).toBe(false);
  });

  test('when all of it is made anew, the beginning with it: the key asked for is not there', async () => {
    const { store, walk } = await signedWalk();
    const [own] = await store.devices();
    const forged = await stranger.rewrite(
      await store.walk(walk),
      (x) => (words([x])[0]?.includes('crack') ? null : x),
      { declare: true },
    );
    // Nobody can tell from the file alone; the words of the key are in it to be compared.
    const alone = (await verifyFile(lines(forged))).lines.join('\n');
    expect(alone).not.toContain(own?.words);
    expect(alone).toContain('nobody has compared it');
    const asked = await verifyFile(lines(forged), [own?.words ?? '']);
    expect(asked.ok).toBe(false);
    expect(asked.lines.join('\n')).toContain('not sealed by the key that was asked for');
    expect((await verifyFile(lines(await store.walk(walk)), [own?.words ?? ''])).ok).toBe(true);
  });

  test('when of two older walks one is sealed by a new key: the device has two', async () => {
    const one = await signedWalk(1);
    const { world, store } = one;
    const second = world.id();
    const { begun, draft } = drafting(world, second);
    await store.append([begun(), draft({ kind: 'signed', name: 'P. Heron', certificate: null })]);
    const all = await oldWalk(await store.all(), (await forger(3)).key);
    expect((await verifyFile(lines(all))).ok).toBe(true);
    const cut = all.findIndex((e) => e.walk === second);
    const forged = [
      ...all.slice(0, cut),
      ...(await oldWalk(all.slice(cut), stranger.key)).map((e) => e),
    ];
    const again = await rechained(forged, cut);
    const verdict = await verifyFile(lines(again));
    expect(verdict.lines.join('\n')).toContain('a NEW key');
    expect(verdict.ok).toBe(false);
  });
});

/** Chained and sealed anew from an event on, by the stranger's key, as older versions did. */
async function rechained(events: readonly Event[], from: number): Promise<readonly Event[]> {
  const before = events[from - 1];
  const rest = events.slice(from);
  const chained = stranger.rewrite(
    [{ ...(rest[0] as Event), prev: before?.hash ?? null }, ...rest.slice(1)],
    (e) => e,
    { sealed: false },
  );
  const out = [...(await chained)];
  const prev = out.at(-1)?.hash ?? '';
  const [seal] = stranger.chain(
    [
      {
        walk: rest[0]?.walk ?? '',
        kind: 'sealed',
        publicKey: stranger.key.publicKey,
        signature: await stranger.key.sign(prev),
        over: prev,
      },
    ],
    { device: rest[0]?.device ?? '', prev },
  );
  return [...events.slice(0, from), ...out, ...(seal === undefined ? [] : [seal])];
}

describe('14.5 forged first, honest second', () => {
  async function both(order: 'forged first' | 'honest first', old: boolean, target: Store) {
    const { store, walk } = await signedWalk();
    const key = (await forger(3)).key;
    const now = await store.walk(walk);
    const honest = old ? await oldWalk(now, key) : now;
    const drop = (x: Event) => (words([x])[0]?.includes('crack') ? null : x);
    const cut = old
      ? await oldWalk(
          honest.filter((x) => drop(x) !== null),
          stranger.key,
        )
      : await stranger.rewrite(honest, drop, { declare: true });
    for (const part of order === 'forged first' ? [cut, honest] : [honest, cut])
      await target.merge(part);
    return walk;
  }

  test.each([
    ['forged first', false],
    ['honest first', false],
    ['forged first', true],
    ['honest first', true],
  ] as const)('R4 %s (older walk: %s): both versions are kept and told', async (order, old) => {
    const target = await fresh();
    const walk = await both(order, old, target);
    const trust = await target.judged(walk);
    expect(trust.verdict.whole).toBe(false);
    expect(trust.verdict.remarks.join('\n')).toContain('another version of this walk');
    const other = await target.judged(trust.versions[0]?.name ?? '');
    expect([...words(trust.counts), ...words(other.counts)]).toContain(SAID[1]);
  });

  test('a known device with a new key is announced, and the compared key is believed', async () => {
    const target = await fresh();
    const { store, walk } = await signedWalk();
    const honest = await store.walk(walk);
    const first = await target.merge(honest);
    expect(first.announced).toEqual([expect.stringMatching(/^Device .* is new here\. Its key is/)]);
    const forged = await stranger.rewrite(honest, (x) => x, { declare: true });
    const second = await target.merge(forged);
    expect(second.announced).toEqual([
      expect.stringMatching(/was known here by the key .* now seals with another/),
    ]);
    const [, known] = await target.devices();
    const [own] = await store.devices();
    expect(known?.words).toBe(own?.words);
    await target.compareKey(known?.publicKey ?? '', true);
    expect((await target.judged(walk)).verdict).toMatchObject({ whole: true });
  });
});
