import { describe, expect, test } from 'vitest';
import { hearingOf, pricesOf } from '../../src/capture/embedded/gates.ts';
import type { Decoded } from '../../src/capture/embedded/decoder.ts';

function decoded(...pieces: [word: string, from: number, to: number][]): Decoded {
  const all = pieces.map(([word, from, to]) => ({ word, from, to }));
  return { pieces: all, words: all.filter((p) => !/^(ph_|<)/.test(p.word)), score: -1 };
}

describe('how much of what was said the words cover', () => {
  const noisy = decoded(['ph_p', 0, 0.5], ['finish', 0.5, 0.9], ['ph_th', 0.9, 1.3]);

  test('sounds before and behind the voice are the place, and count for nothing', () => {
    expect(hearingOf(noisy, 0.85)).toBeNull();
    expect(hearingOf(noisy, 0.85, [0.45, 0.9])?.text).toBe('finish');
    expect(hearingOf(noisy, 0.85, [0.45, 0.9])?.confidence).toBeCloseTo(0.4 / 0.45);
  });

  test('sounds within it are more that was said, and the word is not all of it', () => {
    expect(hearingOf(noisy, 0.85, [0.2, 1.2])).toBeNull();
    const talk = decoded(['hold', 0.5, 0.8], ['ph_ah', 0.8, 1.1]);
    expect(hearingOf(talk, 0.85, [0.45, 1.2])).toBeNull();
  });

  test('a word counts whole wherever it lies, and silence is nothing said', () => {
    const early = decoded(['<sil>', 0, 0.3], ['hold', 0.3, 0.7], ['<sil>', 0.7, 1.2]);
    expect(hearingOf(early, 0.85, [0.45, 0.9])?.confidence).toBe(1);
    expect(hearingOf(decoded(['ph_p', 0, 1]), 0)).toBeNull();
  });
});

describe('what costs more to mishear needs a greater margin', () => {
  const prices = pricesOf({
    stops: ['hold', 'carry on', 'hold the walk'],
    aside: ['skip', 'not fitted'],
    sides: ['left', 'number two'],
  });

  test('an order that stops the walk more than another one, and what sets a check aside most', () => {
    const [order, stop, aside] = ['next', 'hold the walk', 'bow light not fitted'].map((text) =>
      prices.leastFor(text, true),
    );
    expect(stop).toBeGreaterThan(order ?? 0);
    expect(aside).toBeGreaterThan(stop ?? 0);
  });

  test('by whole words, and nothing where it answers a question', () => {
    expect(prices.leastFor('cargo holds', true)).toBe(prices.leastFor('next', true));
    expect(prices.leastFor('hold', false)).toBe(-Infinity);
    expect(prices.leastFor('skip the cowl', false)).toBeGreaterThan(0);
  });

  test.each([
    ['left', true],
    ['the left one', true],
    ['number two side', true],
    ['left skid', false],
    ['the one', false],
  ])('a side by itself: %s', (text, is) => {
    expect(prices.isSide(text)).toBe(is);
  });

  test('of a plan that says nothing of it nothing is dear', () => {
    expect(pricesOf().isSide('left')).toBe(false);
    expect(pricesOf().leastFor('hold', true)).toBe(pricesOf().leastFor('next', true));
  });
});
