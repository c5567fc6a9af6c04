import { expect, test } from 'vitest';
import { times, timesByScript } from '../../grammar/scores/linear.ts';
import { Lanes } from '../../grammar/scores/simd.ts';
import { seeded } from '../ordeal/random.ts';

test('lanes are there in Node and in Chromium, and open once', () => {
  expect(Lanes.open()).not.toBeNull();
});

test('property, seed 5: with lanes and by script the same comes out, whatever the size', () => {
  const next = seeded(5);
  const numbers = (n: number) => Float32Array.from({ length: n }, () => next() * 2 - 1);
  for (let round = 0; round < 60; round += 1) {
    const rows = 1 + Math.floor(next() * 40);
    const cols = 4 * (1 + Math.floor(next() * 40));
    const n = Math.floor(next() * 30);
    const linear = {
      weight: { rows, cols, data: numbers(rows * cols) },
      bias: round % 3 === 0 ? null : numbers(rows),
    };
    const x = numbers(n * cols);
    // Twice: the second time the matrix lies there already, and others lie behind it.
    for (let again = 0; again < 2; again += 1) {
      const quick = times(linear, x, n);
      const slow = timesByScript(linear, x, n);
      expect(quick).toHaveLength(slow.length);
      quick.forEach((v, i) => {
        expect(Math.abs(v - (slow[i] ?? NaN))).toBeLessThan(1e-4);
      });
    }
  }
});

test('columns that fill no lane are done by script', () => {
  const linear = {
    weight: { rows: 2, cols: 3, data: Float32Array.of(1, 2, 3, 4, 5, 6) },
    bias: null,
  };
  expect([...times(linear, Float32Array.of(1, 1, 1), 1)]).toEqual([6, 15]);
});
