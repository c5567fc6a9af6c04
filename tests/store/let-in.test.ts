import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Draft, Happening } from '#shared/event';
import { memoryStore, verifyFile, type Store } from '#store';
import { chain, linkOf, type Raw } from '../../src/store/chain.ts';
import { held as heldEvent } from '../../src/store/trust/held.ts';
import { judgeWalk } from '../../src/store/trust/judge.ts';
import { poolOf } from '../../src/store/trust/pool.ts';
import { forger, kinds, words } from './attack.ts';
import { countingWorld, drafting } from './help.ts';

const LATE = 'a crack at the left skid';

/** A walk on one device that has let a second one in, and what each of them drafts. */
async function two(key?: string) {
  const [a, b] = [countingWorld(1), countingWorld(2)];
  const [first, second] = [await memoryStore(a), await memoryStore(b)];
  const walk = a.id();
  const mine = drafting(a, walk);
  const theirs = drafting(b, walk);
  const publicKey = key ?? (await second.publicKey());
  await first.append([
    mine.begun(),
    mine.said('belts good'),
    mine.draft({ kind: 'let-in', device: second.device, publicKey, by: 'P. Heron' }),
  ]);
  await second.merge(await first.all());
  const sign = () =>
    first.append([mine.draft({ kind: 'signed', name: 'P. Heron', certificate: null })]);
  return { first, second, walk, mine, theirs, sign };
}

const counted = async (store: Store, walk: string) => words((await store.judged(walk)).counts);

test('14.2 what a device that was let in seals after the signature neither counts nor spoils the seal', async () => {
  const { first, second, walk, theirs, sign } = await two();
  await second.append([theirs.said(LATE)]);
  await sign();
  await second.seal(walk);
  await first.merge(await second.all());
  const { verdict, counts } = await first.judged(walk);
  expect(words(counts)).toEqual(['belts good']);
  expect(verdict.whole).toBe(true);
  // R4: a finding that came too late is told in its words.
  expect(verdict.remarks.join('\n')).toMatch(
    /Added and not counted: 2 events \(heard, sealed\).*was let in.*after the signature/,
  );
  expect(verdict.remarks.join('\n')).toContain(`“${LATE}”`);
});

test('R10 what this device said in a walk that let it in is there when it goes on, sealed or not', async () => {
  const { second, walk, theirs } = await two();
  await second.append([theirs.said('skids good')]);
  expect(await counted(second, walk)).toEqual(['belts good', 'skids good']);
  await second.seal(walk);
  await second.append([theirs.said('nose good')]);
  expect(await counted(second, walk)).toEqual(['belts good', 'skids good', 'nose good']);
});

test('R6 a device that was let in seals again what it adds later, and all of it counts', async () => {
  const { first, second, walk, theirs, sign } = await two();
  await second.append([theirs.said('skids good')]);
  await second.seal(walk);
  expect(await first.merge(await second.all())).toMatchObject({ aside: [], refused: [] });
  await second.append([theirs.said('nose good')]);
  expect((await first.merge(await second.all())).aside).toHaveLength(1);
  expect(await counted(first, walk)).toEqual(['belts good', 'skids good']);
  expect((await first.judged(walk)).verdict.remarks.join('\n')).toContain('has not sealed it yet');
  await second.seal(walk);
  await first.merge(await second.all());
  expect(await counted(first, walk)).toEqual(['belts good', 'skids good', 'nose good']);
  await sign();
  expect((await first.judged(walk)).verdict).toMatchObject({ whole: true, remarks: [] });
  expect((await verifyFile(await bytes(first))).ok).toBe(true);
  // Once the signature is here nothing more is said in it here either.
  await second.merge(await first.all());
  await expect(second.append([theirs.said(LATE)])).rejects.toThrow(/signed and sealed/);
});

