import { expect, test } from 'vitest';
import type { Heard } from '#shared/heard';
import type { Replied } from '#shared/replied';
import { createVoice, MUTE, type Talk } from '#speak';
import { fakeTime } from '../capture/time.ts';
import { question } from './fixture.ts';

function stage(options: { able?: boolean; hangs?: boolean; silent?: boolean; talk?: Talk } = {}) {
  const time = fakeTime();
  const log: string[] = [];
  const replied: Replied[] = [];
  const at = () => Math.round(time.seconds() * 10) / 10;
  const voice = createVoice({
    synth: {
      able: options.able ?? true,
      say: (text) =>
        new Promise((resolve) => {
          log.push(`${at()} say ${text}`);
          if (options.hangs !== true) time.wait(2, () => resolve(options.silent !== true));
        }),
      cancel: () => log.push(`${at()} cancel`),
    },
    sounder: {
      sound: (name) => {
        log.push(`${at()} ${name}`);
        return new Promise((resolve) => time.wait(0.1, resolve));
      },
    },
    vibrate: () => undefined,
    seconds: () => time.seconds(),
    wait: time.wait,
    talk: () => options.talk ?? 'exceptions',
    onSpoken: (text, from, to) =>
      log.push(`${at()} spoken ${text} ${from.toFixed(1)}-${to?.toFixed(1) ?? ''}`),
    onReplied: (r) => replied.push(r),
    onUnanswered: (id) => log.push(`${at()} unanswered ${id}`),
    onShown: (text) => {
      if (text !== '') log.push(`${at()} shown ${text}`);
    },
  });
  return { time, log, voice, replied };
}
const reply = (earcon: 'question' | 'understood' | null, ...say: string[]) => ({
  earcon,
  say,
  again: false,
});
const heard = (text: string, from: number, to: number): Heard => ({
  v: 1,
  id: 'h',
  by: 'embedded',
  text,
  words: [],
  alternatives: [],
  from,
  to,
  confidence: null,
  sound: null,
  speaker: null,
  sentAway: false,
});

test('a reply: the tone, then the words, one after the other', async () => {
  const { time, log, voice } = stage();
  voice.reply(reply('question', 'Left or right'));
  voice.reply(reply('understood'));
  await time.pass(5);
  expect(log).toEqual([
    '0 spoken Left or right. 0.0-',
    '0 question',
    '0.1 say Left or right.',
    '2.1 spoken Left or right. 0.0-2.1',
    '2.1 understood',
  ]);
});

test('for the log: tone and words as they reached the pilot, and what they answer', async () => {
  const { time, voice, replied } = stage();
  voice.reply(reply('question', 'Left or right'), 'h1');
  voice.reply(reply('understood'), 'h2');
  voice.announce(null, 'It listens.');
  await time.pass(9);
  const common = { answers: null, from: 0 };
  expect(replied).toMatchObject([
    { ...common, tone: 'question', text: 'Left or right.', how: 'spoken', answers: 'h1' },
    { tone: 'understood', text: '', how: 'none', answers: 'h2' },
    { tone: null, text: 'It listens.', how: 'spoken', answers: null },
  ]);
});

test('for the log, with no voice: shown, under the tone that says so', async () => {
  const { time, voice, replied } = stage({ able: false });
  voice.announce(null, 'It listens.');
  await time.pass(5);
  expect(replied).toMatchObject([{ tone: 'question', text: 'It listens.', how: 'shown' }]);
});

test('for the log, cut short before it began: nothing was given back', async () => {
  const { time, voice, replied } = stage();
  voice.hearing(true);
  voice.reply(reply(null, 'Left or right'), 'h1');
  await time.pass(1);
  voice.hush();
  await time.pass(20);
  expect(replied).toEqual([]);
});

test('what is said over a question once more is not taken, and the tone says so', async () => {
  const { time, log, voice } = stage();
  voice.reply(reply('question', 'Left or right?'));
  voice.attend(question('Left or right?'));
  // Over the second asking, and over the one that makes good for it.
  await time.pass(9.5);
  expect(voice.admit(heard('there is oil', 8.5, 9.4)).take).toBe(null);
  await time.pass(2);
  expect(voice.admit(heard('oil on the ground', 10.6, 11.4)).take).toBe(null);
  await time.pass(30);
  expect(log.filter((l) => !l.includes('spoken'))).toEqual([
    '0 question',
    '0.1 say Left or right?',
    '8.1 question',
    '8.2 say Left or right?',
    '10.2 question',
    '10.3 say Left or right?',
    '12.3 not-understood',
    '18.4 not-understood',
    '18.4 unanswered q',
  ]);
});

test('R11: closed from the first sound until 1.5 s after the end; a tone alone does not close it', async () => {
  const { time, voice } = stage();
  voice.reply(reply('understood'));
  await time.pass(0.05);
  expect(voice.closed()).toBe(false);
  await time.pass(1);
  voice.reply(reply('question', 'Left or right?'));
  await time.pass(0.05);
  expect(voice.closed()).toBe(true);
  await time.pass(2.05 + 1.4);
  expect(voice.closed()).toBe(true);
  await time.pass(0.2);
  expect(voice.closed()).toBe(false);
});

test('a question waits 6 s, is asked once again, then stays open', async () => {
  const { time, log, voice } = stage();
  voice.reply(reply('question', 'Left or right?'));
  voice.attend(question('Left or right?'));
  await time.pass(40);
  expect(log.filter((l) => !l.includes('spoken'))).toEqual([
    '0 question',
    '0.1 say Left or right?',
    '8.1 question',
    '8.2 say Left or right?',
    '16.2 not-understood',
    '16.2 unanswered q',
  ]);
});

