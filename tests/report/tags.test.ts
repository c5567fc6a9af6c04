import { PDFArray, PDFBool, PDFDict, PDFDocument, PDFName, PDFNumber, PDFRef } from 'pdf-lib';
import { describe, expect, test } from 'vitest';
import { fold } from '#reconcile';
import { discrepancyPdf, pdfOf, type PaperSize } from '#report';
import { testLetters } from '../letters.ts';
import { catalogueOf, EVENTFUL } from '../screens/cases.ts';
import { madeWalk } from '../screens/made.ts';
import { drawnOn, structureOf, type Tagged } from './pdf-text.ts';
import { POINT } from './point.ts';
import { squawk, WORK } from './squawk.ts';

/*
 * Issue 16: documents that a screen reader can read: tagged PDF, ISO 32000-1,
 * 14.7 (structure), 14.8 (tags and order of reading) and 14.9 (language, other words).
 */

const catalogue = catalogueOf('training-helicopter');
const events = madeWalk(catalogue, 'w', EVENTFUL);
const folded = fold(catalogue, events);
const picture = { picture: 'p', mime: 'image/jpeg', hash: 'h', width: 1, height: 1 };
const coverage = {
  ...folded,
  findings: folded.findings.map((f, i) => (i === 0 ? { ...f, pictures: [picture] } : f)),
};
const pictures = new Map([['h', { state: 'here', mime: 'image/jpeg', data: POINT } as const]]);
const head = {
  aircraft: 'Rowan 2',
  pilot: 'Łukasz Żak',
  instructor: 'שרה כהן',
  begun: Date.UTC(2026, 8, 14, 6, 42),
  hours: 1204.5,
};
const list = {
  aircraft: 'Rowan 2',
  squawks: [squawk(), squawk({ id: 's2', state: 'rectified' }, [WORK])],
  catalogue: null,
  at: 0,
  pictures: new Map([['s1', [picture]]]),
  picturesHere: pictures,
};

const letters = testLetters();
const KINDS = ['sheet', 'debrief', 'form', 'squawks'] as const;

function made(kind: (typeof KINDS)[number], size: PaperSize): Promise<Uint8Array> {
  if (kind === 'squawks') return discrepancyPdf(list, { size, letters });
  return pdfOf(kind, { coverage, catalogue, size, head, events, pictures }, letters);
}

interface Leaf {
  readonly page: number;
  readonly id: number;
  /** Kinds of the elements that it stands in, outermost first. */
  readonly path: readonly string[];
}

/** The marked sequences of a structure, in the order in which they are read. */
function leaves(tag: Tagged, above: readonly string[] = []): Leaf[] {
  const path = [...above, tag.kind];
  return tag.children.flatMap((c) => ('kind' in c ? leaves(c, path) : [{ ...c, path }]));
}

const all = (tag: Tagged): Tagged[] => [
  tag,
  ...tag.children.flatMap((c) => ('kind' in c ? all(c) : [])),
];

