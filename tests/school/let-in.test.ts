import { afterAll, beforeAll, expect, test } from 'vitest';
import { words } from '../store/attack.ts';
import { schoolStage, type Device, type Stage, STARTING } from './stage.ts';

let stage: Stage;
beforeAll(async () => {
  stage = await schoolStage();
}, STARTING);
afterAll(() => stage.close());

/** A student's walk that goes on, and an instructor who sees it. */
async function two(student: string, instructor: string) {
  const one = await stage.joined(student, ['pilot']);
  const other = await stage.joined(instructor, ['instructor']);
  const walk = await one.walk({ open: true, instructor });
  const letIn = async () =>
    one.write(
      {
        kind: 'let-in',
        device: other.store.device,
        publicKey: await other.store.publicKey(),
        by: student,
      },
      { walk },
    );
  return { one, other, walk, letIn };
}

const said = (device: Device, walk: string, text: string) =>
  device.write(
    {
      kind: 'heard',
      heard: {
        v: 1,
        id: `heard-${text}`,
        by: 'typed',
        text,
        words: [],
        alternatives: [],
        from: 1,
        to: 2,
        confidence: 1,
        sound: null,
        speaker: null,
        sentAway: false,
      },
    },
    { walk },
  );

test('14, 19: what a device that was let in adds comes through the school, and is signed with the walk', async () => {
  const { one, other, walk, letIn } = await two('A. Alder', 'B. Birch');
  await letIn();
  await one.sync();
  await other.sync();
  await said(other, walk, 'left skid cracked');
  // Sent before it is sealed: it counts nowhere yet, at the school neither.
  await other.sync();
  await one.sync();
  expect(words((await one.store.judged(walk)).counts)).not.toContain('left skid cracked');
  await other.store.seal(walk);
  await other.sync();
  await one.sync();
  expect(words((await one.store.judged(walk)).counts)).toContain('left skid cracked');
  await one.write({ kind: 'finished', open: [], how: 'touched' }, { walk });
  await one.write({ kind: 'signed', name: 'A. Alder', certificate: null }, { walk });
  await one.sync();
  await other.sync();
  for (const device of [one, other]) {
    const { verdict, counts } = await device.store.judged(walk);
    expect(verdict).toMatchObject({ whole: true, remarks: [] });
    expect(words(counts)).toContain('left skid cracked');
  }
});

test('14, 19: a device that was not let in adds nothing through the school', async () => {
  const { one, other, walk } = await two('C. Cedar', 'D. Dogwood');
  await one.sync();
  await other.sync();
  await expect(said(other, walk, 'all is good')).rejects.toThrow(/another device/);
});
