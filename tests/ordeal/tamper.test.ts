import { expect, test } from 'vitest';
import { tamper } from './tamper.ts';
import { judgeBrought, judgeVerify } from './tamper/routes.ts';

/** A part of `npm run tamper`, so that a change that opens a hole is seen at once. */
test.each(['fork', 'cut', 'sound', 'behind', 'many'])(
  '14 tampering (%s): nothing passes in silence',
  async (only) => {
    const result = await tamper({ seed: 7, stride: 1, app: 0, only });
    expect(result.finds).toEqual([]);
    expect(result.silent).toBe(0);
    expect(result.tried).toBeGreaterThan(30);
  },
);

test('14 tampering: every 401st byte', async () => {
  const result = await tamper({ seed: 7, stride: 401, app: 0, only: 'byte' });
  expect(result.finds).toEqual([]);
  expect(result.refused).toBeGreaterThan(50);
});

test('the measure itself: what says nothing is silent, and so is a whole walk that counts something else', () => {
  const said = (n: number, key: string) => ({
    code: 0,
    text: `Walk w: This walk is sealed and whole: ${n} events, under the key “${key}”`,
  });
  const key = 'a b c d e f g h';
  expect(judgeVerify(said(6, key), said(6, key))).toBe('silent');
  expect(judgeVerify(said(6, key), said(5, key))).toBe('silent');
  expect(judgeVerify(said(6, key), said(5, 'h g f e d c b a'))).toBe('shown');
  expect(judgeVerify(said(6, key), { code: 1, text: '' })).toBe('refused');
  const shown = (counts: string[]) => ({
    ok: true,
    text: 't',
    whole: true,
    sheet: said(6, key).text,
    counts,
    bears: ['sound'],
    findings: [],
  });
  expect(judgeBrought(shown(['a']), shown(['b']))).toBe('silent');
  expect(judgeBrought(shown(['a']), shown(['a']))).toBe('silent');
  const other = { ...shown(['a']), text: 'Events: 2 restored', bears: ['other sound'] };
  expect(judgeBrought(shown(['a']), other)).toBe('silent');
});
