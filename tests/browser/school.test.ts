import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { squawksOf } from '#reconcile';
import type { Event } from '#shared/event';
import { startPostgres, type Postgres } from '../school/postgres.ts';
import { RATE } from '../speech/voice.ts';
import { hearing, recordOf } from './listening-chromium.ts';
import { microphoneOf, silentVoice } from './listening-script.ts';
import { APP } from './store-chromium.ts';

/*
 * The day of a school in Chromium, each device a profile of its own: two phones,
 * the chief's desk, the phone of a mechanic and the desk that it signs in. The
 * first phone hears its walk from a sound file, with the network off.
 */

const AIRCRAFT = 'Rowan 2';
const SQUAWK = /skid tubes?/i;
/** Time for what the school passes on, milliseconds: it is live, and the machine is shared. */
const PASSED_ON = 60_000;

interface Served {
  readonly url: string;
  readonly code: string;
  close(): Promise<void>;
}

let postgres: Postgres | string | null = null;
beforeAll(async () => {
  const from = (path: string) => import(pathToFileURL(join(process.cwd(), path)).href);
  const { ensureBuilt } = await from('src/serve/ensure.mjs');
  await ensureBuilt('school');
  if (process.env['SCHOOL_DAY'] === 'postgres') postgres = await startPostgres();
}, 180_000);
afterAll(() => {
  if (postgres !== null && typeof postgres !== 'string') postgres.stop();
});

