import { expect, test } from 'vitest';
import type { Heard } from '#shared/heard';
import { admit, ECHO, type Spoken } from '#speak';

function heard(
  text: string,
  from: number | null,
  to: number | null,
  times?: readonly number[],
): Heard {
  return {
    v: 1,
    id: 'h',
    by: 'embedded',
    text,
    words:
      times === undefined
        ? []
        : text.split(' ').map((w, i) => ({
            text: w,
            from: (times[i] ?? 0) - 0.3,
            to: times[i] ?? 0,
            confidence: null,
          })),
    alternatives: [{ text: 'other', confidence: null }],
    from,
    to,
    confidence: null,
    sound: null,
    speaker: null,
    sentAway: false,
  };
}
/** What is taken, and whether the pilot talked over us. */
function gate(h: Heard, spoken: Spoken[]): string {
  const { take, talkedOver } = admit(h, spoken);
  return `${take?.text ?? '-'}${talkedOver ? ' (talked over)' : ''}`;
}
const said = [{ text: 'Left or right brake line?', from: 10, to: 12 }];

test.each([
  ['before it', heard('belts good', 5, 6), 'belts good'],
  ['as our voice begins', heard('left or right brake line', 10, 12), '-'],
  ['in it', heard('right brake line', 11, 12), '-'],
  ['its echo just after', heard('brake line', 12 + ECHO - 0.01, 14), '-'],
  ['an answer after the echo', heard('left', 12 + ECHO, 14), 'left'],
  ['delivered late, begun in it', heard('left or right', 11.9, 30), '-'],
  ['another thing said over it', heard('there is oil on the ground', 11, 13), '- (talked over)'],
  ['no time at all', heard('belts good', null, null), 'belts good'],
])('R11: %s', (_, h, expected) => {
  expect(gate(h, said)).toBe(expected);
});

test('R11: while it still sounds, however long', () => {
  expect(gate(heard('line', 500, 501), [{ text: 'Brake line', from: 10, to: null }])).toBe('-');
});

test('R11: typed words are never ours', () => {
  expect(gate({ ...heard('left or right', 11, 11), by: 'typed' }, said)).toBe('left or right');
});

test('R11: begun before our voice and run into it, with word times: the words before it', () => {
  expect(gate(heard('belts good left or right', 9, 11.5, [9.3, 9.8, 10.4, 10.8, 11.2]), said)).toBe(
    'belts good',
  );
  expect(
    gate(
      heard('belts good and the fan cracked', 9, 11.5, [9.3, 9.8, 10.2, 10.5, 10.8, 11.2]),
      said,
    ),
  ).toBe('belts good (talked over)');
  expect(gate(heard('belts good', 9, 9.9, [9.3, 9.8]), said)).toBe('belts good');
});

test('R11: the same without word times: up to our own words; other readings are not kept', () => {
  expect(gate(heard('belts good left or right brake line', 9, 12), said)).toBe('belts good');
  expect(admit(heard('belts good left or right brake line', 9, 12), said).take).toMatchObject({
    to: 10,
    alternatives: [],
  });
  expect(gate(heard('the fan has a crack', 9, 12), said)).toBe('the fan has a crack');
});
