import { expect, test } from 'vitest';
import type { Observation, Statement } from '#shared/statement';
import { readLast } from '../seeds/play.ts';

/** What sweeps over places, and figures that are said once more: read with the weights of the project. */

type Craft = 'training-helicopter' | 'training-aeroplane';

const read = (craft: Craft, ...said: string[]): readonly Statement[] => readLast(craft, ...said);

const results = (statements: readonly Statement[]): Observation[] =>
  statements.filter((s): s is Observation => s.kind === 'observation' && s.force === 'result');

/** Places of a check that count as good, and those with a fault. */
function placesOf(statements: readonly Statement[], check: string): [string[], string[]] {
  const own = results(statements).filter(
    (o) => o.about.kind === 'check' && o.about.check === check && o.doubtful === null,
  );
  const at = (list: readonly Observation[]): string[] =>
    list.flatMap((o) => (o.about.kind === 'check' ? o.about.which.instances : []));
  const isFault = (o: Observation): boolean => o.conditions.some((c) => c.present);
  const isGood = (o: Observation): boolean => !isFault(o) && o.verdict?.good === true;
  return [at(own.filter(isGood)), at(own.filter(isFault))];
}

test.each([
  ['Upper rivet line is loose, the others are good.', ['middle', 'lower'], ['upper']],
  ['Rivet lines, all three good.', ['upper', 'middle', 'lower'], []],
])('R1, R4: "%s" is counted place by place', (words, good, ill) => {
  expect(placesOf(read('training-helicopter', 'tail boom', words), 'rivet-lines')).toEqual([
    good,
    ill,
  ]);
});

test('R5: "the others" leaves out what was spoken of before, and no more', () => {
  const said = read(
    'training-helicopter',
    'tail boom',
    'Upper rivet line has a working rivet.',
    'The others are good.',
  );
  expect(placesOf(said, 'rivet-lines')).toEqual([['middle', 'lower'], []]);
});

test('R5: "the rest of the boom" is no place of the rivet lines', () => {
  const said = read(
    'training-helicopter',
    'tail boom',
    'Upper rivet line is loose.',
    'The rest of the tail boom is good.',
  );
  expect(placesOf(said, 'rivet-lines')[0]).toEqual([]);
});

const values = (statements: readonly Statement[]) =>
  results(statements).flatMap((o) => o.values.map((v) => [v.low, v.unit, v.trouble]));

test.each([
  ['Oil, seven comma two quarts.', 7.2],
  ['Oil, six point two-ish quarts.', 6.2],
  ['Oil level, twenty, no, tell a lie, seven quarts.', 7],
  ['Dipstick says five and a bit, call it five quarts.', 5],
])('R8: "%s" is one value', (words, low) => {
  expect(values(read('training-aeroplane', 'engine', words))).toEqual([[low, '[qt_us]', null]]);
});

test('R5: the side of the right aileron is not that of the elevator, which is elsewhere', () => {
  const said = results(
    read('training-aeroplane', 'The right aileron is good.', 'The elevator is dented.'),
  );
  const which = said.flatMap((o) => (o.about.kind === 'check' ? [o.about] : []));
  expect(which.map((a) => a.check)).toEqual(['elevator']);
  expect(which[0]?.which.how).not.toBe('named');
});
