import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Coverage } from '#shared/coverage';
import type { Happened } from '#shared/happened';
import { LONGEST_PROMPT, secondsToSay } from '#shared/speech';
import { isVerdict, replyTo, type Talk } from '#speak';
import {
  CATALOGUE,
  command,
  coverage,
  finding,
  happened,
  notUnderstood,
  observation,
  question,
} from './fixture.ts';

/** Reply as a row: `earcon | sentence / sentence`. */
function row(
  h: Happened,
  talk: Talk = 'exceptions',
  before: Coverage | null = coverage(),
  after: Coverage = coverage(),
): string {
  const reply = replyTo(h, { before, after }, { catalogue: CATALOGUE, talk });
  return `${reply.earcon ?? '-'} | ${reply.say.join(' / ')}${reply.again ? ' (again)' : ''}`;
}

const good = observation();
const spoken = coverage({ standings: { belts: 'spoken' } });
const part = coverage({ standings: { belts: 'part' } });

test('a check spoken for: a tone; its name only when everything is said', () => {
  expect(row(happened([good]), 'tones', coverage(), spoken)).toBe('understood | ');
  expect(row(happened([good]), 'exceptions', coverage(), spoken)).toBe('understood | ');
  expect(row(happened([good]), 'everything', coverage(), spoken)).toBe(
    'understood | Drive belts: spoken for',
  );
  expect(row(happened([good]), 'everything', coverage(), part)).toBe(
    'understood | Drive belts: left slack',
  );
});

test.each([
  ['teaching', observation({ force: 'teaching' })],
  ['hypothesis', observation({ force: 'hypothesis' })],
  ['intention', observation({ force: 'intention' })],
  ['chatter', notUnderstood(true)],
])('R2: %s gets neither tone nor word', (_, statement) => {
  for (const talk of ['tones', 'exceptions', 'everything'] as const) {
    expect(row(happened([statement]), talk)).toBe('- | ');
  }
});

test('R5: a result that could not be read', () => {
  expect(row(happened([notUnderstood(false)]), 'tones')).toBe('not-understood | ');
  expect(row(happened([notUnderstood(false)]))).toBe('not-understood | Say again');
});

test('R5: a question is sounded, and said except in tones only', () => {
  const h = happened([good], { asked: question('Left or right brake line?') });
  expect(row(h, 'tones')).toBe('question | ');
  expect(row(h)).toBe('question | Left or right brake line?');
});

test('R11: our own voice and repeats get no reply', () => {
  expect(row(happened([good], { dropped: 'own-voice' }), 'everything', coverage(), spoken)).toBe(
    '- | ',
  );
  expect(row(happened([good], { dropped: 'repeated' }), 'everything', coverage(), spoken)).toBe(
    '- | ',
  );
});

test('a finding is read back with place and severity', () => {
  const after = coverage({ findings: [finding()] });
  expect(row(happened([good]), 'tones', coverage(), after)).toBe('finding | ');
  expect(row(happened([good]), 'exceptions', coverage(), after)).toBe(
    'finding | Left brake line: slight chafing, aft of the second bracket / Ground it',
  );
  const value = finding({
    check: 'oil',
    instances: ['once'],
    conditions: [],
    value: { measure: 'level', said: '5 quarts', limit: 'at least 6 quarts' },
    severityBy: 'measure',
  });
  expect(row(happened([good]), 'exceptions', coverage(), coverage({ findings: [value] }))).toBe(
    'finding | Oil: 5 quarts, limit at least 6 quarts / Usually: ground it',
  );
});

test('R4: an unplaced finding is read back as such', () => {
  const after = coverage({
    findings: [
      finding({ check: null, part: 'that bracket thing', severity: null, severityBy: 'none' }),
    ],
  });
  expect(row(happened([good]), 'exceptions', coverage(), after)).toBe(
    'finding | That bracket thing, not placed yet: slight chafing, aft of the second bracket / No severity yet',
  );
});

test('a finding and its question in one breath', () => {
  const after = coverage({ findings: [finding({ severity: null, severityBy: 'none' })] });
  const h = happened([good], {
    asked: question('Ground it, defer it, watch it or note it?', 'severity'),
  });
  expect(row(h, 'exceptions', coverage(), after)).toBe(
    'question | Left brake line: slight chafing, aft of the second bracket / Ground it, defer it, watch it or note it?',
  );
});

