import { expect, test } from 'vitest';
import { Kept, keptOf, readKept, worsened } from './reader/ratchet.ts';
import { measuresOf } from './reader/measures.ts';
import { NO_MORE } from './reader/tally.ts';
import { emptyTally } from './grammar/score.ts';
import { fileURLToPath } from 'node:url';

const kept = Kept.parse({
  walks: 'hash',
  levels: {
    0: {
      checkF1: { figure: 0.9, interval: [0.88, 0.92] },
      falseSpokenForPer1000: { figure: 5, interval: [3, 8] },
    },
    20: { checkF1: { figure: 0.8, interval: [0.77, 0.83] } },
  },
});

test('issue 13, 7: nothing is worse inside its interval, at its ends, or on the good side', () => {
  expect(worsened(kept, { 0: { checkF1: 0.9, falseSpokenForPer1000: 5 } })).toEqual([]);
  expect(worsened(kept, { 0: { checkF1: 0.88, falseSpokenForPer1000: 8 } })).toEqual([]);
  expect(worsened(kept, { 0: { checkF1: 1, falseSpokenForPer1000: 0 } })).toEqual([]);
});

test('issue 13, 7: past the bad end it is worse, and the sentence says what and by how much', () => {
  const worse = worsened(kept, {
    0: { checkF1: 0.87, falseSpokenForPer1000: 8.1 },
    20: { checkF1: 0.76 },
  });
  expect(worse).toEqual([
    'checkF1 at 0 % word errors is 0.870; it was 0.900, and the interval that is kept is 0.880 to 0.920.',
    'falseSpokenForPer1000 at 0 % word errors is 8.100; it was 5.000, and the interval that is kept is 3.000 to 8.000.',
    'checkF1 at 20 % word errors is 0.760; it was 0.800, and the interval that is kept is 0.770 to 0.830.',
  ]);
});

test('what was not kept or not measured is not judged', () => {
  expect(worsened(kept, {})).toEqual([]);
  expect(worsened(kept, { 0: {}, 30: { checkF1: 0 } })).toEqual([]);
  expect(worsened(Kept.parse({}), { 0: { checkF1: 0 } })).toEqual([]);
});

test('figures that are kept hold against themselves', () => {
  const measures = measuresOf({ score: emptyTally(), more: { ...NO_MORE }, sheet: true });
  const ends: [number, number] = [0, 1];
  const intervals = {
    checkF1: ends,
    credited: ends,
    falseSpokenForPer1000: ends,
    findingsLostPer1000: ends,
    falseFindingsPer100: ends,
    questionsPer100: ends,
  };
  const own = Kept.parse(
    JSON.parse(JSON.stringify(keptOf('h', new Map([[0, { measures, intervals }]])))),
  );
  expect(own.walks).toBe('h');
  expect(Object.keys(own.levels['0'] ?? {})).toHaveLength(6);
  expect(worsened(own, { 0: measures })).toEqual([]);
});

test('the file of kept figures reads', () => {
  const file = fileURLToPath(new URL('./reader-ratchet.json', import.meta.url));
  expect(() => readKept(file)).not.toThrow();
});
