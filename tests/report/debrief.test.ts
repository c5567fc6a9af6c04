import { describe, expect, test } from 'vitest';
import { fold } from '#reconcile';
import { PDFArray, PDFDict, PDFDocument, PDFHexString, PDFName } from 'pdf-lib';
import { debriefHtml, pdfOf, sheetHtml } from '#report';
import type { Event } from '#shared/event';
import { clock } from '#shared/length';
import { otherWords, toldIn } from '#shared/told';
import { printable } from '../../src/report/pdf-words.ts';
import { planFigure, timeFigure } from '../../src/report/debrief-figures.ts';
import { catalogueOf, EVENTFUL } from '../screens/cases.ts';
import { madeWalk } from '../screens/made.ts';
import { testLetters } from '../letters.ts';
import { pagesOf } from './pdf-text.ts';
import { POINT } from './point.ts';

/** Issue 16: the debrief as a document, and pictures in documents. */

const catalogue = catalogueOf('training-helicopter');
const events = madeWalk(catalogue, 'w', EVENTFUL);
const coverage = fold(catalogue, events);
const head = {
  aircraft: 'Rowan 2',
  pilot: 'M. Alder',
  instructor: 'I. Structor',
  begun: Date.UTC(2026, 8, 14, 6, 42),
  hours: 1204.5,
};
const parts = { coverage, catalogue, size: 'a4' as const, head, events };
const flat = (s: string) => printable(s).replace(/\s+/g, ' ');

describe('16: the debrief as a document', async () => {
  const pages = await pagesOf(await pdfOf('debrief', parts, testLetters()));
  const words = flat(pages.join('\n'));

  test('every page names aircraft, pilot, instructor, date and hours', () => {
    for (const page of pages)
      expect(page).toContain(
        'Talkround debrief: Rowan 2, pilot M. Alder, instructor I. Structor, 2026-09-14 06:42 UTC, 1204.5 h',
      );
  });

  test('the plan names every station and what is open there', () => {
    const figure = planFigure(coverage, catalogue);
    for (const [i, station] of catalogue.stations.entries()) {
      const here = coverage.checks.filter((c) => c.station === station.id && c.required.today);
      const good = here.filter((c) => ['spoken', 'set-aside'].includes(c.standing)).length;
      const told = `${i + 1} ${station.name}: ${good} of ${here.length} spoken for`;
      expect(figure.items.some((item) => item.kind === 'text' && item.text.startsWith(told))).toBe(
        true,
      );
      expect(words).toContain(flat(told));
    }
    const lines = figure.items.filter((item) => item.kind === 'line');
    expect(lines).toHaveLength(catalogue.stations.length - 1);
  });

  test('the time axis has a mark for each utterance', () => {
    const figure = timeFigure(coverage, catalogue, events);
    const heard = events.filter((e) => e.what.kind === 'heard').length;
    expect(figure?.told).toContain(`${heard} utterances in `);
    const marks = figure?.items.filter(
      (item) =>
        item.kind === 'triangle' ||
        (item.kind === 'line' && item.from[0] === item.to[0] && item.from[1] === 30),
    );
    expect(marks).toHaveLength(heard);
    for (const item of figure?.items ?? []) {
      const x = 'at' in item ? item.at[0] : item.to[0];
      expect(x >= 0 && x <= (figure?.width ?? 0)).toBe(true);
    }
  });

  test('no pace is drawn of a walk whose times are unknown', () => {
    const untimed = events.map((e): Event => {
      if (e.what.kind === 'walk-begun') return { ...e, what: { ...e.what, listening: 'file' } };
      if (e.what.kind !== 'heard') return e;
      return { ...e, what: { ...e.what, heard: { ...e.what.heard, from: null, to: null } } };
    });
    expect(timeFigure(coverage, catalogue, untimed)).toBeNull();
  });

  test('R1 the words of every claim stand at its check', () => {
    const claims = coverage.checks.flatMap((c) => toldIn(c).reported);
    expect(claims.length).toBeGreaterThan(10);
    // Wrapping breaks a line anywhere between words; nothing is lost in it.
    for (const claim of claims) expect(words).toContain(flat(claim.words));
  });
});

