import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { fold } from '#reconcile';
import { parseCatalogue } from '#catalogue';
import { CATALOGUES } from '#seeds';
import { RATE } from '../speech/voice.ts';
import { hearing, recordOf } from './listening-chromium.ts';
import { EARCONS, secondsOf } from '#speak';
import {
  microphoneOf,
  notedTones,
  silentVoice,
  type Line,
  type Toned,
} from './listening-script.ts';
import { APP, serveFolder, wireTo } from './store-chromium.ts';

/*
 * A whole walk in the app itself: a sound file is the microphone, the recogniser
 * is the one on the device, and the network is cut before it begins.
 */

/**
 * The file begins anew with each opening of the microphone: "begin" is heard on
 * the first screen, and once more in the walk that it began, where it comes
 * after the cautions and the gate.
 */
const LINES: readonly Line[] = [
  { after: 16, say: 'begin' },
  { after: 6, say: 'seat belts are good' },
  { after: 9, say: 'left skid tube is cracked' },
  { after: 9, say: 'front cross tube has corrosion' },
  // Our own question comes back through the loudspeaker. Taken for the pilot's, it would ground it.
  { after: 4.5, say: 'ground it, defer it, watch it, or note it', own: true },
  // After the gate has opened again, and before the question is put a second time.
  { after: 6.5, say: 'watch it' },
  // One of four places, told by its order in the question.
  { after: 9, say: 'gear strut is cracked' },
  { after: 14, say: 'the second one' },
  { after: 9, say: 'right skid tube is good' },
  { after: 6, say: 'take that back' },
  // Somebody comes; what is said meanwhile counts for nothing.
  { after: 9, say: 'hold the walk' },
  { after: 7, say: 'skid shoes are good' },
  { after: 8, say: 'resume the walk' },
  { after: 14, say: 'what is left' },
  { after: 14, say: 'finish' },
];

/** The walk as it is heard: each tone and sentence that matters, in this order, others between them. */
const STORY = new RegExp(
  [
    '\\(understood\\)',
    'Begin at the ',
    '\\(finding\\)',
    'Left skid tube: crack',
    '\\(question\\)',
    'corrosion: ground it, defer it, watch it or note it\\?',
    'Watch it',
    'Left front, left rear, right front or right rear gear struts\\?',
    'Left rear gear strut: crack',
    'Held',
    '\\(not-understood\\)',
    'The walk is held; say resume',
    '\\(understood\\)',
    '\\d+ left: ',
    'Finished with \\d+ open',
  ].join('[^]*'),
  'i',
);

let server: Awaited<ReturnType<typeof serveFolder>>;
let wire: Awaited<ReturnType<typeof wireTo>>;
let page: Page;
let close: () => Promise<void>;
let seconds = 0;

beforeAll(async () => {
  server = await serveFolder(process.env['WALK_APP'] ?? APP);
  wire = await wireTo(server.port);
  const sound = await microphoneOf(LINES);
  seconds = sound.seconds;
  const heard = await hearing(sound.samples, RATE);
  close = heard.close;
  page = await heard.browser.newPage();
  await page.addInitScript(silentVoice);
  await page.addInitScript(notedTones);
  // Allowed once before, as after the first walk; from then on nothing has to be touched.
  await page.context().grantPermissions(['microphone'], { origin: new URL(wire.url).origin });
  await page.goto(wire.url);
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
    if (navigator.serviceWorker.controller === null) {
      await new Promise((resolve) =>
        navigator.serviceWorker.addEventListener('controllerchange', resolve, { once: true }),
      );
    }
  });
  wire.cut();
  await page.reload();
}, 180_000);

afterAll(async () => {
  await close();
  await wire.close();
  await server.close();
});

/** Loudest tenth of a second in the first recording, as it can be played again. */
async function loudest(): Promise<number> {
  return page.evaluate(
    () =>
      new Promise<number>((resolve, reject) => {
        const open = indexedDB.open('talkround');
        open.onerror = () => reject(open.error ?? new Error('closed'));
        open.onsuccess = () => {
          const all = open.result.transaction('sounds').objectStore('sounds').getAll();
          all.onsuccess = () => {
            open.result.close();
            const rows = all.result as { recording: string; chunk: number; data: ArrayBuffer }[];
            const first = rows
              .filter((r) => r.recording === rows[0]?.recording)
              .sort((a, b) => a.chunk - b.chunk);
            const context = new AudioContext();
            void new Blob(first.map((r) => r.data))
              .arrayBuffer()
              .then((data) => context.decodeAudioData(data))
              .then((buffer) => {
                const samples = buffer.getChannelData(0);
                const step = Math.floor(buffer.sampleRate / 10);
                let most = 0;
                for (let at = 0; at + step < samples.length; at += step) {
                  let sum = 0;
                  for (let i = at; i < at + step; i += 1) sum += (samples[i] ?? 0) ** 2;
                  most = Math.max(most, Math.sqrt(sum / step));
                }
                resolve(most);
              }, reject);
          };
        };
      }),
  );
}

