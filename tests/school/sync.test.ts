import { afterAll, beforeAll, expect, test } from 'vitest';
import { schoolStage, opened, rectified, type Stage, STARTING } from './stage.ts';

let stage: Stage;
beforeAll(async () => {
  stage = await schoolStage();
}, STARTING);
afterAll(() => stage.close());

async function rows() {
  return stage.database.sql
    .selectFrom('event')
    .where('school', '=', stage.school)
    .selectAll()
    .orderBy('seq')
    .execute();
}

test('19: what a phone has goes up, once, word for word and in order; its own head comes back', async () => {
  const phone = await stage.joined('A. Alder', ['pilot']);
  await phone.walk();
  await phone.sync();
  const log = await phone.store.ownLog(null);
  const mine = (await rows()).filter((r) => r.device === phone.store.device);
  expect(mine.map((r) => r.text)).toEqual(log);
  expect(mine.every((r) => r.aside === null)).toBe(true);
  await phone.sync();
  expect((await rows()).filter((r) => r.device === phone.store.device)).toHaveLength(log.length);
  expect((await phone.in().hello([])).head).toBe(await phone.store.ownHead());
  expect(phone.progress().told).toEqual([]);
});

test('19: the same upload twice is the same as once', async () => {
  const phone = await stage.joined('B. Birch', ['pilot']);
  await phone.walk();
  const log = await phone.store.ownLog(null);
  const first = await phone.in().events(log);
  const second = await phone.in().events([...log, ...log]);
  expect(first).toMatchObject({ added: log.length, known: 0, refused: [], aside: [] });
  expect(second).toMatchObject({ added: 0, known: log.length, refused: [], aside: [] });
});

test('19: a walk in progress goes up piece by piece, and stands at its station', async () => {
  const phone = await stage.joined('C. Cedar', ['pilot']);
  const walk = await phone.walk({ open: true });
  const log = await phone.store.ownLog(null);
  for (const line of log) expect(await phone.in().events([line])).toMatchObject({ added: 1 });
  const { walks } = await phone.in().walks(null);
  expect(walks.find((w) => w.id === walk)).toMatchObject({ state: 'walking', events: log.length });
  expect(walks.find((w) => w.id === walk)?.station).not.toBeNull();
});

test('19: an instructor gets the walks of their students and no others, and reviews them; the pilot gets the review', async () => {
  const student = await stage.joined('D. Dogwood', ['pilot']);
  const other = await stage.joined('E. Elm', ['pilot']);
  const instructor = await stage.joined('F. Fir', ['instructor']);
  const chief = await stage.joined('G. Gorse', ['chief']);
  await chief.in().changePerson(instructor.person ?? '', { students: [student.person ?? ''] });
  const walk = await student.walk();
  const hidden = await other.walk();
  await student.sync();
  await other.sync();
  await instructor.sync();
  expect((await instructor.store.judged(walk)).verdict).toMatchObject({ whole: true });
  expect(await instructor.store.walk(hidden)).toEqual([]);
  await instructor.write(
    {
      kind: 'reviewed',
      by: 'F. Fir',
      note: 'well done',
      of: { kind: 'standing', check: 'drive-belts', standing: 'spoken' },
    },
    { walk },
  );
  await instructor.sync();
  await student.sync();
  const kinds = (await student.store.walk(walk)).map((e) => e.what.kind);
  expect(kinds).toContain('reviewed');
  expect(student.progress().told).toEqual([]);
  expect(instructor.progress().told).toEqual([]);
});

test('19: an open squawk reaches every phone without the walk it was said on, and its answer too (R4)', async () => {
  const finder = await stage.joined('H. Hazel', ['pilot']);
  const next = await stage.joined('I. Ivy', ['pilot']);
  const mechanic = await stage.joined('J. Juniper', ['maintenance']);
  const walk = await finder.walk({ squawk: 'fretting at the left gear clamp' });
  await finder.sync();
  await next.sync();
  await mechanic.sync();
  for (const device of [next, mechanic]) {
    const steps = await device.store.squawkEvents();
    expect(steps.filter((e) => e.walk === walk).map((e) => e.what.kind)).toEqual(['squawk']);
    expect(await device.store.walk(walk)).toEqual([]);
  }
  await mechanic.write(rectified(`squawk-${walk}`));
  await mechanic.sync();
  await next.sync();
  const steps = (await next.store.squawkEvents()).flatMap((e) =>
    e.what.kind === 'squawk' && e.what.squawk === `squawk-${walk}` ? [e.what.step.step] : [],
  );
  expect(steps).toEqual(expect.arrayContaining(['opened', 'rectified']));
  expect((await next.store.verify()).ok).toBe(true);
});