test.each([
  ['finished', { kind: 'finished', open: [] }],
  ['decided', { kind: 'decided', decision: 'fly', by: 'B', authority: null, note: null }],
  ['signed', { kind: 'signed', name: 'B', certificate: null }],
  ['discarded', { kind: 'discarded', how: 'touched', why: null }],
  ['let-in', { kind: 'let-in', device: 'c', publicKey: 'k', by: null }],
] as [string, Happening][])(
  'R9 a device that was let in does not end the walk: %s',
  async (kind, what) => {
    const { first, second, walk, theirs } = await two();
    await expect(second.append([theirs.draft(what)])).rejects.toThrow(
      /Only the device that began this walk/,
    );
    // Written by another program, it counts nowhere.
    const raw = await otherProgram(second, theirs.draft(what));
    await first.merge(raw);
    expect(kinds((await first.judged(walk)).counts)).not.toContain(
      kind === 'let-in' ? 'discarded' : kind,
    );
    expect((await first.judged(walk)).verdict.remarks.join('\n')).toContain(
      'Added and not counted',
    );
  },
);

test('14.1 a device is let in by its key, not by its name: another key of it adds nothing', async () => {
  const { first, second, walk, theirs } = await two('A'.repeat(43));
  await second.append([theirs.said('skids good')]);
  await second.seal(walk);
  await first.merge(await second.all());
  expect(await counted(first, walk)).toEqual(['belts good']);
});

/** A draft written behind what a device has, by a program that does not ask who may. */
async function otherProgram(store: Store, ...drafts: Draft[]) {
  const all = await store.all();
  const head = all.filter((e) => e.device === store.device).at(-1)?.hash ?? null;
  return [...all, ...chain(drafts, store.device, head).map((c) => c.event)];
}

async function bytes(store: Store) {
  return new Uint8Array(await (await store.backup()).file.arrayBuffer());
}

test('14.1 a stranger who writes in the name of a device that was let in adds nothing and hides nothing', async () => {
  const { first, second, walk, theirs, sign } = await two();
  await second.append([theirs.said('skids good'), theirs.said(LATE)]);
  await second.seal(walk);
  const honest = await second.all();
  const seal = honest.findLast((e) => e.what.kind === 'sealed');
  const said = honest.filter((e) => e.device === second.device);
  const stranger = await forger();
  const forged = [
    // Behind an honest event, between two of them, and hanging on nothing.
    ...[said[0]?.hash ?? null, said[1]?.hash ?? null, 'f'.repeat(64)].flatMap((prev) =>
      stranger.chain([{ walk, kind: 'station-set', station: 'nose' }], {
        device: second.device,
        prev,
      }),
    ),
    // A seal that says the right things under the right key, with a signature that is not its own.
    ...stranger.chain(
      [
        {
          walk,
          ...(seal?.what as Extract<Happening, { kind: 'sealed' }>),
          signature: await stranger.key.sign('0'.repeat(64)),
        },
      ],
      { device: second.device, prev: seal?.prev ?? null },
    ),
  ];
  for (const order of [
    [forged, honest],
    [honest, forged],
  ]) {
    const device = await copyOf(first);
    for (const part of order) await device.merge(part);
    expect(await counted(device, walk)).toEqual(['belts good', 'skids good', LATE]);
    expect(kinds((await device.judged(walk)).counts)).not.toContain('station-set');
  }
  await first.merge(forged);
  await first.merge(honest);
  await sign();
  const { verdict, counts } = await first.judged(walk);
  expect(words(counts)).toEqual(['belts good', 'skids good', LATE]);
  expect(verdict.whole).toBe(true);
  expect(kinds(counts)).not.toContain('station-set');
  // And what comes after the signature changes nothing of it either.
  const more = stranger.chain([{ walk, kind: 'station-set', station: 'tail' }], {
    device: second.device,
    prev: said[0]?.hash ?? null,
  });
  await first.merge(more);
  expect((await first.judged(walk)).verdict.whole).toBe(true);
});

