import { expect, test } from 'vitest';
import { parseDictionary } from '#grammar';
import { namesOf } from '../../grammar/names.ts';
import { earOf } from '../../grammar/sound/ear.ts';
import { Listener, WINDOW, type HeardAs } from '../../grammar/sound/hear.ts';
import { CONFUSION, LOSS } from '../../grammar/sound/phones.ts';
import { random } from '../bench/channel.ts';
import { longUtterances, syntheticCatalogue } from '../bench/grammar/speed.ts';
import { dictionaryText } from '../bench/phones.ts';
import { hearAll } from './exhaustive.ts';

/** The reference is slow on purpose, and machines are busy; milliseconds. */
const SLOW = 60_000;
const ear = earOf(parseDictionary(dictionaryText()), new Map());
const catalogue = syntheticCatalogue(120);
const phrases = [
  ...namesOf(catalogue).entries.map((e) => ({ item: e.text, words: e.words })),
  ...['chafing', 'corrosion', 'loose', 'oil all over', 'delaminated', 'missing', 'of', 'brake'].map(
    (text) => ({ item: text, words: text.split(' ') }),
  ),
];
const listener = new Listener(phrases, ear);
const rows = (hits: readonly HeardAs<string>[]) =>
  hits.map((h) => `${h.from}-${h.to} ${h.item} ${h.match.toFixed(4)}`).sort();

test.each([11, 12, 13])(
  'what is heard is what an exhaustive alignment accepts, no more and no less (seed %i)',
  (seed) => {
    let strict = 0;
    for (const text of longUtterances(catalogue, 4, seed)) {
      const words = text.split(' ');
      const all = rows(hearAll(phrases, ear, words, false));
      expect(rows(listener.hear(words))).toEqual(all);
      strict += all.length;
      const few = words.slice(0, 5);
      expect(rows(listener.hear(few, true))).toEqual(rows(hearAll(phrases, ear, few, true)));
    }
    expect(strict).toBeGreaterThan(60);
  },
  SLOW,
);

test(
  'the same for words torn apart, joined and misspelled (seed 21)',
  () => {
    const draw = random(21);
    let heard = 0;
    for (const text of longUtterances(catalogue, 4, 21)) {
      const words = text.split(' ').flatMap((word) => {
        const dice = draw();
        if (dice < 0.15 && word.length > 5) return [word.slice(0, 3), word.slice(3)];
        if (dice < 0.3) return [word.replace(/[aeiou]/, 'a')];
        return [word];
      });
      const cut = words.slice(0, WINDOW);
      const all = rows(hearAll(phrases, ear, cut, false));
      expect(rows(listener.hear(cut))).toEqual(all);
      heard += all.length;
    }
    expect(heard).toBeGreaterThan(20);
  },
  SLOW,
);

test('only phrases over words asked about are told, and all of those that begin near them', () => {
  const words = 'so the um upper fuel clmp is secure upper oil hose good'.split(' ');
  const open = words.map((w) => w === 'clmp');
  const at = words.indexOf('clmp');
  const all = listener.hear(words).filter((h) => h.from <= at && at < h.to);
  expect(all.length).toBeGreaterThan(0);
  for (const hit of listener.hear(words, false, open))
    expect(hit.from <= at && at < hit.to).toBe(true);
  const best = Math.max(...all.map((h) => h.match));
  expect(Math.max(...listener.hear(words, false, open).map((h) => h.match))).toBe(best);
});

test('every cost is a whole number of twentieths, so that sums are exact', () => {
  for (const weight of [...CONFUSION, ...LOSS])
    expect(Math.abs(weight * 20 - Math.round(weight * 20))).toBeLessThan(1e-4);
});

test('nothing to hear is nothing heard: no words, words without sound', () => {
  expect(listener.hear([])).toEqual([]);
  expect(listener.hear(['…', '🙂'])).toEqual([]);
});