test('an answer ends the waiting; another question begins its own', async () => {
  const { time, log, voice } = stage();
  voice.reply(reply('question', 'Left or right?'));
  voice.attend(question('Left or right?'));
  await time.pass(5);
  voice.attend(null);
  await time.pass(20);
  voice.reply(reply('question', 'Quarts of what?'));
  voice.attend(question('Quarts of what?', 'unit', 'q2'));
  await time.pass(40);
  expect(log.filter((l) => l.includes('say'))).toEqual([
    '0.1 say Left or right?',
    '25.1 say Quarts of what?',
    '33.2 say Quarts of what?',
  ]);
  expect(log.at(-1)).toBe('41.2 unanswered q2');
});

test('while the pilot speaks the question is not put again', async () => {
  const { time, log, voice } = stage();
  voice.reply(reply('question', 'Left or right?'));
  voice.attend(question('Left or right?'));
  await time.pass(5);
  voice.hearing(true);
  await time.pass(8);
  voice.hearing(false);
  expect(log.filter((l) => l.includes('say'))).toHaveLength(1);
});

test('R11: a pilot who talks over a question is asked once more, and only once for that', async () => {
  const { time, log, voice } = stage();
  voice.reply(reply('question', 'Left or right?'));
  voice.attend(question('Left or right?'));
  await time.pass(2.5);
  expect(voice.admit(heard('there is oil on the ground', 1, 2.4))).toEqual({
    take: null,
    talkedOver: true,
  });
  await time.pass(3);
  voice.admit(heard('oil on the ground', 4, 5));
  await time.pass(1);
  expect(log.filter((l) => l.includes('say'))).toEqual([
    '0.1 say Left or right?',
    '2.6 say Left or right?',
  ]);
});

test('R11: talked over without a question: say again', async () => {
  const { time, log, voice } = stage();
  voice.reply(reply(null, 'Belts spoken for'));
  await time.pass(2.2);
  voice.admit(heard('crack in the skid', 1, 2));
  await time.pass(3);
  expect(log.filter((l) => l.includes('say'))).toEqual([
    '0 say Belts spoken for.',
    '2.3 say Say again.',
  ]);
});

test('it does not begin while the pilot speaks, but waits no longer than 4 s', async () => {
  const { time, log, voice } = stage();
  voice.hearing(true);
  voice.reply(reply(null, 'One'));
  await time.pass(1);
  voice.hearing(false);
  await time.pass(3);
  voice.hearing(true);
  voice.reply(reply(null, 'Two'));
  await time.pass(10);
  expect(log.filter((l) => l.includes('say'))).toEqual(['1 say One.', '8 say Two.']);
});

test.each([
  ['no voice at all', { able: false }],
  ['a voice that stays silent', { silent: true }],
  ['a voice that never ends', { hangs: true }],
])('%s: a tone, and the words on the screen', async (_, options) => {
  const { time, log, voice } = stage(options);
  voice.reply(reply(null, 'Oil not said'));
  await time.pass(20);
  expect(log.some((l) => l.endsWith(' question'))).toBe(true);
  expect(log.some((l) => l.endsWith('shown Oil not said.'))).toBe(true);
  expect(voice.closed()).toBe(false);
});

test('R11: a platform with the object and no voice: after the first failure no gate is closed, and it is tried again later', async () => {
  const { time, log, voice } = stage({ silent: true });
  voice.reply(reply('question', 'Left or right?'));
  await time.pass(5);
  // Nothing came out, so what began meanwhile is the pilot's.
  expect(log).toContain('2.1 spoken Left or right? 0.0-0.0');
  expect(voice.admit(heard('belts good', 1, 2)).take?.text).toBe('belts good');
  voice.reply(reply('question', 'Which oil?'));
  await time.pass(0.05);
  expect(voice.closed()).toBe(false);
  expect(voice.admit(heard('left', 5.01, 5.5)).take?.text).toBe('left');
  await time.pass(5);
  expect(log.filter((l) => l.includes('say') || l.includes('spoken'))).toHaveLength(3);
  expect(log.at(-1)).toBe('5.1 shown Which oil?');
  await time.pass(MUTE);
  voice.reply(reply(null, 'Held'));
  await time.pass(5);
  expect(log.some((l) => l.endsWith('say Held.'))).toBe(true);
});

test('repeat says the last words again', async () => {
  const { time, log, voice } = stage();
  voice.reply(reply(null, 'Four left', 'Oil'));
  await time.pass(5);
  voice.reply({ earcon: 'understood', say: [], again: true });
  await time.pass(5);
  expect(log.filter((l) => l.includes('say'))).toEqual([
    '0 say Four left. Oil.',
    '5.1 say Four left. Oil.',
  ]);
});

test('in tones only a question is put again by its tone', async () => {
  const { time, log, voice } = stage({ talk: 'tones' });
  voice.reply(reply('question'));
  voice.attend(question('Left or right?'));
  await time.pass(30);
  expect(log).toEqual(['0 question', '6.1 question', '12.2 not-understood', '12.2 unanswered q']);
});

test('hushed it says nothing more', async () => {
  const { time, log, voice } = stage();
  voice.reply(reply(null, 'One'));
  voice.reply(reply(null, 'Two'));
  await time.pass(0.5);
  voice.hush();
  await time.pass(10);
  expect(log.filter((l) => l.includes('say'))).toEqual(['0 say One.']);
});
