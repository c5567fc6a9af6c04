import fc from 'fast-check';
import { expect, test } from 'vitest';
import { createSession, type Session } from '#record';
import { fold } from '#reconcile';
import type { Event } from '#shared/event';
import { fitsPrompt } from '#shared/speech';
import type { Observation } from '#shared/statement';
import * as n from '../reconcile/notation.ts';
import { countedWorld, heard, memoryLog, readerOf } from './notation.ts';

const answering = (scene: { question: { id: string; about: string } | null }) => ({
  answers: scene.question?.id ?? null,
  amends: scene.question?.about ?? null,
});

/** Sentences of these tests and what they mean. */
const SENTENCES = {
  'fan good': () => [n.said('fan', n.good())],
  'fan cracked': () => [n.said('fan', n.has('crack'))],
  'brake lines good': () => [n.said('brake-line', n.good(), n.plural)],
  'left brake line chafing': () => [n.said('brake-line', n.has('chafing'), n.left)],
  'brake line cracked': () => [
    n.said('brake-line', n.has('crack'), { severity: 'ground' }, n.oneMore),
  ],
  'brake line chafing': () => [n.said('brake-line', n.has('chafing'), n.oneMore)],
  left: (scene) => [{ ...n.said('brake-line', n.good(), n.left), ...answering(scene) }],
  both: (scene) => [{ ...n.said('brake-line', n.good(), n.all), ...answering(scene) }],
  'ground it': () => [n.rate('ground')],
  'chafing, ground it': () => [n.said('brake-line', n.has('chafing'), n.left), n.rate('ground')],
  'oil seven': () => [n.said('oil', n.withoutUnit('level', 7))],
  'oil seven quarts': () => [n.said('oil', n.value('level', 7))],
  'strut thing cracked': () => [n.unplaced('strut thing', n.has('crack'))],
  'fan or belts good': () => [n.nearTie(['fan', 'belts'], n.good())],
  'not not good': () => [n.said('fan', n.good(), n.doubtful)],
  'not not cracked': () => [n.said('fan', n.has('crack'), n.doubtful)],
  'you want no cracks': () => [n.said('fan', n.has('crack'), n.force('teaching'))],
  'take that back': (scene) => [
    { ...n.takeBack(1), of: scene.lastId ?? '' } as ReturnType<typeof n.takeBack>,
  ],
  hold: () => [n.command('hold')],
  resume: () => [n.command('resume')],
  finish: () => [n.command('finish')],
  'it is night': () => [
    { ...n.takeBack(1), kind: 'circumstance', circumstance: 'night', holds: true } as never,
  ],
  'at the gear': () => [n.arrive('gear')],
  'same as before': () => [n.said('fan', { compared: 'same' })],
  mumble: () => [n.notUnderstood('mumble')],
  'nothing at all': () => [],
} satisfies Parameters<typeof readerOf>[0];

type Sentence = keyof typeof SENTENCES;

function begun(more: Parameters<typeof n.begun>[0] = {}, world = countedWorld()) {
  const log = memoryLog();
  const reader = readerOf(SENTENCES);
  const session = createSession({
    catalogue: n.AIRCRAFT,
    reader,
    log,
    world,
    walk: 'w',
    open: () => ['belts'],
  });
  const start = session.begin(n.begun(more));
  let count = 0;
  const say = (text: string, more: Parameters<typeof heard>[2] = {}) => {
    count += 1;
    world.pass(2);
    return session.hear(heard(`h${count}`, text, more));
  };
  return { log, reader, session, world, start, say };
}

const kinds = (events: readonly Event[]) => events.map((e) => e.what.kind);

test('R10 what was heard is written before it is read', async () => {
  const { log, reader, start, say } = begun();
  await start;
  const write = log.append.bind(log);
  let readWhenWritten = -1;
  log.append = async (drafts) => {
    if (drafts[0]?.what.kind === 'heard') readWhenWritten = reader.reads.length;
    return write(drafts);
  };
  const happened = await say('fan good');
  expect(readWhenWritten).toBe(0);
  expect(kinds(happened.events)).toEqual(['heard', 'stated']);
});

