import { describe, expect, test } from 'vitest';
import type { Trouble } from '#capture';
import type { Talk } from '#speak';
import { LONGEST_PROMPT, secondsToSay } from '#shared/speech';
import { TRY_AGAIN } from '../../src/wire/walking.ts';
import { walkingStage as stage } from './walking-stage.ts';

/* The bad days of a walk: what is shown, what is spoken, and that nothing heard is lost. */

test('R10 disk full: shown and spoken, kept in hand, and written as soon as there is room', async () => {
  const s = await stage();
  s.fill(true);
  await s.say('drive belts are in good condition');
  await s.say('oil level six quarts');
  expect(s.view.get()?.trouble).toContain('The last 2 things you said are not kept yet.');
  expect(s.log.filter((l) => l === '< (stopped)').length).toBeGreaterThan(0);
  // R10: not written, not acknowledged, not counted.
  expect(s.log).not.toContain('< (understood)');
  expect(s.standing('oil')).toBe('unspoken');
  await s.time.pass(TRY_AGAIN * 2);
  expect(await s.words()).toEqual([]);
  s.fill(false);
  await s.time.pass(TRY_AGAIN * 2);
  expect(await s.words()).toEqual(['drive belts are in good condition', 'oil level six quarts']);
  expect(s.view.get()?.trouble).toBe(null);
  expect(s.standing('oil')).toBe('spoken');
  await s.time.pass(30);
  expect(s.log.some((l) => l.includes('What waited is written.'))).toBe(true);
});

test('permission withdrawn: shown and spoken; "listen again" opens the same ear and lifts no hold', async () => {
  const s = await stage();
  s.ears[0]?.out.state('trouble', 'The microphone is not allowed.', 'permission');
  s.interrupted('sound-lost', 'The microphone is gone; the walk is held.', false);
  await s.time.pass(10);
  expect(s.listening.get()).toMatchObject({
    state: 'deaf',
    why: 'The microphone is not allowed.',
  });
  expect(s.log).toContain('< The microphone is not allowed.');
  expect(s.view.get()?.coverage.held).toBe(true);
  await s.walking.listenAgain();
  expect(s.ears).toHaveLength(1);
  expect(s.log).toContain('start embedded');
  expect(s.listening.get().state).toBe('held');
  await s.say('resume');
  expect(s.listening.get().state).not.toBe('held');
});

test('a result said during a hold by the pilot is answered once with what to say', async () => {
  const s = await stage();
  await s.say('hold');
  await s.time.pass(10);
  await s.say('drive belts are in good condition');
  await s.time.pass(10);
  await s.say('rivet line is good');
  await s.time.pass(10);
  expect(s.log.filter((l) => l.startsWith('< The walk is held'))).toEqual([
    '< The walk is held; say resume.',
  ]);
  await s.say('resume');
  await s.time.pass(10);
  await s.say('hold');
  await s.time.pass(10);
  await s.say('rivet line is good');
  await s.time.pass(10);
  expect(s.log.filter((l) => l.startsWith('< The walk is held'))).toHaveLength(2);
});

test('the setting changed in mid-walk: the open ear changes by itself, said, no gap', async () => {
  const s = await stage({ reconsider: true });
  await s.walking.listenWith('browser');
  await s.time.pass(10);
  expect(s.ears).toHaveLength(1);
  expect(s.log).not.toContain('stop embedded');
  expect(s.log).toContain('< The setting was changed. It listens.');
  const events = await s.store.walk(s.walking.session.walk);
  expect(events.some((e) => e.what.kind === 'listening-changed')).toBe(true);
});

test('to the keyboard and back: what was being heard is taken before the ear is closed', async () => {
  const s = await stage();
  await s.walking.listenWith('typed');
  await s.time.pass(5);
  expect(s.log).toContain('stop embedded');
  expect(await s.words()).toEqual(['oil six quarts']);
  await s.walking.listenWith('embedded');
  expect(s.ears.map((e) => e.kind)).toEqual(['embedded', 'typed', 'embedded']);
});