/** Every tone that the page has sounded. */
function tones(): Promise<readonly Toned[]> {
  return page.evaluate(() => (window as unknown as { toned: Toned[] }).toned);
}

function nameOf(length: number): string | undefined {
  return Object.values(EARCONS).find((e) => Math.abs(secondsOf(e) + 0.01 - length) < 0.004)?.name;
}

/** Sound tells where it is four times a second, and a busy machine later: seconds by which a tone may come late. */
const LATE = 1;

test(
  'begin, finding, question, correction, interruption, what is left, finish: by voice, without a network',
  { timeout: 400_000 },
  async () => {
    await page.getByText('Training helicopter').first().click();
    // Not a touch more: "begin" is said.
    await page.getByText('Or say “begin”').waitFor({ timeout: 30_000 });
    await page.waitForURL(/walk$/, { timeout: 60_000 });
    const until = Date.now() + (seconds + 12) * 1000;
    const over = async () => (await recordOf(page)).some((e) => e.what.kind === 'finished');
    while (Date.now() < until && !(await over())) await page.waitForTimeout(1000);
    // The last words are still to be said.
    await page.waitForTimeout(3000);
    const events = await recordOf(page);
    const said = events.flatMap((e) => (e.what.kind === 'heard' ? [e.what.heard] : []));
    const spoken = await page.evaluate(
      () => (window as unknown as { spoken: { text: string; at: number }[] }).spoken,
    );
    // Level first: silence cannot pass for a walk.
    expect(await loudest()).toBeGreaterThan(0.03);

    // What was heard; our own voice among it is kept and never read (R11).
    const own = said.filter(
      (h) => (h.text.match(/ground it|defer it|watch it|note it/g) ?? []).length > 1,
    );
    expect(own).toHaveLength(1);
    const read = new Set(
      events.flatMap((e) => (e.what.kind === 'stated' ? [e.what.statement.heard] : [])),
    );
    expect(own.filter((h) => read.has(h.id))).toEqual([]);
    const pilot = said.filter((h) => !own.includes(h)).map((h) => h.text);
    // Word for word in most lines; what counts is what came of them, below, which has to be all.
    const exact = LINES.filter((l) => l.own !== true && pilot.includes(l.say));
    expect(exact.length).toBeGreaterThanOrEqual(8);
    expect(said.every((h) => h.by === 'embedded' && !h.sentAway && h.sound !== null)).toBe(true);

    const seed = CATALOGUES.find((c) => c.name === 'training-helicopter');
    const parsed = parseCatalogue(seed?.text ?? '', 'helicopter');
    if (!parsed.ok) throw new Error('The catalogue cannot be read.');
    const coverage = fold(parsed.catalogue, events);
    const standing = (id: string) => coverage.checks.find((c) => c.check === id)?.standing;

    // The finding, and the question about the other one, answered by the pilot and not by our echo.
    const findings = coverage.findings.map((f) => [
      f.check,
      f.conditions[0]?.condition,
      f.severity,
    ]);
    expect(findings).toEqual([
      ['skid-tubes', 'crack', 'ground'],
      ['cross-tubes', 'corrosion', 'watch'],
      ['gear-struts', 'crack', 'ground'],
    ]);
    expect(coverage.findings.at(-1)?.instances).toEqual(['left rear']);
    expect(events.filter((e) => e.what.kind === 'asked')).toHaveLength(2);
    expect(events.flatMap((e) => (e.what.kind === 'question-closed' ? [e.what.how] : []))).toEqual([
      'answered',
      'answered',
    ]);

    // Corrected: the right skid tube was taken back and is not spoken for.
    expect(standing('skid-tubes')).not.toBe('spoken');
    // Said while the walk was held: heard, and counted for nothing.
    expect(standing('skid-shoes')).toBe('skipped');
    const kinds = events.map((e) => e.what.kind);
    expect(kinds.indexOf('held')).toBeGreaterThan(0);
    expect(kinds.indexOf('resumed')).toBeGreaterThan(kinds.indexOf('held'));
    expect(coverage.finished).toBe(true);

    // What reached the ear, in order: a person with closed eyes can tell what the app did.
    const toned = await tones();
    const heardInOrder = [
      ...spoken.map(({ text, at }) => ({ at, line: text })),
      ...toned.map(({ seconds: length, at }) => ({ at, line: `(${nameOf(length) ?? 'unknown'})` })),
    ]
      .sort((a, b) => a.at - b.at)
      .map(({ line }) => line);
    expect(heardInOrder).not.toContain('(unknown)');
    const story = heardInOrder.join('\n');
    expect(story, story).toMatch(STORY);

    // What the pilot was told.
    const told = spoken.map((s) => s.text);
    const heardSaying = (pattern: RegExp) => told.filter((text) => pattern.test(text)).length;
    expect(heardSaying(/left skid tube: crack.*ground it/i)).toBe(1);
    expect(heardSaying(/corrosion: ground it, defer it, watch it or note it\?/i)).toBe(1);
    expect(heardSaying(/^held/i)).toBe(1);
    expect(heardSaying(/^last completed/i)).toBe(1);
    expect(heardSaying(/^\d+ left: /i)).toBe(1);
    expect(heardSaying(/^finished with \d+ open/i)).toBe(1);
  },
);

