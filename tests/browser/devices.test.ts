import { readdirSync, readFileSync } from 'node:fs';
import { FluentResource } from '@fluent/bundle';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { covered, screenOf, sideways, stageOf, type Stage } from './screens-stage.ts';

/*
 * The screens of a second device and of a note after signing, pressed through,
 * and the screens of the desk in German.
 * With PICTURES set to a folder each is photographed there, to be looked at.
 */

const SIZES = [
  [390, 844],
  [1280, 800],
] as const;
const PICTURES = process.env['PICTURES'];

let stage: Stage;
beforeAll(async () => {
  stage = await stageOf();
}, 120_000);
afterAll(() => stage.close());

async function look(page: Page, name: string): Promise<void> {
  expect(await covered(page), name).toEqual([]);
  expect(await sideways(page), name).toBeLessThanOrEqual(0);
  if (PICTURES !== undefined)
    await page.screenshot({ path: `${PICTURES}/${name}-${page.viewportSize()?.width ?? 0}.png` });
}

const calls = (page: Page, name: string) =>
  page.evaluate((wanted) => window.fake.calls.filter((c) => c.name === wanted), name);

test.each(SIZES)(
  'R6 14 a note after signing is written on the sheet, at %i by %i',
  async (...size) => {
    const { page, complaints } = await stage.opened(
      screenOf('Sheet, a note after signing'),
      'light',
      size,
    );
    expect(await page.locator('.said-beside').innerText()).toContain('2 mm deep');
    await page.locator('.said-beside').scrollIntoViewIfNeeded();
    await look(page, 'amended');
    await page.getByRole('button', { name: 'Add a note after signing' }).click();
    const add = page.getByRole('button', { name: 'Add the note' });
    expect(await add.isDisabled()).toBe(true);
    await page.getByLabel('Note', { exact: true }).fill('It was looked at twice.');
    await look(page, 'amend');
    await add.click();
    await page.locator('dialog').waitFor({ state: 'detached' });
    expect(await calls(page, 'amend')).toEqual([
      { name: 'amend', with: ['w-full', 'M. Alder', 'It was looked at twice.'] },
    ]);
    expect(complaints).toEqual([]);
    await page.context().close();
  },
);

test('14 a walk that is not signed offers no note after signing', async () => {
  const { page } = await stage.opened(screenOf('Sheet, not signed'), 'light');
  expect(await page.getByRole('button', { name: 'Add a note after signing' }).count()).toBe(0);
  await page.context().close();
});

test.each(SIZES)('14 another device is let in by its words, at %i by %i', async (...size) => {
  const { page, complaints } = await stage.opened(
    screenOf('Sheet, a second device'),
    'light',
    size,
  );
  const shared = page.locator('.shared');
  expect(await shared.innerText()).toMatch(/0192f0aa sent 4 events, counted nowhere/);
  await look(page, 'shared');
  await page.getByRole('button', { name: 'Let another device in' }).click();
  await page.getByRole('button', { name: 'School tablet' }).waitFor();
  await look(page, 'let-in-which');
  const code = page.getByLabel(/paste what a camera reads/);
  await code.fill('something else');
  await page.getByRole('button', { name: 'Read the code' }).click();
  expect(await page.getByRole('alert').innerText()).toContain('not the words of a device');
  await code.fill('Talkround key of School tablet: …');
  await page.getByRole('button', { name: 'Read the code' }).click();
  await page.locator('.key-words').waitFor();
  expect(await page.locator('.key-words').innerText()).toBe(
    'cabin dial even fresh goose hollow island jacket',
  );
  // A known device under a new key is told before anybody says yes.
  expect(await page.locator('dialog').innerText()).toContain('A new key of a device');
  await page.locator('.key-code').waitFor();
  await look(page, 'let-in-compare');
  await page.getByRole('button', { name: 'They differ' }).click();
  expect(await calls(page, 'letIn')).toEqual([]);
  await page.getByRole('button', { name: 'School tablet' }).click();
  await page.getByRole('button', { name: 'The same words: let it in' }).click();
  await page.locator('dialog').waitFor({ state: 'detached' });
  expect((await calls(page, 'letIn')).map((c) => [c.with[0], c.with[2]])).toEqual([
    ['w-half', 'M. Alder'],
  ]);
  expect(complaints).toEqual([]);
  await page.context().close();
});

