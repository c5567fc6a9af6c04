import { expect, test } from 'vitest';
import { fileURLToPath } from 'node:url';
import type { Observation, Statement } from '#shared/statement';
import { readCatalogue } from '../corpus/load.ts';
import { plainWords } from './channel.ts';
import { labelsOf } from './grammar/claims.ts';
import { chosen, matchesOf, peerLabels, PEERS, phrasesOf } from './grammar/peers.ts';
import { isFinding, spokenUnits } from './grammar/spoken.ts';
import { syntheticCatalogue, longUtterances } from './grammar/speed.ts';

const file = fileURLToPath(new URL('../corpus/helicopter.yaml', import.meta.url));
const catalogue = readCatalogue(file);
const span = { from: 0, to: 1, words: 'x' };

function observation(over: Partial<Observation>): Observation {
  return {
    v: 1,
    id: 's1',
    heard: 'h',
    span,
    why: [],
    kind: 'observation',
    force: 'result',
    about: {
      kind: 'check',
      check: 'cowling',
      which: { how: 'all', instances: ['once'] },
      span: null,
    },
    candidates: [],
    verdict: { good: true, aspects: ['condition'], actOnly: false, span },
    conditions: [],
    values: [],
    acts: [],
    severity: null,
    amends: null,
    answers: null,
    compared: null,
    squawk: false,
    doubtful: null,
    ...over,
  };
}

const on = (check: string, how: 'named' | 'all' | 'plural' | 'one', instances: string[] = []) => ({
  kind: 'check' as const,
  check,
  which: { how, instances },
  span: null,
});
const value = (over: object) => ({
  measure: null,
  low: 5,
  high: 5,
  unit: '[qt_us]',
  inUnit: null,
  step: null,
  approximate: false,
  trouble: null,
  span,
  ...over,
});
const unitsOf = (...statements: Statement[]) =>
  [...spokenUnits(labelsOf(statements, catalogue), catalogue)].sort();

test.each([
  ['R1: a verdict speaks for its aspect', {}, ['cowling#once#condition']],
  ['R2: teaching speaks for nothing', { force: 'teaching' as const }, []],
  [
    '"checked" speaks for nothing',
    { verdict: { good: true, aspects: ['condition'], actOnly: true, span } },
    [],
  ],
  ['R5: doubt speaks for nothing', { doubtful: 'I think' }, []],
  [
    'the bare plural speaks for nothing',
    { about: on('rivet-line', 'plural', ['1', '2', '3']) },
    [],
  ],
  [
    'the bare plural speaks for all where the catalogue says so',
    { about: on('torque-stripe', 'plural') },
    [1, 2, 3, 4, 5, 6].map((i) => `torque-stripe#${i}#*`),
  ],
  ['one without a name is one', { about: on('rivet-line', 'one') }, ['rivet-line#one#condition']],
  [
    'R7: a blanket speaks for what allows it, less the exceptions',
    {
      about: {
        kind: 'station' as const,
        station: 'tail-boom',
        except: ['antenna', 'inspection-cover', 'horizontal-stabiliser'],
        span: null,
      },
    },
    ['strobe#once#*', 'vertical-stabiliser#once#condition', 'vertical-stabiliser#once#security'],
  ],
  [
    'a value speaks for its measure',
    { about: on('engine-oil', 'all'), verdict: null, values: [value({})] },
    ['engine-oil#once#*', 'engine-oil#once#level'],
  ],
  [
    'R8: a value without its unit speaks for nothing',
    {
      about: on('engine-oil', 'all'),
      verdict: null,
      values: [value({ unit: null, trouble: 'no-unit' as const })],
    },
    [],
  ],
])('%s', (_name, over, expected) => {
  expect(unitsOf(observation(over))).toEqual(expected);
});