test('R10 nothing is acknowledged when it cannot be written, and it is kept for the next time', async () => {
  const { log, session, reader, start, say } = begun();
  await start;
  log.fail = 'The disk is full.';
  await expect(say('fan good')).rejects.toThrow('The disk is full.');
  expect(reader.reads).toEqual([]);
  expect(session.unkept().map((h) => h.text)).toEqual(['fan good']);
  log.fail = null;
  const happened = await say('left brake line chafing');
  expect(kinds(happened.events)).toEqual(['heard', 'stated', 'heard', 'stated', 'asked']);
  expect(session.unkept()).toEqual([]);
});

test('R10 words whose reading fails stay in the log, and the sheet says so', async () => {
  const { start, say, log } = begun();
  await start;
  const happened = await say('unheard-of sentence');
  expect(happened.statements).toMatchObject([
    { kind: 'not-understood', chatter: false, span: { words: 'unheard-of sentence' } },
  ]);
  expect(kinds(log.events)).toEqual(['walk-begun', 'heard', 'stated']);
});

test.each([
  ['while our voice sounds', { from: 11 }, 'own-voice'],
  ['in its echo', { from: 13.4 }, 'own-voice'],
  ['after its echo', { from: 13.6 }, null],
  ['before it', { from: 9.9 }, null],
  ['typed meanwhile', { from: 11, by: 'typed' as const }, null],
  ['without a time', { from: null }, null],
])('R11 never takes its own voice for the pilot’s: words %s', async (_name, more, dropped) => {
  const { start, say, session, reader, log } = begun();
  await start;
  await session.spoke('Left or right brake line?', 10, 12);
  const happened = await say('fan good', more);
  expect(happened.dropped).toBe(dropped);
  expect(reader.reads).toEqual(dropped === null ? ['fan good'] : []);
  // Kept all the same, so that a pilot who spoke over it can be heard in the debrief.
  expect(kinds(log.events)).toContain('heard');
});

test('R11 is about our own sound: a voice that never sounded drops nothing', async () => {
  const { start, say, session } = begun();
  await start;
  await session.spoke('Left or right brake line?', 10, null);
  await session.spoke('Left or right brake line?', 10, 10);
  expect((await say('fan good', { from: 10.5 })).dropped).toBe(null);
});

test('words delivered twice are taken once', async () => {
  const { start, session, log } = begun();
  await start;
  await session.hear(heard('h1', 'fan good'));
  const again = await session.hear(heard('h1', 'fan good'));
  expect(again).toMatchObject({ dropped: 'repeated', events: [] });
  expect(kinds(log.events)).toEqual(['walk-begun', 'heard', 'stated']);
});

test.each<[Sentence, string | null]>([
  // No finding hangs on it: it waits for the end of the station.
  ['brake lines good', null],
  [
    'left brake line chafing',
    'Left brake line, chafing: ground it, defer it, watch it or note it?',
  ],
  ['brake line chafing', 'Left or right brake line?'],
  ['fan cracked', null],
  ['oil seven', 'Level: 7 what?'],
  ['strut thing cracked', 'Which check does strut thing belong to?'],
  ['fan or belts good', null],
  ['not not good', null],
  ['not not cracked', 'Fan: good, or something wrong?'],
  ['chafing, ground it', null],
  ['you want no cracks', null],
  ['fan good', null],
  ['mumble', null],
])('R5 asks after "%s": %s', async (sentence, text) => {
  const { start, say, session } = begun();
  await start;
  const happened = await say(sentence);
  expect(happened.asked?.text ?? null).toBe(text);
  expect(session.scene().question).toEqual(happened.question);
  if (text !== null) expect(fitsPrompt(text)).toBe(true);
});

