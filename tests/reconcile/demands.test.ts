import { expect, test } from 'vitest';
import { fold, leftAt, leftText, openAtFinish, start, step } from '#reconcile';
import type { Coverage } from '#shared/coverage';
import { fitsPrompt } from '#shared/speech';
import * as n from './notation.ts';

const { said, good, has } = n;
const after = (...lines: n.Line[]) => fold(n.AIRCRAFT, n.walk(n.begun(), ...lines));
const required = (coverage: Coverage, check: string) =>
  coverage.checks.find((c) => c.check === check)?.required;

test('a hard-landing sign demands its follow-ups, next in what is left, and maintenance decides', () => {
  const before = after(said('fan', good()));
  expect(required(before, 'mast-mount')?.today).toBe(false);
  const coverage = after(said('skid', has('wrinkle')));
  expect(required(coverage, 'mast-mount')).toEqual({
    today: true,
    by: 'follow-up',
    circumstance: null,
    because: 'Hard landing: “skid wrinkle”. Maintenance decides what it means.',
  });
  expect(coverage.open.slice(0, 2).map((o) => o.text)).toEqual([
    'Cross tubes, demanded by a finding',
    'Mast mount, demanded by a finding',
  ]);
  expect(leftText(coverage)).toMatch(/^Left: Cross tubes, demanded by a finding; Mast mount/);
  expect(coverage.findings[0]?.reasons.map((r) => r.text)).toContain(
    'Not to fly before maintenance has decided.',
  );
  expect(coverage.findings[0]?.suggests).toBe('It may have landed hard.');
});

test('the step that brings the sign names the checks that it demands', () => {
  const events = n.walk(n.begun(), said('skid', has('wrinkle')));
  let state = start(n.AIRCRAFT);
  let changed: readonly string[] = [];
  for (const event of events) ({ state, changed } = step(state, event));
  expect([...changed].sort()).toEqual(['cross-tubes', 'mast-mount', 'skid']);
});

test.each<[string, readonly n.Line[], boolean]>([
  [
    'a sign said anywhere',
    [n.unplaced('hard landing', has('wrinkle', { sign: 'hard-landing' }))],
    true,
  ],
  ['said to be absent', [said('skid', n.no('wrinkle'))], false],
  ['of last week', [said('skid', has('wrinkle'), n.force('past'))], false],
  ['taken back', [said('skid', has('wrinkle')), n.takeBack(1)], false],
  ['in question', [said('skid', has('wrinkle')), said('skid', good())], true],
  ['another sign', [said('skid', has('scrape'))], false],
])('follow-ups of a sign %s', (_name, lines, today) => {
  expect(required(after(...lines), 'mast-mount')?.today).toBe(today);
});

test('R8 a value outside its limit demands its follow-ups', () => {
  expect(required(after(said('oil', n.value('level', 5))), 'oil-lines')?.because).toBe(
    'Level outside its limit: “oil 5 quarts”. Maintenance decides what it means.',
  );
});

test.each<[string, Parameters<typeof n.begun>[0], n.Line[], string, string]>([
  ['night', { circumstances: ['night'] }, [], 'lights', 'circumstance night'],
  ['not night', {}, [], 'lights', 'not'],
  [
    'night set later',
    {},
    [{ kind: 'circumstance-set', circumstance: 'night', holds: true }],
    'lights',
    'circumstance night',
  ],
  [
    'night set and unset',
    {},
    [
      { kind: 'circumstance-set', circumstance: 'night', holds: true },
      { kind: 'circumstance-set', circumstance: 'night', holds: false },
    ],
    'lights',
    'not',
  ],
  ['one of two', { circumstances: ['first-flight'] }, [], 'ice', 'circumstance first-flight'],
  [
    'an open squawk',
    { squawks: [{ squawk: 'q', check: 'skin', text: 'dent' }] },
    [],
    'skin',
    'squawk',
  ],
  [
    'a squawk counts as after-squawk',
    { squawks: [{ squawk: 'q', check: 'skin', text: 'dent' }] },
    [],
    'fan',
    'always',
  ],
])('required today: %s', (_name, how, lines, check, by) => {
  const coverage = fold(n.AIRCRAFT, n.walk(n.begun(how), ...lines));
  const found = required(coverage, check);
  expect([found?.by, found?.circumstance].filter((w) => w !== null).join(' ')).toBe(by);
});

test('R7 an open squawk asks for its check by name', () => {
  const squawks = [{ squawk: 'q', check: 'skin', text: 'dent' }];
  const coverage = fold(n.AIRCRAFT, n.walk(n.begun({ squawks }), n.blanket('boom', good())));
  expect(n.standing(coverage, 'skin')).toBe('unspoken');
  expect(coverage.checks.find((c) => c.check === 'skin')?.reasons[0]?.text).toBe(
    'No result that names it can be counted.',
  );
  const same = fold(n.AIRCRAFT, n.walk(n.begun({ squawks }), said('skin', { compared: 'same' })));
  expect(n.standing(same, 'skin')).toBe('spoken for');
  expect(n.findings(same)).toEqual(['skin: fault, unrated, stands']);
});