async function serveSchool(url?: string): Promise<Served> {
  const folder = mkdtempSync(join(tmpdir(), 'talkround-school-'));
  const from = (path: string) => import(pathToFileURL(join(process.cwd(), path)).href);
  const { openSchool } = await from('dist/school/main.js');
  const { serve } = await from('src/serve/serve.mjs');
  const school = await openSchool({
    folder,
    name: 'Rowan school',
    chief: 'C. Hawthorn',
    surroundings: { DATABASE_URL: url },
    log: () => undefined,
  });
  const server = await serve({ folder: APP, answer: school.answer, limits: { stalled: 60_000 } });
  return {
    url: `http://localhost:${server.port}/`,
    code: school.code,
    async close() {
      await server.close();
      await school.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

async function opened(context: BrowserContext): Promise<Page> {
  context.setDefaultTimeout(30_000);
  const page = await context.newPage();
  await page.addInitScript(silentVoice);
  return page;
}

async function joinWith(page: Page, link: string): Promise<void> {
  await page.goto(link);
  await page.getByRole('button', { name: 'I have read this: join' }).click();
  await page.getByRole('heading', { name: 'Rowan school' }).waitFor();
}

async function go(page: Page, to: string): Promise<void> {
  await page.evaluate((hash) => {
    window.location.hash = hash;
  }, to);
}

async function addPerson(desk: Page, name: string, role: string): Promise<void> {
  const people = desk.getByRole('region', { name: 'People' });
  await people.getByLabel('Name, as it is said on walks').fill(name);
  await people.locator('.new-person select').selectOption(role);
  await people.getByRole('button', { name: 'Add' }).click();
  await people.getByRole('link', { name }).waitFor();
}

/** The lines that belong to one person, unfolded. */
async function person(desk: Page, name: string) {
  const line = desk.locator('.people > li', { has: desk.getByRole('link', { name, exact: true }) });
  const details = line.locator('details');
  if ((await details.getAttribute('open')) === null) await line.getByText('Change').click();
  return line;
}

async function codeFor(desk: Page, name: string): Promise<string> {
  const before = await desk
    .locator('.code-words')
    .getAttribute('data-link')
    .catch(() => null);
  await (await person(desk, name)).getByRole('button', { name: 'Code for their phone' }).click();
  await desk.getByText(`Scan this with ${name}’s own phone.`).waitFor();
  const link = await desk.locator('.code-words').getAttribute('data-link');
  expect(link).not.toBe(before);
  return link ?? '';
}

/** Statements of a condition that is there. */
const findings = (events: readonly Event[]) =>
  events.filter(
    ({ what }) =>
      what.kind === 'stated' &&
      what.statement.kind === 'observation' &&
      JSON.stringify(what.statement).includes('"crack"'),
  ).length;

const stepsIn = (events: readonly Event[]) =>
  squawksOf(events).flatMap((s) => s.history.map((h) => h.step.step));

async function until(what: string, holds: () => Promise<boolean>, ms = PASSED_ON): Promise<void> {
  const end = Date.now() + ms;
  while (!(await holds())) {
    if (Date.now() > end) throw new Error(`It did not come about: ${what}.`);
    await new Promise((resolve) => setTimeout(resolve, 400));
  }
}

async function theDay(database?: string): Promise<void> {
  const school = await serveSchool(database);
  const sound = await microphoneOf([
    { after: 24, say: 'left skid tube is cracked ground it' },
    // Who is not heard says it again: a busy machine swallows sound.
    { after: 18, say: 'left skid tube is cracked ground it' },
    { after: 18, say: 'left skid tube is cracked ground it' },
  ]);
  const first = await hearing(sound.samples, RATE);
  const others = await hearing(new Float32Array(RATE), RATE);
  const device = async () => opened(await others.browser.newContext());
  try {
    // The chief joins with the code that the server printed; the desk is set up.
    const desk = await device();
    await joinWith(desk, `${school.url}#/join/${school.code}`);
    await addPerson(desk, 'A. Alder', 'pilot');
    await addPerson(desk, 'B. Birch', 'pilot');
    await addPerson(desk, 'M. Medlar', 'maintenance');
    const chief = await person(desk, 'C. Hawthorn');
    for (const name of ['instructor', 'A. Alder', 'B. Birch']) {
      const box = chief.getByLabel(name);
      await box.click();
      await until(`${name} is ticked`, () => box.isChecked());
    }

    // Two phones and a mechanic's join by code, each code once.
    const phoneOne = await opened(await first.browser.newContext({ permissions: ['microphone'] }));
    const link = await codeFor(desk, 'A. Alder');
    await joinWith(phoneOne, link);
    const phoneTwo = await device();
    await joinWith(phoneTwo, await codeFor(desk, 'B. Birch'));
    const mechanic = await device();
    await joinWith(mechanic, await codeFor(desk, 'M. Medlar'));
    const late = await device();
    await late.goto(link);
    await late.getByText('This code is not good').waitFor();
    await late.close();

    // Away from the network, a walk by voice.
    await phoneOne.evaluate(async () => {
      await navigator.serviceWorker.ready;
      if (navigator.serviceWorker.controller === null)
        await new Promise((resolve) =>
          navigator.serviceWorker.addEventListener('controllerchange', resolve, { once: true }),
        );
    });
    await phoneOne.context().setOffline(true);
    await go(phoneOne, '/');
    await phoneOne.getByText('Training helicopter').first().click();
    await phoneOne.getByLabel(/What do you call it/).fill(AIRCRAFT);
    await phoneOne.getByRole('button', { name: 'Begin the walk' }).click();
    await until(
      'the finding is heard',
      async () => findings(await recordOf(phoneOne)) > 0,
      (sound.seconds + 120) * 1000,
    );
    await go(phoneOne, '/finish');
    await phoneOne
      .getByRole('button', { name: /^Finish/ })
      .first()
      .click();
    await until('the walk is finished', async () =>
      (await recordOf(phoneOne)).some((e) => e.what.kind === 'finished'),
    );
    await until('the squawk is written up', async () =>
      stepsIn(await recordOf(phoneOne)).includes('opened'),
    );
    const walked = await recordOf(phoneOne);
    const heard = walked.flatMap(({ what }) =>
      what.kind === 'heard' ? [`${what.heard.by}: ${what.heard.text}`] : [],
    );
    expect(stepsIn(walked), heard.join('; ')).toContain('opened');
    expect(heard.every((h) => h.startsWith('embedded'))).toBe(true);
    const walk = walked.find((e) => e.what.kind === 'walk-begun')?.walk ?? '';
    const arrivals = desk.getByRole('region', { name: 'Walks as they arrive' });
    expect(await arrivals.locator(`[data-walk="${walk}"]`).count()).toBe(0);

    // Back in the network: it is on the desk without anybody asking.
    await phoneOne.context().setOffline(false);
    const line = arrivals.locator(`[data-walk="${walk}"]`);
    await line.getByRole('link', { name: 'Debrief' }).waitFor({ timeout: PASSED_ON });
    expect(await line.textContent()).toContain('A. Alder');
    expect(await line.getAttribute('data-state')).toBe('finished');

    // Reviewed there; the student's phone has the review.
    await line.getByRole('link', { name: 'Debrief' }).click();
    await review(desk, 'C. Hawthorn');
    await until('the review is on the desk', async () =>
      (await recordOf(desk)).some((e) => e.what.kind === 'reviewed'),
    );
    await until('the review is on the phone', async () =>
      (await recordOf(phoneOne)).some((e) => e.what.kind === 'reviewed'),
    );

    // The mechanic signs a desk in with their phone, and answers the squawk in the browser.
    const workshop = await device();
    await workshop.goto(`${school.url}#/school`);
    await workshop.getByRole('button', { name: 'Use this device as a desk' }).click();
    const code = (await workshop.locator('.code-words').textContent()) ?? '';
    await go(mechanic, '/let');
    await mechanic.getByLabel('Code on the desk’s screen').fill(code);
    await mechanic.getByRole('button', { name: 'Sign this desk in as me' }).click();
    await mechanic.getByText('is signed in as you').waitFor();
    await workshop.getByText('M. Medlar').first().waitFor({ timeout: PASSED_ON });
    const fleet = workshop.getByRole('region', { name: 'Fleet' });
    await fleet.getByText(SQUAWK).first().waitFor({ timeout: PASSED_ON });
    // Not a word of the walk is at the workshop, only the squawk.
    expect((await recordOf(workshop)).filter((e) => e.walk === walk)).toEqual([]);
    await fleet.getByRole('link', { name: 'Squawks' }).click();
    await workshop.locator('li.squawk summary').first().click();
    await workshop.getByRole('button', { name: 'Rectif' }).first().click();
    await rectify(workshop);

    // The other phone has it, and reads it out as its walk begins.
    await until(
      'the answer is on the other phone',
      async () => {
        await go(phoneTwo, '/squawks/Rowan%202');
        const text = (await phoneTwo.locator('main').textContent()) ?? '';
        await go(phoneTwo, '/school');
        return /rectified/i.test(text);
      },
      PASSED_ON,
    );
    await go(phoneTwo, '/');
    await phoneTwo.getByText('Training helicopter').first().click();
    await phoneTwo.getByText(`Squawked and not yet walked: ${AIRCRAFT}`).waitFor();
    await phoneTwo.getByLabel(/What do you call it/).fill(AIRCRAFT);
    await phoneTwo.getByText('Who walks, and what listens').click();
    await phoneTwo.locator('.who select').selectOption('typed');
    await phoneTwo.getByRole('button', { name: 'Begin the walk' }).click();
    await until('it is read out', async () =>
      phoneTwo.evaluate(() =>
        (window as unknown as { spoken: { text: string }[] }).spoken.some((s) =>
          /skid tubes?: crack/i.test(s.text),
        ),
      ),
    );
    const second = (await recordOf(phoneTwo)).find((e) => e.what.kind === 'walk-begun')?.walk ?? '';
    await go(desk, '/school');
    await arrivals.locator(`[data-walk="${second}"]`).waitFor({ timeout: PASSED_ON });
    expect(await arrivals.locator(`[data-walk="${second}"]`).getAttribute('data-state')).toBe(
      'walking',
    );

    // The first phone is lost: one touch, and what it says from then on does not enter.
    await desk.getByRole('button', { name: 'Shut A. Alder out' }).click();
    await desk.getByText('A. Alder is shut out').waitFor();
    await go(phoneOne, '/school');
    await phoneOne.getByRole('button', { name: 'Ask the school now' }).click();
    await phoneOne.getByText('This device was shut out of the school').waitFor();
    await go(phoneOne, '/squawk/Rowan%202');
    const before = (await recordOf(phoneOne)).length;
    await phoneOne.locator('textarea').fill('left door will not close');
    await phoneOne.getByRole('button', { name: /^File/ }).first().click();
    await until('it is on the lost phone', async () => (await recordOf(phoneOne)).length > before);
    await go(phoneOne, '/school');
    await phoneOne.getByRole('button', { name: 'Ask the school now' }).click();
    await new Promise((resolve) => setTimeout(resolve, 3_000));
    await go(desk, '/squawks/Rowan%202');
    await desk.getByText(SQUAWK).first().waitFor();
    expect(await desk.locator('main').textContent()).not.toMatch(/will not close/i);
  } finally {
    await first.close();
    await others.close();
    await school.close();
  }
}

/** The reviewer’s standing for the check that is shown. */
async function review(desk: Page, by: string): Promise<void> {
  const who = desk.getByLabel('Who reviews');
  await who.fill(by);
  const form = desk.locator('.check-side form').last();
  await form.locator('select').selectOption('spoken');
  await form.getByLabel('Why').fill('seen by me');
  await form.getByRole('button', { name: `Record as ${by}` }).click();
}

async function rectify(page: Page): Promise<void> {
  await page.getByLabel('Rectified by').fill('M. Medlar');
  await page.getByLabel('Kind of certificate').fill('mechanic');
  await page.getByLabel('Certificate number').fill('17');
  await page.getByLabel('Reference to the work').fill('W 1');
  await page.getByLabel('Date', { exact: true }).fill('2026-03-02');
  await page.getByRole('button', { name: 'Record it' }).click();
  await page
    .getByText(/Rectified by M. Medlar/)
    .first()
    .waitFor({ state: 'attached' });
}

/** `npm run day`, and `npm run day:postgres` the same on a real PostgreSQL: three minutes or more, so neither is in `npm test`. */
const STORE =
  process.env['SCHOOL_DAY'] === 'postgres' ? 'a real PostgreSQL' : 'the embedded database';

test(
  `19: a day of a school in Chromium, on ${STORE}: joined by code, walked offline by voice, live on the desk, reviewed, answered, read out on the other phone, the first shut out`,
  { timeout: 1_200_000 },
  () => {
    if (typeof postgres === 'string') throw new Error(postgres);
    return theDay(postgres?.url);
  },
);