test.each<[string, readonly Sentence[], readonly string[]]>([
  ['answered', ['brake line cracked', 'both'], ['question-closed answered']],
  ['answered in part', ['brake line cracked', 'left'], ['question-closed answered']],
  ['rated', ['left brake line chafing', 'ground it'], ['question-closed answered']],
  ['taken back', ['left brake line chafing', 'take that back'], ['question-closed withdrawn']],
  ['said again in full', ['oil seven', 'oil seven quarts'], ['question-closed withdrawn']],
  [
    'passed over',
    ['brake line cracked', 'oil seven'],
    ['question-closed unanswered', 'asked Level: 7 what?'],
  ],
  ['let lie', ['oil seven', 'fan good'], []],
])('a question is %s', async (_name, sentences, expected) => {
  const { start, say } = begun();
  await start;
  let events: readonly Event[] = [];
  for (const sentence of sentences) events = (await say(sentence)).events;
  const about = events.flatMap(({ what }) =>
    what.kind === 'question-closed'
      ? [`${what.kind} ${what.how}`]
      : what.kind === 'asked'
        ? [`${what.kind} ${what.question.text}`]
        : [],
  );
  expect(about).toEqual(expected);
});

test('one question has the floor, the other waits, and comes when the first is answered', async () => {
  const { start, say, session } = begun();
  await start;
  const first = await say('brake line chafing');
  expect(first.events.filter((e) => e.what.kind === 'asked')).toHaveLength(2);
  expect(first.asked?.kind).toBe('which-instance');
  const second = await session.unanswered(first.asked?.id ?? '');
  expect(second.asked?.kind).toBe('severity');
  // Unanswered is not settled: it stays open on the sheet.
  const coverage = fold(n.AIRCRAFT, [...first.events, ...second.events]);
  expect(coverage.questions.map((q) => q.kind)).toEqual(['which-instance', 'severity']);
});

test('an open squawk is asked about once, when its station is reached', async () => {
  const squawks = [{ squawk: 'sq1', check: 'brake-line', text: 'left brake line chafed' }];
  const { start, say } = begun({ squawks });
  await start;
  const happened = await say('at the gear');
  expect(happened.asked).toMatchObject({
    kind: 'recheck',
    text: 'Open squawk: left brake line chafed. Still there, worse, or gone?',
  });
  expect((await say('at the gear')).asked).toBeNull();
});

test.each<[Sentence, readonly string[]]>([
  ['hold', ['heard', 'stated', 'held']],
  ['resume', ['heard', 'stated']],
  ['finish', ['heard', 'stated', 'finished']],
  ['it is night', ['heard', 'stated', 'circumstance-set']],
])('"%s" makes %j happen', async (sentence, expected) => {
  const { start, say } = begun();
  await start;
  expect(kinds((await say(sentence)).events)).toEqual(expected);
});

test('finish records what was open and who called it', async () => {
  const { start, say, session } = begun();
  await start;
  const said = await say('finish');
  expect(said.events.at(-1)?.what).toEqual({ kind: 'finished', open: ['belts'], how: 'said' });
  const touched = await session.finish();
  expect(touched.events.at(-1)?.what).toMatchObject({ how: 'touched' });
  const ended = await session.finish({ how: 'end-of-file' });
  expect(ended.events.at(-1)?.what).toMatchObject({ how: 'end-of-file' });
});

test('R4 a walk cannot be signed while a finding has no check', async () => {
  const { start, say, session, log } = begun();
  await start;
  await say('strut thing cracked');
  await session.decide('ground', 'A. Pilot');
  const refused = await session.sign('A. Pilot');
  expect(refused).toMatchObject({
    events: [],
    refused: 'One finding has no check yet; place it before signing.',
  });
  const placed = await session.place('h1.0', 'fan', ['once'], 'A. Pilot');
  expect(kinds(placed.events)).toEqual(['finding-placed', 'learned', 'question-closed']);
  const signed = await session.sign('A. Pilot', '1234567');
  expect(signed.refused).toBeNull();
  expect(log.events.at(-1)?.what).toEqual({
    kind: 'signed',
    name: 'A. Pilot',
    certificate: '1234567',
  });
});