describe('16: the debrief as one page for a browser', async () => {
  const html = await debriefHtml(parts);
  const text = html
    .replace(/<style>[\s\S]*?<\/style>/, '')
    .replace(/<[^>]+>/g, ' ')
    .replaceAll('&quot;', '"')
    .replaceAll('&amp;', '&')
    .replace(/\s+/g, ' ');
  const pdf = await pagesOf(await pdfOf('debrief', parts, testLetters()));

  test('says what the PDF says, line for line', () => {
    const said = flat(text);
    // A line of the paper may be the half of one of the page; its head and its numbers are the paper's own.
    const lines = pdf.flatMap((page) => page.split('\n')).map(flat);
    const own = /^(Talkround debrief: |page \d+ of )|, continued$|^\d+ \D/;
    const missing = lines.filter((line) => !own.test(line) && !said.includes(line));
    expect(missing).toEqual([]);
  });

  test('can be gone through by ear: headings in order, lists, and each drawing one picture with its words', () => {
    const levels = [...html.matchAll(/<h([1-6])>/g)].map((m) => Number(m[1]));
    expect(levels[0]).toBe(1);
    expect(levels.filter((l) => l === 1)).toHaveLength(1);
    levels.forEach((level, i) => expect(level - (levels[i - 1] ?? 0)).toBeLessThan(2));
    const pictures = [...html.matchAll(/<svg role="img" aria-label="([^"]+)"/g)].map((m) => m[1]);
    expect(pictures).toHaveLength(2);
    expect(pictures[0]).toContain('The way round the aircraft');
    // Every other drawing is a mark beside words that say the same.
    expect(
      html.match(/<svg (?!role="img"|class="mark" viewBox="0 0 20 20" aria-hidden="true")/),
    ).toBeNull();
    expect(html).toContain('<html lang="en">');
    expect(html.split('<main>')).toHaveLength(2);
  });

  test('fetches nothing, runs nothing, and takes no words for markup', async () => {
    expect(html).toContain("default-src 'none'");
    expect(html).not.toMatch(/<script|<link|https?:/);
    const nasty = { ...head, aircraft: '<img src=x onerror="alert(1)">' };
    const bad = await debriefHtml({ ...parts, head: nasty });
    expect(bad).not.toContain('<img');
  });
});

describe('16: the headings of a PDF can be gone through beside its pages', () => {
  test.each(['sheet', 'debrief', 'form'] as const)('%s', async (kind) => {
    const read = await PDFDocument.load(await pdfOf(kind, parts, testLetters()));
    const titles: [depth: number, title: string][] = [];
    const walk = (of: PDFDict, depth: number) => {
      let at = of.lookupMaybe(PDFName.of('First'), PDFDict);
      while (at !== undefined) {
        titles.push([depth, at.lookup(PDFName.of('Title'), PDFHexString).decodeText()]);
        // Each leads to a page of this document.
        const [page] = at.lookup(PDFName.of('Dest'), PDFArray).asArray();
        expect(read.getPages().some((p) => p.ref === page)).toBe(true);
        walk(at, depth + 1);
        at = at.lookupMaybe(PDFName.of('Next'), PDFDict);
      }
    };
    walk(read.catalog.lookup(PDFName.of('Outlines'), PDFDict), 0);
    expect(titles[0]?.[0]).toBe(0);
    for (const station of catalogue.stations)
      expect(titles.some(([, title]) => title.startsWith(station.name))).toBe(true);
  });
});

test('59.7 seconds are less than a minute on paper too', () => {
  expect(clock(59.7)).toBe('0:59');
});

test('R6 words that a reason joins out of several statements stand on paper once', () => {
  const [check] = coverage.checks.filter((c) => toldIn(c).reported.length > 0);
  if (check === undefined) throw new Error('nothing reported');
  const words = toldIn(check).reported[0]?.words ?? '';
  const reasons = [
    { rule: 'R6' as const, text: '', events: [], words: `${words} … and it is gone` },
  ];
  expect(otherWords({ ...check, reasons })).toEqual(['and it is gone']);
});

describe('16: pictures in documents', () => {
  const picture = { picture: 'p', mime: 'image/jpeg', hash: 'h', width: 1, height: 1 };
  const withPictures = {
    ...parts,
    coverage: {
      ...coverage,
      findings: coverage.findings.map((f, i) => (i === 0 ? { ...f, pictures: [picture] } : f)),
    },
  };
  const here = (shown: Parameters<typeof sheetHtml>[0]['pictures']) => ({
    ...withPictures,
    ...(shown === undefined ? {} : { pictures: shown }),
  });
  const drawn = (pdf: Uint8Array) =>
    Buffer.from(pdf).toString('latin1').split('/DCTDecode').length - 1;

  test.each(['sheet', 'debrief'] as const)('the %s draws it', async (kind) => {
    const pictures = new Map([['h', { state: 'here', mime: 'image/jpeg', data: POINT } as const]]);
    expect(drawn(await pdfOf(kind, here(pictures), testLetters()))).toBe(1);
  });

  test.each([
    ['gone', { state: 'gone' } as const, 'A picture was taken, and it is not on this device.'],
    ['erased', { state: 'erased', why: 'a face' } as const, 'erased on request: a face.'],
    [
      'not one of ours',
      { state: 'here', mime: 'image/svg+xml', data: POINT } as const,
      'A picture was taken that cannot be',
    ],
    [
      'broken',
      { state: 'here', mime: 'image/jpeg', data: new ArrayBuffer(9) } as const,
      'A picture was taken that cannot be printed.',
    ],
  ])('one that is %s is said in its place', async (name, shown, sentence) => {
    const made = here(new Map([['h', shown]]));
    const pdf = await pdfOf('sheet', made, testLetters());
    expect(drawn(pdf)).toBe(0);
    expect(flat((await pagesOf(pdf)).join('\n'))).toContain(sentence);
    if (name !== 'broken') expect(sheetHtml(made)).toContain(sentence);
  });

  test('the page holds it, and fetches and runs nothing', () => {
    const html = sheetHtml(
      here(new Map([['h', { state: 'here', mime: 'image/jpeg', data: POINT }]])),
    );
    expect(html).toContain('<img alt="');
    expect(html).toContain('src="data:image/jpeg;base64,/9j/');
    expect(html).toContain("default-src 'none'");
    expect(html).not.toContain('<script');
  });
});