test.each(SIZES)(
  'R9 14 a device that was let in hands over and ends nothing, at %i by %i',
  async (...size) => {
    const { page, complaints } = await stage.opened(screenOf('Finish, let in'), 'light', size);
    expect(await page.getByRole('button', { name: /^(Finish|Discard|Sign)/ }).count()).toBe(0);
    await look(page, 'finish-guest');
    const given = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Hand over' }).click();
    expect((await given).suggestedFilename()).toBe('talkround.zip');
    expect(await calls(page, 'handOver')).toEqual([{ name: 'handOver', with: ['w-half'] }]);
    expect(complaints).toEqual([]);
    await page.context().close();
    const sheet = await stage.opened(screenOf('Sheet, let in'), 'dark', size);
    expect(await sheet.page.getByRole('button', { name: 'Let another device in' }).count()).toBe(0);
    await look(sheet.page, 'sheet-guest');
    await sheet.page.context().close();
  },
);

test.each(SIZES)('14 the keys under Settings, at %i by %i', async (...size) => {
  const { page, complaints } = await stage.opened(screenOf('Settings'), 'light', size);
  await page.locator('.key-code').scrollIntoViewIfNeeded();
  await look(page, 'settings-keys');
  expect(complaints).toEqual([]);
  await page.context().close();
});

test('14 in German nothing of it sticks out or is covered', async () => {
  for (const [name, press] of [
    ['Sheet, a second device', 'Ein anderes Gerät zulassen'],
    ['Sheet, a note after signing', 'Notiz nach der Unterschrift'],
    ['Sheet, let in', null],
    ['Finish, let in', null],
    ['Settings', null],
  ] as const) {
    const { page, complaints } = await stage.opened(screenOf(name), 'light');
    await page.evaluate(() => window.fake.change({ language: 'de' }));
    if (press !== null) await page.getByRole('button', { name: press }).click();
    await page.locator('dialog, .shared, .finish-go, .key-words').first().waitFor();
    await look(page, `de-${name.replace(/\W+/g, '-')}`);
    const known = page.getByRole('button', { name: 'School tablet' });
    if ((await known.count()) > 0) {
      await known.click();
      await page.locator('.key-code').waitFor();
      await look(page, 'de-compare');
    }
    expect(complaints).toEqual([]);
    await page.context().close();
  }
});

/** Screens of the desk, and what is there once each is drawn. */
const DESK = [
  ['walks', '.walk-list'],
  ['squawks', '.squawk-group'],
  ['squawk', '.quick'],
  ['learned', '.learned-line'],
  ['student/M.%20Alder', '.student-walk'],
  ['debrief/w-full', '.timeline'],
  ['several/w-full,w-earlier', '.repeated'],
  ['settings', '.key-words'],
  ['ear', '.check-phrases'],
  ['school', '.devices'],
  ['join/482913', '.terms'],
  ['let/482913', '.school'],
] as const;

/** Sentences of one language by id, as far as nothing is put into them. */
function wholeIn(language: string): ReadonlyMap<string, string> {
  const folder = 'src/screens/text';
  return new Map(
    readdirSync(folder)
      .filter((name) => name.endsWith(`${language}.ftl`))
      .flatMap((name) => new FluentResource(readFileSync(`${folder}/${name}`, 'utf8')).body)
      .flatMap(({ id, value }) => (typeof value === 'string' ? [[id, value] as const] : [])),
  );
}

test('17 in German nothing of the desk sticks out, is cut, is covered, or is left in English', async () => {
  const german = wholeIn('de');
  const english = new Set(
    [...wholeIn('en')].flatMap(([id, text]) => (german.get(id) === text ? [] : [text])),
  );
  const { page, complaints } = await stage.opened(
    { name: 'Desk', of: 'school', at: '/walks', waits: '.walk-list' },
    'light',
  );
  await page.evaluate(() => window.fake.change({ language: 'de' }));
  for (const [at, waits] of DESK) {
    await page.evaluate((to) => (location.hash = `/${to}`), at);
    await page.locator(waits).first().waitFor();
    await page.evaluate(() => {
      for (const more of document.querySelectorAll('details')) more.open = true;
      scrollTo(0, 0);
    });
    await look(page, `de-${at.replace(/\W+/g, '-')}`);
    const cut = await page.$$eval('.press, h1, h2, h3, summary, label', (all) =>
      all
        .filter((e) => e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0)
        .map((e) => e.textContent),
    );
    expect(cut, at).toEqual([]);
    const words = await page.evaluate(() => {
      const found: string[] = [];
      const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
      while (walker.nextNode()) found.push(walker.currentNode.textContent?.trim() ?? '');
      for (const e of document.querySelectorAll('[aria-label], [placeholder], [title]'))
        for (const name of ['aria-label', 'placeholder', 'title'])
          found.push(e.getAttribute(name) ?? '');
      return found;
    });
    expect(words.length, at).toBeGreaterThan(10);
    expect(
      words.filter((w) => english.has(w)),
      at,
    ).toEqual([]);
  }
  expect(complaints).toEqual([]);
  await page.context().close();
});
