import { expect, test } from 'vitest';
import type { SchoolAircraft } from '#shared/school-people';
import { fleetNames } from '../../src/wire/fleet-names.ts';
import { rowsOf } from '../../src/screens/begin/rows.ts';
import { live } from '../screens/live.ts';
import { schoolDouble } from '../screens/school-double.ts';
import { houseFor, testWorld } from './house.ts';

const one = (id: string, name: string, more: Partial<SchoolAircraft> = {}): SchoolAircraft => ({
  id,
  name,
  was: [],
  catalogue: 'training-helicopter',
  retired: false,
  ...more,
});

test('19: one aircraft, however it is written and whatever it was called; two are two', () => {
  const fleet = fleetNames([one('a', 'Rowan 2', { was: ['Rowan 1'] }), one('b', 'Alder 4')]);
  const rows: readonly (readonly [string, string, boolean])[] = [
    ['Rowan 2', 'ROWAN-2', true],
    ['Rowan 2', 'Rowan 1', true],
    ['rowan-1', 'Rowan 2', true],
    ['Rowan 1', 'Rowan-1', true],
    ['Rowan 2', 'Alder 4', false],
    ['Rowan 1', 'Alder 4', false],
    ['Elm 1', 'Elm 1', true],
    ['Elm 1', 'Rowan 2', false],
  ];
  for (const [a, b, same] of rows) expect(fleet.same(a, b), `${a}, ${b}`).toBe(same);
  expect(fleet.nameOf('rowan-1')).toBe('Rowan 2');
  expect(fleet.nameOf('Elm 1')).toBe('Elm 1');
});

test('19: a name that is somebody’s now goes before one that was', () => {
  const fleet = fleetNames([one('a', 'Rowan 2', { was: ['Rowan 1'] }), one('b', 'Rowan 1')]);
  expect(fleet.nameOf('Rowan 1')).toBe('Rowan 1');
  expect(fleet.same('Rowan 1', 'Rowan 2')).toBe(false);
});

/** The house in a school with this list. */
async function inSchool(aircraft: readonly SchoolAircraft[]) {
  const world = testWorld('2026-03-01T08:00:00Z');
  const school = schoolDouble();
  const view = school.view.get();
  if (view.hello === null) throw new Error('The double is in a school.');
  const hello = { ...view.hello, aircraft: [...aircraft] };
  return houseFor(world, {
    school: () =>
      Promise.resolve({
        ...school,
        view: live({ ...view, hello }),
        bringBytes: () => Promise.resolve(),
      }),
  });
}

test('19: an open squawk of before the aircraft was renamed is carried into its next walk (R4)', async () => {
  const { house, spoken } = await inSchool([one('a', 'Rowan 2', { was: ['Rowan 1'] })]);
  const filed = await house.fileSquawk(
    'Rowan 1',
    'squawk, left skid tube is cracked, ground it',
    'training-helicopter',
  );
  expect(filed.ok).toBe(true);
  await new Promise((resolve) => setTimeout(resolve, 20));
  expect(house.choices.get().aircraft.map((a) => [a.aircraft, a.openSquawks.length])).toEqual([
    ['Rowan 2', 1],
  ]);
  const book = await house.squawkBook('Rowan 2');
  expect(book.ok && book.value.squawks.map((s) => s.title)).toEqual(['Left skid tubes: crack']);
  const begun = await house.begin({
    aircraft: 'Rowan 2',
    catalogue: 'training-helicopter',
    circumstances: [],
    pilot: 'A',
    instructor: null,
    hours: 100,
    ear: 'typed',
  });
  expect(begun.ok).toBe(true);
  await new Promise((resolve) => setTimeout(resolve, 20));
  expect(spoken.join(' ')).toContain('1 open: Left skid tubes: crack');
});

test('19: the school’s aircraft are offered before any was walked here, and a retired one is not', async () => {
  const { house } = await inSchool([one('a', 'Rowan 2'), one('b', 'Rowan 3', { retired: true })]);
  const choices = house.choices.get();
  expect(choices.aircraft.map((a) => a.aircraft)).toEqual(['Rowan 2', 'Rowan 3']);
  expect(rowsOf(choices).known.map((r) => r.aircraft)).toEqual(['Rowan 2']);
});
