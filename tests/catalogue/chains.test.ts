import { expect, test } from 'vitest';
import { parseCatalogue } from '#catalogue';

/** "a>b b>c" as a catalogue in which a finding at a demands b, and so on. */
function catalogue(arrows: string): string {
  const next = new Map<string, string[]>();
  for (const arrow of arrows.split(' ')) {
    const [from = '', to = ''] = arrow.split('>');
    next.set(from, [...(next.get(from) ?? []), to]);
    next.set(to, next.get(to) ?? []);
  }
  const checks = [...next].map(([id, to]) => ({
    id,
    name: id,
    signs: [{ id: `sign-${id}`, name: `sign at ${id}`, followUps: to }],
  }));
  const station = { id: 's', name: 'S', place: { x: 1, y: 1 }, checks };
  return JSON.stringify({ v: 1, id: 'x', name: 'X', kind: 'other', stations: [station] });
}

test.each([
  ['a>b', null],
  ['a>b b>c a>c', null],
  ['a>b a>c b>d c>d', null],
  ['a>a', 'a → a'],
  ['a>b b>a', 'a → b → a'],
  ['x>a a>b b>c c>a', 'a → b → c → a'],
])('follow-ups %s → circle %s', (arrows, circle) => {
  const read = parseCatalogue(catalogue(arrows), 'x.json');
  const said = read.ok ? null : (read.problems[0]?.text ?? '');
  if (circle === null) expect(said).toBeNull();
  else expect(said).toContain(`circle: ${circle}.`);
});

test('a chain of four thousand follow-ups ends', () => {
  const arrows = Array.from({ length: 4000 }, (_, i) => `c${i}>c${i + 1}`).join(' ');
  expect(parseCatalogue(catalogue(arrows), 'x.json').ok).toBe(true);
});
