import { expect, test } from 'vitest';
import { checksById, parseLabel, type Label } from '../corpus/format.ts';
import { conditionLabels, readCatalogue } from '../corpus/load.ts';
import { withoutMoments } from './reader/tally.ts';

const catalogue = readCatalogue('tests/corpus/helicopter.yaml');
const labelled = (is: string): Label[] =>
  is === '' ? [] : [parseLabel(is, catalogue, checksById(catalogue), conditionLabels())];
const kept = (...lines: string[]): number[] =>
  withoutMoments(lines.map(labelled)).map((labels) => labels.length);

test('a hold that somebody ends is one; a hold that nobody ends was a moment', () => {
  expect(kept('command hold', '', 'command resume')).toEqual([1, 0, 1]);
  expect(kept('command hold', '', 'cowling good')).toEqual([0, 0, 1]);
  expect(kept('command hold', 'command hold', 'command resume')).toEqual([0, 1, 1]);
  expect(kept('command resume', 'command hold')).toEqual([1, 0]);
});
