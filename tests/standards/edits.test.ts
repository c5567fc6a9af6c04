import fc from 'fast-check';
import { distance } from 'fastest-levenshtein';
import { expect, test } from 'vitest';
import { errorRate, wordEdits } from '../bench/channel.ts';
import { phoneDistance } from '../bench/phones.ts';

/**
 * Word errors and alignment, held against fastest-levenshtein from the registry:
 * with one letter for each word, edits of words are edits of letters.
 */
const words = fc.array(fc.constantFrom(...'abcdefgh'), { maxLength: 14 });

test('word edits agree with fastest-levenshtein on 2,000 pairs (seed 811)', () => {
  fc.assert(
    fc.property(words, words, (a, b) => {
      expect(wordEdits(a, b)).toBe(distance(a.join(''), b.join('')));
    }),
    { seed: 811, numRuns: 2000 },
  );
});

test('the word error rate is edits over words said, as NIST scores it (from memory), on 500 lists (seed 812)', () => {
  const text = fc.array(fc.constantFrom('oil', 'good', 'left', 'crack', 'no'), {
    minLength: 1,
    maxLength: 10,
  });
  fc.assert(
    fc.property(text, text, (a, b) => {
      const rate = errorRate([[a.join(' '), b.join(' ')]]);
      expect(rate).toBeCloseTo(wordEdits(a, b) / a.length, 12);
    }),
    { seed: 812, numRuns: 500 },
  );
});

test('phone distance is bounded by the edits of its phones, and obeys the triangle (seed 813)', () => {
  const phones = fc.array(fc.constantFrom('P', 'B', 'T', 'S', 'SH', 'IY', 'AE', 'OW', 'L', 'R'), {
    maxLength: 8,
  });
  fc.assert(
    fc.property(phones, phones, phones, (a, b, c) => {
      const letters = new Map<string, string>();
      const code = (list: readonly string[]) =>
        list
          .map((p) => {
            if (!letters.has(p)) letters.set(p, String.fromCharCode(97 + letters.size));
            return letters.get(p);
          })
          .join('');
      expect(phoneDistance(a, b)).toBeLessThanOrEqual(distance(code(a), code(b)) + 1e-9);
      expect(phoneDistance(a, b)).toBeCloseTo(phoneDistance(b, a), 9);
      expect(phoneDistance(a, c)).toBeLessThanOrEqual(
        phoneDistance(a, b) + phoneDistance(b, c) + 1e-9,
      );
    }),
    { seed: 813, numRuns: 1000 },
  );
});
