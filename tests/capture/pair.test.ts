import { expect, test } from 'vitest';
import { heardOf, listeners, pairEar, type Ear, type Listeners } from '#capture';
import type { Heard } from '#shared/heard';
import { FIRST_SCENE } from '#shared/scene';
import { FIRST_WAITED, FIRST_WAITED_SPEAKING, SECOND_WAITED } from '../../src/capture/pair.ts';
import { fakeTime } from './time.ts';

/* Two recognisers on one sound: which words belong together, who is waited for, and for how long. */

interface Puppet {
  readonly ear: Ear;
  readonly out: Listeners;
  readonly log: string[];
  /** What it lets out when it is closed. */
  last: Heard | null;
}

function puppet(by: 'browser' | 'embedded'): Puppet {
  const out = listeners();
  const log: string[] = [];
  const made: Puppet = {
    out,
    log,
    last: null,
    ear: {
      kind: by,
      name: by === 'browser' ? "The browser's" : 'Ours',
      sendsAway: false,
      start: () => {
        log.push('start');
        out.state('listening', 'Listening.');
        return Promise.resolve();
      },
      stop: async () => {
        log.push('stop');
        await Promise.resolve();
        if (made.last !== null) out.heard(made.last);
      },
      pause: () => void log.push('pause'),
      resume: () => void log.push('resume'),
      expect: () => void log.push('expect'),
      ...out.on,
    },
  };
  return made;
}

async function stage(options: { second?: string } = {}) {
  const time = fakeTime();
  const first = puppet('browser');
  const second = puppet('embedded');
  const heard: { text: string; by: string; other: string; told: boolean; at: number }[] = [];
  const notices: string[] = [];
  const states: string[] = [];
  const ear = pairEar({
    world: time.world,
    seconds: () => time.seconds(),
    first: first.ear,
    second: () => Promise.resolve(options.second ?? second.ear),
    wait: time.wait,
  });
  ear.onHeard((h) => {
    const [other] = h.alternatives.filter((a) => a.by !== undefined);
    heard.push({
      text: h.text,
      by: h.by,
      other: other?.text ?? '',
      told: other?.told ?? false,
      at: time.seconds(),
    });
  });
  ear.onNotice((n) => notices.push(n.sentence));
  ear.onState((state, sentence) => states.push(`${state}: ${sentence}`));
  await ear.start();
  await time.pass(0);
  let ids = 0;
  const says =
    (of: Puppet, by: 'browser' | 'embedded') =>
    (text: string, from: number, to: number): void =>
      of.out.heard(heardOf({ id: `h${(ids += 1)}`, by, text, from, to }));
  const browser = says(first, 'browser');
  const own = says(second, 'embedded');
  const begins = () => second.out.state('hearing', 'Hearing you.');
  const ends = () => second.out.state('listening', 'Listening.');
  return { time, ear, first, second, heard, notices, states, browser, own, begins, ends };
}

test('ours came before: the words go out at once, with both readings', async () => {
  const s = await stage();
  await s.time.pass(3);
  s.own('swashplate good', 1, 2);
  await s.time.pass(0.4);
  s.browser('swash late good', 1.2, 3.4);
  expect(s.heard).toEqual([
    { text: 'swash late good', by: 'browser', other: 'swashplate good', told: false, at: 3.4 },
  ]);
});

test('ours is still at it: waited for', async () => {
  const s = await stage();
  await s.time.pass(1);
  s.begins();
  await s.time.pass(2);
  s.browser('belts good', 1, 3);
  expect(s.heard).toEqual([]);
  await s.time.pass(0.6);
  s.own('belts are good', 1, 2.4);
  s.ends();
  expect(s.heard).toMatchObject([{ text: 'belts good', other: 'belts are good' }]);
  expect(s.heard[0]?.at).toBeCloseTo(3.6);
});

