import { expect, test } from 'vitest';
import { inRoom } from '../speech/room.ts';
import { missing, SPEAKERS } from '../speech/voices.ts';

/* Issue 20: the voices that are reported are never the ones that are tuned to. */

test('no voice is in both groups, however fast, high or long it speaks', () => {
  const of = (group: 'work' | 'report') =>
    new Set(SPEAKERS.filter((s) => s.group === group).map((s) => `${s.program} ${s.voice}`));
  const [work, report] = [of('work'), of('report')];
  expect([...report].filter((voice) => work.has(voice))).toEqual([]);
  expect(new Set(SPEAKERS.map((s) => s.name)).size).toBe(SPEAKERS.length);
  for (const group of ['work', 'report'] as const)
    for (const kind of ['natural', 'formant'] as const)
      expect(SPEAKERS.some((s) => s.group === group && s.kind === kind)).toBe(true);
});

test('a voice that is not installed is named by its package', () => {
  const [first] = SPEAKERS;
  if (first === undefined) throw new Error('no voices');
  expect(missing({ ...first, program: 'festival', voice: 'nobody_diphone' })).not.toBeNull();
  // Its synthesiser comes with the development dependencies.
  expect(missing({ ...first, program: 'flite' })).toBeNull();
});

test('a made room rings after the sound and is the same each time', () => {
  const rate = 8000;
  const click = new Float32Array(rate / 10);
  click[10] = 1;
  const room = inRoom(click, 0.3, rate, 7);
  expect(room).toEqual(inRoom(click, 0.3, rate, 7));
  const power = (from: number, to: number) =>
    room.slice(from * rate, to * rate).reduce((sum, s) => sum + s * s, 0);
  expect(power(0.05, 0.15)).toBeGreaterThan(0);
  // By 60 dB in 0.3 s: 20 dB in a tenth.
  expect(10 * Math.log10(power(0.05, 0.1) / power(0.15, 0.2))).toBeCloseTo(20, -1);
});
