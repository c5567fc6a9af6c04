import { expect, test } from 'vitest';
import type { Event } from '#shared/event';
import { memoryStore } from '#store';
import { MAX_LINES } from '../../src/store/trust/lines.ts';
import { chain, hashOf, type Raw } from '../../src/store/chain.ts';
import { forger, signedWalk, words } from './attack.ts';
import { countingWorld, uuid7 } from './help.ts';

/*
 * Issue 14, points 1 and 5, in numbers: more versions of one walk than are told
 * apart, each older by its id than the honest one. Once one file of 32 beginnings
 * took the signed walk from the sheet of the very device that had made it.
 */

const SAID = ['belts good', 'a crack at the upper bearing'];
const mallory = await forger();

/** Beginnings of the same walk, as many as wanted, with ids from long ago. */
function beginnings(honest: readonly Event[], many: number, device: string): Event[] {
  const [begun] = honest;
  if (begun?.what.kind !== 'walk-begun') throw new Error('Not begun.');
  const { what } = begun;
  return Array.from({ length: many }, (_, n) =>
    hashed({
      ...begun,
      id: uuid7(1, n),
      device,
      prev: null,
      what: { ...what, key: mallory.key.publicKey, pilot: `M. ${n}` },
    }),
  );
}

const hashed = (raw: Omit<Event, 'hash'>): Event => {
  const { hash: _hash, ...rest } = { hash: '', ...raw };
  void _hash;
  return { ...rest, hash: hashOf(rest as unknown as Raw) };
};

/** Ways that leave the honest chain at one event, each with another word. */
function forksAt(honest: readonly Event[], at: number, many: number): Event[] {
  const from = honest[at];
  const heard = honest.find((e) => e.what.kind === 'heard');
  if (from === undefined || heard?.what.kind !== 'heard') throw new Error('Nothing to fork.');
  const { what } = heard;
  return Array.from({ length: many }, (_, n) => {
    const id = uuid7(2, n + at * 1000);
    const { walk, aircraft, at: time, t } = heard;
    const said = { ...what, heard: { ...what.heard, id, text: `belts good ${n}` } };
    const draft = { v: 1 as const, id, walk, aircraft, at: time, t, what: said };
    return chain([draft], from.device, from.hash).map((c) => c.event);
  }).flat();
}

const COUNTS = [MAX_LINES - 1, MAX_LINES, MAX_LINES + 1, 3 * MAX_LINES];

test.each(COUNTS.flatMap((n) => [[n, 'made-up'] as const, [n, 'own'] as const]))(
  '14.1 R6 %i beginnings of a %s device take nothing from the sheet of the device that made the walk',
  async (many, whose) => {
    const { store, walk } = await signedWalk();
    const before = await store.judged(walk);
    const honest = await store.walk(walk);
    const device = whose === 'own' ? store.device : 'made-up';
    const forged = beginnings(honest, many, device);
    for (const some of [forged.slice(0, many / 2), forged.slice(many / 2)]) await store.merge(some);
    await store.merge(forged);
    const after = await store.judged(walk);
    expect(words(after.counts)).toEqual(SAID);
    expect(after.verdict).toMatchObject({ whole: true, text: before.verdict.text });
    expect(await store.walks()).toMatchObject([{ own: true, decision: 'ground' }]);
    // What is signed is final, also now.
    await expect(store.append([draftIn(honest)])).rejects.toThrow('signed and sealed');
  },
);

function draftIn([begun]: readonly Event[]) {
  const { walk, aircraft, at } = begun as Event;
  const what = { kind: 'resumed' as const };
  return { v: 1 as const, id: uuid7(3, 3), walk, aircraft, at, t: 5, what };
}

test.each(COUNTS)(
  '14.5 R4 %i forged beginnings first, the honest file second: its finding is there',
  async (many) => {
    const { store, walk } = await signedWalk();
    const honest = await store.walk(walk);
    const receiver = await memoryStore(countingWorld(7), { device: 'receiver' });
    await receiver.merge(beginnings(honest, many / 2, 'made-up'));
    await receiver.merge(beginnings(honest, many, store.device));
    // More at once than are told apart are refused, and told there.
    const isTaken = (await receiver.all()).length > 0;
    expect(await receiver.merge(honest)).toMatchObject({ refused: [] });
    const { counts, verdict } = await receiver.judged(walk);
    expect(words(counts)).toEqual(SAID);
    expect(verdict.remarks.join('\n').includes('another version of this walk')).toBe(isTaken);
  },
);

