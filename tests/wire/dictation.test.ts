import { expect, test } from 'vitest';
import { heardOf, listeners, type Listeners } from '#capture';
import type { Dictated } from '#screens';
import type { Heard } from '#shared/heard';
import { squawksOf } from '#reconcile';
import { joined } from '../../src/wire/dictated.ts';
import type { EarNeeds } from '../../src/wire/ear-needs.ts';
import type { OpenedEar } from '../../src/wire/hearing.ts';
import { houseFor, testWorld } from './house.ts';

const AIRCRAFT = 'Rowan 2';

/** What a recogniser on the device delivers. */
function delivered(text: string, from: number, rest: Partial<Heard> = {}): Heard {
  const words = text.split(' ').map((word, at) => ({
    text: word,
    from: from + at * 0.3,
    to: from + at * 0.3 + 0.25,
    confidence: 0.8,
  }));
  return heardOf({
    id: `h${from}`,
    by: 'embedded',
    text,
    words,
    from,
    to: from + words.length * 0.3,
    confidence: 0.8,
    ...rest,
  });
}

const slice = (chunk: number) => ({
  recording: 'r1',
  chunk,
  place: { recording: 'r1', from: chunk, to: chunk + 1 },
  mime: 'audio/webm',
  data: new Uint8Array([chunk, 1, 2]).buffer,
});

/** The house with an ear that says what it is told to. */
async function desk() {
  const opened: { out: Listeners; needs: EarNeeds; log: string[] }[] = [];
  let atStop: (out: Listeners) => void = () => undefined;
  let open: Promise<void> = Promise.resolve();
  const { house, store } = await houseFor(testWorld('2026-03-01T08:00:00Z'), {
    async openEar(_, needs) {
      await open;
      const out = listeners();
      const log: string[] = [];
      opened.push({ out, needs, log });
      const ear: OpenedEar = {
        kind: 'embedded',
        name: 'A double',
        sendsAway: false,
        start() {
          log.push('start');
          out.state('listening', 'Listening.');
          return Promise.resolve();
        },
        async stop() {
          log.push('stop');
          await Promise.resolve();
          atStop(out);
        },
        pause: () => undefined,
        resume: () => undefined,
        expect: () => undefined,
        ...out.on,
      };
      return ear;
    },
  });
  const { dictation } = house;
  if (dictation === undefined) throw new Error('There is no dictation.');
  return {
    house,
    store,
    dictation,
    opened,
    /** What still goes out while the ear is closed. */
    lastWords(say: (out: Listeners) => void) {
      atStop = say;
    },
    /** The ear opens only when this is called. */
    slowly() {
      let go: () => void = () => undefined;
      open = new Promise((resolve) => (go = resolve));
      return () => go();
    },
    async listen() {
      dictation.start(AIRCRAFT);
      await expect.poll(() => dictation.now.get().state).toBe('listening');
      const last = opened.at(-1);
      if (last === undefined) throw new Error('No ear was opened.');
      return last;
    },
    async file(said: string | Dictated) {
      const outcome = await house.fileSquawk(AIRCRAFT, said, 'training-helicopter');
      if (!outcome.ok) throw new Error(outcome.error);
      return outcome.value;
    },
    heard: async () =>
      (await store.all()).flatMap(({ what }) => (what.kind === 'heard' ? [what.heard] : [])),
  };
}

test('issue 20: speech that gave no words is shown, until words come again', async () => {
  const { dictation, listen } = await desk();
  const { out } = await listen();
  out.heard(delivered('left main tyre flat', 1));
  out.partial('');
  out.notice({ kind: 'lost', sentence: 'No words.' });
  expect(dictation.now.get().why).toContain('say it again');
  expect(dictation.now.get().words).toBe('left main tyre flat');
  out.partial('ground');
  expect(dictation.now.get().why).toBeNull();
});

test('R10: a dictated squawk is filed with what the ear delivered: by, times, confidence, other readings, sound', async () => {
  const { dictation, listen, file, store, heard } = await desk();
  const { out, needs } = await listen();
  const said = delivered('left skid tube is cracked ground it', 0.4, {
    alternatives: [{ text: 'left skid tube is tracked ground it', confidence: 0.3 }],
    sound: { recording: 'r1', from: 0.4, to: 1.9 },
  });
  out.heard(said);
  await needs.keep?.(slice(0));
  await needs.keep?.(slice(1));
  await file(await dictation.done());
  expect(await heard()).toEqual([said]);
  const [squawk] = squawksOf(await store.squawkEvents());
  expect(squawk?.fault).toMatchObject({ check: 'skid-tubes', side: 'left', severity: 'ground' });
  expect(squawk?.history[0]?.step).toMatchObject({ heard: said.id, sound: said.sound });
  expect((await store.sound('r1')).chunks.map((c) => c.chunk)).toEqual([0, 1]);
});

test('R10: words that come while the ear is closed are filed too', async () => {
  const { dictation, listen, file, heard, lastWords } = await desk();
  const { out } = await listen();
  out.partial('left skid tube');
  lastWords((late) => late.heard(delivered('left skid tube is cracked', 0.4)));
  await file(await dictation.done());
  expect((await heard()).map((h) => h.text)).toEqual(['left skid tube is cracked']);
});

