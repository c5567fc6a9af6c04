import { expect, test } from 'vitest';
import type { Statement } from '#shared/statement';
import { readIn } from './said.ts';

/** Where a walk with two of everything is: by what was said of where one goes, and by whose turn it is. */

const WALKS = 'tests/corpus/walks';

const walked = (file: string) => readIn(`${WALKS}/${file}.catalogue.yaml`);
const checks = (statements: readonly Statement[]): string[] =>
  statements.flatMap((s) =>
    s.kind === 'observation' && s.force === 'result' && s.about.kind === 'check'
      ? [s.about.check]
      : [],
  );
const arrivals = (statements: readonly Statement[]): string[] =>
  statements.flatMap((s) => (s.kind === 'arrival' ? [s.station] : []));

const amphibian = walked('last-light/last-light-oxbow');
const tailwheel = walked('slow-teachers/slow-teachers-tailwheel');
const twin = walked('ramp-mixed/ramp-mixed-brindlecap');

const PORT = ['Port wing and engine.', 'Port oil is ten quarts.', 'Port cap locked.'];
const NOSE = ['Now the nose.', 'Pitots open, both of them.', 'Locker is locked.'];

test.each([
  ['Over to the right-hand side then.', 'starboard'],
  ['Across to the starboard side.', 'starboard'],
  ['Round the other side now.', 'starboard'],
  ['Other wing.', 'starboard'],
  ['And now down the far side in the same order backwards.', 'starboard'],
])('"%s" goes to %s', (say, station) => {
  expect(arrivals(amphibian(...PORT, say))).toEqual([station]);
});

test('"And across to its twin" is the other wing', () => {
  const said = tailwheel('Left wing.', 'Aileron goes up and down.', 'And across to its twin.');
  expect(arrivals(said)).toEqual(['right-wing']);
});

test.each(['Other pilots never look here.', 'The other side of the field is wet.', 'Over there.'])(
  '"%s" goes nowhere',
  (say) => {
    expect(arrivals(amphibian(...PORT, say))).toEqual([]);
  },
);

test('R5: what was reported long ago is not reported again: it is the other one’s turn', () => {
  expect(checks(amphibian(...PORT, ...NOSE, 'Oil here is nine quarts.'))).toEqual(['stbd-oil']);
  expect(checks(amphibian(...PORT, ...NOSE, 'Over to the right.', 'Oil is nine quarts.'))).toEqual([
    'stbd-oil',
  ]);
});

test('R6: whoever comes back to the first one says so, or has only just spoken of it', () => {
  expect(checks(amphibian(...PORT, ...NOSE, 'Port oil is nine quarts.'))).toEqual(['port-oil']);
  expect(checks(amphibian(...PORT, 'Oil is nine quarts, I meant.'))).not.toContain('stbd-oil');
});

test.each([
  ["lock's still in the column i'll take it out at start", 'control-lock'],
  ['left chock still under the wheel', 'chocks'],
  ["left chock's still in", 'chocks'],
])('R4: "%s" is a fault by itself, and no other is guessed', (say, check) => {
  const [said] = twin(say);
  expect(said).toMatchObject({
    about: { check },
    verdict: { good: false, aspects: ['removed'] },
    conditions: [],
  });
});

test('R5: a value is of the place that was named just before, and of no other', () => {
  const [said] = twin('left wheel', 'no cuts no wear fifty five pounds');
  expect(said).toMatchObject({
    about: { check: 'tyres', which: { how: 'named', instances: ['left'] } },
  });
});
