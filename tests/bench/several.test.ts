import { afterEach, expect, test, vi } from 'vitest';
import { main } from './several.ts';

afterEach(() => vi.restoreAllMocks());

test.each([
  [['--errors'], 'Nobody reads an error of a sealed part'],
  [['--part', 'report'], 'There is no part "report" of turns.'],
  [['--times', 'two'], '--times wants a whole number from 1.'],
  [['--loud'], "Unknown option '--loud'"],
])('bench:several %j is refused in one sentence', (words, sentence) => {
  const said: string[] = [];
  vi.spyOn(console, 'error').mockImplementation((text: string) => void said.push(text));
  expect(main(words)).toBe(2);
  expect(said.join('\n')).toContain(sentence);
});