test('14.1 a seal with a signature that is not its own brings nothing in, also at the signature', async () => {
  const { first, second, walk, theirs, sign } = await two();
  await second.append([theirs.said('skids good')]);
  const before = await second.all();
  await second.seal(walk);
  const seal = (await second.all()).findLast((e) => e.what.kind === 'sealed');
  const stranger = await forger();
  const forged = stranger.chain(
    [
      {
        walk,
        ...(seal?.what as Extract<Happening, { kind: 'sealed' }>),
        signature: await stranger.key.sign('0'.repeat(64)),
      },
    ],
    { device: second.device, prev: seal?.prev ?? null },
  );
  await first.merge([...before, ...forged]);
  expect(words(await first.counted(walk))).toEqual(['belts good']);
  await sign();
  const { verdict, counts } = await first.judged(walk);
  expect(words(counts)).toEqual(['belts good']);
  expect(verdict.whole).toBe(true);
});

async function copyOf(store: Store) {
  const copy = await memoryStore(countingWorld(9));
  await copy.merge(await store.all());
  return copy;
}

const SEED = 20260301;

test(`14.1 in whatever order what was said, sealed and forged arrives, the same counts (seed ${SEED})`, async () => {
  const { first, second, walk, theirs } = await two();
  await second.append([theirs.said('skids good')]);
  await second.seal(walk);
  await second.append([theirs.said(LATE)]);
  await second.seal(walk);
  const all = await second.all();
  const stranger = await forger();
  const forged = all
    .filter((e) => e.device === second.device)
    .flatMap(({ hash }) =>
      stranger.chain([{ walk, kind: 'station-set', station: 'nose' }], {
        device: second.device,
        prev: hash,
      }),
    );
  const events = [...all, ...forged];
  const held = events.flatMap((raw) => {
    const link = linkOf(raw);
    return link === null ? [] : [heldEvent(link, () => raw as unknown as Raw, 'new')];
  });
  const counts = (of: typeof held) =>
    judgeWalk(walk, poolOf(of)).version?.counts.map((e) => e.hash);
  const honest = counts(held.slice(0, all.length));
  expect(honest).toHaveLength(5);
  fc.assert(
    fc.property(fc.shuffledSubarray(held, { minLength: held.length }), (shuffled) => {
      expect(counts(shuffled)).toEqual(honest);
    }),
    { seed: SEED, numRuns: 60 },
  );
  await first.merge(events);
  expect(await counted(first, walk)).toEqual(['belts good', 'skids good', LATE]);
});

test('14.1 R4 where a file lacks what a device wrote elsewhere in between, a forgery spoils nothing, first or second', async () => {
  const { first, second, walk, theirs, sign } = await two();
  const other = drafting(countingWorld(7), 'another-walk');
  await second.append([theirs.said('skids good')]);
  await second.append([other.begun()]);
  await second.append([theirs.said(LATE)]);
  await second.seal(walk);
  const alone = async (store: Store) => (await store.all()).filter((e) => e.walk === walk);
  await first.merge(await alone(second));
  expect(await counted(first, walk)).toEqual(['belts good', 'skids good', LATE]);
  await sign();
  const honest = await alone(first);
  const stranger = await forger();
  const [said] = honest.filter((e) => e.device === second.device);
  const forged = stranger.chain([{ walk, kind: 'station-set', station: 'nose' }], {
    device: second.device,
    prev: said?.hash ?? null,
  });
  for (const order of [
    [honest, forged],
    [forged, honest],
  ]) {
    const target = await memoryStore(countingWorld(8));
    for (const part of order) await target.merge(part);
    const { verdict, counts } = await target.judged(walk);
    expect(words(counts)).toEqual(['belts good', 'skids good', LATE]);
    expect(verdict.whole).toBe(true);
    expect(verdict.remarks.join('\n')).toContain('Added and not counted: 1 event (station-set)');
  }
});
