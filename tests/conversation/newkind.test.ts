import { expect, test } from 'vitest';
import { ask, createSession, QUESTIONS, type Row } from '#record';
import type { Draft, Event } from '#shared/event';
import type { Observation } from '#shared/statement';
import { isFinding } from '#shared/abnormal';
import { coverageOf, start, step } from '#reconcile';
import { starters } from '../bench/reader/prose.ts';
import { heardOf, ourReader } from '../bench/grammar/ours.ts';
import { testWorld } from '../wire/house.ts';

/* Issue 15: a new kind of question takes one file and one row. This is the file. */

/** "New, or known before?", of every dent: known before, it is noted; new, it is deferred. */
const newOrKnown: Row = (said, check, { catalogue, rated }) => {
  const dented = said.conditions.some((c) => c.present && c.condition === 'dent');
  if (!dented || !isFinding(catalogue, check, said) || rated.has(said.id)) return null;
  if (said.severity !== null) return null;
  const options = [
    { label: 'new', candidate: null, says: { severity: 'defer' as const } },
    { label: 'known before', candidate: null, says: { severity: 'note' as const } },
  ];
  const texts = [`${check?.name ?? 'that'}, dent: new, or known before?`];
  return { ...ask(said.id, 'choice', texts, options), topic: 'new-or-known' };
};

/** A walk whose session asks it, beside all others. */
async function walk() {
  const catalogue = starters().find((c) => c.id === 'training-aeroplane');
  if (catalogue === undefined) throw new Error('No such catalogue.');
  let state = start(catalogue);
  const session = createSession({
    catalogue,
    reader: ourReader(catalogue),
    world: testWorld('2026-03-01T08:00:00Z'),
    log: {
      append: (drafts: readonly Draft[]) =>
        Promise.resolve(drafts.map((d): Event => ({ ...d, device: 'd', prev: null, hash: '' }))),
      walk: () => Promise.resolve([]),
    },
    onEvents: (events) => {
      for (const event of events) state = step(state, event).state;
    },
    // And this is the row.
    asks: [...QUESTIONS, newOrKnown],
  });
  await session.begin({
    aircraft: 'Rowan 3',
    edition: 'x',
    circumstances: [],
    pilot: 'A. Pilot',
    instructor: null,
    hours: null,
    listening: 'typed',
    squawks: [],
  });
  let count = 0;
  return {
    say: (words: string) => session.hear(heardOf(words, `u${(count += 1)}`)),
    findings: () => coverageOf(state).findings.filter((f) => f.settled !== 'taken-back'),
  };
}

test.each([
  ['known before', 'note'],
  ['known', 'note'],
  ['the second one', 'note'],
  ['number one', 'defer'],
  ["it's new", 'defer'],
  ['new, master switch off', 'defer'],
])('a kind of question added by one row is asked, and answered by: %s', async (words, severity) => {
  const { say, findings } = await walk();
  const asked = await say('left flap has a dent');
  expect(asked.asked).toMatchObject({
    kind: 'choice',
    topic: 'new-or-known',
    text: 'Left flap, dent: new, or known before?',
  });
  const came = await say(words);
  expect(came.question).toBeNull();
  expect(findings()).toMatchObject([
    { check: 'left-flap', severity, conditions: [{ condition: 'dent' }] },
  ]);
});

test.each(['neither', "I don't know", 'left aileron is good'])(
  'R5 and left open by: %s',
  async (words) => {
    const { say, findings } = await walk();
    await say('left flap has a dent');
    const came = await say(words);
    expect(came.question).toMatchObject({ topic: 'new-or-known' });
    expect(findings()).toMatchObject([{ severity: 'defer', severityBy: 'sign' }]);
  },
);

test('a miss: of a crack it asks nothing, and what is answered is not asked again', async () => {
  const { say } = await walk();
  expect((await say('left flap has a crack')).question).toBeNull();
  await say('right flap has a dent');
  const answered = (await say('known before')).statements[0] as Observation;
  expect(answered.severity).toBe('note');
  expect((await say('left wing tip good')).question).toBeNull();
});
