import { describe, expect, test } from 'vitest';
import { fold } from '#reconcile';
import type { Event } from '#shared/event';
import { marksPath, runnerPath, tickEvery } from '../../src/screens/debrief/axis.ts';
import { readingWords, replyWords } from '../../src/screens/debrief/readings.ts';
import { nearest, talkOf } from '../../src/screens/debrief/talk.ts';
import { namesOf } from '../../src/screens/parts/words.ts';
import { textIn } from '../../src/screens/text/text.ts';
import '../../src/screens/text/later.ts';
import { catalogueOf, EVENTFUL } from './cases.ts';
import { madeWalk } from './made.ts';

const catalogue = catalogueOf('training-helicopter');
const events = madeWalk(catalogue, 'w', EVENTFUL);
const t = textIn('en');
const talk = talkOf(catalogue, events, fold(catalogue, events));

test('every utterance of the walk has its mark, in time order', () => {
  const heard = events.filter((e) => e.what.kind === 'heard').length;
  expect(talk.utterances).toHaveLength(heard);
  talk.utterances.slice(1).forEach((u, i) => {
    expect(u.from).toBeGreaterThanOrEqual(talk.utterances[i]?.from ?? 0);
  });
});

test('stays follow the stations in the order they were walked', () => {
  expect(talk.stays.map((s) => s.station)).toEqual(catalogue.stations.map((s) => s.id));
});

test('R2: teaching and chatter are marked as heard and not counted', () => {
  const chatter = talk.utterances.filter((u) => u.heard.text.startsWith('now you want no play'));
  expect(chatter.length).toBeGreaterThan(0);
  for (const u of chatter) expect(u.sort).toBe('nothing');
});

test('each finding is a mark of its own kind at its station', () => {
  const found = talk.utterances.filter((u) => u.sort === 'finding').map((u) => u.heard.text);
  expect(found).toContain('oil line chafed through to the braid, ground it');
  const line = talk.utterances.find((u) => u.heard.text.startsWith('oil line chafed'));
  expect(line?.station).toBe('engine-right');
});

test('the hold is a span of its length', () => {
  expect(talk.holds).toHaveLength(1);
  const [hold] = talk.holds;
  expect((hold?.to ?? 0) - (hold?.from ?? 0)).toBeCloseTo(48, 0);
});

test('the nearest utterance to a time is found, at both ends too', () => {
  expect(nearest([], 3)).toBe(-1);
  expect(nearest(talk.utterances, -5)).toBe(0);
  expect(nearest(talk.utterances, 1e9)).toBe(talk.utterances.length - 1);
  const third = talk.utterances[3];
  expect(nearest(talk.utterances, (third?.from ?? 0) + 0.1)).toBe(3);
});

test('a walk without events is an empty talk, not an error', () => {
  const empty = talkOf(catalogue, [], fold(catalogue, []));
  expect(empty.utterances).toEqual([]);
  expect(empty.seconds).toBe(1);
});

test('labels of the time axis have room at every scale', () => {
  for (const perSecond of [0.01, 0.2, 0.83, 4, 30, 200]) {
    expect(tickEvery(perSecond) * perSecond).toBeGreaterThanOrEqual(64);
  }
});

test('ten thousand utterances are one path each kind', () => {
  const many = Array.from({ length: 10_000 }, (_, i) => ({
    from: i,
    to: i + 0.5,
    sort: 'counted' as const,
    station: 'a',
  }));
  const path = marksPath(many, 'counted', new Map([['a', 10]]), 1, 0);
  expect(path.match(/M/g)).toHaveLength(10_000);
  expect(marksPath(many, 'finding', new Map(), 1, 0)).toBe('');
  expect(runnerPath(talk.stays, new Map(), 1)).toBe('');
});

test('every reading has words, with the force said when it is not a result', () => {
  const names = namesOf(catalogue);
  for (const u of talk.utterances) {
    for (const s of u.statements) expect(readingWords(s, names, t)).not.toBe('');
  }
  const one = talk.utterances.flatMap((u) => u.statements).find((s) => s.kind === 'observation');
  expect(one).toBeDefined();
  if (one?.kind === 'observation') {
    expect(readingWords({ ...one, force: 'intention' }, names, t)).toContain(
      'an intention, not counted',
    );
  }
});

describe('what Talkround gave back stands at the words that it answered', () => {
  const answered = madeWalk(catalogue, 'w', { ...EVENTFUL, answered: true });
  const replied = (from: number, answers: string | null): Event => {
    const [begin] = answered;
    if (begin === undefined) throw new Error('The walk is empty.');
    const what = { kind: 'replied', tone: 'question', text: 'Left?', how: 'shown' } as const;
    return { ...begin, id: `r${from}`, t: from, what: { ...what, from, answers } };
  };
  const of = (more: readonly Event[] = []) => {
    const all = [...answered, ...more];
    return talkOf(catalogue, all, fold(catalogue, all));
  };

  test('a finding with its tone and its words; talk that does not count with nothing', () => {
    const { utterances } = of();
    const line = utterances.find((u) => u.heard.text.startsWith('oil line chafed'));
    expect(line?.replies.map((r) => replyWords(r, t))).toEqual([
      'Talkround, finding recorded: Oil lines: chafed.',
    ]);
    const taught = utterances.find((u) => u.heard.text.startsWith('now you want no play'));
    expect(taught?.replies).toEqual([]);
    const plain = utterances.find((u) => u.sort === 'counted');
    expect(plain?.replies.map((r) => replyWords(r, t))).toEqual(['Talkround, understood']);
  });

  test('of its own accord: at the words before it; before any words: at the opening', () => {
    const third = of().utterances[2];
    const { utterances, opening } = of([
      replied(0.5, null),
      replied((third?.from ?? 0) + 0.1, null),
    ]);
    expect(opening.map((r) => replyWords(r, t))).toEqual([
      'Talkround, I have a question, on the screen: Left?',
    ]);
    expect(utterances[2]?.replies.some((r) => r.text === 'Left?')).toBe(true);
  });

  test('late, when other words had come in between: still at the words that it answers', () => {
    const [, second, , fourth] = of().utterances;
    const { utterances } = of([replied((fourth?.to ?? 0) + 0.1, second?.heard.id ?? '')]);
    expect(utterances[1]?.replies.some((r) => r.text === 'Left?')).toBe(true);
    expect(utterances[3]?.replies.some((r) => r.text === 'Left?')).toBe(false);
  });
});

test('R11: what was said over our own voice and not read says so; said later, it does not', () => {
  const [begin] = events;
  const heard = events.find((e) => e.what.kind === 'heard');
  if (begin === undefined || heard?.what.kind !== 'heard') throw new Error('The walk is empty.');
  const { heard: first } = heard.what;
  const over = (from: number): Event => ({
    ...begin,
    id: `o${from}`,
    t: from,
    what: { kind: 'heard', heard: { ...first, id: `o${from}`, from, to: from + 1 } },
  });
  const voice: Event = {
    ...begin,
    id: 'v',
    t: 5000,
    what: { kind: 'spoken', text: 'Level: five what?', from: 5000, to: 5002 },
  };
  const all = [...events, voice, over(5001), over(5003), over(5004)];
  const { utterances } = talkOf(catalogue, all, fold(catalogue, all));
  expect(utterances.slice(-3).map((u) => u.spokenOver)).toEqual([true, true, false]);
  expect(utterances[0]?.spokenOver).toBe(false);
});