describe.each(KINDS.flatMap((kind) => (['a4', 'letter'] as const).map((s) => [kind, s] as const)))(
  '16: the %s on %s can be read by a screen reader',
  async (kind, size) => {
    const document = await PDFDocument.load(await made(kind, size));
    const { catalog } = document;
    const pages = document.getPages();
    const tops = structureOf(document);
    const root = tops[0] ?? { kind: '', alt: null, actual: null, children: [] };
    const read = leaves(root);
    const drawn = pages.map(drawnOn);

    test('it says that it is tagged, its language, and its title in the bar of the window', () => {
      const dict = (name: string) => catalog.lookup(PDFName.of(name), PDFDict);
      expect(dict('MarkInfo').lookup(PDFName.of('Marked'))).toBe(PDFBool.True);
      expect(dict('ViewerPreferences').lookup(PDFName.of('DisplayDocTitle'))).toBe(PDFBool.True);
      expect(String(catalog.get(PDFName.of('Lang')))).toBe('(en)');
      expect(document.getTitle()).toContain('Rowan 2');
      for (const page of pages) expect(page.node.get(PDFName.of('Tabs'))).toBe(PDFName.of('S'));
    });

    test('every drawn word is in exactly one tagged element or belongs to the page', () => {
      const tagged = new Set(read.map((l) => `${l.page} ${l.id}`));
      expect(tagged.size).toBe(read.length);
      for (const [i, words] of drawn.entries()) {
        expect(words.length).toBeGreaterThan(0);
        for (const { text, within } of words) {
          expect(within, text).toHaveLength(1);
          const at = within[0];
          if (typeof at === 'number') expect([...tagged], text).toContain(`${i} ${at}`);
        }
        const ofPage = words.filter((w) => typeof w.within[0] !== 'number').map((w) => w.text);
        expect(ofPage.join('')).toMatch(/^(?:[^\d]+, continued)?Talkround .*page \d+ of \d+$/);
      }
    });

    test('the order of reading is the order of the sheet', () => {
      const order = read.map((l) => l.page * 1e6 + l.id);
      expect(order).toEqual([...order].sort((a, b) => a - b));
    });

    test('a sequence on a page leads back to its element', () => {
      const numbers = catalog
        .lookup(PDFName.of('StructTreeRoot'), PDFDict)
        .lookup(PDFName.of('ParentTree'), PDFDict)
        .lookup(PDFName.of('Nums'), PDFArray);
      pages.forEach((page, i) => {
        const key = page.node.lookup(PDFName.of('StructParents'), PDFNumber).asNumber();
        expect(numbers.lookup(2 * key, PDFNumber).asNumber()).toBe(key);
        const owners = numbers.lookup(2 * key + 1, PDFArray);
        const here = read.filter((l) => l.page === i).sort((a, b) => a.id - b.id);
        expect(here.map((l) => l.id)).toEqual(here.map((_, n) => n));
        expect(owners.size()).toBe(here.length);
        here.forEach((leaf, n) => {
          expect(owners.get(n)).toBeInstanceOf(PDFRef);
          const kind = owners.lookup(n, PDFDict).lookup(PDFName.of('S'), PDFName);
          expect(kind).toBe(PDFName.of(leaf.path.at(-1) ?? ''));
        });
      });
    });

    test('headings do not skip a level, checks are items of lists, drawings have other words', () => {
      expect(tops.map((t) => t.kind)).toEqual(['Document']);
      const tags = all(root);
      const levels = tags.flatMap((t) => /^H(\d)$/.exec(t.kind)?.slice(1).map(Number) ?? []);
      expect(levels[0]).toBe(1);
      expect(levels.filter((l) => l === 1)).toHaveLength(1);
      levels.forEach((l, i) => expect(l - (levels[i - 1] ?? 0)).toBeLessThan(2));
      for (const tag of tags) {
        const kinds = tag.children.map((c) => ('kind' in c ? c.kind : 'words'));
        if (tag.kind === 'L') expect(new Set(kinds)).toEqual(new Set(['LI']));
        if (tag.kind === 'LI') expect(kinds).toEqual(['LBody']);
        if (tag.kind === 'Figure') expect(tag.alt ?? '').toMatch(/\S{3}/);
        // Nothing is tagged that is not there.
        expect(tag.children.length, tag.kind).toBeGreaterThan(0);
      }
      if (kind !== 'squawks') expect(tags.some((t) => t.kind === 'L')).toBe(true);
      const figures = { sheet: 1, debrief: 3, form: 1, squawks: 1 }[kind];
      expect(tags.filter((t) => t.kind === 'Figure')).toHaveLength(figures);
    });
  },
);

test('16: the plan tells by ear how each station stands', async () => {
  const document = await PDFDocument.load(await made('debrief', 'a4'));
  const plan = structureOf(document)
    .flatMap(all)
    .find((t) => t.alt?.startsWith('The way round the aircraft'));
  for (const [i, station] of catalogue.stations.entries())
    expect(plan?.alt).toMatch(new RegExp(`${i + 1} ${station.name}: \\d+ of \\d+ spoken for`));
});

test('16: words that are drawn in another order than they are read are told as they are read', async () => {
  const document = await PDFDocument.load(await made('debrief', 'a4'));
  const told = structureOf(document).flatMap(all);
  expect(told.filter((t) => t.actual !== null).map((t) => t.actual)).toEqual([
    'Pilot: Łukasz Żak; Instructor: שרה כהן; Aircraft time in service: 1204.5 h',
  ]);
});