test('19: a quick squawk in the middle of a walk leaves no hole for the instructor', async () => {
  const student = await stage.joined('K. Kapok', ['pilot']);
  const instructor = await stage.joined('L. Larch', ['instructor']);
  const walk = await student.walk({ open: true, instructor: 'L. Larch' });
  await student.write(opened('quick-1', 'door seal torn'));
  await student.write({ kind: 'finished', open: [], how: 'touched' }, { walk });
  await student.write({ kind: 'signed', name: 'K. Kapok', certificate: null }, { walk });
  await student.sync();
  await instructor.sync();
  expect(instructor.progress().told).toEqual([]);
  expect((await instructor.store.judged(walk)).verdict).toMatchObject({ whole: true });
});

test('19: sound goes up after the words, is heard by the instructor, and is erased everywhere', async () => {
  const student = await stage.joined('M. Maple', ['pilot']);
  const instructor = await stage.joined('N. Nutmeg', ['instructor']);
  const chief = await stage.joined('O. Oak', ['chief']);
  await chief.in().changePerson(instructor.person ?? '', { students: [student.person ?? ''] });
  const sound = Uint8Array.from({ length: 5000 }, (_, i) => i % 251);
  const walk = await student.walk({ sound });
  await student.sync();
  await instructor.sync();
  const recording = `recording-${walk}`;
  const missing = await instructor.store.sound(recording);
  expect(missing.missing).toEqual([0]);
  const named = (await instructor.store.walk(walk)).find((e) => e.what.kind === 'sound-kept');
  const hash = named?.what.kind === 'sound-kept' ? named.what.hash : '';
  const bytes = await instructor.in().sound(hash);
  expect(bytes).toEqual(sound);
  expect(await instructor.store.takeSound(recording, 0, bytes)).toBe(true);
  expect((await chief.in().eraseSoundOf(student.person ?? '')).recordings).toBe(1);
  expect(stage.blobs.all.has(hash)).toBe(false);
  await instructor.sync();
  await student.sync();
  for (const device of [instructor, student]) {
    const kept = await device.store.sound(recording);
    expect(kept.chunks).toEqual([]);
    expect(kept.erased).not.toBeNull();
  }
  // It does not come back.
  expect(await student.in().givePieces([{ hash, bytes: sound }])).toEqual({
    kept: [],
    refused: [{ hash, why: 'This is not kept: erased.', gone: true }],
  });
  expect((await student.in().wanted(null)).wanted).toEqual([]);
});

test('19: a device whose clock is hours off is taught the time and goes on', async () => {
  const phone = await stage.device('P. Pine', { off: 5 * 3_600_000 });
  await phone.join(await stage.code(await stage.person('P. Pine', ['pilot'])));
  await phone.walk();
  await phone.sync();
  expect((await phone.in().hello([])).head).toBe(await phone.store.ownHead());
});

test('19: editions: the chief’s reaches every phone, and the desk says who still has which', async () => {
  const phone = await stage.joined('Q. Quince', ['pilot']);
  const chief = await stage.joined('R. Rowan', ['chief']);
  await phone.walk();
  await phone.sync();
  const { CATALOGUE } = await import('../speak/fixture.ts');
  const next = { ...CATALOGUE, name: 'Second edition' };
  const edition = await chief.in().giveEdition(JSON.stringify(next), true);
  expect(edition).toMatchObject({ number: 2, current: true });
  const line = async () =>
    (await chief.in().devices()).find((d) => d.device === phone.store.device)?.editions;
  expect(await line()).toEqual([
    { catalogue: CATALOGUE.id, name: 'Second edition', has: 1, waiting: 2 },
  ]);
  await phone.sync();
  await phone.sync();
  expect(await phone.store.editions()).toContain(edition.edition);
  expect(await line()).toEqual([
    { catalogue: CATALOGUE.id, name: 'Second edition', has: 2, waiting: null },
  ]);
});

test('19: what comes in the wrong order is put right when the rest has come', async () => {
  const phone = await stage.joined('S. Spruce', ['pilot']);
  const walk = await phone.walk({ squawk: 'oil on the skid' });
  const log = await phone.store.ownLog(null);
  const late = await phone.in().events(log.slice(3));
  expect(late.added).toBe(0);
  expect(late.aside.length).toBe(log.length - 3);
  const early = await phone.in().events(log.slice(0, 3));
  expect(early.added).toBe(log.length);
  const mine = (await rows()).filter((r) => r.walk === walk);
  expect(mine).toHaveLength(log.length);
  expect(mine.every((r) => r.aside === null)).toBe(true);
  const { walks } = await phone.in().walks(null);
  expect(walks.find((w) => w.id === walk)).toMatchObject({ state: 'signed', events: log.length });
});
