import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Papa from 'papaparse';
import { chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { squawksOf } from '#reconcile';
import type { Event } from '#shared/event';
import { writeWav } from '../../src/capture/signal/wav.ts';
import { RATE } from '../speech/voice.ts';
import { hearsFile, recordOf } from './listening-chromium.ts';
import { microphoneOf, silentVoice, type Line } from './listening-script.ts';
import { APP, serveFolder } from './store-chromium.ts';

/*
 * The whole life of one squawk in the app: dictated into a sound file that is
 * the microphone, heard by the recogniser on the device. A browser hears such a
 * file once, so each visit is a browser of its own over the same profile.
 */

const AIRCRAFT = 'Rowan 2';
let server: Awaited<ReturnType<typeof serveFolder>>;
const folder = mkdtempSync(join(tmpdir(), 'talkround-squawks-'));

beforeAll(async () => {
  server = await serveFolder(process.env['SQUAWK_APP'] ?? APP);
}, 60_000);
afterAll(async () => {
  await server.close();
  rmSync(folder, { recursive: true, force: true });
});

/** One visit to the app with a microphone that says these lines. */
async function visit(
  lines: readonly Line[],
  at: string,
  run: (page: Page, seconds: number) => Promise<void>,
): Promise<{ events: Event[]; spoken: string[] }> {
  const sound = await microphoneOf(lines);
  const file = join(folder, 'microphone.wav');
  writeFileSync(file, writeWav(sound.samples, RATE));
  const context = await chromium.launchPersistentContext(join(folder, 'profile'), {
    executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium',
    acceptDownloads: true,
    args: hearsFile(file),
  });
  try {
    const page = context.pages()[0] ?? (await context.newPage());
    await page.addInitScript(silentVoice);
    await page.goto(`http://localhost:${server.port}/#${at}`);
    await run(page, sound.seconds);
    const spoken = await page.evaluate(() =>
      (window as unknown as { spoken: { text: string }[] }).spoken.map((s) => s.text),
    );
    return { events: await recordOf(page), spoken };
  } finally {
    await context.close();
  }
}

const steps = (events: readonly Event[]) =>
  squawksOf(events).flatMap((s) => s.history.map((h) => h.step.step));
const heardIn = (events: readonly Event[]) =>
  events.flatMap((e) =>
    e.what.kind === 'heard' ? [`${e.what.heard.by}: ${e.what.heard.text}`] : [],
  );

/** Waits until the record has this step, or for so many seconds. */
async function untilStep(page: Page, step: string, count: number, seconds: number) {
  const until = Date.now() + seconds * 1000;
  while (Date.now() < until) {
    if (steps(await recordOf(page)).filter((s) => s === step).length >= count) return;
    await page.waitForTimeout(500);
  }
}

async function walkAgain(page: Page): Promise<void> {
  await page.locator('.craft').first().waitFor();
  const known = page.locator('.craft', { hasText: AIRCRAFT });
  if ((await known.count()) > 0) await known.first().click();
  else {
    await page.getByText('Training helicopter').first().click();
    await page.getByLabel(/What do you call it/).fill(AIRCRAFT);
  }
  await page.getByRole('button', { name: 'Begin the walk' }).click();
}

/** The squawks of the aircraft, with the one squawk opened. */
async function card(page: Page): Promise<void> {
  await page.evaluate(
    (to) => {
      window.location.hash = to;
    },
    `#/squawks/${encodeURIComponent(AIRCRAFT)}`,
  );
  await page.locator('li.squawk summary').first().click();
}

test(
  'a squawk dictated into the microphone is carried, asked about, deferred, rectified by CSV, rechecked by voice and closed, every step in the log',
  { timeout: 500_000 },
  async () => {
    // Dictated with no walk begun.
    const first = await visit(
      [{ after: 8, say: 'squawk left skid tube is cracked ground it' }],
      `/squawk/${encodeURIComponent(AIRCRAFT)}`,
      async (page, seconds) => {
        await page.getByRole('button', { name: 'Say it' }).click();
        await page
          .locator('.dictated', { hasText: /crack/ })
          .waitFor({ timeout: (seconds + 20) * 1000 });
        await page.waitForTimeout(2500);
        await page.getByRole('button', { name: 'File what I said' }).click();
        // New here: which catalogue it has is asked, once.
        await page.getByRole('button', { name: 'Training helicopter' }).click();
        await page.getByRole('heading', { name: /Filed/ }).waitFor();
      },
    );
    const [opened] = squawksOf(first.events);
    expect(opened).toMatchObject({
      aircraft: AIRCRAFT,
      state: 'open',
      fault: { check: 'skid-tubes', side: 'left', severity: 'ground' },
    });
    expect(opened?.fault.conditions.map((c) => c.condition)).toEqual(['crack']);
    // With it the words as they were heard, and where their sound is kept (R10).
    const dictated = first.events.flatMap(({ what }) =>
      what.kind === 'heard' ? [what.heard] : [],
    );
    expect(dictated).toHaveLength(1);
    expect(dictated[0]).toMatchObject({ by: 'embedded', sentAway: false });
    expect(dictated[0]?.words.length).toBeGreaterThan(0);
    const step = opened?.history[0]?.step;
    const sound = step?.step === 'opened' ? step.sound : null;
    expect(sound).toEqual(dictated[0]?.sound);
    const kept = first.events.flatMap(({ what }) =>
      what.kind === 'sound-kept' && what.recording === sound?.recording ? [what.place] : [],
    );
    expect(kept.at(-1)?.to).toBeGreaterThanOrEqual(sound?.to ?? Infinity);

    // The next walk begins with it and asks at its station; then it is deferred, and rectified by CSV.
    const second = await visit(
      [
        { after: 24, say: 'skid shoes are good' },
        { after: 14, say: 'still there' },
      ],
      '/',
      async (page, seconds) => {
        await walkAgain(page);
        await untilStep(page, 'rechecked', 1, seconds + 15);
        await card(page);
        await page.getByRole('button', { name: 'Defer' }).click();
        await page.getByLabel('Deferred by').fill('B. Ash');
        await page.getByLabel('On what authority').fill('mechanic 17');
        await page.getByLabel(/Until the date/).fill('2099-01-31');
        await page.getByRole('button', { name: 'Record it' }).click();
        await untilStep(page, 'deferred', 1, 10);

        const [download] = await Promise.all([
          page.waitForEvent('download'),
          page.getByRole('button', { name: 'Table (CSV)', exact: true }).click(),
        ]);
        const csv = readFileSync((await download.path()) ?? '', 'utf8');
        const { data, meta } = Papa.parse<Record<string, string>>(csv.replace(/^\uFEFF/, ''), {
          header: true,
          skipEmptyLines: true,
        });
        expect(data).toHaveLength(1);
        const answered = {
          ...data[0],
          rectified_by: 'B. Ash',
          certificate: '17',
          certificate_kind: 'mechanic',
          work_reference: 'W 1',
          rectified_on: new Date().toISOString().slice(0, 10),
        };
        const text = Papa.unparse({ fields: meta.fields ?? [], data: [answered] });
        await page.locator('input[type=file][accept*=csv]').setInputFiles({
          name: 'answers.csv',
          mimeType: 'text/csv',
          buffer: Buffer.from(text),
        });
        await untilStep(page, 'rectified', 1, 10);
      },
    );
    expect(second.spoken.join(' ')).toContain('1 open: Left skid tubes: crack');
    expect(second.spoken.join(' ')).toMatch(/Open squawk: Left skid tubes: crack\. Still there/);
    expect(steps(second.events), heardIn(second.events).join('; ')).toEqual([
      'opened',
      'rechecked',
      'amended',
      'deferred',
      'rectified',
    ]);

    // Rechecked by voice on the walk after that, and closed.
    const third = await visit(
      [
        { after: 24, say: 'skid shoes are good' },
        { after: 14, say: 'it is gone' },
      ],
      '/',
      async (page, seconds) => {
        await walkAgain(page);
        await untilStep(page, 'rechecked', 2, seconds + 15);
        await card(page);
        await page.getByRole('button', { name: 'Close' }).click();
        await page.getByLabel('Closed by').fill('A. Pilot');
        await page.getByRole('button', { name: 'Record it' }).click();
        await untilStep(page, 'closed', 1, 10);
      },
    );
    const [squawk, ...others] = squawksOf(third.events);
    expect(others).toEqual([]);
    expect(squawk?.state).toBe('closed');
    expect(squawk?.irregular).toEqual([]);
    expect(steps(third.events), heardIn(third.events).join('; ')).toEqual([
      'opened',
      'rechecked',
      'amended',
      'deferred',
      'rectified',
      'rechecked',
      'closed',
    ]);
    const outcomes = squawk?.history.flatMap(({ step }) =>
      step.step === 'rechecked' ? [step.outcome] : [],
    );
    expect(outcomes).toEqual(['still-there', 'gone']);
    // By voice: the words that answered were heard by the recogniser on the device.
    const statements = new Map(
      third.events.flatMap((e) =>
        e.what.kind === 'stated' ? [[e.what.statement.id, e.what.statement.heard] as const] : [],
      ),
    );
    const by = new Map(
      third.events.flatMap((e) =>
        e.what.kind === 'heard' ? [[e.what.heard.id, e.what.heard.by] as const] : [],
      ),
    );
    for (const { step } of squawk?.history ?? []) {
      if (step.step !== 'rechecked') continue;
      expect(by.get(statements.get(step.statement ?? '') ?? '')).toBe('embedded');
    }
  },
);
