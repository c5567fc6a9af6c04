import { expect, test } from 'vitest';
import { editionOf, parseCatalogue } from '#catalogue';
import { Catalogue } from '#shared/catalogue';
import { bent, SMALL } from './small.ts';

function edition(text: string): string {
  const read = parseCatalogue(text, 'small.yaml');
  if (!read.ok) throw new Error(read.problems.map((p) => p.text).join('\n'));
  return editionOf(read.catalogue);
}

test('the edition is 64 hex digits and follows the content alone', () => {
  expect(edition(SMALL)).toMatch(/^[0-9a-f]{64}$/);
  expect(edition(`# a note\n${SMALL}`)).toBe(edition(SMALL));
  expect(edition(bent('id: small\nname: Small aircraft', 'name: Small aircraft\nid: small'))).toBe(
    edition(SMALL),
  );
  expect(edition(bent('high: 6', 'high: 7'))).not.toBe(edition(SMALL));
});

test('a kept catalogue reads as itself and keeps its edition', () => {
  const read = parseCatalogue(SMALL, 'small.yaml');
  if (!read.ok) throw new Error('not sound');
  const again = Catalogue.parse(JSON.parse(JSON.stringify(read.catalogue)));
  expect(editionOf(again)).toBe(editionOf(read.catalogue));
});