test('a recogniser that sends sound away is named when it begins to listen', async () => {
  const s = await stage();
  await s.walking.listenWith('browser');
  await s.time.pass(10);
  expect(s.log).toContain('< The sound of your voice leaves this device.');
});

test('the device clock steps, back and forth: order and times of what was said stand', async () => {
  const s = await stage();
  await s.say('drive belts are in good condition');
  s.stepClock(-3600);
  await s.time.pass(5);
  await s.say('oil level six quarts');
  s.stepClock(7200);
  await s.time.pass(5);
  await s.say('rivet lines are all good');
  const events = await s.store.walk(s.walking.session.walk);
  const times = events.flatMap((e) => (e.what.kind === 'heard' ? [e.t ?? -1] : []));
  expect(times).toHaveLength(3);
  // Seconds since the walk began, by the clock that cannot jump.
  expect((times[1] ?? 0) - (times[0] ?? 0)).toBeCloseTo(5.6, 1);
  expect((times[2] ?? 0) - (times[1] ?? 0)).toBeCloseTo(5.6, 1);
  expect(s.standing('oil')).toBe('spoken');
  expect(s.standing('rivets')).toBe('spoken');
});

test.each([
  ['in words of its own', 'five quarts', 3],
  ['in words of the question, which sound like our echo', 'level five', 2],
])(
  'R11: an answer over the second asking, %s, is not taken; the pilot hears so, and it stays open',
  async (_, answer, asked) => {
    const s = await stage();
    await s.say('oil level is five');
    // A second for the asking, six of patience; then over the second asking, and over the one after it.
    await s.time.pass(6.8);
    expect(s.listening.get().state).toBe('speaking');
    await s.say(answer, 0.2);
    await s.time.pass(0.2);
    await s.say(answer);
    await s.time.pass(40);
    expect(s.log.filter((l) => l === '< Level: five what?')).toHaveLength(asked);
    // The last thing in the ear is that nothing was taken.
    expect(s.log.filter((l) => l.startsWith('<')).at(-1)).toBe('< (not-understood)');
    // R5, R10: kept as heard, not read, and the question is to be settled.
    expect(await s.words()).toContain(answer);
    expect(s.standing('oil')).not.toBe('spoken');
    expect(s.view.get()?.coverage.questions.map((q) => q.text)).toEqual(['Level: five what?']);
    expect(s.view.get()?.coverage.open.map((o) => o.kind)).toContain('question');
    // Said again, in silence, it settles the check.
    await s.say('oil level is seven quarts');
    await s.time.pass(5);
    expect(s.log.at(-1)).toBe('< (understood)');
    expect(s.standing('oil')).toBe('spoken');
  },
);

test('disk full, and nobody speaks: our own words raise one alarm, not two for each', async () => {
  const s = await stage();
  s.fill(true);
  await s.walking.listenWith('typed');
  await s.time.pass(120);
  const alarms = s.log.filter((l) => l === '< (stopped)').length;
  expect(alarms).toBeGreaterThanOrEqual(1);
  expect(alarms).toBeLessThanOrEqual(3);
});

/** What the microphones and recognisers say of a bad day, as they say it. */
const BAD_DAYS: readonly [day: string, trouble: Trouble, sentence: string][] = [
  [
    'permission refused or withdrawn',
    'permission',
    'The microphone is not allowed. Allow it for this page in the browser, then start again.',
  ],
  [
    'unplugged',
    'microphone',
    'The microphone is gone: unplugged or withdrawn. Plug it in or allow it again.',
  ],
  [
    'worker killed again and again',
    'service',
    'The recogniser of this device stopped again and again: it was killed.',
  ],
  [
    'model missing or cut',
    'service',
    'The recogniser on this device is not complete: mdef is missing. Open the page once with a network, then it is kept.',
  ],
  ['page hidden', 'hidden', 'The page is not in front; nothing is being heard.'],
  [
    'two tabs',
    'microphone',
    'Another tab of Talkround is listening. Close it there, then start again here.',
  ],
];

