import { expect, test } from 'vitest';
import { createGrammar } from '#grammar';
import { FIRST_SCENE, type Scene } from '#shared/scene';
import { FIXTURE, heard, pronunciations } from './fixtures/catalogue.ts';
import { summary } from './summary.ts';
import { testWeights } from '../weights.ts';

/* Two recognisers on one sound: the browser's, and ours beside it. */

const grammar = createGrammar(FIXTURE, {
  pronunciations: pronunciations(),
  weights: testWeights(),
});

function read(first: string, second: string, scene: Scene = FIRST_SCENE, told = false) {
  const words = {
    ...heard(first, 'h'),
    by: 'browser' as const,
    alternatives: [
      { text: second, confidence: null, by: 'embedded' as const, ...(told ? { told } : {}) },
    ],
  };
  return grammar.read(words, scene);
}
const said = (first: string, second: string, scene?: Scene, told?: boolean) =>
  read(first, second, scene, told).statements.map(summary);

const at = (station: string): Scene => ({ ...FIRST_SCENE, station });

test.each([
  ['the same words', 'the cowling is secure', 'the cowling is secure'],
  ['other words for the same', 'the cowling is secure', 'cowling secure'],
  ['a name that only one of them has', 'the calling is secure', 'the cowling is secure'],
])('two ears, %s: it counts, and is told to be sure', (_what, first, second) => {
  const { statements } = read(first, second, at('engine'));
  expect(statements.map(summary)).toEqual(['cowling · good (security)']);
  expect(statements[0]?.why).toContain('Two recognisers heard it so.');
});

test('two ears: one alone, or the other with no result, takes nothing from a good', () => {
  expect(said('the cowling is secure', 'what a bay')).toEqual(['cowling · good (security)']);
});

test.each([
  [
    'R6: the opposite of the same check: the worse reading is asked about',
    ['the cowling is secure', 'the cowling is not secure'],
    ['cowling · unlocked (security)'],
  ],
  [
    'R4: a fault that only the second heard is asked about, and the good not credited',
    ['the cowling is secure', 'the cowling is cracked'],
    ['cowling · crack (condition)'],
  ],
  [
    'R4: a fault of another check in the same sound: both are open',
    ['the cowling is secure', 'the exhaust is cracked'],
    ['cowling · good (security)', 'exhaust · crack (condition)'],
  ],
  [
    'R5: two checks, neither expected',
    ['the cowling is secure', 'the exhaust is secure'],
    ['cowling · good (security)', 'exhaust · good (security)'],
  ],
  [
    'R2: a result and an intention',
    ['the cowling is secure', 'make sure the cowling is secure'],
    ['cowling · good (security)'],
  ],
  [
    'R1: a good that ours heard in talk',
    ['they are closed on mondays', 'the cowling is secure'],
    ['cowling · good (security)'],
  ],
  [
    'R4: a fault that ours heard in talk',
    ['they are closed on mondays', 'the cowling is cracked'],
    ['cowling · crack (condition)'],
  ],
])('two ears, %s', (_what, [first = '', second = ''], made) => {
  expect(said(first, second)).toEqual(
    made.map((m) => `${m} · doubtful: heard as "${first}" or as "${second}"`),
  );
});

test('R1: what is expected here is no proof of it: a good that ours heard in talk is asked about at its station too', () => {
  const [told] = said('they are closed on mondays', 'the cowling is secure', at('engine'));
  expect(told).toContain('doubtful');
});

test('R4: a fault that the first heard stands, whatever the second heard', () => {
  expect(said('the cowling is not secure', 'the cowling is secure')).toEqual([
    'cowling · unlocked (security)',
  ]);
  expect(said('the cowling is cracked', 'what a bay')).toEqual(['cowling · crack (condition)']);
});

test('R8: two values are asked about, and one outside its limit is a fault of the one that heard it', () => {
  const [two] = said('engine oil seven quarts', 'engine oil six quarts');
  expect(two).toContain(
    'doubtful: heard as "engine oil seven quarts" or as "engine oil six quarts"',
  );
  const [low] = said('engine oil six quarts', 'engine oil two quarts');
  expect(low).toContain('oil-quarts = 2');
  expect(low).toContain('doubtful');
});

test('R5: of two names the one is taken that the conversation expects, whoever heard it', () => {
  // The left skid tube is at the left side, the cowling at the engine behind it, the strobe at the tail.
  const rows: [string, string, string, string][] = [
    ['engine', 'the cowling is secure', 'the strobe is secure', 'cowling'],
    ['engine', 'the strobe is secure', 'the cowling is secure', 'cowling'],
    ['cabin', 'the left door is secure', 'the right door is secure', 'left-door'],
  ];
  for (const [station, first, second, check] of rows) {
    const made = said(first, second, at(station));
    expect(made, first).toHaveLength(1);
    expect(made[0], first).toContain(check);
    expect(made[0], first).not.toContain('doubtful');
  }
});

test('R5: a name that the first one did not know counts where it is expected and both heard the verdict', () => {
  expect(said('what about the slosh gate it is good', 'swashplate good', at('rotor'))).toEqual([
    'swashplate · good (condition)',
  ]);
  const [elsewhere] = said('what about the slosh gate it is good', 'swashplate good', at('cabin'));
  expect(elsewhere).toContain('doubtful');
});

test('R7: a blanket that only ours heard speaks for no station', () => {
  const made = said('they are closed on mondays', 'everything here is good', at('engine'));
  expect(made.every((m) => !m.startsWith('everything') || m.includes('doubtful'))).toBe(true);
});

test.each([
  ['an order that only one heard', 'whole', 'hold', 'command hold'],
  ['an order that only the first heard', 'hold', 'whole', 'command hold'],
  [
    'an order, and a good that the other one heard',
    'hold',
    'the cowling is secure',
    'command hold',
  ],
])('two ears: %s', (_what, first, second, made) => {
  expect(said(first, second)).toEqual([made]);
});

test('R4: nothing is taken back on the word of one of two', () => {
  const before = grammar.read(heard('the cowling is cracked', 'g'), at('engine')).scene;
  expect(said('that bat', 'take that back', before)).not.toContain('retraction');
  expect(said('take that back', 'take that back', before)).toContain('retraction');
});

test('each statement has an id of its own, and the scene goes on from what was settled', () => {
  const { statements, scene } = read('the cowling is secure', 'the exhaust is cracked');
  expect(new Set(statements.map((s) => s.id)).size).toBe(statements.length);
  expect(scene.lastId).not.toBeNull();
});

test('words that come late, behind the same by the other one: nothing twice, no second order, and no fault lost', () => {
  const late = (first: string, second: string) => said(first, second, at('engine'), true);
  expect(late('the cowling is secure', 'cowling secure')).toEqual([]);
  expect(late('next', 'necks')).toEqual([]);
  expect(late('the cowling is cracked', 'the cowling is cracked')).toEqual([]);
  expect(late('the cowling is cracked', 'the cowling is secure')).toEqual([
    'cowling · crack (condition)',
  ]);
});
