import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { main } from './reader.ts';

const CATALOGUE = `
v: 1
id: tiny
name: Tiny
kind: other
stations:
  - id: tail
    name: tail
    place: { x: 50, y: 50 }
    checks:
      - { id: fin, name: fin, aspects: [condition, security] }
      - { id: lamp, name: lamp }
      - { id: wheel, name: wheel, repeat: [left, right], aspects: [condition] }
      - { id: oil, name: oil, measures: [{ id: level, name: level, unit: '[qt_us]', low: 6, high: 8 }] }
`;

let folder = '';
let out: string[] = [];
let err: string[] = [];
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'reader-bench-'));
  out = [];
  err = [];
  vi.spyOn(console, 'log').mockImplementation((line) => void out.push(String(line)));
  vi.spyOn(console, 'error').mockImplementation((line) => void err.push(String(line)));
});
afterEach(() => {
  vi.restoreAllMocks();
  rmSync(folder, { recursive: true, force: true });
});

test('nobody reads the errors of the report part, or of other people’s walks', async () => {
  expect(await main(['--errors'])).toBe(2);
  expect(await main(['--errors', '--part', 'report'])).toBe(2);
  expect(err.join('\n')).toContain('nobody reads its errors');
  err.length = 0;
  expect(await main(['--errors', '--walks', folder])).toBe(2);
  expect(err.join('\n')).toContain('learn and tune parts and single utterances');
  for (const sealed of ['single', 'single/trap-doors', 'report', 'report/aeroplane.yaml']) {
    err.length = 0;
    expect(await main(['--errors', '--corpus', `tests/corpus/${sealed}`])).toBe(2);
    expect(err.join('\n')).toContain('whose part is report');
  }
  expect(out).toEqual([]);
});

test('bad input gets one sentence', async () => {
  for (const [words, said] of [
    [['--part', 'all'], '--part is learn, tune, work, report or waiting, not "all"'],
    [['--part', 'waiting', '--errors'], '--errors does not list what is waiting'],
    [['--walks', join(folder, 'none')], 'There is no folder'],
    [['--walks', folder], 'holds no walks'],
    [['--prose', join(folder, 'none')], 'There is no file'],
    [['--corpus', join(folder, 'none')], 'There is no file'],
    [['--corpus', folder], 'holds no single utterances'],
    [['--corpus', folder, '--catalogue', 'x'], '--catalogue goes with one file'],
    [['--catalogue', 'x'], '--catalogue goes with --corpus'],
    [['--part', 'tune', '--walks', folder], 'Only one of'],
    [['--levels', '0,ninety', '--walks', folder], 'holds no walks'],
    [['--hold', '--here'], 'What is held'],
    [['--what'], 'Unknown option'],
  ] as const) {
    err.length = 0;
    expect(await main([...words])).toBe(2);
    expect(err.join('\n')).toContain(said);
  }
});

test('walks of others are judged with their catalogues beside them, in folders too, in the shape that was asked for', async () => {
  mkdirSync(join(folder, 'writer'));
  writeFileSync(join(folder, 'writer', 'tiny.catalogue.yaml'), CATALOGUE);
  writeFileSync(
    join(folder, 'writer', 'one.walk.yaml'),
    `
v: 1
walk: one
catalogue: ./tiny.catalogue.yaml
voice: Somebody who says one short thing after the other, slowly.
setting: A quiet hangar.
form: brisk
talk:
  - { at: tail, say: The lamp is good., is: lamp good }
  - { at: tail, say: The fin is cracked., is: fin +crack }
  - { at: tail, say: The left wheel is good., is: wheel(left) good }
  - { at: tail, say: Oil is seven quarts., is: 'oil =7[qt_us]' }
  - { at: tail, say: What is left?, is: command whats-left }
`,
  );
  expect(await main(['--walks', folder, '--json', '--levels', '0', '--quick'])).toBe(0);
  const run: unknown = JSON.parse(out.join('\n'));
  expect(run).toMatchObject({
    wer: {
      0: { ours: { utterances: 5, sheet: { checks: 4 } }, rules: null, bestPeer: null },
    },
    speed: null,
    weightsKb: expect.any(Number),
    intervals: { 0: { ours: { checkF1: [expect.any(Number), expect.any(Number)] } } },
    byForm: { terse: { ours: { utterances: 5 } } },
    kept: [],
    crashes: 0,
  });
});
