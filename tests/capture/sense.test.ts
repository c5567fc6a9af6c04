import { expect, test } from 'vitest';
import { networkOfPlan } from '../../src/capture/embedded/network.ts';
import { leastMargin } from '../../src/capture/embedded/gates.ts';
import { hangsTogether, wayOf, type Way } from '../../src/capture/embedded/sense.ts';
import { FIRST_SCENE } from '#shared/scene';
import { aircraft } from '../bench/listening-set.ts';

const helicopter = aircraft().find((p) => p.name === 'training-helicopter');
if (helicopter === undefined) throw new Error('no catalogue');
const network = networkOfPlan(helicopter.parts.plan);

/** "~" stands for a sound that is no word. */
function wayOfWords(text: string): Way | null {
  const pieces = text
    .split(' ')
    .map((word, i) => ({ word: word === '~' ? 'ph_ae' : word, from: i, to: i + 1 }));
  return wayOf(network, pieces);
}

test.each([
  ['belt guard good', true],
  ['the belt guard is good and secure', true],
  ['tail rotor gearbox no leaks', true],
  ['tail rotor hub worn', true],
  ['engine oil level five quarts', true],
  ['belt guard loose on the left side', true],
  ['belt guard good tail skid good', true],
  ['hold', true],
  ['~ belt guard good ~', true],
  // Chance words for other sounds.
  ['good belt guard', false],
  ['belt guard good ~ tail skid good', false],
  ['no cracks and loose', false],
  ['belt guard good and', false],
  ['belt guard tail skid good', false],
  ['belt guard good cracked', false],
  ['hold belt guard good', false],
  ['we have six or on to the battery good', false],
  ['belt guard twenty', false],
  ['five quarts good', false],
  ['belt guard no cracks or dents', true],
  ['belt guard good or loose', false],
  ['bubble wiped or out', false],
  ["it's good and secure", true],
  ['that is are beautiful secure on the lower', false],
])('R1, R5: "%s" hangs together: %s', (text, together) => {
  const way = wayOfWords(text);
  expect(way !== null && hangsTogether(way.segments)).toBe(together);
});

test('the parts of the plan that words came from, and their likelihood', () => {
  const way = wayOfWords('belt guard is good');
  expect(way?.segments.map(({ hub, words }) => `${hub}: ${words.join(' ')}`)).toEqual([
    'name: belt guard',
    'be: is',
    'general: good',
  ]);
  expect(way?.logp).toBeLessThan(0);
  expect(way?.logp).toBeGreaterThan(-20);
  expect(wayOfWords('kettle on')).toBeNull();
});

test('words of here need least, of elsewhere more, chance words most', () => {
  const near = new Set(helicopter.parts.near?.({ ...FIRST_SCENE, station: 'drive' }) ?? []);
  const least = (text: string) => leastMargin(wayOfWords(text), near, true);
  expect(near.has('belt guard')).toBe(true);
  expect(least('belt guard good')).toBeLessThan(least('tail skid good'));
  expect(least('tail skid good')).toBeLessThan(least('good tail skid'));
  expect(least('belt guard good')).toBeLessThan(least('belt guard good belt guard loose'));
  expect(least("belt guard's good")).toBe(least('belt guard good'));
  // Talk is full of it, and it speaks for whatever was named last.
  expect(least('it is good')).toBe(least('tail skid good'));
});