test.each(BAD_DAYS)(
  '%s: shown, sounded, spoken, on the record; nothing heard is lost; it goes on without a reload',
  async (_, trouble, sentence) => {
    const s = await stage();
    await s.say('rivet lines are all good');
    s.ears[0]?.out.state('trouble', sentence, trouble);
    await s.time.pass(15);
    // Seen.
    expect(s.listening.get()).toMatchObject({ state: 'deaf', why: sentence });
    // Heard: the tone of its own, then the sentence, and once.
    const told = s.log.filter((l) => l.startsWith('<'));
    expect(told.slice(-2)).toEqual(['< (stopped)', `< ${sentence}`]);
    expect(told.filter((l) => l === '< (stopped)')).toHaveLength(1);
    expect(secondsToSay(sentence)).toBeLessThanOrEqual(LONGEST_PROMPT);
    // Kept, for whoever plays the walk again.
    const events = await s.store.walk(s.walking.session.walk);
    expect(events.map((e) => e.what)).toContainEqual(
      expect.objectContaining({ kind: 'replied', tone: 'stopped', text: sentence }),
    );
    expect(s.standing('rivets')).toBe('spoken');
    await s.walking.listenAgain();
    await s.say('drive belts are in good condition');
    await s.time.pass(5);
    expect(await s.words()).toEqual([
      'rivet lines are all good',
      'drive belts are in good condition',
    ]);
    expect(s.listening.get().state).toBe('listening');
  },
);

/** A walk in which all five outcomes come up, and three orders are given. */
async function everyOutcome(talk: Talk): Promise<string[]> {
  const s = await stage({ talk });
  for (const [text, after] of [
    ['drive belts are in good condition', 5],
    ['the drive belts are slack', 12],
    ['oil level is five', 3],
    ['five quarts', 12],
    ["what's left", 12],
    ['hold', 5],
    ['rivet line is good', 8],
    ['resume', 12],
    ['read back', 12],
  ] as const) {
    await s.say(text);
    await s.time.pass(after);
  }
  s.ears[0]?.out.state('trouble', 'The microphone is gone. Plug it in.', 'microphone');
  await s.time.pass(10);
  return s.log.filter((l) => /^[<>]/.test(l));
}

describe.each(['tones', 'exceptions', 'everything'] as const)('talkativeness: %s', (talk) => {
  test('each of the five outcomes has its tone', async () => {
    const lines = await everyOutcome(talk);
    const toneAfter = (words: string) => lines[lines.indexOf(`> ${words}`) + 1];
    expect(toneAfter('drive belts are in good condition')).toBe('< (understood)');
    expect(toneAfter('the drive belts are slack')).toBe('< (finding)');
    expect(toneAfter('oil level is five')).toBe('< (question)');
    expect(toneAfter('rivet line is good')).toBe('< (not-understood)');
    expect(lines.at(-2)).toBe('< (stopped)');
  });

  test('an order is answered aloud, resume with the last completed item, and so is trouble', async () => {
    const lines = await everyOutcome(talk);
    const wordsAfter = (words: string) => lines[lines.indexOf(`> ${words}`) + 2];
    expect(wordsAfter("what's left")).toMatch(/^< \d+ left: /);
    expect(wordsAfter('read back')).toMatch(/^< 2 findings: .*slack belt, ground it.*five quarts/);
    expect(wordsAfter('resume')).toMatch(/^< Last completed: Oil\. \d+ left: /);
    expect(lines.at(-1)).toBe('< The microphone is gone. Plug it in.');
  });

  test('never longer than 10 s in one go', async () => {
    const words = (await everyOutcome(talk)).filter((l) => /^< [^(]/.test(l));
    expect(words.length).toBeGreaterThan(3);
    for (const line of words) expect(secondsToSay(line)).toBeLessThanOrEqual(LONGEST_PROMPT);
  });
});

test('talkativeness: each setting says what the one below it says, and more', async () => {
  const count = async (talk: Talk) =>
    (await everyOutcome(talk)).filter((l) => /^< [^(]/.test(l)).length;
  const [tones, exceptions, everything] = [
    await count('tones'),
    await count('exceptions'),
    await count('everything'),
  ];
  expect(exceptions).toBeGreaterThan(tones);
  expect(everything).toBeGreaterThan(exceptions);
});
