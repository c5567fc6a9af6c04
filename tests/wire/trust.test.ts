import { expect, test } from 'vitest';
import { forger } from '../store/attack.ts';
import { houseFor, testWorld } from './house.ts';

const settle = () => new Promise((resolve) => setTimeout(resolve, 20));

/** A walk, spoken in part, finished, decided and signed, in the whole house. */
async function signed() {
  const world = testWorld('2026-03-01T08:00:00Z');
  const made = await houseFor(world);
  const { house } = made;
  const begun = await house.begin({
    aircraft: 'Rowan 2',
    catalogue: 'training-helicopter',
    circumstances: [],
    pilot: 'A',
    instructor: null,
    hours: 100,
    ear: 'typed',
  });
  if (!begun.ok) throw new Error(begun.error);
  world.pass(5);
  await house.say('left skid tube is cracked, ground it');
  await settle();
  await house.finish();
  expect(await house.decide('ground', 'A', null, null)).toMatchObject({ ok: true });
  expect(await house.sign('A', null)).toMatchObject({ ok: true });
  return { ...made, world, walk: begun.value };
}

/** Another device: its ids begin elsewhere. */
function elsewhere() {
  const world = testWorld('2026-03-02T08:00:00Z');
  for (let n = 0; n < 5000; n += 1) world.id();
  return houseFor(world);
}

async function opened(house: Awaited<ReturnType<typeof signed>>['house'], walk: string) {
  const record = await house.open(walk);
  if (!record.ok) throw new Error(record.error);
  return record.value;
}

test('14.2 after the signature "Good" beside a check is refused in words, and the sheet stays as it was', async () => {
  const { house, walk } = await signed();
  const before = await opened(house, walk);
  const check = before.coverage.checks.find((c) => c.standing === 'skipped')?.check ?? '';
  for (const late of [
    house.settle(check, 'good'),
    house.say('everything is good'),
    house.finish(),
    house.sign('B', null),
    house.decide('fly', 'B', null, null),
  ])
    expect(await late).toEqual({ ok: false, error: expect.stringContaining('is signed') });
  const after = await opened(house, walk);
  expect(after.coverage).toEqual(before.coverage);
  expect(after.seal).toMatchObject({ whole: true, remarks: [] });
  expect(after.seal?.text).toMatch(
    /^This walk is sealed and whole: \d+ events, up to the signature/,
  );
  house.close();
  expect(await house.takeUp(walk)).toMatchObject({
    ok: false,
    error: expect.stringContaining('is signed'),
  });
});

test('R6 a review and an amendment stand beside the signed walk: neither changes its coverage', async () => {
  const { house, walk } = await signed();
  const before = await opened(house, walk);
  const check = before.coverage.checks.find((c) => c.standing === 'skipped')?.check ?? '';
  const reviewed = await house.reviewStanding(walk, {
    check,
    standing: 'spoken',
    by: 'I. Structor',
    note: 'I heard it',
  });
  if (!reviewed.ok) throw new Error(reviewed.error);
  await house.amend?.(walk, 'A', 'It was the right skid.');
  const after = await opened(house, walk);
  expect(after.coverage).toEqual(before.coverage);
  const plain = after.reviewed.checks.map((c) => {
    const bare = { ...c, reviewed: null };
    delete bare.reviews;
    return bare;
  });
  expect(plain).toEqual(before.coverage.checks);
  expect(after.reviewed.findings).toEqual(before.coverage.findings);
  expect(after.reviewed.checks.find((c) => c.check === check)?.reviewed).toBe('spoken');
  expect(after.seal).toMatchObject({ whole: true, remarks: [] });
  expect(after.seal?.beside).toEqual([
    expect.stringMatching(/^Reviewed by I\. Structor/),
    expect.stringMatching(/^Amended by A/),
  ]);
});

test('14.1 a stranger’s file changes nothing on the sheet and is told there and at bringing in', async () => {
  const { house, store, walk } = await signed();
  const before = await opened(house, walk);
  const stranger = await forger();
  const forged = stranger.chain([
    { walk, kind: 'decided', decision: 'fly', by: 'Mallory', authority: null, note: null },
    { walk, kind: 'signed', name: 'Mallory', certificate: null },
  ]);
  await store.merge(forged);
  const after = await opened(house, walk);
  expect(after.coverage).toEqual(before.coverage);
  expect(after.seal?.whole).toBe(true);
  expect(after.seal?.remarks[0]).toContain(`of device ${stranger.device}`);
});

test('R4 14.5 a finding that is only in another version of a walk is on the sheet, and on the squawk list', async () => {
  const { store, walk } = await signed();
  const stranger = await forger();
  const events = await store.walk(walk);
  const dropped = await stranger.rewrite(
    events,
    (e) => (['heard', 'stated', 'squawk', 'asked'].includes(e.what.kind) ? null : e),
    { declare: true },
  );
  const target = await elsewhere();
  for (const edition of await store.editions()) {
    const catalogue = await store.catalogue(edition);
    if (catalogue !== null) await target.store.keepCatalogue(edition, catalogue);
  }
  await target.store.merge(dropped);
  await target.store.merge(events);
  const record = await opened(target.house, walk);
  expect(record.seal?.whole).toBe(false);
  const findings = [
    ...record.coverage.findings,
    ...(record.seal?.versions ?? []).flatMap((v) => v.findings),
  ];
  expect(findings.map((f) => f.words).join()).toContain('cracked');
  expect(await target.store.squawkEvents()).not.toEqual([]);
  const other = await opened(target.house, record.seal?.versions[0]?.id ?? '');
  expect(other.seal?.whole).toBe(false);
});

test('keys have names, words and a code; what was compared is remembered', async () => {
  const { house, store } = await signed();
  await house.nameDevice?.('  Hangar phone ');
  const keys = await house.keys?.();
  if (keys?.ok !== true) throw new Error('no keys');
  const [own] = keys.value;
  expect(own).toMatchObject({ own: true, name: 'Hangar phone', device: store.device });
  expect(own?.words.split(' ')).toHaveLength(8);
  const code = own === undefined ? undefined : await house.keyCode?.(own);
  expect(code).toMatchObject({ ok: true, value: { path: expect.stringMatching(/^M\d+ \d+h1v1/) } });
  const target = await elsewhere();
  await target.store.merge(await store.all());
  const met = await target.house.keys?.();
  if (met?.ok !== true) throw new Error('no keys');
  expect(met.value[1]).toMatchObject({ own: false, compared: false, words: own?.words });
  await target.house.compareKey?.(own?.publicKey ?? '', true);
  const again = await target.house.keys?.();
  expect(again?.ok === true && again.value[1]?.compared).toBe(true);
});
