import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';

const css = readFileSync('src/screens/tokens.css', 'utf8').replace(/\/\*[\s\S]*?\*\//g, '');

/** The tokens of one block, by the selector that opens it. */
function blockOf(selector: string): ReadonlyMap<string, string> {
  const from = css.indexOf(selector);
  expect(from, selector).toBeGreaterThanOrEqual(0);
  const body = css.slice(css.indexOf('{', from) + 1, css.indexOf('}', from));
  return new Map(
    [...body.matchAll(/(--[\w-]+):\s*([^;]+);/g)].map((m) => [m[1] ?? '', (m[2] ?? '').trim()]),
  );
}

/** Relative luminance, WCAG 2.2. */
function luminance(hex: string): number {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((i) => {
    const v = Number.parseInt(hex.slice(i, i + 2), 16) / 255;
    return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function contrast(a: string, b: string): number {
  const [high, low] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return ((high ?? 0) + 0.05) / ((low ?? 0) + 0.05);
}

const THEMES = {
  light: blockOf(":root[data-theme='light']"),
  dark: blockOf(":root[data-theme='dark']"),
  red: blockOf(":root[data-theme='red']"),
};

/** What matters: words on paper and on a wash, words on each fill. */
const PAIRS = [
  ['--ink', '--paper', 7],
  ['--ink', '--wash', 7],
  ['--on-course', '--course-fill', 7],
  ['--on-warning', '--warning', 7],
  ['--on-caution', '--caution', 7],
  ['--warning', '--paper', 7],
  ['--course', '--paper', 7],
  // WCAG 1.4.11: lines that carry meaning.
  ['--edge', '--paper', 3],
] as const;

for (const [theme, tokens] of Object.entries(THEMES)) {
  test.each(PAIRS)(`${theme}: %s on %s stands at %d to 1 or more`, (front, back, least) => {
    expect(contrast(tokens.get(front) ?? '', tokens.get(back) ?? '')).toBeGreaterThanOrEqual(least);
  });
  test(`${theme}: the quiet words stand at ${theme === 'red' ? '4.5' : '7'} to 1 or more`, () => {
    for (const back of ['--paper', '--wash']) {
      expect(
        contrast(tokens.get('--quiet') ?? '', tokens.get(back) ?? ''),
        back,
      ).toBeGreaterThanOrEqual(theme === 'red' ? 4.5 : 7);
    }
  });
}

test('R9: there is no green, since nothing here may say that operation is safe', () => {
  for (const tokens of Object.values(THEMES)) {
    for (const [name, value] of tokens) {
      if (!/^#[0-9a-f]{6}$/i.test(value)) continue;
      const [r = 0, g = 0, b = 0] = [1, 3, 5].map((i) =>
        Number.parseInt(value.slice(i, i + 2), 16),
      );
      expect(g > r + 24 && g > b + 24, `${name} ${value}`).toBe(false);
    }
  }
});

test('night red sends out hardly any light but red', () => {
  for (const [name, value] of THEMES.red) {
    if (!/^#[0-9a-f]{6}$/i.test(value)) continue;
    const [r = 0, g = 0, b = 0] = [1, 3, 5].map((i) => Number.parseInt(value.slice(i, i + 2), 16));
    expect(g <= r * 0.55 && b <= r * 0.5, `${name} ${value}`).toBe(true);
  }
});

test('colours are named in one file only', () => {
  const files = import.meta.glob<string>('../../src/screens/**/*.css', {
    query: '?raw',
    import: 'default',
    eager: true,
  });
  for (const [file, text] of Object.entries(files)) {
    if (file.endsWith('tokens.css')) continue;
    const screen = text.replace(/@media print[\s\S]*$/, '').replace(/\/\*[\s\S]*?\*\//g, '');
    expect(screen.match(/#[0-9a-f]{3,8}\b/gi) ?? [], file).toEqual([]);
  }
});
