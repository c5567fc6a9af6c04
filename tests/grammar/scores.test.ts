import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { readWeights, WeightsError } from '#grammar';
import { FIRST_TALK } from '#shared/talk';
import { Matcher } from '../../grammar/matches/matches.ts';
import { rosterOf } from '../../grammar/matches/roster.ts';
import { Signs } from '../../grammar/matches/heardas.ts';
import { InputMaker } from '../../grammar/scores/inputs.ts';
import { Net } from '../../grammar/scores/net.ts';
import { earOf } from '../../grammar/sound/ear.ts';
import { ownPronunciations } from '../../grammar/sound/own.ts';
import { tokensOf } from '../../grammar/tokens.ts';
import { singleWriters } from '../corpus/singles.ts';
import { followWriters } from '../corpus/follows.ts';
import { severalWriters } from '../corpus/several.ts';
import { turnWriters } from '../corpus/turns.ts';
import { ownWalks, writersOf } from '../corpus/walks.ts';
import { testWeights } from '../weights.ts';
import { pronunciations } from './fixtures/catalogue.ts';

const corpus = fileURLToPath(new URL('../corpus/', import.meta.url));

test('the weights belong to the walks, sentences and turns that lie here, but for those that are not learned from', () => {
  const hash = createHash('sha256');
  const later = new Set([...writersOf('waiting'), ...writersOf('work')]);
  const walks = writersOf('all').filter((name) => !later.has(name));
  const folders = [
    ...walks.sort().map((name) => `walks/${name}`),
    ...singleWriters('learn')
      .sort()
      .map((name) => `single/${name}`),
  ];
  for (const folder of folders)
    for (const name of readdirSync(join(corpus, folder))
      .filter((n) => n.endsWith('.yaml'))
      .sort())
      hash.update(readFileSync(join(corpus, folder, name)));
  for (const name of turnWriters('learn').sort())
    hash.update(readFileSync(join(corpus, 'turns', `${name}.txt`)));
  for (const name of severalWriters('learn').sort())
    hash.update(readFileSync(join(corpus, 'several', `${name}.txt`)));
  for (const name of followWriters('learn').sort())
    hash.update(readFileSync(join(corpus, 'follows', `${name}.txt`)));
  expect(testWeights().corpus).toBe(hash.digest('hex').slice(0, 16));
});

interface Stored {
  readonly walk: string;
  readonly keys: readonly string[];
  readonly p: readonly (readonly number[])[];
}
/** Weights are kept in eight bits; nothing learned may move by more than this for it. */
const ROUNDED = 0.06;

const stored = JSON.parse(
  readFileSync(new URL('./fixtures/scored.json', import.meta.url), 'utf8'),
) as Stored[];
const all = new Map([...ownWalks('learn'), ...ownWalks('tune')].map((w) => [w.id, w]));

test('there are stored scores to compare with', () => {
  expect(stored.length).toBeGreaterThan(15);
});

test.each(stored.map((s) => [s.walk, s] as const))(
  'the net here says of the first words of %s what the trained one said',
  (id, { keys, p }) => {
    const walk = all.get(id);
    const first = walk?.talk[0];
    if (walk === undefined || first === undefined) throw new Error(`${id} is not here.`);
    const weights = testWeights();
    const roster = rosterOf(walk.catalogue);
    const ear = earOf(pronunciations(), ownPronunciations(walk.catalogue));
    const matcher = new Matcher(roster, ear, weights.vectors);
    const maker = new InputMaker(roster, matcher, new Signs(walk.catalogue));
    const belief = maker.believe([], first.say);
    const { tokens } = tokensOf({ text: first.say, words: [] });
    const inputs = maker.make(first.say, tokens, { ...FIRST_TALK, belief }, belief, {}, null);
    expect(inputs.candidates.map((c) => c.member?.key ?? '')).toEqual(keys);
    const { candidates } = new Net(weights).score(inputs);
    candidates.forEach((c, i) => {
      const own = [
        c.result,
        c.good,
        c.finding,
        c.value,
        c.ask,
        c.talk,
        c.done,
        c.amends,
        c.excepted,
      ];
      own.forEach((x, k) => {
        expect(Math.abs(x - (p[i]?.[k] ?? -1)), `${keys[i] ?? ''} ${String(k)}`).toBeLessThan(
          ROUNDED,
        );
      });
    });
  },
);

test('weights that are none, of another layout or cut off are refused with one sentence', () => {
  const bytes = new Uint8Array(readFileSync('public/reader/scores.bin'));
  const text = (s: string): ArrayBuffer => new TextEncoder().encode(s).buffer as ArrayBuffer;
  for (const [file, why] of [
    [text(''), /cannot be read/],
    [text('noise without a head'), /cannot be read/],
    [text('{"layout":99}\n'), /layout 99/],
    [bytes.slice(0, bytes.length / 2).buffer, /ends too early/],
  ] as const) {
    expect(() => readWeights(file as ArrayBuffer)).toThrow(WeightsError);
    expect(() => readWeights(file as ArrayBuffer)).toThrow(why);
  }
});
