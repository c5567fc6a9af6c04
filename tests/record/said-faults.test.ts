import { describe, expect, test } from 'vitest';
import { amountsIn, severityIn, statesIn } from '#grammar';
import { faultsIn } from '#record';
import type { Catalogue } from '#shared/catalogue';
import { catalogueOf } from '../screens/cases.ts';

const aeroplane = catalogueOf('training-aeroplane');
const helicopter = catalogueOf('training-helicopter');

/** "check or (part) | side, position | degree condition … | value unit | severity by whom". */
function said(words: string, catalogue: Catalogue | null): string[] {
  return faultsIn(words, {
    catalogue,
    severity: severityIn(words),
    states: statesIn,
    amounts: amountsIn,
  }).map((f) =>
    [
      f.check ?? `(${f.part ?? '?'})`,
      [f.side, f.position].filter((p) => p !== null).join(' '),
      f.conditions.map((c) => [c.degree, c.condition].filter((p) => p !== null).join(' ')).join(),
      f.value === null ? '' : [f.value.inUnit, f.value.unit].filter((p) => p !== null).join(' '),
      f.severity === null ? '' : `${f.severity} ${f.severityBy ?? '?'}`,
    ].join('|'),
  );
}

describe('one sentence, one squawk: right part, side, number, and what it does', () => {
  test.each([
    ["left brake's a bit soft", null, ['(brake)|left|slight soft||']],
    ["left brake's a bit soft", helicopter, ['(brake)|left|slight soft||']],
    ['right mag drops two hundred', helicopter, ['magneto-right|right|drop|200|']],
    ['right mag drops two hundred', aeroplane, ['(mag)|right|drop|200|']],
    ['nose wheel shimmy on rollout', aeroplane, ['shimmy-damper||shimmy||']],
    ['nose wheel shimmies', aeroplane, ['shimmy-damper||shimmy||']],
    ['nose wheel shimmies', helicopter, ['(shimmy damper)||shimmy||']],
    ['landing light is out', aeroplane, ['landing-light||inoperative||']],
    ['dome light is out', aeroplane, ['(dome light)||inoperative||']],
    ["left nav light's inop", aeroplane, ['left-nav-light|left|inoperative||']],
    ['tail strobe failed', helicopter, ['strobe||inoperative||']],
    ['the strobe is dead, ground it', helicopter, ['strobe||inoperative||ground said']],
    ['oil leak at the number two rocker cover', aeroplane, ['(rocker cover)|number 2|leak||']],
    ['number three cylinder is low, sixty over eighty', aeroplane, ['(cylinder)|number 3|low|60|']],
    [
      'left skid tube is cracked and corroded',
      helicopter,
      ['skid-tubes|left|crack,corrosion||ground catalogue'],
    ],
    ['door seal torn, ground it', helicopter, ['(door seal)||torn||ground said']],
  ] as const)('%s', (words, catalogue, faults) => {
    expect(said(words, catalogue)).toEqual(faults);
  });
});

describe('two things named are two squawks', () => {
  test.each([
    [
      'left skid tube is cracked and the right skid tube is bent',
      helicopter,
      ['skid-tubes|left|crack||', 'skid-tubes|right|bent||'],
    ],
    [
      'landing light is out and the door seal is torn',
      aeroplane,
      ['landing-light||inoperative||', '(door seal)||torn||'],
    ],
  ] as const)('%s', (words, catalogue, faults) => {
    expect(said(words, catalogue).map((f) => f.replace(/\|[a-z]+ catalogue$/, '|'))).toEqual(
      faults,
    );
  });

  test.each(['it is cracked and leaking', 'nose tyre worn and needs replacing', 'torn and frayed'])(
    '"%s" is one',
    (words) => {
      expect(said(words, aeroplane)).toHaveLength(1);
    },
  );
});

describe('R5: a part that was not named is not guessed', () => {
  test.each([
    "left brake's a bit soft",
    "stall horn doesn't sound",
    'elevator trim is stiff',
    'alternator light stays on',
  ])('%s, on a helicopter', (words) => {
    expect(said(words, helicopter)[0]).toMatch(/^\(/);
  });
});
