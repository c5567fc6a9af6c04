import { expect, test } from 'vitest';
import type { Event } from '#shared/event';
import { phrasebookOf } from '#shared/phrasebook';
import { houseFor, testWorld } from '../wire/house.ts';
import { pilotOn } from './pilot.ts';

/* What words were told to mean is understood the next time, and says so. */

const book = async (pilot: Awaited<ReturnType<typeof pilotOn>>, name = 'A. Pilot') => {
  const outcome = await pilot.house.phrasebook?.('Rowan 2', name);
  if (outcome === undefined || !outcome.ok) throw new Error('No phrasebook.');
  return outcome.value;
};

test('"the pogo stick" is the tail stinger: told once by a correction, understood from then on, on the next walk too', async () => {
  const world = testWorld('2026-03-01T08:00:00Z');
  const within = await houseFor(world);
  const pilot = await pilotOn('training-helicopter', { world, within });
  await pilot.say('the pogo stick is bent');
  const [said] = pilot.view().lately ?? [];
  await pilot.house.putOn?.(said?.event ?? '', 'tail-skid');
  expect(await book(pilot)).toMatchObject([
    { phrase: 'pogo stick', means: { is: 'check', check: 'tail-skid' }, on: '2026-03-01' },
  ]);
  const again = await pilot.say('the pogo stick is cracked');
  expect(again.statements).toMatchObject([{ about: { kind: 'check', check: 'tail-skid' } }]);
  expect(again.statements[0]?.why.join(' ')).toMatch(/learned from you, on 2026-03-01/);
  // The words stay the speaker's own.
  expect(again.statements[0]?.span.words).toContain('pogo stick');

  const next = await pilotOn('training-helicopter', { world, within });
  const came = await next.say('the pogo stick is bent');
  expect(came.statements).toMatchObject([{ about: { check: 'tail-skid' } }]);

  // Another speaker has a phrasebook of their own.
  const other = await pilotOn('training-helicopter', { world, within, name: 'B. Pilot' });
  const theirs = await other.say('the pogo stick is bent');
  expect(theirs.statements).not.toMatchObject([{ about: { check: 'tail-skid' } }]);
});

test('what was learned can be seen and forgotten', async () => {
  const pilot = await pilotOn();
  await pilot.say('the pogo stick is bent');
  const [said] = pilot.view().lately ?? [];
  await pilot.house.putOn?.(said?.event ?? '', 'tail-skid');
  const [line] = await book(pilot);
  await pilot.house.forget?.(line?.id ?? '', 'Rowan 2');
  expect(await book(pilot)).toEqual([]);
  const came = await pilot.say('the pogo stick is bent');
  expect(came.statements).not.toMatchObject([{ about: { check: 'tail-skid' } }]);
});

test('a learned word never beats a named check, and a slip between two names is not learned', async () => {
  const pilot = await pilotOn();
  await pilot.say('left skid tube is cracked');
  const [said] = pilot.view().lately ?? [];
  await pilot.house.putOn?.(said?.event ?? '', 'skid-shoes');
  expect(await book(pilot)).toEqual([]);
  const came = await pilot.say('left skid tube is cracked');
  expect(came.statements).toMatchObject([{ about: { check: 'skid-tubes' } }]);
});

const learned = (id: string, at: number, is: 'good' | 'bad', device: string): Event => ({
  v: 1,
  id,
  device,
  walk: 'w',
  aircraft: 'Rowan 2',
  at,
  t: 0,
  what: {
    kind: 'learned',
    learned: {
      id: `l${id}`,
      phrase: 'gin clear',
      means: is === 'good' ? { is, check: 'fuel-sample' } : { is },
      speaker: null,
      from: 's',
    },
  },
  prev: null,
  hash: '',
});

test('the phrasebooks of two devices merge the same in any order, and bad is never undone by good', () => {
  const events = [learned('1', 10, 'bad', 'a'), learned('2', 20, 'good', 'b')];
  const one = phrasebookOf(events, 'Rowan 2', null);
  expect(phrasebookOf([...events].reverse(), 'Rowan 2', null)).toEqual(one);
  expect(one).toMatchObject([{ phrase: 'gin clear', means: { is: 'bad' } }]);
});

test('"gin pellucid" was good: asked once, not twice', async () => {
  const pilot = await pilotOn();
  await pilot.say('main fuel sample is gin pellucid');
  expect((await pilot.say("what's left")).question).toMatch(/fuel sample good\. Right\?/);
  await pilot.say('yes');
  expect(await book(pilot)).toMatchObject([
    { phrase: 'gin pellucid', means: { is: 'good', check: 'fuel-sample' } },
  ]);
  const came = await pilot.say('main fuel sample is gin pellucid');
  expect(came.statements).toMatchObject([{ verdict: { good: true }, doubtful: null }]);
  // Of another check it says nothing.
  const other = await pilot.say('the cyclic is gin pellucid');
  expect(other.statements.flatMap((s) => s.why).join(' ')).not.toContain('learned');
});

test('a word that was "rough" is rough the next time: told by the answer to whether it is a fault', async () => {
  const world = testWorld('2026-03-01T08:00:00Z');
  const within = await houseFor(world);
  const pilot = await pilotOn('training-helicopter', { world, within });
  const words = 'cooling fan is a bit wonkadoodle';
  expect((await pilot.say(words)).question).toBe(
    'Cooling fan: good, ground it, defer it, watch it or note it?',
  );
  await pilot.say('rough');
  expect(pilot.findings()).toMatchObject([{ conditions: [{ condition: 'rough' }] }]);
  expect(await book(pilot)).toMatchObject([
    { phrase: 'wonkadoodle', means: { is: 'condition', condition: 'rough' } },
  ]);
  const next = await pilotOn('training-helicopter', { world, within });
  const came = await next.say('cyclic is wonkadoodle');
  expect(came.statements).toMatchObject([
    { about: { check: 'cyclic' }, conditions: [{ condition: 'rough', present: true }] },
  ]);
  expect(came.statements[0]?.why.join(' ')).toMatch(/is "rough": learned from you, on 2026-03-01/);
});
