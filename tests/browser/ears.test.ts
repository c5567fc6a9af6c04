import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { RATE } from '../speech/voice.ts';
import { startChromium } from './store-chromium.ts';
import { hearing, recordOf } from './listening-chromium.ts';
import { microphoneOf, silentVoice, type Line } from './listening-script.ts';

/*
 * The app in Chromium with the browser's recogniser on this device, which is a
 * double: no headless Chromium has one. Our own beside it is the real one, and
 * hears a sound file as its microphone.
 */

/**
 * What the double is told: the state it answers with, and what it delivers, seconds after the
 * microphone was opened. The words are shown three seconds before they are final.
 */
interface Script {
  readonly state: string;
  readonly results: readonly { readonly at: number; readonly text: string }[];
}

/** A double of the API. Runs in the page. */
function recogniserDouble({ state, results }: Script): void {
  const asked: string[] = [];
  Object.assign(window, { asked });
  let opened: number | null = null;
  const devices = navigator.mediaDevices as MediaDevices | undefined;
  const open = devices?.getUserMedia.bind(devices);
  if (devices !== undefined && open !== undefined)
    devices.getUserMedia = async (what) => {
      const stream = await open(what);
      opened ??= performance.now() / 1000;
      return stream;
    };
  // Kept over a reload, as an installed recogniser is.
  const installed = () => localStorage.getItem('double-installed') === 'yes';
  class Recognition extends EventTarget {
    static available({ processLocally }: { processLocally: boolean }): Promise<string> {
      asked.push(`available ${processLocally ? 'here' : 'anywhere'}`);
      return Promise.resolve(installed() ? 'available' : state);
    }
    static install(): Promise<boolean> {
      asked.push('install');
      return new Promise((done) =>
        setTimeout(() => {
          localStorage.setItem('double-installed', 'yes');
          done(true);
        }, 500),
      );
    }
    continuous = false;
    interimResults = false;
    maxAlternatives = 1;
    lang = '';
    phrases: unknown[] = [];
    #local = false;
    #timer = 0;
    #given: string[] = [];
    get processLocally(): boolean {
      return this.#local;
    }
    set processLocally(on: boolean) {
      this.#local = on;
    }
    start(): void {
      asked.push(`start ${this.#local ? 'here' : 'away'}`);
      this.dispatchEvent(new Event('start'));
      this.dispatchEvent(new Event('audiostart'));
      const begun = performance.now() / 1000;
      let next = opened === null ? 0 : results.findIndex((r) => r.at + (opened ?? 0) > begun);
      let shown = -1;
      this.#timer = window.setInterval(() => {
        const due = results[next];
        if (due === undefined || opened === null) return;
        const left = opened + due.at - performance.now() / 1000;
        if (left > 3 || (left > 0 && shown === next)) return;
        shown = next;
        const isFinal = left <= 0;
        const all = [...this.#given, due.text];
        if (isFinal) {
          next += 1;
          this.#given = all;
        }
        const list = all.map((transcript, i) =>
          Object.assign([{ transcript, confidence: 0.9 }], {
            isFinal: isFinal || i < all.length - 1,
          }),
        );
        const event = new Event('result');
        this.dispatchEvent(Object.assign(event, { resultIndex: all.length - 1, results: list }));
      }, 50);
    }
    stop(): void {
      window.clearInterval(this.#timer);
      setTimeout(() => this.dispatchEvent(new Event('end')), 50);
    }
    abort(): void {
      this.stop();
    }
  }
  Object.defineProperty(window, 'SpeechRecognition', { value: Recognition, configurable: true });
}

const askedOf = (page: Page) =>
  page.evaluate(() => (window as unknown as { asked: string[] }).asked);

test('getting it is offered on the first screen: one touch, once', async () => {
  const browser = await startChromium();
  try {
    const page = await browser.newPage();
    await page.addInitScript(recogniserDouble, { state: 'downloadable', results: [] });
    await page.goto(inject('url'));
    const offer = page.getByText('This browser can get a recogniser');
    await offer.waitFor({ timeout: 60_000 });
    // Declined, it is not offered again; the settings still have it.
    await offer.click();
    await page.getByRole('button', { name: 'No', exact: true }).click();
    await offer.waitFor({ state: 'detached' });
    await page.reload();
    await page.getByRole('button', { name: 'Begin the walk' }).waitFor({ timeout: 60_000 });
    expect(await offer.count()).toBe(0);
    expect(await askedOf(page)).not.toContain('install');
    await page.getByRole('link', { name: 'Settings' }).first().click();
    await page.getByRole('button', { name: 'Get it' }).click();
    await page.getByText('It is here and listens first').waitFor({ timeout: 20_000 });
    expect((await askedOf(page)).filter((a) => a === 'install')).toHaveLength(1);
  } finally {
    await browser.close();
  }
});

const LINES: readonly Line[] = [
  { after: 20, say: 'seat belts are good' },
  { after: 14, say: 'left skid tube is cracked' },
];

let page: Page;
let close: () => Promise<void>;
let seconds = 0;

beforeAll(async () => {
  const sound = await microphoneOf(LINES);
  seconds = sound.seconds;
  const [belts = 0] = sound.ends;
  const heard = await hearing(sound.samples, RATE);
  close = heard.close;
  page = await heard.browser.newPage();
  await page.addInitScript(silentVoice);
  await page.addInitScript(recogniserDouble, {
    state: 'available',
    results: [
      { at: belts + 4, text: 'seat belts are good' },
      // The left skid tube it does not hear at all.
    ],
  });
  await page.goto(inject('url'));
}, 180_000);

afterAll(() => close());

test(
  'a walk by two ears: the browser’s words count, what ours alone heard is kept (R10), and nothing leaves the device',
  { timeout: 240_000 },
  async () => {
    await page.getByText('Training helicopter').first().click();
    await page.getByRole('button', { name: 'Begin the walk' }).click();
    await page
      .getByText('listens, and Talkround’s own beside it', { exact: false })
      .waitFor({ timeout: 60_000 });
    await page.waitForTimeout((seconds + 20) * 1000);
    const events = await recordOf(page);
    const heard = events.flatMap((e) => (e.what.kind === 'heard' ? [e.what.heard] : []));
    const stated = events.flatMap((e) =>
      e.what.kind === 'stated' && e.what.statement.kind === 'observation' ? [e.what.statement] : [],
    );
    const about = (words: string) => heard.filter((h) => h.text.includes(words));
    const made = (words: string) =>
      stated.filter((s) => about(words).some((h) => h.id === s.heard && s.force === 'result'));
    const isGood = (s: (typeof stated)[number]) => s.verdict?.good === true && s.doubtful === null;
    // A busy machine may have ours later than it is waited for: then the first alone decides, and
    // what comes late adds nothing that was told before. What stands on the record is the same.
    const belts = about('seat belts').filter((h) => h.by === 'browser');
    expect(belts).toHaveLength(1);
    expect(belts[0]?.sentAway).toBe(false);
    expect(belts[0]?.sound).not.toBeNull();
    expect(made('seat belts').length).toBeGreaterThan(0);
    expect(made('seat belts').every(isGood)).toBe(true);
    // R10: what ours alone heard is on the disk too. What it counts for is held in Node, where
    // time does not depend on the machine (tests/wire/two-ears.test.ts).
    expect(about('left skid').map((h) => h.by)).toEqual(['embedded']);
    // Nothing of it went away.
    const asked = await askedOf(page);
    expect(asked.filter((a) => a.startsWith('start'))).not.toContain('start away');
    expect(asked).not.toContain('install');
  },
);
