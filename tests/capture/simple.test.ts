import { expect, test } from 'vitest';
import { scriptedEar, typedEar, type Ear, type Step } from '#capture';
import { Heard } from '#shared/heard';
import { fakeTime } from './time.ts';

function listen(ear: Ear): { heard: Heard[]; states: string[] } {
  const seen = { heard: [] as Heard[], states: [] as string[] };
  ear.onHeard((h) => seen.heard.push(Heard.parse(h)));
  ear.onState((s) => seen.states.push(s));
  return seen;
}

test('typed words go out once each, white space does not, and typing is never sent away', async () => {
  const time = fakeTime();
  const ear = typedEar({ world: time.world, seconds: () => time.seconds() });
  const seen = listen(ear);
  await ear.start();
  await time.pass(3);
  ear.type('  belts   good \n');
  ear.type('   ');
  ear.pause();
  ear.type('crack in the skid');
  expect(seen.heard.map((h) => [h.text, h.from, h.by, h.sentAway])).toEqual([
    ['belts good', 3, 'typed', false],
    ['crack in the skid', 3, 'typed', false],
  ]);
  ear.type('x'.repeat(100_001));
  expect(seen.states.at(-1)).toBe('trouble');
});

test('a subscription that was ended hears no more', async () => {
  const time = fakeTime();
  const ear = typedEar({ world: time.world, seconds: () => 0 });
  const heard: string[] = [];
  const off = ear.onHeard((h) => heard.push(h.text));
  await ear.start();
  ear.type('one');
  off();
  ear.type('two');
  expect(heard).toEqual(['one']);
});

test('a script is replayed in its own time, stands still while held, and ends', async () => {
  const time = fakeTime();
  const script: Step[] = [
    { after: 1, say: 'belts good', seconds: 0.5 },
    { after: 2, partial: 'left' },
    { after: 0, say: 'left tyre good', seconds: 1, alternatives: ['left tire good'] },
    { after: 1, state: 'trouble', sentence: 'Unplugged.' },
  ];
  const ear = scriptedEar({ world: time.world, seconds: () => time.seconds() }, script, time.wait);
  const seen = listen(ear);
  void ear.start();
  void ear.start();
  await time.pass(1);
  expect(seen.heard.map((h) => [h.text, h.from, h.to])).toEqual([['belts good', 0.5, 1]]);
  ear.pause();
  await time.pass(100);
  expect(seen.heard).toHaveLength(1);
  ear.resume();
  await time.pass(2);
  expect(seen.heard[1]).toMatchObject({ text: 'left tyre good', from: 102, to: 103 });
  let done = false;
  void ear.done.then(() => (done = true));
  await time.pass(1);
  expect(done).toBe(true);
  expect(seen.states).toEqual(['listening', 'held', 'listening', 'trouble']);
});