test(
  'the recorded walk played again: the kept sound, and in it the tone and then the words, where they were',
  { timeout: 120_000 },
  async () => {
    const events = await recordOf(page);
    const replied = events.flatMap((e) => (e.what.kind === 'replied' ? [e.what] : []));
    const heard = events.flatMap((e) => (e.what.kind === 'heard' ? [e.what.heard] : []));
    const cracked = heard.find((h) =>
      replied.some((r) => r.answers === h.id && r.tone === 'finding'),
    );
    const answer = replied.find((r) => r.answers === cracked?.id);
    if (cracked?.sound === null || cracked === undefined || answer === undefined)
      throw new Error('No finding of this walk has its sound and its reply.');
    const begun = (cracked.from ?? 0) - cracked.sound.from;
    const walk = events.find((e) => e.what.kind === 'walk-begun')?.walk ?? '';
    await page.evaluate((id) => (location.hash = `#/debrief/${id}`), walk);
    await page.getByRole('button', { name: 'Play the walk' }).waitFor({ timeout: 30_000 });
    const toned = (await tones()).length;
    const said = await page.evaluate(
      () => (window as unknown as { spoken: unknown[] }).spoken.length,
    );
    const slider = page.getByRole('slider');
    // Along the line to that utterance; Enter plays it.
    for (let i = 0; i <= heard.length; i += 1) {
      if ((await slider.getAttribute('aria-valuetext'))?.endsWith(`: ${cracked.text}`) === true)
        break;
      await slider.press('ArrowRight');
    }
    await page.getByText(`Talkround, finding recorded: ${answer.text}`).first().waitFor();
    await slider.press('Enter');
    await page.waitForFunction(
      ([tonesBefore, saidBefore]) => {
        const now = window as unknown as { toned: unknown[]; spoken: unknown[] };
        return now.toned.length > tonesBefore && now.spoken.length > saidBefore;
      },
      [toned, said] as const,
      { timeout: 30_000 },
    );
    // The tone: a node of Web Audio that was started, at its place in the sound that plays.
    const tone = (await tones())[toned];
    expect(nameOf(tone?.seconds ?? 0)).toBe('finding');
    const late = (tone?.in ?? -1) - (answer.from - begun);
    expect(late).toBeGreaterThanOrEqual(0);
    expect(late).toBeLessThan(LATE);
    // Then the words, the same as then.
    const words = await page.evaluate(
      (n) => (window as unknown as { spoken: { text: string; at: number }[] }).spoken[n],
      said,
    );
    expect(words?.text).toBe(answer.text);
    expect(words?.at).toBeGreaterThan((tone?.at ?? 0) + secondsOf(EARCONS.finding) - 0.05);
    await page.getByRole('button', { name: 'Stop', exact: true }).click();
    await page.getByRole('button', { name: 'Play the walk' }).waitFor();
    const after = (await tones()).length;
    await page.waitForTimeout(3000);
    expect(await tones()).toHaveLength(after);
  },
);