test.each([
  ['a deferral by nobody', (s: Session) => s.decide('defer', 'A. Pilot'), 'authorised person'],
  ['a signature before the decision', (s: Session) => s.sign('A. Pilot'), 'State the decision'],
  ['a signature without a name', (s: Session) => s.sign(' '), 'needs a name'],
  ['a second beginning', (s: Session) => s.begin(n.begun()), 'begun already'],
  ['going on without a hold', (s: Session) => s.resume(), 'not held'],
  ['placing what is not there', (s: Session) => s.place('x', 'fan', [], 'A'), 'not in this walk'],
])('refuses %s with one sentence', async (_name, act, sentence) => {
  const { start, session } = begun();
  await start;
  const happened = await act(session);
  expect(happened.refused).toContain(sentence);
  expect(happened.events).toEqual([]);
});

test('times of a file are the walk’s times, and never run backwards', async () => {
  const { start, say } = begun();
  await start;
  const t = async (from: number) =>
    (await say('fan good', { by: 'transcript', from, to: from + 1 })).events.map((e) => e.t);
  expect(await t(65)).toEqual([65, 65]);
  expect(await t(60)).toEqual([65, 65]);
  expect(await t(70)).toEqual([70, 70]);
});

test('a live source cannot run ahead of the clock', async () => {
  const { start, say } = begun();
  await start;
  const happened = await say('fan good', { from: 1e9, to: 1e9 });
  expect(happened.events.map((e) => e.t)).toEqual([2, 2]);
});

const SEED = 20261125;
test(`a walk opened again at any point that can be on disk goes on the same way (seed ${SEED})`, async () => {
  const sentences = Object.keys(SENTENCES) as Sentence[];
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.constantFrom(...sentences, 'unheard-of sentence'), {
        minLength: 1,
        maxLength: 12,
      }),
      fc.nat(),
      async (said, at) => {
        const whole = begun({ squawks: [{ squawk: 'q', check: 'fan', text: 'nick' }] });
        await whole.start;
        for (const text of said) await whole.say(text);
        const events = whole.log.events;
        // One write is one transaction: all of it is on disk or none.
        const { ends } = whole.log;
        const cut = ends[at % ends.length] ?? events.length;
        const kept = events.slice(0, cut);

        const world = countedWorld(5000);
        const log = memoryLog();
        log.events.push(...kept);
        const reader = readerOf(SENTENCES);
        const session = createSession({
          catalogue: n.AIRCRAFT,
          reader,
          log,
          world,
          walk: 'w',
          open: () => ['belts'],
        });
        await session.reopen(kept);
        const done = new Set(
          kept.flatMap((e) => (e.what.kind === 'heard' ? [e.what.heard.id] : [])),
        );
        for (const [i, text] of said.entries()) {
          if (!done.has(`h${i + 1}`)) await session.hear(heard(`h${i + 1}`, text));
        }
        expect(log.events.map((e) => e.what)).toEqual(events.map((e) => e.what));
        expect(session.scene()).toEqual(whole.session.scene());
        expect(session.question()).toEqual(whole.session.question());
      },
    ),
    { seed: SEED, numRuns: 200 },
  );
});