test.each(COUNTS)(
  '14.5 R4 %i forks of the honest chain first, the honest rest second: its finding is there',
  async (many) => {
    const { store, walk } = await signedWalk();
    const honest = await store.walk(walk);
    const receiver = await memoryStore(countingWorld(7), { device: 'receiver' });
    const [second] = forksAt(honest, 1, 1);
    if (second === undefined) throw new Error('No fork.');
    // One of them is the walk here, and many leave it earlier.
    await receiver.merge([...honest.slice(0, 2), second]);
    await receiver.merge([...honest.slice(0, 2), ...forksAt(honest, 0, many)]);
    expect(await receiver.merge(honest)).toMatchObject({ refused: [] });
    expect(words((await receiver.judged(walk)).counts)).toEqual(SAID);
  },
);

test('14.5 R4 also among more sealed forgeries than are told apart, a walk by a compared key is the walk', async () => {
  const { store, walk } = await signedWalk();
  const honest = await store.walk(walk);
  const receiver = await memoryStore(countingWorld(7), { device: 'receiver' });
  const publicKey = await store.publicKey();
  await receiver.meetDevice({ device: store.device, publicKey, name: 'Hangar phone' });
  for (let n = 0; n < MAX_LINES + 2; n += 1) {
    const forged = await mallory.rewrite(
      honest,
      (e) => (words([e]).includes(SAID[1] ?? '') ? null : { ...e, id: uuid7(5, n * 100 + at(e)) }),
      { declare: true },
    );
    await receiver.merge(forged);
  }
  await receiver.merge(honest);
  const { counts, verdict } = await receiver.judged(walk);
  expect(words(counts)).toEqual(SAID);
  expect(verdict.whole).toBe(true);

  function at(event: Event): number {
    return honest.findIndex((e) => e.id === event.id);
  }
});

test.each([1, MAX_LINES + 1])(
  '14.5 R4 %i forged seals over the honest signature first, the honest file second: it is taken, and whole',
  async (many) => {
    const { store, walk } = await signedWalk();
    const honest = await store.walk(walk);
    const forged = forgedSeals(honest, many);
    const receiver = await memoryStore(countingWorld(7), { device: 'receiver' });
    await receiver.merge(forged);
    expect(await receiver.merge(honest)).toMatchObject({ added: honest.length, refused: [] });
    const { counts, verdict } = await receiver.judged(walk);
    expect(words(counts)).toEqual(SAID);
    expect(verdict.text).toContain('This walk is sealed and whole: 6 events');
    expect(await receiver.walks()).toMatchObject([{ sealed: true, decision: 'ground' }]);
  },
);

/** The seal of a walk with signatures of nobody's; the first one under the id of an honest event. */
function forgedSeals(honest: readonly Event[], many: number): Event[] {
  const seal = honest.findLast((e) => e.what.kind === 'sealed');
  if (seal?.what.kind !== 'sealed') throw new Error('Not sealed.');
  const { what } = seal;
  return Array.from({ length: many }, (_, n) => {
    const id = n === 0 ? (honest[1]?.id ?? '') : uuid7(4, n);
    return hashed({ ...seal, id, what: { ...what, signature: 'A'.repeat(86) } });
  });
}

test('14.4 R6 a review keeps its seal on the sheet, however many forged seals come beside it', async () => {
  const { store, walk, world } = await signedWalk();
  await store.append([
    {
      v: 1,
      id: world.id(),
      walk,
      aircraft: 'R-102',
      at: world.now(),
      t: null,
      what: { kind: 'amendment', by: 'P. Heron', note: 'Seen again.' },
    },
  ]);
  const before = (await store.judged(walk)).besideLines;
  const seal = (await store.walk(walk)).findLast((e) => e.what.kind === 'sealed');
  if (seal?.what.kind !== 'sealed') throw new Error('Not sealed.');
  const { what } = seal;
  const forged = Array.from({ length: 80 }, (_, n) => {
    const id = `ffffffff-0000-7000-8000-${String(n).padStart(12, '0')}`;
    return hashed({ ...seal, id, what: { ...what, signature: 'A'.repeat(86) } });
  });
  await store.merge(forged);
  expect((await store.judged(walk)).besideLines).toEqual(before);
});