test('R5: a finding at front or rear without saying which is a question; with the word, or at numbered places, it counts', () => {
  const cracked: Observation['conditions'] = [
    {
      condition: 'crack',
      sign: null,
      aspects: ['condition'],
      present: true,
      degree: null,
      extent: null,
      place: null,
      span,
    },
  ];
  const asked = (about: Observation['about']) =>
    labelsOf([observation({ about, verdict: null, conditions: cracked })], catalogue).map(
      (l) => l.kind === 'claim' && l.asked,
    );
  expect(asked(on('drive-belt', 'one'))).toEqual([true]);
  expect(asked(on('drive-belt', 'named', ['front']))).toEqual([false]);
  expect(asked(on('main-blade', 'one'))).toEqual([false]);
});

test('a statement that a later one amends or takes back is left out', () => {
  const first = observation({});
  const second = observation({ id: 's2', about: on('air-filter', 'all'), amends: 's1' });
  expect(unitsOf(first, second)).toEqual(['air-filter#once#condition']);
  const back: Statement = {
    v: 1,
    id: 's3',
    heard: 'h',
    span,
    why: [],
    kind: 'retraction',
    of: 's1',
  };
  expect(unitsOf(first, back)).toEqual([]);
});

test.each([
  [5, '[qt_us]', true],
  [6, '[qt_us]', false],
  [8, '[qt_us]', false],
  [9, '[qt_us]', true],
  [6, 'L', false],
  [5, 'L', true],
  [30, '[psi]', false],
])('R8: %d %s of oil between 6 and 8 quarts is a finding: %s', (low, unit, finding) => {
  const said = observation({
    about: on('engine-oil', 'all'),
    values: [value({ low, high: low, unit })],
  });
  const claims = labelsOf([said], catalogue).filter((l) => l.kind === 'claim');
  expect(claims.map((c) => isFinding(c, catalogue))).toEqual([finding]);
});

test.each(PEERS.map((p) => [p.name, p] as const))(
  'the peer "%s" finds an exact name, its plural, and nothing in idle talk',
  (_name, peer) => {
    const matcher = peer.build(phrasesOf(catalogue, true));
    const found = (text: string) => {
      const words = plainWords(text);
      const hits = chosen(matchesOf(words, matcher), peer.thresholds[0] ?? 0);
      return peerLabels({ at: undefined }, text, words, hits, catalogue).flatMap((l) =>
        l.kind === 'claim' ? l.checks : [],
      );
    };
    expect(found('the clutch actuator is good')).toContain('clutch-actuator');
    expect(found('cotter pins in')).toContain('cotter-pin');
    expect(found('my aunt lives in a village')).toEqual([]);
  },
);

test('a peer denies what has "no" before it and reads a bad word as abnormal', () => {
  const [exact] = PEERS;
  const matcher = exact?.build(phrasesOf(catalogue, true));
  const read = (text: string) => {
    const words = plainWords(text);
    const hits = matcher === undefined ? [] : chosen(matchesOf(words, matcher), 0);
    return peerLabels({ at: undefined }, text, words, hits, catalogue).map(
      (l) => l.kind === 'claim' && isFinding(l, catalogue),
    );
  };
  expect(read('swashplate cracked')).toEqual([true]);
  expect(read('swashplate no cracks')).toEqual([false]);
});

test('the synthetic catalogues have as many phrases as asked for, and utterances have 25 words', () => {
  const made = syntheticCatalogue(400);
  const phrases = made.stations.flatMap((s) => s.checks).flatMap((c) => [c.name, ...c.say]);
  expect(phrases.length).toBe(400);
  expect(new Set(phrases).size).toBe(400);
  const said = longUtterances(made, 50, 7);
  expect(said.map((t) => t.split(' ').length)).toEqual(Array.from({ length: 50 }, () => 25));
  expect(longUtterances(made, 50, 7)).toEqual(said);
});

test('8,000 phrases are 8,000 different phrases', () => {
  const made = syntheticCatalogue(8000);
  const phrases = made.stations.flatMap((s) => s.checks).flatMap((c) => [c.name, ...c.say]);
  expect(new Set(phrases).size).toBe(8000);
});