test('R10: words that were shown and never delivered are filed, with no confidence claimed', async () => {
  const { dictation, listen, file, heard } = await desk();
  const { out } = await listen();
  out.heard(delivered('left skid tube is cracked', 0.4));
  out.partial('ground it');
  await file(await dictation.done());
  const [whole] = await heard();
  expect(whole).toMatchObject({ text: 'left skid tube is cracked ground it', confidence: null });
});

test('a breath between part and condition does not make two squawks', async () => {
  const { dictation, listen, file, store } = await desk();
  const { out } = await listen();
  out.heard(delivered('left skid tube', 0.4));
  out.heard(delivered('is cracked', 4));
  out.heard(delivered('ground it', 8));
  await file(await dictation.done());
  const squawks = squawksOf(await store.squawkEvents());
  expect(squawks.map((s) => [s.fault.check, s.fault.side, s.fault.severity])).toEqual([
    ['skid-tubes', 'left', 'ground'],
  ]);
});

test('the sound of a dictated squawk is found under the name of who reported it, and can be erased', async () => {
  const { house, dictation, listen, file, store } = await desk();
  house.change({ pilot: 'P. Heron' });
  const { out, needs } = await listen();
  out.heard(delivered('left skid tube is cracked', 0.4, { sound: slice(0).place }));
  await needs.keep?.(slice(0));
  await file(await dictation.done());
  expect(await house.eraseSound?.('P. Heron')).toMatchObject({ ok: true });
  expect(await store.recordings()).toEqual([]);
  expect((await store.verify()).ok).toBe(true);
});

test('a dictation that was left keeps neither words nor sound', async () => {
  const { dictation, listen, store } = await desk();
  const { out, needs, log } = await listen();
  out.heard(delivered('left skid tube is cracked', 0.4));
  await needs.keep?.(slice(0));
  dictation.stop();
  await expect.poll(() => dictation.now.get().state).toBe('off');
  expect(log).toEqual(['start', 'stop']);
  expect(await store.all()).toEqual([]);
  expect(await store.recordings()).toEqual([]);
});

test('a dictation that is left before the ear is there does not begin to listen', async () => {
  const { dictation, opened, slowly } = await desk();
  const go = slowly();
  dictation.start(AIRCRAFT);
  dictation.stop();
  go();
  await expect.poll(() => opened.length).toBe(1);
  await new Promise((resolve) => setTimeout(resolve, 5));
  expect(opened[0]?.log).toEqual([]);
  expect(dictation.now.get().state).toBe('off');
});

test('where sound is not wanted the ear is not asked to keep it', async () => {
  const { house, listen } = await desk();
  house.change({ keepSound: false });
  const { needs } = await listen();
  expect([needs.keepSound, needs.keep]).toEqual([false, undefined]);
});

test('where there is no room for sound the words are filed, and point at no sound', async () => {
  const { dictation, listen, file, store, heard, house } = await desk();
  const { out } = await listen();
  out.heard(delivered('left skid tube is cracked', 0.4, { sound: slice(0).place }));
  store.keepSound = () => Promise.resolve({ kept: false, why: 'No room.', event: null });
  await file({ ...(await dictation.done()), sound: [slice(0)] });
  expect((await heard()).map((h) => [h.text, h.sound])).toEqual([
    ['left skid tube is cracked', null],
  ]);
  expect(house.dictation?.now.get().state).toBe('off');
});

test('bad input: nothing dictated, and no aircraft, is one sentence each and no squawk', async () => {
  const { house, store } = await desk();
  expect(await house.fileSquawk(AIRCRAFT, { heard: [], sound: [slice(0)] })).toEqual({
    ok: false,
    error: 'Say or type what is wrong, and where.',
  });
  expect(await house.fileSquawk('', { heard: [delivered('tyre flat', 1)], sound: [] })).toEqual({
    ok: false,
    error: 'Say which aircraft it is on, then file it.',
  });
  expect(await store.all()).toEqual([]);
  expect(await store.recordings()).toEqual([]);
});

test('several utterances become one: no time, reading or doubt of them is lost', () => {
  const place = (from: number, to: number) => ({ recording: 'r1', from, to });
  const first = delivered('left tyre', 1, { confidence: 0.9, sound: place(1, 1.6) });
  const second = delivered('flat', 3, {
    confidence: 0.4,
    sound: place(3, 3.3),
    alternatives: [{ text: 'fat', confidence: 0.2 }],
  });
  expect(joined([first, second], () => 'new')).toMatchObject({
    id: 'new',
    by: 'embedded',
    text: 'left tyre flat',
    words: [...first.words, ...second.words],
    alternatives: [{ text: 'left tyre fat', confidence: 0.2 }],
    from: 1,
    to: 3.3,
    confidence: 0.4,
    sound: place(1, 3.3),
  });
  expect(joined([first], () => 'new')).toBe(first);
  expect(joined([], () => 'new')).toBeNull();
  expect(joined([first, { ...second, confidence: null }], () => 'new')?.confidence).toBeNull();
  expect(joined([first, { ...second, words: [] }], () => 'new')?.words).toEqual([]);
  expect(joined([first, { ...second, sentAway: true }], () => 'new')?.sentAway).toBe(true);
  const other = { ...second, sound: { recording: 'r2', from: 0, to: 0.3 } };
  expect(joined([first, other], () => 'new')?.sound).toEqual(place(1, 1.6));
});
