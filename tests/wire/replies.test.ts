import { expect, test } from 'vitest';
import { heardOf } from '#capture';
import type { Event, Happening } from '#shared/event';
import type { Tone } from '#shared/replied';
import { dueBetween, nextAfter, repliesIn } from '../../src/wire/replies.ts';

let ids = 0;
function event(what: Happening): Event {
  ids += 1;
  return {
    v: 1,
    id: `e${String(ids)}`,
    device: 'd',
    walk: 'w',
    aircraft: 'a',
    at: 0,
    t: 0,
    what,
    prev: null,
    hash: '',
  };
}
const heard = (from: number, recording: string, at: number) =>
  event({
    kind: 'heard',
    heard: heardOf({
      id: `h${String(from)}`,
      by: 'embedded',
      text: 'belts good',
      from,
      to: from + 1,
      sound: { recording, from: at, to: at + 1 },
    }),
  });
const spoken = (text: string, from: number, to: number | null) =>
  event({ kind: 'spoken', text, from, to });

const WALK = [
  spoken('Listening.', 2, 4),
  heard(10, 'r1', 9),
  spoken('Belts: spoken for.', 12, null),
  spoken('Belts: spoken for.', 12, 13),
  spoken('Never sounded.', 20, 20),
  heard(40, 'r2', 5),
];

test('each reply once, at its place in the recording', () => {
  expect(repliesIn(WALK, 'r1')).toEqual([
    { at: 1, tone: null, text: 'Listening.' },
    { at: 11, tone: null, text: 'Belts: spoken for.' },
  ]);
  // The second recording began at 35 s: what was said before belongs to the first.
  expect(repliesIn(WALK, 'r2')).toEqual([]);
  expect(repliesIn(WALK, 'another')).toEqual([]);
});

test('a reply kept with its tone stands once, beside older walks that have words alone', () => {
  const replied = (from: number, tone: Tone, text = '') =>
    event({
      kind: 'replied',
      tone,
      text,
      how: text === '' ? 'none' : 'spoken',
      from,
      answers: null,
    });
  const walk = [
    ...WALK,
    replied(12, 'understood', 'Belts: spoken for.'),
    replied(34, 'question'),
    replied(41, 'not-understood'),
  ];
  expect(repliesIn(walk, 'r1')).toEqual([
    { at: 1, tone: null, text: 'Listening.' },
    { at: 11, tone: 'understood', text: 'Belts: spoken for.' },
    { at: 33, tone: 'question', text: '' },
  ]);
  expect(repliesIn(walk, 'r2')).toEqual([{ at: 6, tone: 'not-understood', text: '' }]);
  expect(nextAfter(walk, 'r1')).toMatchObject({ recording: 'r2', from: 0 });
  expect(nextAfter(walk, 'r2')).toBe(null);
});

test('due once as the replay goes on, and again when it goes back', () => {
  const said = repliesIn(WALK, 'r1');
  expect(dueBetween(said, 10.9, 11.1).map((s) => s.text)).toEqual(['Belts: spoken for.']);
  expect(dueBetween(said, 11.1, 11.3)).toEqual([]);
  expect(dueBetween(said, 0, 2)).toHaveLength(1);
});