test('deferral says whose limits they are', () => {
  const after = coverage({ findings: [finding({ severity: 'defer' })] });
  expect(row(happened([good]), 'exceptions', coverage(), after)).toContain(
    'Defer it, within limits that an authorised person sets',
  );
  const h = happened([], {
    also: [
      { kind: 'decided', decision: 'defer', by: 'me', authority: 'the chief engineer', note: null },
    ],
  });
  expect(row(h)).toBe(
    'understood | Your decision is written: defer, limits set by the chief engineer',
  );
});

test('a follow-up that became required is demanded, and maintenance decides', () => {
  const before = coverage();
  const after = coverage({
    followUps: ['guard'],
    findings: [
      finding({
        check: 'belts',
        instances: ['once'],
        conditions: [
          { condition: 'slack', sign: 'slack-belt', degree: null, extent: null, place: null },
        ],
        severityBy: 'sign',
      }),
    ],
  });
  expect(row(happened([good]), 'exceptions', before, after)).toBe(
    'finding | Drive belts: slack belt / Usually: ground it / Now also: Belt guard / Maintenance decides',
  );
});

test('cautions: of the station reached, of the next check, of a check announced', () => {
  const there = coverage({ station: 'tail' });
  expect(row(happened([good]), 'exceptions', coverage({ station: 'engine' }), there)).toBe(
    'understood | Mind the tail rotor.',
  );
  expect(
    row(
      happened([good]),
      'exceptions',
      there,
      coverage({ station: 'tail', standings: { rivets: 'spoken' } }),
    ),
  ).toBe('understood | Hot brakes: approach from the front.');
  const intends = observation({
    force: 'intention',
    about: { kind: 'check', check: 'lines', which: { how: 'all', instances: [] }, span: null },
  });
  expect(row(happened([intends]))).toBe('- | Hot brakes: approach from the front.');
});

test('R6: a contradiction is said, and that the worse stands', () => {
  const after = coverage({ standings: { belts: 'question' }, rule: 'R6' });
  expect(
    row(happened([good]), 'exceptions', coverage({ standings: { belts: 'spoken' } }), after),
  ).toBe('understood | Drive belts: in question; the worse stands');
});

test('orders are answered in every setting', () => {
  for (const talk of ['tones', 'exceptions', 'everything'] as const) {
    expect(row(happened([command('left')]), talk)).toBe(
      'understood | 4 left: Drive belts not said; Oil not said; Rivet line not said; Brake line not said',
    );
    const here = coverage({ station: 'engine' });
    expect(row(happened([command('left-here')]), talk, here, here)).toBe(
      'understood | 2 left here: Drive belts not said; Oil not said',
    );
    expect(row(happened([command('read-back')]), talk)).toBe('understood | No findings');
  }
  const at = coverage({ station: 'engine', last: 'oil' });
  expect(row(happened([command('where')]), 'tones', at, at)).toBe(
    'understood | You are at the Engine / Last completed: Oil / Next: Drive belts not said',
  );
  expect(row(happened([command('repeat')]), 'tones')).toBe('understood |  (again)');
});

test('read-back: worst first, what is taken back left out', () => {
  const after = coverage({
    findings: [
      finding({ id: 'a', severity: 'note' }),
      finding({
        id: 'b',
        severity: 'ground',
        check: 'belts',
        instances: ['once'],
        conditions: [{ condition: 'slack', sign: null, degree: null, extent: null, place: null }],
      }),
      finding({ id: 'c', settled: 'taken-back' }),
    ],
  });
  expect(row(happened([command('read-back')]), 'tones', after, after)).toBe(
    'understood | 2 findings: Drive belts: slack, ground it; left brake line: slight chafing, aft of the second bracket, note it',
  );
});

test('after a hold the last completed check is repeated, and what is left at the station', () => {
  const at = coverage({ station: 'engine', last: 'belts', standings: { belts: 'spoken' } });
  expect(row(happened([command('resume')], { also: [{ kind: 'resumed' }] }), 'tones', at, at)).toBe(
    'understood | Last completed: Drive belts / 1 left: Oil not said',
  );
});

test('a result said during a hold: told once that the walk is held, never the tone for understood', () => {
  const held = { ...coverage(), held: true };
  const h = happened([good]);
  expect(row(h, 'tones', held, held)).toBe('not-understood | The walk is held; say resume');
  const settings = { catalogue: CATALOGUE, talk: 'everything' as const };
  const first = replyTo(h, { before: held, after: held }, settings);
  expect(first.toldHeld).toBe(true);
  const second = replyTo(h, { before: held, after: held, toldHeld: true }, settings);
  expect(second).toEqual({ earcon: null, say: [], again: false });
});

