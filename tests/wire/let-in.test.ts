import { expect, test } from 'vitest';
import { countOf } from '#shared/counts';
import { codeText } from '../../src/wire/key-code.ts';
import { lettingIn } from '../../src/wire/let-in.ts';
import { houseFor, testWorld } from './house.ts';

const settle = () => new Promise((resolve) => setTimeout(resolve, 20));
type Made = Awaited<ReturnType<typeof houseFor>> & { world: ReturnType<typeof testWorld> };

async function device(ids: number): Promise<Made> {
  const world = testWorld('2026-03-01T08:00:00Z');
  for (let n = 0; n < ids; n += 1) world.id();
  return { ...(await houseFor(world)), world };
}

const taken = <T>(outcome: { ok: true; value: T } | { ok: false; error: string }): T => {
  if (!outcome.ok) throw new Error(outcome.error);
  return outcome.value;
};
const offered = <T>(way: T | undefined): T => {
  if (way === undefined) throw new Error('It is not offered.');
  return way;
};
const opened = async (of: Made, walk: string) => taken(await of.house.open(walk));

async function give(from: Made, to: Made, walk: string): Promise<string> {
  const { name, blob } = taken(await offered(from.house.walkFile)(walk));
  return taken(await to.house.restore(new File([blob], name), () => undefined)).text;
}

/** A walk on one device, and the code of another one as a camera reads it. */
async function two() {
  const [a, b] = [await device(0), await device(5000)];
  const walk = taken(
    await a.house.begin({
      aircraft: 'Rowan 2',
      catalogue: 'training-helicopter',
      circumstances: [],
      pilot: 'M. Alder',
      instructor: null,
      hours: 100,
      ear: 'typed',
    }),
  );
  a.world.pass(5);
  await a.house.say('battery good');
  await b.house.nameDevice?.('School tablet');
  const [own] = taken(await offered(b.house.keys)());
  if (own === undefined) throw new Error('no key');
  return { a, b, walk, own, code: codeText(own) };
}

test('14 a second device is let in by its code, adds to the walk, hands it over, and all of it is signed', async () => {
  const { a, b, walk, own, code } = await two();
  const key = taken(await offered(a.house.readKey)(`read by a camera:\n${code}`));
  expect(key).toMatchObject({ words: own.words, name: 'School tablet', compared: false });
  const record = taken(await offered(a.house.letIn)(walk, key, 'M. Alder'));
  expect(record.devices).toMatchObject({
    role: 'own',
    open: true,
    letIn: [{ name: 'School tablet', words: own.words, by: 'M. Alder', said: 0 }],
  });
  // Two people compared the words: that is remembered of the key as well.
  expect(taken(await offered(a.house.keys)())[1]).toMatchObject({ compared: true });

  await give(a, b, walk);
  expect((await opened(b, walk)).devices?.role).toBe('guest');
  b.world.pass(60);
  expect(await b.house.takeUp(walk)).toMatchObject({ ok: true });
  expect(b.house.walk.get()?.guest).toBe(true);
  await b.house.say('left skid tube is cracked, ground it');
  await settle();
  // R9: what ends a walk is for the device that began it, by touch and by voice.
  for (const no of [
    b.house.finish(),
    b.house.decide('fly', 'B', null, null),
    b.house.discard(walk, null),
    b.house.say('finish the walk'),
  ])
    expect(await no).toEqual({ ok: false, error: expect.stringContaining('another device') });
  expect(b.house.walk.get()?.coverage.finished).toBe(false);
  expect(b.house.walk.get()?.coverage.discarded).toBeUndefined();
  await b.house.hold();
  await settle();
  expect(await offered(b.house.handOver)(walk)).toEqual({ ok: true, value: null });
  expect(b.house.walk.get()).toBeNull();

  const before = countOf((await opened(a, walk)).coverage.checks).spoken;
  await give(b, a, walk);
  // It is in the walk that goes on here, and B's hold and "finish" are not.
  const now = a.house.walk.get();
  expect(now?.coverage.findings.map((f) => f.words).join()).toContain('cracked');
  expect(now?.coverage).toMatchObject({ held: false, finished: false });
  expect(countOf(now?.coverage.checks ?? []).spoken).toBeGreaterThan(before - 1);
  expect((await opened(a, walk)).devices?.letIn[0]?.said).toBeGreaterThan(0);
  await a.house.finish();
  expect(await a.house.decide('ground', 'M. Alder', null, null)).toMatchObject({ ok: true });
  expect(await a.house.sign('M. Alder', null)).toMatchObject({ ok: true });
  const signed = await opened(a, walk);
  expect(signed.seal).toMatchObject({ whole: true, remarks: [] });
  expect(signed.coverage.findings.map((f) => f.words).join()).toContain('cracked');
  expect(signed.devices?.open).toBe(false);

  // Signed is final on both.
  await give(a, b, walk);
  expect((await opened(b, walk)).seal).toMatchObject({ whole: true, remarks: [] });
  expect(await b.house.takeUp(walk)).toMatchObject({ ok: false });
  expect(await offered(b.house.handOver)(walk)).toMatchObject({ ok: false });
  expect(await offered(a.house.letIn)(walk, key, 'M. Alder')).toEqual({
    ok: false,
    error: 'This walk is over: nobody is let in any more.',
  });
});

