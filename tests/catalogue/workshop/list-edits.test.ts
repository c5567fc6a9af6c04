import fc from 'fast-check';
import { expect, test } from 'vitest';
import { edited, fieldsAt, listEdits, renamed } from '#catalogue';

const FILE = `v: 1
say:
  # the first
  - one
  # the second
  - { name: two, say: [zwo] } # kept
  - three
`;
const listIn = (text: string) => fieldsAt(text, [])?.['say'];
function changed(text: string, after: readonly unknown[]): string {
  const before = listIn(text);
  const result = edited(text, listEdits(['say'], Array.isArray(before) ? before : [], after));
  if (!result.ok) throw new Error(result.error);
  return result.text;
}

test('issue 18: a list that is changed by form keeps the comments of what stays, and what else is written in it', () => {
  const [one, two, three] = listIn(FILE) as unknown[];
  expect(changed(FILE, [one, two, three, 'four'])).toBe(`${FILE}  - four\n`);
  expect(changed(FILE, [two, three])).toMatch(
    /# the second\n {2}- \{ name: two, say: \[zwo\] \} # kept/,
  );
  expect(changed(FILE, ['uno', two, three])).toBe(FILE.replace('- one', '- uno'));
  expect(listIn(changed(FILE, []))).toBeUndefined();
});

test('issue 18: entries under other names: what else is written in them stays, also in one that is only called otherwise', () => {
  const two = { name: 'two', say: ['zwo'] };
  expect(renamed(['one', two], ['one', 'two', 'three'])).toEqual(['one', two, 'three']);
  expect(renamed(['one', two], ['two', 'one'])).toEqual([two, 'one']);
  expect(renamed(['one', two], ['one', 'pair'])).toEqual(['one', { ...two, name: 'pair' }]);
  expect(renamed(['one', two], ['three'])).toEqual(['three']);
});

test('property, seed 18: the list is then what was asked for, whatever it was', () => {
  const list = fc.array(fc.constantFrom('a', 'b', 'c', 'd'), { maxLength: 6 });
  fc.assert(
    fc.property(list, list, (before, after) => {
      const text = edited('v: 1\n', before.length === 0 ? [] : listEdits(['say'], [], before));
      if (!text.ok) throw new Error(text.error);
      expect(listIn(changed(text.text, after)) ?? []).toEqual(after);
    }),
    { seed: 18, numRuns: 300 },
  );
});
