import { afterAll, beforeAll, expect, test } from 'vitest';
import { eraseExpired, deleteUnkept } from '#school';
import { sha256Hex } from '#store/pure';
import {
  AIRCRAFT,
  opened,
  rectified,
  schoolStage,
  type Device,
  type Stage,
  STARTING,
} from './stage.ts';

let stage: Stage;
beforeAll(async () => {
  stage = await schoolStage();
}, STARTING);
afterAll(() => stage.close());

const DAY = 86_400_000;
let drawn = 0;

/** Bytes that no other picture has. */
function picture() {
  drawn += 1;
  const data = Uint8Array.from([0xff, 0xd8, drawn, ...Array.from({ length: 900 }, (_, i) => i)]);
  return { id: `picture-${drawn}`, data, hash: sha256Hex(data) };
}

type Of = Parameters<Device['store']['keepPicture']>[0]['of'];

async function take(device: Device, walk: string | null, of: Of) {
  const { id, data, hash } = picture();
  await device.store.keepPicture({
    walk,
    aircraft: AIRCRAFT,
    t: null,
    picture: id,
    of,
    mime: 'image/jpeg',
    width: 12,
    height: 9,
    data: data.buffer,
  });
  return { id, data, hash };
}

/** The squawk that a finding becomes when its walk is finished. */
async function writeUp(device: Device, walk: string, statement: string) {
  const step = opened(`squawk-${statement}`, 'crack in the left skid tube');
  if (step.kind === 'squawk' && step.step.step === 'opened')
    await device.write({ ...step, step: { ...step.step, statement } }, { walk });
  return `squawk-${statement}`;
}

const stateOn = async (device: Device, of: { id: string; hash: string }) =>
  (await device.store.picture(of.id, of.hash)).state;

async function cast(name: string) {
  const chief = await stage.joined(`${name} chief`, ['chief']);
  const pilot = await stage.joined(`${name} pilot`, ['pilot']);
  const instructor = await stage.joined(`${name} instructor`, ['instructor']);
  const mechanic = await stage.joined(`${name} mechanic`, ['maintenance']);
  const other = await stage.joined(`${name} other`, ['pilot']);
  await chief.in().changePerson(instructor.person ?? '', { students: [pilot.person ?? ''] });
  return { chief, pilot, instructor, mechanic, other };
}

test('19: a picture of a finding goes up behind the words, and is for who may open the walk and nobody else', async () => {
  const { chief, pilot, instructor, mechanic, other } = await cast('A');
  const walk = await pilot.walk({ open: true });
  const taken = await take(pilot, walk, { kind: 'finding', statement: 's-1' });
  await pilot.sync();
  expect(stage.blobs.all.get(taken.hash)).toEqual(taken.data);
  expect((await pilot.in().wanted(null)).wanted).toEqual([]);
  await instructor.sync();
  expect(await instructor.in().picture(taken.hash)).toEqual(taken.data);
  expect(await instructor.store.takeSound(taken.id, 0, taken.data)).toBe(true);
  expect(await stateOn(instructor, taken)).toBe('here');
  for (const device of [mechanic, other, chief]) {
    await device.sync();
    expect(await device.store.pictures()).toEqual([]);
    expect(await device.in().picturesHere([taken.hash])).toEqual([]);
    await expect(device.in().picture(taken.hash)).rejects.toThrow('not for you to see');
  }
});

test('19: the picture of a squawk is on every phone and at maintenance, taken before it was written up or after; its sound is not', async () => {
  const { chief, pilot, instructor, mechanic, other } = await cast('B');
  const sound = Uint8Array.from([4, 2, 4, 2, 19]);
  const walk = await pilot.walk({ open: true, sound });
  const before = await take(pilot, walk, { kind: 'finding', statement: 's-2' });
  await pilot.sync();
  // Everybody is past the picture before it becomes a squawk's.
  for (const device of [mechanic, other]) await device.sync();
  const squawk = await writeUp(pilot, walk, 's-2');
  const after = await take(pilot, walk, { kind: 'finding', statement: 's-2' });
  await pilot.sync();
  const added = await take(other, null, { kind: 'squawk', squawk });
  await other.sync();
  for (const device of [mechanic, other, chief, instructor, pilot]) {
    // Words first, and the bytes of others when they are there.
    await device.sync();
    for (const one of [before, after, added])
      expect([device.name, one.id, await stateOn(device, one)]).toEqual([
        device.name,
        one.id,
        'here',
      ]);
    expect(device.progress().told).toEqual([]);
    expect((await device.store.verify()).ok).toBe(true);
  }
  expect(await mechanic.store.walk(walk)).toEqual([]);
  await expect(mechanic.in().sound(sha256Hex(sound))).rejects.toThrow('not for you to hear');
  // The address of pictures gives no sound.
  await expect(mechanic.in().picture(sha256Hex(sound))).rejects.toThrow('not for you to see');
  // Who joins later has it too, from the beginning.
  const late = await stage.joined('B late', null);
  await late.sync();
  expect(await stateOn(late, before)).toBe('here');
});

