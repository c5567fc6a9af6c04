import { expect, test, vi } from 'vitest';
import { main } from './labels.ts';

test('every second label can be read, belongs to a walk that is here, and mostly says what the first says', () => {
  const lines: string[] = [];
  const log = vi.spyOn(console, 'log').mockImplementation((line: string) => lines.push(line));
  expect(main(['--json'])).toBe(0);
  log.mockRestore();
  const { walks, second } = JSON.parse(lines.join('\n')) as {
    walks: number;
    second: { utterances: number; checkF1: number };
  };
  expect(walks).toBe(22);
  expect(second.utterances).toBe(1301);
  // Two people who know the rules: below this one of them has not followed them.
  expect(second.checkF1).toBeGreaterThan(0.95);
});
