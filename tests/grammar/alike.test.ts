import { expect, test } from 'vitest';
import type { Observation, Statement } from '#shared/statement';
import { readIn } from './said.ts';

/** Things that are called alike, places that are counted out, and what others said and got wrong. */

const heli = readIn('tests/corpus/single/loose-leaf/loose-leaf-heli.catalogue.yaml');
const twin = readIn('tests/corpus/single/hall-mirrors/hall-mirrors-aero.catalogue.yaml');

const results = (statements: readonly Statement[]): Observation[] =>
  statements.flatMap((s) => (s.kind === 'observation' && s.force === 'result' ? [s] : []));
/** Check and places of every result, "+" before those that hold a fault. */
const told = (statements: readonly Statement[]): string[] =>
  results(statements).flatMap((o) =>
    o.about.kind === 'check'
      ? [
          `${o.conditions.some((c) => c.present) ? '+' : ''}${o.about.check} ${o.about.which.instances.join()}`,
        ]
      : [],
  );

test.each([
  ['Blade three is smooth, very good.', ['blade 3']],
  ['Second sample clean.', ['second-sample once']],
])('R5 "%s" is said of the one that has such a place', (say, is) => {
  expect(told(heli(say))).toEqual(is);
});

test('R5 what is named in full stays where it is', () => {
  expect(told(heli('Tail blade one is good.'))).toEqual(['tail-blade 1']);
  expect(told(heli('Main blade one is good.'))).toEqual(['blade 1']);
});

test.each([
  ['Four, five and six flap hinges are cracked.', ['+flap-hinge 4,5,6']],
  ['The wicks, two to seven are hanging on tight.', ['wick 2,3,4,5,6,7']],
  ['Wicks one and three are secure.', ['wick 1,3']],
])('R1 "%s": of each that is counted out, and of no other', (say, is) => {
  expect(told(twin(say))).toEqual(is);
});

test.each([
  ['They reported the right aileron free. They were mistaken, it binds.', ['+aileron right']],
  ["Tower says the beacon's out, tower is wrong, it's flashing in my face.", ['beacon once']],
  ["They said the left static port was taped over, it isn't, it's clear.", ['static-port left']],
])('R2 "%s": others were wrong, and what follows is the speaker\'s own', (say, is) => {
  expect(told(twin(say))).toEqual(is);
});

test('R4 what was hurt on the truck is ours', () => {
  expect(told(twin('Left gear door dented on the truck.')).join()).toMatch(/gear-door left/);
});

test.each([
  'They reported the right aileron stiff.',
  'They say something is wrong with the left brake, it drags.',
  'The left brake on theirs was down to three millimetres.',
])('R2 "%s" is no report of this aircraft', (say) => {
  expect(told(twin(say))).toEqual([]);
});