test('ours does not come: after so long the first alone decides, and what comes then says so', async () => {
  const s = await stage();
  await s.time.pass(1);
  s.begins();
  await s.time.pass(2);
  s.browser('belts good', 1, 3);
  await s.time.pass(SECOND_WAITED - 0.1);
  expect(s.heard).toEqual([]);
  await s.time.pass(0.2);
  expect(s.heard).toMatchObject([{ text: 'belts good', other: '' }]);
  // R4: it may hold a fault, so it goes out; the words that counted go with it.
  s.own('belts frayed', 1, 2.4);
  expect(s.heard[1]).toMatchObject({
    text: 'belts frayed',
    by: 'embedded',
    other: 'belts good',
    told: true,
  });
  // The same words said late are the same words.
  s.own('Belts good.', 1, 2.4);
  expect(s.heard).toHaveLength(2);
});

test('ours hears nothing: the first is not held up', async () => {
  const s = await stage();
  await s.time.pass(3);
  s.browser('belts good', 1, 3);
  expect(s.heard).toMatchObject([{ text: 'belts good', other: '', at: 3 }]);
});

test('the next sentence has begun when the words of this one come: they are not held up by it', async () => {
  const s = await stage();
  await s.time.pass(2);
  s.own('belts good', 1, 1.8);
  await s.time.pass(0.8);
  s.begins();
  await s.time.pass(0.2);
  s.browser('belts good', 1, 3);
  expect(s.heard).toMatchObject([{ text: 'belts good', other: 'belts good', at: 3 }]);
});

test('one breath of the first that ours took for two is weighed against both', async () => {
  const s = await stage();
  await s.time.pass(4);
  s.own('left tyre good', 1, 2);
  s.own('no cuts', 2.4, 3.2);
  s.browser('left tyre good no cuts', 1, 4);
  expect(s.heard).toMatchObject([
    { text: 'left tyre good no cuts', other: 'left tyre good, no cuts' },
  ]);
});

test('what was said before is not weighed against what is said now', async () => {
  const s = await stage();
  await s.time.pass(3);
  s.own('belts good', 1, 2);
  await s.time.pass(2);
  s.own('fan cracked', 3.4, 4.6);
  s.browser('fan cracked', 3.5, 5);
  await s.time.pass(FIRST_WAITED);
  expect(s.heard.map((h) => [h.text, h.other])).toEqual([
    ['fan cracked', 'fan cracked'],
    ['belts good', ''],
  ]);
});

test('R4: what only ours heard goes out by itself when the first shows nothing', async () => {
  const s = await stage();
  await s.time.pass(3);
  s.own('skid tube cracked', 1, 2.5);
  await s.time.pass(FIRST_WAITED - 0.1);
  expect(s.heard).toEqual([]);
  await s.time.pass(0.2);
  expect(s.heard).toMatchObject([{ text: 'skid tube cracked', by: 'embedded', other: '' }]);
});

test('while the first shows words that are not final it is waited for longer, and not for ever', async () => {
  const s = await stage();
  await s.time.pass(3);
  s.own('skid tube cracked', 1, 2.5);
  s.first.out.partial('skid to');
  await s.time.pass(FIRST_WAITED + 2);
  expect(s.heard).toEqual([]);
  await s.time.pass(FIRST_WAITED_SPEAKING - FIRST_WAITED - 1.9);
  expect(s.heard).toMatchObject([{ text: 'skid tube cracked' }]);
});

test('a late result of the first, behind what ours said: nothing twice, and nothing lost', async () => {
  const s = await stage();
  await s.time.pass(3);
  s.own('next', 1, 2.5);
  await s.time.pass(FIRST_WAITED + 1);
  s.browser('Next', 1, 7);
  expect(s.heard.map((h) => h.text)).toEqual(['next']);
  const t = await stage();
  await t.time.pass(3);
  t.own('left door good', 1, 2.5);
  await t.time.pass(FIRST_WAITED + 1);
  t.browser('left door cracked', 1, 7);
  expect(t.heard[1]).toMatchObject({
    text: 'left door cracked',
    other: 'left door good',
    told: true,
  });
});

test('a final that shows nothing before it, and so seems to begin when it ends, is the same utterance', async () => {
  const s = await stage();
  await s.time.pass(4);
  s.own('right skid tube is good', 1, 3);
  s.browser('right skid tube is cracked', 3.4, 3.9);
  await s.time.pass(20);
  expect(s.heard).toMatchObject([
    { text: 'right skid tube is cracked', other: 'right skid tube is good' },
  ]);
});

