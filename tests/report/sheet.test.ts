import { describe, expect, test } from 'vitest';
import { fold } from '#reconcile';
import { missingText, pdfOf, sheetHtml } from '#report';
import type { Event } from '#shared/event';
import { catalogueOf, EVENTFUL } from '../screens/cases.ts';
import { madeWalk } from '../screens/made.ts';
import { testLetters } from '../letters.ts';
import { pagesOf } from './pdf-text.ts';

const catalogue = catalogueOf('training-helicopter');
const AIRCRAFT = 'Rowan 2';

function partsOf(events: readonly Event[], aircraft = AIRCRAFT) {
  return {
    coverage: fold(catalogue, events),
    catalogue,
    size: 'a4' as const,
    head: {
      aircraft,
      pilot: 'M. Alder',
      instructor: null,
      begun: Date.UTC(2026, 8, 14, 6, 42),
      hours: 1204.5,
    },
  };
}

/** A line of a check: its name and how it stands, in words, since a mark alone says nothing to a screen reader. */
const STANDS = /^[^“”]+: (?:spoken for|part spoken|in question|unspoken|skipped|set aside)(?:;|$)/;

describe('every page of the sheet tells by itself what it is of', async () => {
  const pages = await pagesOf(
    await pdfOf('sheet', partsOf(madeWalk(catalogue, 'w', EVENTFUL)), testLetters()),
  );
  const stations = catalogue.stations.map((s) => s.name);

  test('the aircraft, and which page of how many', () => {
    expect(pages.length).toBeGreaterThan(2);
    pages.forEach((page, i) => {
      expect(page).toContain(`Talkround sheet: ${AIRCRAFT}, pilot M. Alder, 2026-09-14 06:42 UTC`);
      // No mark that could be taken for a list of things to do.
      expect(page).not.toMatch(/\[[ x/]\]/);
      expect(page).toContain(`page ${String(i + 1)} of ${String(pages.length)}`);
    });
  });

  test('a page that begins in the middle of a station opens with its name, and no other does', () => {
    let last: string | null = null;
    let continued = 0;
    for (const page of pages) {
      const lines = page.split('\n');
      const checks = lines.findIndex((l) => STANDS.test(l));
      const heading = lines.findIndex((l) => stations.includes(l));
      const goesOn = last !== null && checks >= 0 && (heading < 0 || checks < heading);
      expect(lines.includes(`${last ?? ''}, continued`)).toBe(goesOn);
      if (goesOn) {
        continued += 1;
        expect(lines.indexOf(`${last ?? ''}, continued`)).toBeLessThan(checks);
      }
      last = lines.findLast((l) => stations.includes(l)) ?? last;
    }
    expect(continued).toBeGreaterThan(0);
  });
});

/** Words as somebody might say, type or be called, that would be markup if they were not escaped. */
const NASTY = `<img src=x onerror="alert(1)"> & '</pre><script>alert(2)</script>`;

describe('the sheet as HTML: nothing that was said or typed becomes markup', () => {
  const events = madeWalk(catalogue, 'w', {
    ...EVENTFUL,
    found: new Map([['boom-skin', ['dent', NASTY, 'watch']]]),
    aside: new Map([['aux-tank', NASTY]]),
    pilot: NASTY,
  });
  const html = sheetHtml(partsOf(events, NASTY));
  // What this page is made of, and nothing else.
  const tags = [...html.matchAll(/<\/?([a-z!][a-z0-9]*)/gi)].map((m) => (m[1] ?? '').toLowerCase());

  test('no tag but its own, and each of its own as often as it writes it', () => {
    expect(new Set(tags)).toEqual(
      new Set(['!doctype', 'html', 'head', 'meta', 'title', 'style', 'body', 'main', 'h1', 'pre']),
    );
    for (const own of ['main', 'h1', 'pre', 'title', 'body'])
      expect(tags.filter((t) => t === own)).toHaveLength(2);
  });

  test('the words are there, to be read: as finding, as reason, as name', () => {
    const escaped = '&lt;img src=x onerror=&quot;alert(1)&quot;&gt; &amp; ';
    expect(html.split(escaped).length - 1).toBeGreaterThanOrEqual(4);
    expect(html).not.toContain('<script');
  });

  test('and the page forbids every script and every address', () => {
    expect(html).toContain(`content="default-src 'none'; style-src 'unsafe-inline'"`);
  });
});

test('what is missing of a thing with one place is its result, and no code of ours', () => {
  const check = catalogue.stations.flatMap((s) => s.checks).find((c) => c.repeat === undefined);
  const coverage = partsOf(madeWalk(catalogue, 'w', EVENTFUL)).coverage.checks.find(
    (c) => c.check === check?.id,
  );
  if (coverage === undefined) throw new Error('no check');
  const missing = { ...coverage.missing, instances: ['once'], aspects: [], measures: [], acts: [] };
  expect(missingText({ ...coverage, standing: 'question', missing }, check)).toBe('its result');
});