test('a walk taken up by another version of the reader says so, once; the same version says nothing', async () => {
  const OLD = { version: '1', weights: 'aa' };
  const NEW = { version: '2', weights: 'bb' };
  const log = memoryLog();
  const world = countedWorld();
  const sessionOf = (by: typeof OLD) =>
    createSession({
      catalogue: n.AIRCRAFT,
      reader: { ...readerOf(SENTENCES), by },
      log,
      world,
      walk: 'w',
    });
  await sessionOf(OLD).begin(n.begun());
  const readers = () =>
    log.events.flatMap(({ what }) =>
      what.kind === 'walk-begun' || what.kind === 'reader-changed' ? [what.reader] : [],
    );
  expect(readers()).toEqual([OLD]);
  await sessionOf(OLD).reopen([...log.events]);
  expect(readers()).toEqual([OLD]);
  await sessionOf(NEW).reopen([...log.events]);
  await sessionOf(NEW).reopen([...log.events]);
  expect(readers()).toEqual([OLD, NEW]);
});

test('calls are done one after the other, in the order they came', async () => {
  const { start, session, log } = begun();
  await Promise.all([
    start,
    session.hear(heard('h1', 'fan good')),
    session.hear(heard('h2', 'oil seven')),
    session.hold('touched'),
  ]);
  expect(kinds(log.events)).toEqual([
    'walk-begun',
    'heard',
    'stated',
    'heard',
    'stated',
    'asked',
    'held',
  ]);
});

test('R6 what was found and is called good later is asked about; the answer amends the finding', async () => {
  const { start, say, log } = begun();
  await start;
  await say('fan cracked');
  const asked = await say('fan good');
  expect(asked.asked).toMatchObject({
    kind: 'polarity',
    about: 'h1.0',
    text: 'Fan: crack, or good?',
  });
  expect(n.standing(fold(n.AIRCRAFT, log.events), 'fan')).toBe('in question');
  await say('fan cracked');
  const coverage = fold(n.AIRCRAFT, log.events);
  expect(n.standing(coverage, 'fan')).toBe('spoken for');
  expect(n.findings(coverage)).toEqual(['fan: crack, ground, stands']);
  expect(coverage.questions).toEqual([]);
});

test('further events that a statement demands are written with it', async () => {
  const log = memoryLog();
  const session = createSession({
    catalogue: n.AIRCRAFT,
    reader: readerOf(SENTENCES),
    log,
    world: countedWorld(),
    also: (statement) =>
      (statement as Observation).verdict === null
        ? []
        : [{ kind: 'sound-missing', why: 'only for this test' }],
  });
  await session.begin(n.begun());
  await session.hear(heard('h1', 'fan good'));
  expect(kinds(log.events)).toEqual(['walk-begun', 'heard', 'stated', 'sound-missing']);
  expect(log.writes).toBe(3);
});

test('what is said while the walk is held is not asked about, a fault is', async () => {
  const { start, say } = begun();
  await start;
  await say('hold');
  expect((await say('fan or belts good')).asked).toBeNull();
  expect((await say('brake lines good')).asked).toBeNull();
  expect((await say('strut thing cracked')).asked?.kind).toBe('place');
});

test('14.2 a signed walk takes nothing more in, says why, and may still be reviewed', async () => {
  const { start, say, session, log } = begun();
  await start;
  await session.finish();
  await session.decide('fly', 'A. Pilot');
  await session.sign('A. Pilot');
  const before = log.events.length;
  const happened = [
    await say('belts good'),
    await session.finish(),
    await session.hold('touched'),
    await session.decide('ground', 'A. Pilot'),
    await session.sign('B. Pilot'),
    await session.setStation('nose'),
    await session.setCircumstance('cold', true),
    await session.place('h1.0', 'fan', ['once'], 'A. Pilot'),
    await session.unanswered('q'),
  ];
  for (const { refused, events } of happened) {
    expect(refused).toContain('This walk is signed: nothing changes it any more.');
    expect(events).toEqual([]);
  }
  expect(log.events).toHaveLength(before);
  const of = { kind: 'standing', check: 'belts', standing: 'unspoken' } as const;
  expect((await session.review('I. Structor', '', of)).events).toHaveLength(1);
});