test('other readings of the first one stay, behind that of ours', async () => {
  const s = await stage();
  const full: Heard[] = [];
  s.ear.onHeard((h) => full.push(h));
  await s.time.pass(3);
  s.own('swashplate good', 1, 2);
  s.first.out.heard(
    heardOf({
      id: 'a',
      by: 'browser',
      text: 'swash late good',
      alternatives: [{ text: 'wash late good', confidence: 0.2 }],
      from: 1,
      to: 3,
    }),
  );
  expect(full[0]?.alternatives).toEqual([
    { text: 'swashplate good', confidence: null, by: 'embedded' },
    { text: 'wash late good', confidence: 0.2 },
  ]);
});

test('no second microphone: it says so, and one listens', async () => {
  const s = await stage({ second: 'There is no microphone.' });
  expect(s.notices).toEqual(['Only one recogniser listens. There is no microphone.']);
  expect(s.ear.beside).toBeNull();
  await s.time.pass(3);
  s.browser('belts good', 1, 3);
  expect(s.heard).toMatchObject([{ text: 'belts good', at: 3 }]);
});

test('both listen: it says which, and that the other fails in mid-walk', async () => {
  const s = await stage();
  expect(s.ear.beside).toBe('Ours');
  expect(s.states.at(-1)).toBe('listening: Listening. Ours listens beside it.');
  await s.time.pass(1);
  s.begins();
  await s.time.pass(2);
  s.browser('belts good', 1, 3);
  s.second.out.state('trouble', 'It broke.', 'files');
  // What waited for it waits no longer.
  expect(s.heard).toMatchObject([{ text: 'belts good', at: 3 }]);
  expect(s.notices).toEqual(['Only one recogniser listens. It broke.']);
  expect(s.ear.beside).toBeNull();
  expect(s.states.at(-1)).toBe('listening: Listening.');
});

test('the first fails: what ours heard goes out, and goes on to until somebody else listens', async () => {
  const s = await stage();
  await s.time.pass(3);
  s.own('belts good', 1, 2);
  s.first.out.state('trouble', 'It broke.', 'service');
  s.own('fan good', 2.2, 2.9);
  expect(s.heard.map((h) => h.text)).toEqual(['belts good', 'fan good']);
  expect(s.states.at(-1)).toBe('trouble: It broke.');
});

test('R10: closed, all that was heard has gone out, each once', async () => {
  const s = await stage();
  await s.time.pass(3);
  s.first.last = heardOf({ id: 'a', by: 'browser', text: 'crack in the', from: 2, to: 3 });
  s.second.last = heardOf({ id: 'b', by: 'embedded', text: 'crack', from: 2, to: 2.9 });
  s.own('belts good', 0.1, 0.5);
  await s.ear.stop();
  expect(s.heard.map((h) => [h.text, h.other])).toEqual([
    ['crack in the', 'crack'],
    ['belts good', ''],
  ]);
  expect(s.states.at(-1)).toBe('stopped: Listening is closed.');
  await s.time.pass(30);
  expect(s.heard).toHaveLength(2);
});

test('hold, resume and scene go to both', async () => {
  const s = await stage();
  s.ear.expect(FIRST_SCENE);
  s.ear.pause();
  s.ear.resume();
  for (const p of [s.first, s.second])
    expect(p.log).toEqual(['start', 'expect', 'pause', 'resume']);
});

test('speech without words is news only where neither made any', async () => {
  const s = await stage();
  await s.time.pass(3);
  s.second.out.notice({ kind: 'lost', sentence: 'No words.', from: 1, to: 2 });
  await s.time.pass(1);
  s.browser('belts good', 1, 4);
  await s.time.pass(FIRST_WAITED);
  expect(s.notices).toEqual([]);
  s.second.out.notice({ kind: 'lost', sentence: 'No words.', from: 6, to: 6.9 });
  await s.time.pass(FIRST_WAITED + 0.1);
  expect(s.notices).toEqual(['No words.']);
});

test('words of either are shown while they come, those of the first before ours', async () => {
  const s = await stage();
  const shown: string[] = [];
  s.ear.onPartial((text) => shown.push(text));
  s.second.out.partial('belts');
  s.first.out.partial('bell');
  s.second.out.partial('belts good');
  s.first.out.partial('');
  expect(shown).toEqual(['belts', 'bell', 'belts good']);
});
