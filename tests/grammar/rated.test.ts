import { expect, test } from 'vitest';
import type { Statement } from '#shared/statement';
import { readLast } from '../seeds/play.ts';

/** How bad a fault is, in anybody's own words: read with the weights of the project. */

/** How bad the last of what is said makes the fault, by a rating or told with it. */
function ratedBy(...said: string[]): readonly string[] {
  const made = readLast('training-aeroplane', 'left wing', ...said);
  return made.flatMap((s: Statement): string[] =>
    s.kind === 'rating'
      ? [s.severity]
      : s.kind === 'observation' && s.force === 'result' && s.severity !== null
        ? [s.severity]
        : [],
  );
}

test.each([
  ["Well, that's us walking home.", 'ground'],
  ["I'm not taking her up like that.", 'ground'],
  ['Nobody flies this till it has been put right.', 'ground'],
  ["It'll do till the next inspection.", 'defer'],
  ['They can swap it at the weekend, it can still fly.', 'defer'],
  ["We'll look at that one again every time we land.", 'watch'],
  ['Put it in the book, nothing more.', 'note'],
])('behind a fault "%s" says "%s"', (words, severity) => {
  expect(ratedBy('Left tyre has a cut in it.', words)).toEqual([severity]);
});

test.each([
  ['Left tyre has a cut down to the cord, we are not going anywhere on that.', 'ground'],
  ['Left tyre is worn, they can change it at the next check.', 'defer'],
])('"%s" is rated "%s" in the same breath', (words, severity) => {
  expect(ratedBy(words)).toEqual([severity]);
});

test.each([
  'Would you fly with that?',
  'If it were any deeper I would ground it.',
  'Last summer we grounded one for less.',
  'Watch your head there.',
  'What a lovely morning for it.',
])('R2: "%s" rates nothing', (words) => {
  expect(ratedBy('Left tyre has a cut in it.', words)).toEqual([]);
});

test('a remark rates the fault that was told last, and is no fault of its own', () => {
  const made = readLast(
    'training-aeroplane',
    'left wing',
    'Left tyre has a cut in it.',
    "I'm not taking her up like that.",
  );
  expect(made.length).toBe(1);
  const [one] = made;
  const of = one?.kind === 'rating' ? one.of : one?.kind === 'observation' ? one.amends : null;
  expect(of).not.toBeNull();
});

test('R4: where no fault was told, nothing is rated', () => {
  expect(ratedBy('Left tyre is good.', "It'll do till the next inspection.")).toEqual([]);
});