test('19: nobody makes a picture of somebody else’s walk everybody’s by a squawk that names its statement', async () => {
  const { pilot, mechanic, other } = await cast('C');
  const walk = await pilot.walk({ open: true });
  const taken = await take(pilot, walk, { kind: 'finding', statement: 's-3' });
  await pilot.sync();
  const theirs = await other.walk({ open: true });
  await writeUp(other, theirs, 's-3');
  await other.sync();
  await mechanic.sync();
  for (const device of [other, mechanic])
    await expect(device.in().picture(taken.hash)).rejects.toThrow('not for you to see');
});

test('19: a picture that is erased is gone everywhere and does not come back; others than its taker and the chief erase nothing', async () => {
  const { chief, pilot, mechanic, other } = await cast('D');
  const walk = await pilot.walk({ open: true });
  const [one, two] = [
    await take(pilot, walk, { kind: 'finding', statement: 's-4' }),
    await take(pilot, walk, { kind: 'finding', statement: 's-4' }),
  ];
  await writeUp(pilot, walk, 's-4');
  await pilot.sync();
  await mechanic.sync();
  expect(await stateOn(mechanic, one)).toBe('here');
  const own = await other.walk({ open: true });
  for (const from of [null, own])
    await other.write({ kind: 'picture-erased', picture: one.id, why: 'x' }, { walk: from });
  await other.sync();
  expect(other.progress().told.map((t) => t.why)).toContain(
    'Only whoever took a picture and the chief have it erased.',
  );
  await mechanic.sync();
  expect(await stateOn(mechanic, one)).toBe('here');
  await pilot.store.erasePicture(one.id, 'a face is in it');
  await pilot.sync();
  await chief.sync();
  await chief.store.erasePicture(two.id, 'asked for');
  await chief.sync();
  for (const device of [mechanic, pilot]) {
    await device.sync();
    expect([await stateOn(device, one), await stateOn(device, two)]).toEqual(['erased', 'erased']);
  }
  for (const { hash, data } of [one, two]) {
    expect(stage.blobs.all.has(hash)).toBe(false);
    expect((await pilot.in().givePieces([{ hash, bytes: data }])).refused[0]?.gone).toBe(true);
    expect(await mechanic.store.takeSound(one.id, 0, data)).toBe(false);
  }
});

test('19: pictures are erased with the sound of a person, and by age as the terms say, but not while their squawk is open', async () => {
  const { chief, pilot, mechanic } = await cast('E');
  const walk = await pilot.walk({ open: true });
  const plain = await take(pilot, walk, { kind: 'finding', statement: 's-5' });
  const shown = await take(pilot, walk, { kind: 'finding', statement: 's-6' });
  const squawk = await writeUp(pilot, walk, 's-6');
  await pilot.sync();
  const sweep = async () => {
    stage.turn(366 * DAY);
    await eraseExpired(stage.database, stage.parts.clock);
    await deleteUnkept(stage.database, stage.blobs);
    stage.turn(-366 * DAY);
    await pilot.sync();
  };
  await sweep();
  expect([await stateOn(pilot, plain), await stateOn(pilot, shown)]).toEqual(['erased', 'here']);
  expect(stage.blobs.all.has(shown.hash)).toBe(true);
  await mechanic.sync();
  await mechanic.write(rectified(squawk));
  await mechanic.sync();
  await sweep();
  expect(await stateOn(pilot, shown)).toBe('erased');
  await mechanic.sync();
  expect(await stateOn(mechanic, shown)).toBe('erased');

  const again = await pilot.walk({ open: true });
  const last = await take(pilot, again, { kind: 'finding', statement: 's-7' });
  await writeUp(pilot, again, 's-7');
  await pilot.sync();
  expect(await chief.in().eraseSoundOf(pilot.person ?? '')).toEqual({ recordings: 0, pictures: 1 });
  expect(stage.blobs.all.has(last.hash)).toBe(false);
  await pilot.sync();
  expect(await stateOn(pilot, last)).toBe('erased');
});

test('19: a school that keeps no sound keeps pictures', async () => {
  const { chief, pilot } = await cast('F');
  const { terms } = await chief.in().hello([]);
  await chief.in().setTerms({ ...terms, sound: false });
  const walk = await pilot.walk({ open: true, sound: Uint8Array.from([8, 8, 3]) });
  const taken = await take(pilot, walk, { kind: 'finding', statement: 's-8' });
  await pilot.sync();
  await chief.in().setTerms(terms);
  expect(stage.blobs.all.has(taken.hash)).toBe(true);
  expect(stage.blobs.all.has(sha256Hex(Uint8Array.from([8, 8, 3])))).toBe(false);
});
