import { expect, test } from 'vitest';
import { createGrammar, parseDictionary } from '#grammar';
import { createSession } from '#record';
import { coverageOf, start, step } from '#reconcile';
import { FIRST_SCENE } from '#shared/scene';
import { countedWorld, heard, memoryLog } from '../record/notation.ts';
import * as n from './notation.ts';
import { testWeights } from '../weights.ts';

/** The same rules, in words, through the phrase grammar and the session. */

const grammar = createGrammar(n.AIRCRAFT, {
  pronunciations: parseDictionary(''),
  weights: testWeights(),
});

async function spoken(...sentences: string[]) {
  let state = start(n.AIRCRAFT);
  const log = memoryLog();
  const world = countedWorld();
  const session = createSession({
    catalogue: n.AIRCRAFT,
    reader: grammar,
    log,
    world,
    onEvents(events) {
      for (const event of events) state = step(state, event).state;
    },
  });
  await session.begin(n.begun());
  for (const [i, text] of sentences.entries()) {
    world.pass(10);
    await session.hear(heard(`h${i}`, text));
  }
  return { coverage: coverageOf(state), session, log };
}

test.each<[words: string, check: string, standing: string]>([
  ['drive belts good', 'belts', 'part spoken (slack unspoken)'],
  ['belts good', 'belts', 'part spoken (once unspoken)'],
  ['drive belts good, no slack', 'belts', 'spoken for'],
  ['fan good', 'fan', 'spoken for'],
  ['fan is fine, no cracks', 'fan', 'spoken for'],
  ['fan checked', 'fan', 'part spoken (once unspoken)'],
  ['the fan is cracked', 'fan', 'spoken for'],
  ['R2 you want to see no cracks on the fan', 'fan', 'unspoken'],
  ["R2 now I'll check the fan", 'fan', 'unspoken'],
  ['R2 last week the fan was cracked', 'fan', 'unspoken'],
  ['R2 if the fan were cracked we would not fly', 'fan', 'unspoken'],
  ['brake lines good', 'brake-line', 'part spoken (left, right unspoken)'],
  ['both brake lines good', 'brake-line', 'spoken for'],
  ['left brake line good', 'brake-line', 'part spoken (right unspoken)'],
  ['left brake line good. Right brake line good.', 'brake-line', 'spoken for'],
  ['tyres good', 'tyre', 'spoken for'],
  ['R7 everything on the tail boom is good', 'skin', 'spoken for'],
  ['R7 everything on the tail boom is good', 'skid', 'unspoken'],
  ['R8 oil is seven quarts', 'oil', 'spoken for'],
  ['R8 oil is good', 'oil', 'part spoken (level unspoken)'],
  ['R8 oil is seven', 'oil', 'in question'],
])('"%s" → %s: %s', async (words, check, standing) => {
  const { coverage } = await spoken(words.replace(/^R\d+ /, ''));
  expect(n.standing(coverage, check)).toBe(standing);
});

test.each<[string, readonly string[]]>([
  ['R3 no cracks on the fan', []],
  ['R3 the fan is cracked', ['fan: crack, ground, stands']],
  ['R8 oil is five quarts, good', ['oil: five quarts (between 6 and 8 quarts), ground, stands']],
  ['R2 if you find a crack in the fan, that is the end of it', []],
])('findings of "%s"', async (words, expected) => {
  const { coverage } = await spoken(words.replace(/^R\d+ /, ''));
  expect(n.findings(coverage)).toEqual(expected);
});

test('R6 a finding, later called good, is in question; the worse stands', async () => {
  const { coverage } = await spoken('the fan is cracked', 'fan good');
  expect(n.standing(coverage, 'fan')).toBe('in question');
  expect(n.findings(coverage)).toEqual(['fan: crack, ground, in-question']);
});

test('a plural waits, is asked about at "what\'s left", answered by words, and closed', async () => {
  const { coverage, session } = await spoken('brake lines good', "what's left", 'yes');
  expect(n.standing(coverage, 'brake-line')).toBe('spoken for');
  expect(coverage.questions).toEqual([]);
  expect(session.question()).toBeNull();
});

test('a hard landing is heard and demands its follow-ups', async () => {
  const { coverage } = await spoken('there are ripples in the skin');
  const demanded = coverage.checks.filter((c) => c.required.by === 'follow-up');
  expect(demanded.map((c) => c.check)).toEqual(['cross-tubes', 'mast-mount']);
});

test('R10 a walk opened again has the scene that it had', async () => {
  const words = [
    'fan good',
    'left brake line is chafed',
    'ground it',
    'brake lines good',
    'belts good, no slack',
  ];
  const { session, log } = await spoken(...words);
  const again = createSession({
    catalogue: n.AIRCRAFT,
    reader: grammar,
    log: memoryLog(),
    world: countedWorld(900),
    walk: 'w',
  });
  await again.reopen(log.events);
  expect(again.scene()).toEqual(session.scene());
  expect(again.scene()).not.toEqual(FIRST_SCENE);
});
