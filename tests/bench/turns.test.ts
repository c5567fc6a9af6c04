import { afterEach, expect, test, vi } from 'vitest';
import { main } from './turns.ts';

afterEach(() => vi.restoreAllMocks());

test.each([
  [['--errors'], 'Nobody reads an error of a sealed part'],
  [['--part', 'report'], 'There is no part "report" of turns.'],
  [['--times', '0'], '--times wants a whole number from 1.'],
  [
    ['--part', 'tune', '--writers', 'sealed-ramp'],
    '"sealed-ramp" wrote no turns of the part "tune".',
  ],
  [['--loud'], "Unknown option '--loud'"],
])('bench:turns %j is refused in one sentence', (words, sentence) => {
  const said: string[] = [];
  vi.spyOn(console, 'error').mockImplementation((text: string) => void said.push(text));
  expect(main(words)).toBe(2);
  expect(said.join('\n')).toContain(sentence);
});
