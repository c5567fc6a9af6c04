import { expect, test } from 'vitest';
import { createOffset } from '../../src/capture/own/offset.ts';
import { seeded } from '../speech/noise.ts';

const BLOCK = 0.04;
const HOUR = 3600;

/** An hour of blocks from a sound card whose second is a little off, each late by a chance bit. */
function hour(perMillion: number, late: (at: number, chance: number) => number) {
  const offset = createOffset();
  const random = seeded(71);
  let worst = 0;
  for (let sent = BLOCK; sent < HOUR; sent += BLOCK) {
    const said = 10 + sent * (1 + perMillion / 1e6);
    offset.take(said + late(sent, random()), sent);
    // The first blocks have none before them that tell how late they are.
    if (sent > 60) worst = Math.max(worst, Math.abs((offset.zero ?? 0) + sent - said));
  }
  return worst;
}

test.each([100, -100, 300])(
  'an hour of a sound card that is off by %i in a million: its times stay those of the walk (seed 71)',
  (perMillion) => {
    expect(hour(perMillion, (_, chance) => chance * 0.08)).toBeLessThan(0.06);
  },
);

test('a page that is busy for half a minute moves no times', () => {
  const busy = hour(0, (at) => (at > 100 && at < 130 ? 0.3 : 0.01));
  expect(busy).toBeLessThan(0.02);
});

test('after a sleep of the platform the times are taken anew, and a stream that begins later keeps its own', () => {
  const offset = createOffset();
  expect(offset.zero).toBeNull();
  offset.take(20, 1);
  offset.take(80, 2);
  expect(offset.zero).toBe(78);
  offset.shift(2);
  expect(offset.zero).toBe(80);
  offset.take(80.5, 0.5);
  expect(offset.zero).toBe(80);
  offset.reset();
  expect(offset.zero).toBeNull();
});