test('R4: a fault said during a hold is kept and sounds as a finding; talk stays silent', () => {
  const held = { ...coverage(), held: true };
  const found = { ...coverage({ findings: [finding()] }), held: true };
  expect(row(happened([good]), 'tones', held, found)).toMatch(/^finding/);
  const talk = happened([observation({ force: 'intention' })]);
  expect(row(talk, 'everything', held, held)).toBe('- | ');
});

test('begin: cautions, squawks carried, where to begin', () => {
  const h = happened([], {
    also: [
      {
        kind: 'walk-begun',
        aircraft: 'a',
        catalogue: 'trial',
        edition: '',
        circumstances: [],
        pilot: null,
        instructor: null,
        hours: null,
        listening: '',
        squawks: [{ squawk: 's', check: null, text: 'Left tyre worn' }],
      },
    ],
  });
  expect(row(h, 'exceptions', null)).toBe(
    'understood | Master switch off before you walk. / 1 open: Left tyre worn / Listening. Begin at the Engine',
  );
});

test('finish: what is open, worst first; nothing open leaves the decision to the pilot', () => {
  const finished = happened([command('finish')], { also: [{ kind: 'finished', open: [] }] });
  const one = coverage({ open: ['Oil not said'] });
  expect(row(finished, 'tones', one, one)).toBe('understood | Finished with 1 open: Oil not said');
  const none = coverage({ open: [] });
  expect(row(finished, 'tones', none, none)).toBe(
    'understood | Finished. Every required check is spoken for, no finding. The decision is yours',
  );
});

const words = fc.constantFrom(
  'oil',
  'not',
  'said',
  'brake',
  'line',
  'airworthy',
  'unairworthy',
  'air worthy',
  'fit to fly',
  'safe for flight',
  'good to go',
  'returned to service',
  'ready for departure',
  'chafed',
  'x'.repeat(30),
  'two of six',
);
const text = fc.array(words, { maxLength: 40 }).map((w) => w.join(' '));
const any = fc.record({
  open: fc.array(text, { maxLength: 30 }),
  part: text,
  asked: fc.option(text, { nil: null }),
  refused: fc.option(text, { nil: null }),
  place: text,
  order: fc.constantFrom(
    'left',
    'left-here',
    'where',
    'read-back',
    'next',
    'help',
    'finish',
    'repeat',
  ),
  talk: fc.constantFrom('tones', 'exceptions', 'everything'),
});

test('property, seed 9, R9: nothing said is a verdict on the aircraft, and nothing takes longer than 10 s', () => {
  fc.assert(
    fc.property(any, ({ open, part: unplaced, asked, refused, place, order, talk }) => {
      const after = coverage({
        open,
        findings: [1, 2, 3].map((n) =>
          finding({
            id: `f${n}`,
            check: null,
            part: unplaced,
            conditions: [{ condition: 'crack', sign: null, degree: null, extent: null, place }],
          }),
        ),
      });
      const reply = replyTo(
        happened([command(order)], {
          asked: asked === null ? null : question(asked),
          refused,
          also: order === 'finish' ? [{ kind: 'finished', open: [] }] : [],
        }),
        { before: coverage(), after },
        { catalogue: CATALOGUE, talk },
      );
      expect(secondsToSay(reply.say.join(' '))).toBeLessThanOrEqual(LONGEST_PROMPT);
      for (const sentence of reply.say) {
        expect(isVerdict(sentence)).toBe(false);
        expect(sentence).not.toMatch(/airworth/i);
      }
      expect(isVerdict(reply.say.join(' '))).toBe(false);
    }),
    { seed: 9, numRuns: 1500 },
  );
});

test('what does not fit is counted and left to the screen; a question always stays', () => {
  const long = Array.from({ length: 40 }, (_, i) => `Check number ${i} not said`);
  const after = coverage({ open: long });
  const said = row(happened([command('left')]), 'tones', after, after);
  expect(said).toMatch(/^understood \| 40 left: Check number 0 not said; .*; and \d+ more$/);
  const both = row(
    happened([command('left')], { asked: question('Left or right brake line?') }),
    'exceptions',
    after,
    after,
  );
  expect(both).toContain('Left or right brake line?');
});
