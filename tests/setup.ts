import { afterEach, beforeEach, expect, vi } from 'vitest';

// Stray output is a fault: nobody reads it, and it hides the line that matters.
const calls: string[] = [];
beforeEach(() => {
  calls.length = 0;
  for (const name of ['log', 'warn', 'error', 'info', 'debug'] as const) {
    vi.spyOn(console, name).mockImplementation((...words: unknown[]) => {
      calls.push(`console.${name}: ${words.map(String).join(' ')}`);
    });
  }
});
afterEach(() => {
  const seen = [...calls];
  vi.restoreAllMocks();
  expect(seen).toEqual([]);
});