test('what is open is read out worst first', () => {
  const coverage = after(
    said('belts', good('condition')),
    said('fan', good(), n.doubtful),
    said('brake-line', has('chafing'), n.left),
    n.unplaced('strut thing', has('crack')),
    said('oil', n.value('level', 5)),
  );
  const texts = coverage.open.map((o) => `${o.kind}: ${o.text}`);
  expect(texts.slice(0, 7)).toEqual([
    'finding-unplaced: Finding without a check: “strut thing crack”',
    'finding-unrated: Left Brake line: how bad is “brake-line chafing”?',
    'question: Fan: “fan good” is not counted before it is settled: it may mean either',
    'unspoken: Oil lines, demanded by a finding',
    'part: Drive belts: slack not said',
    'part: Brake line: right not said',
    'unspoken: Clutch belt',
  ]);
});

test('a question that was asked stands for the check it is about, once', () => {
  const asked = n.ask({ about: n.s(1), text: 'Fan or belts?' });
  const coverage = after(n.nearTie(['fan', 'belts'], good()), asked);
  const questions = coverage.open.filter((o) => o.kind === 'question');
  expect(questions.map((o) => [o.text, o.check])).toEqual([['Fan or belts?', 'fan']]);
  const unanswered: n.Line = {
    kind: 'question-closed',
    question: `q/${n.s(1)}`,
    how: 'unanswered',
  };
  expect(after(n.nearTie(['fan', 'belts'], good()), asked, unanswered).questions).toHaveLength(1);
  const answered: n.Line = { kind: 'question-closed', question: `q/${n.s(1)}`, how: 'answered' };
  expect(after(n.nearTie(['fan', 'belts'], good()), asked, answered).questions).toEqual([]);
});

test('"what’s left" counts what does not fit in ten seconds', () => {
  const coverage = after(
    said('belts', good('condition')),
    said('tyre', good(), n.left),
    n.setAside('skid', 'x'),
  );
  const text = leftText(coverage);
  expect(fitsPrompt(text)).toBe(true);
  const listed = text.split(';').length - 1;
  expect(listed).toBeLessThan(coverage.open.length);
  expect(text).toMatch(new RegExp(`and ${coverage.open.length - listed} more\\.$`));
  expect(leftText(coverage, { most: 1 })).toBe(`${coverage.open.length} things are left.`);
  expect(leftAt(coverage, 'engine').map((o) => o.check)).toEqual([
    'belts',
    'oil',
    'clutch-belt',
    'fan',
  ]);
});

test('R9 when nothing is left it says that and no more', () => {
  const everything = n.AIRCRAFT.stations.flatMap((s) =>
    s.checks.map((c) =>
      said(
        c.id,
        good(...c.aspects.map((a) => a.id)),
        n.all,
        c.id === 'oil'
          ? n.value('level', 7)
          : c.id === 'clutch-belt'
            ? n.onGauge('give', 1, 'first knuckle')
            : {},
      ),
    ),
  );
  const coverage = after(...everything, n.finish);
  expect(coverage.open).toEqual([]);
  expect(openAtFinish(coverage)).toEqual([]);
  expect(leftText(coverage)).toBe('Nothing is left.');
  expect(leftText(coverage, { station: 'boom' })).toBe('Nothing is left here.');
});

test('the decision is the pilot’s, by name', () => {
  const coverage = after(
    n.finish,
    { kind: 'decided', decision: 'defer', by: 'A. Pilot', authority: 'M. Chief', note: 'day only' },
    { kind: 'signed', name: 'A. Pilot', certificate: '123' },
  );
  expect(coverage.decision).toEqual({
    decision: 'defer',
    by: 'A. Pilot',
    authority: 'M. Chief',
    note: 'day only',
  });
  expect(coverage.signed).toEqual({ name: 'A. Pilot', certificate: '123' });
});

test('follow-ups of follow-ups come in turn, and end', () => {
  const chained = n.catalogue({
    signs: [
      { id: 'one', name: 'One', conditions: ['dent'], severity: 'watch', followUps: ['second'] },
      { id: 'two', name: 'Two', conditions: ['crack'], severity: 'ground', followUps: ['third'] },
    ],
    stations: [
      {
        id: 'here',
        name: 'Here',
        place: { x: 50, y: 50 },
        checks: [
          { id: 'first', name: 'First', signs: ['one'] },
          { id: 'second', name: 'Second', required: 'follow-up', signs: ['two'] },
          { id: 'third', name: 'Third', required: 'follow-up' },
        ],
      },
    ],
  });
  const demanded = (...lines: n.Line[]) =>
    fold(chained, n.walk(n.begun(), ...lines))
      .checks.filter((c) => c.required.by === 'follow-up')
      .map((c) => `${c.check} ${c.standing}`);
  const one = said('first', has('dent'));
  const two = said('second', has('crack'));
  expect(demanded(said('first', good()))).toEqual([]);
  expect(demanded(one)).toEqual(['second unspoken']);
  expect(demanded(one, two)).toEqual(['second spoken', 'third unspoken']);
  expect(demanded(one, two, said('third', good()))).toEqual(['second spoken', 'third spoken']);
  // The first finding taken back takes only its own demand back: the second stands by itself.
  expect(demanded(one, two, n.takeBack(1))).toEqual(['third unspoken']);
});
