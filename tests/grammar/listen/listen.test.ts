import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { parseCatalogue } from '#catalogue';
import { createGrammar, listeningTo, nearNames, parseDictionary } from '#grammar';
import { CATALOGUES } from '#seeds';
import type { Catalogue } from '#shared/catalogue';
import { FIRST_SCENE } from '#shared/scene';
import { lexicon } from '../../../grammar/lexicon.ts';
import { drawnTogether, spoken } from '../../../grammar/listen/spoken.ts';
import { conditionWeights } from '../../../grammar/listen/weights.ts';
import { phraseWords } from '../../../grammar/tokens.ts';
import { modelFolder, typed } from '../../bench/listening-set.ts';

const pronunciations = parseDictionary(readFileSync(join(modelFolder(), 'en-us/dict.txt'), 'utf8'));
const catalogues = CATALOGUES.map(({ text, file }): Catalogue => {
  const read = parseCatalogue(text, file);
  if (!read.ok) throw new Error(`${file} cannot be read.`);
  return read.catalogue;
});
const [catalogue] = catalogues;
if (catalogue === undefined) throw new Error('There is no catalogue.');
const { plan, words, near } = listeningTo(catalogue, pronunciations);
const said = (hub: string) => (plan.hubs[hub] ?? []).map((path) => path.say);

test.each(catalogues.map((c) => [c.name, c] as const))(
  'every word that is listened for has sounds: %s',
  (_, of) => {
    const listening = listeningTo(of, pronunciations);
    const given = new Map(listening.words.map((w) => [w.word, w.phones]));
    const expressions = Object.values(listening.plan.hubs)
      .flat()
      .map((path) => path.say);
    const all = [...expressions, listening.plan.rules]
      .join(' ')
      .replace(/<[^>]*>/g, ' ')
      .match(/[a-z']+/g);
    const silent = [...new Set(all)].filter(
      (word) => (given.get(word)?.length ?? 0) === 0 && pronunciations.of(word).length === 0,
    );
    expect(silent).toEqual([]);
  },
);

test('what is added to the lexicon is listened for: its most usual form is there, of every condition and severity', () => {
  const { conditions, severities } = lexicon();
  const missing = (hub: string, lists: readonly (readonly string[])[]) =>
    lists.filter((say) => !say.some((form) => said(hub).includes(spoken(form).join(' '))));
  expect(
    missing(
      'condition',
      conditions.map((c) => c.say),
    ),
  ).toEqual([]);
  expect(missing('severity', Object.values(severities))).toEqual([]);
});

test('every order that is listened for is the order that the reader reads', () => {
  const reader = createGrammar(catalogue, { pronunciations, weights: null });
  const wrong: string[] = [];
  let tried = 0;
  for (const [name, forms] of Object.entries(lexicon().commands)) {
    // These two answer a question, and are no order without one.
    if (name === 'yes' || name === 'no') continue;
    for (const form of forms)
      for (const as of [form, ...drawnTogether(form)]) {
        if (!said('order').includes(as) && !said('command').includes(as)) continue;
        tried += 1;
        const { statements } = reader.read(typed(as), FIRST_SCENE);
        if (!statements.some((s) => s.kind === 'command' && s.command === name)) wrong.push(as);
      }
  }
  expect(wrong).toEqual([]);
  expect(tried).toBeGreaterThan(100);
});

describe('drawn together in speech', () => {
  test.each([
    ['what is left', "what's left"],
    ['they are fine', "they're fine"],
    ['let us go on', "let's go on"],
    ['is not fitted', "isn't fitted"],
  ])('%s', (long, short) => {
    expect(drawnTogether(long)).toEqual([short]);
    expect(phraseWords(short)).toEqual(phraseWords(long));
  });

  test.each(['finish the walk', 'what remains', 'this one', 'not fitted'])(
    'nothing to draw together: %s',
    (phrase) => {
      expect(drawnTogether(phrase)).toEqual([]);
    },
  );
});

describe('conditions', () => {
  test('what the checks of a catalogue are looked at for is likelier', () => {
    const weightOf = conditionWeights(catalogue);
    expect(weightOf('crack')).toBeGreaterThan(5);
    expect(weightOf('nick')).toBeGreaterThan(1);
    expect(weightOf('nick')).toBeLessThan(weightOf('crack'));
  });

  test('without signs all are alike', () => {
    const bare = {
      ...catalogue,
      stations: catalogue.stations.map((s) => ({
        ...s,
        checks: s.checks.map((c) => ({
          ...c,
          signs: [],
          aspects: c.aspects.map((a) => ({ ...a, conditions: [] })),
        })),
      })),
    };
    expect(conditionWeights(bare)('crack')).toBe(1);
  });
});

describe('names that are likely', () => {
  const [first, second, third, fourth] = catalogue.stations;
  const nameOf = (station: typeof first) => spoken(station?.checks[0]?.name ?? '').join(' ');

  test('those of the station where the walk stands and of the next, before anything was said of the first', () => {
    expect(near?.(FIRST_SCENE)).toContain(nameOf(first));
    const there = near?.({ ...FIRST_SCENE, station: second?.id ?? null }) ?? [];
    expect(there).toEqual(expect.arrayContaining([nameOf(second), nameOf(third)]));
    expect(there).not.toContain(nameOf(fourth));
    expect(new Set(there)).toEqual(new Set(nearNames(catalogue, second?.id ?? null)));
  });

  test('those where the reader believes the walk to be, and not those that it hardly does', () => {
    const belief = catalogue.stations.map((_, i) => (i === 1 ? 0.7 : i === 3 ? 0.25 : 0.01));
    const there =
      near?.({
        ...FIRST_SCENE,
        station: second?.id ?? null,
        talk: { ...FIRST_SCENE.talk, belief },
      }) ?? [];
    expect(there).toContain(nameOf(fourth));
    expect(there).not.toContain(nameOf(catalogue.stations[6]));
  });

  test('those that were just asked about', () => {
    const far = catalogue.stations[6]?.checks[0];
    const there = near?.({
      ...FIRST_SCENE,
      question: {
        id: 'q',
        about: 's',
        kind: 'which-check',
        text: 'Which one?',
        options: [
          {
            label: 'that',
            candidate: { check: far?.id ?? '', instances: [], score: 1, how: 'name' },
          },
        ],
      },
    });
    expect(there).toContain(spoken(far?.name ?? '').join(' '));
  });
});

test('an author’s own pronunciation is listened for beside the dictionary’s', () => {
  const check = catalogue.stations[0]?.checks[0];
  if (check === undefined) throw new Error('no check');
  const own = {
    ...catalogue,
    stations: catalogue.stations.map((s, i) =>
      i > 0
        ? s
        : { ...s, checks: [{ ...check, name: 'quill belt', pronounce: { quill: 'K W IY1 L' } }] },
    ),
  };
  expect(listeningTo(own, pronunciations).words).toContainEqual({
    word: 'quill',
    phones: ['K', 'W', 'IY', 'L'],
  });
});

test('what costs most when it is misheard is told apart: orders that stop the walk, what sets a check aside, sides', () => {
  expect(plan.dear?.stops).toEqual(expect.arrayContaining(['hold', 'finish', 'carry on']));
  expect(plan.dear?.stops).not.toContain('next');
  expect(plan.dear?.aside).toEqual(expect.arrayContaining(['skip', 'not fitted', "isn't fitted"]));
  expect(plan.dear?.sides).toEqual(expect.arrayContaining(['left', 'number two', 'both']));
  expect(words.length).toBeGreaterThan(20);
});