test('14 only the device that began a walk lets another one in, and only by a name', async () => {
  const { a, b, walk, code } = await two();
  const key = taken(await offered(a.house.readKey)(code));
  expect(await offered(a.house.letIn)(walk, key, ' ')).toMatchObject({ ok: false });
  await give(a, b, walk);
  expect(await b.house.takeUp(walk)).toEqual({
    ok: false,
    error: expect.stringContaining('let this one in'),
  });
  const [mine] = taken(await offered(a.house.keys)());
  if (mine === undefined) throw new Error('no key');
  expect(await offered(b.house.letIn)(walk, mine, 'B')).toMatchObject({
    ok: false,
    error: expect.stringContaining('Only the device that began'),
  });
});

test('14 a code whose words are not those of its key, that is cut, or of this very device is refused in one sentence', async () => {
  const { a, own, code } = await two();
  const read = offered(a.house.readKey);
  const [word = ''] = own.words.split(' ');
  for (const [text, why] of [
    [code.replace(word, 'zebra'), 'it was changed on the way'],
    [code.slice(0, 100), 'not the words of a device’s code'],
    ['', 'not the words of a device’s code'],
    ['x'.repeat(5_000_000), 'not the words of a device’s code'],
    [codeText(taken(await offered(a.house.keys)())[0] ?? own), 'this very device'],
  ] as const)
    expect(await read(text)).toEqual({ ok: false, error: expect.stringContaining(why) });
});

test('14 a known device under another key is announced as that before it is let in', async () => {
  const { a, b, walk, own } = await two();
  const key = taken(await offered(a.house.readKey)(codeText(own)));
  taken(await offered(a.house.letIn)(walk, key, 'M. Alder'));
  const other = await device(9000);
  const [stranger] = taken(await offered(other.house.keys)());
  const claimed = { ...own, publicKey: stranger?.publicKey ?? '', words: stranger?.words ?? '' };
  const read = taken(await offered(a.house.readKey)(codeText(claimed)));
  expect(read).toMatchObject({ changed: true, compared: false });
  // A device that lost its record is let in again, and its old key adds nothing more.
  taken(await offered(a.house.letIn)(walk, read, 'M. Alder'));
  await give(a, b, walk);
  expect(await b.house.takeUp(walk)).toEqual({
    ok: false,
    error: expect.stringContaining('another key of this device'),
  });
});

test('R6 14 a note after signing stands beside the walk with its words, who and when; too long or nameless it is refused', async () => {
  const { a, walk } = await two();
  await a.house.finish();
  await a.house.decide('fly', 'M. Alder', null, null);
  await a.house.sign('M. Alder', null);
  const before = await opened(a, walk);
  const amend = offered(a.house.amend);
  for (const [by, note] of [
    [' ', 'words'],
    ['A', ' '],
    ['A', 'x'.repeat(2001)],
    ['x'.repeat(81), 'words'],
  ] as const)
    expect(await amend(walk, by, note)).toMatchObject({ ok: false });
  const after = taken(await amend(walk, 'M. Alder', 'The left door was looked at twice.'));
  expect(after.coverage).toEqual(before.coverage);
  expect(after.reviewed).toEqual(before.reviewed);
  expect(after.seal).toMatchObject({ whole: true, remarks: [] });
  expect(after.seal?.beside).toEqual([
    expect.stringMatching(
      /^Amended by M\. Alder, 2026-03-01 \S+ UTC: “The left door was looked at twice\.” It stands under the key/,
    ),
  ]);
});

test('R10 14 nothing is handed over while words wait to be written', async () => {
  const sealed: string[] = [];
  const { a, walk } = await two();
  const record = await opened(a, walk);
  const store = { ...a.store, seal: (id: string) => (sealed.push(id), a.store.seal(id)) };
  const waiting = lettingIn({
    store,
    open: () =>
      Promise.resolve({
        ok: true as const,
        value: { ...record, devices: { role: 'guest', open: true, letIn: [], waiting: [] } },
      }),
    write: () => Promise.reject(new Error('nothing is written')),
    leave: () => Promise.resolve('One utterance waits to be written.'),
  });
  expect(await waiting.handOver(walk)).toEqual({
    ok: false,
    error: 'One utterance waits to be written.',
  });
  expect(sealed).toEqual([]);
});
