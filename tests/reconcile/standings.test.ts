import { expect, test } from 'vitest';
import { fold } from '#reconcile';
import * as n from './notation.ts';

type Row = readonly [words: string, lines: readonly n.Line[], check: string, standing: string];

const { said, good, bad, has, no, left, right, all, plural, oneMore } = n;

function rows(title: string, table: readonly Row[]) {
  test.each(table)(`${title}: %s`, (_words, lines, check, standing) => {
    expect(n.standing(fold(n.AIRCRAFT, n.walk(n.begun(), ...lines)), check)).toBe(standing);
  });
}

rows('R1 only a result that names it speaks for a check', [
  ['nothing → unspoken', [], 'fan', 'unspoken'],
  ['fan good → spoken', [said('fan', good())], 'fan', 'spoken for'],
  ['fan good leaves the belts', [said('fan', good())], 'belts', 'unspoken'],
  ['no cracks on the fan → spoken', [said('fan', no('crack'))], 'fan', 'spoken for'],
  ['fan cracked → spoken, and a finding', [said('fan', has('crack'))], 'fan', 'spoken for'],
  ['fan no good → spoken', [said('fan', bad())], 'fan', 'spoken for'],
  ['nothing, then finish → skipped', [n.finish], 'fan', 'skipped'],
  ['finish, then said after all → spoken', [n.finish, said('fan', good())], 'fan', 'spoken for'],
  ['not required, finish → unspoken', [n.finish], 'lights', 'unspoken'],
  ['a check that is not there', [said('wing', good())], 'fan', 'unspoken'],
]);

rows('aspects speak for themselves', [
  [
    'belts good → slack',
    [said('belts', good('condition'))],
    'belts',
    'part spoken (slack unspoken)',
  ],
  [
    'belts tight → condition',
    [said('belts', no('slack', 'slack'))],
    'belts',
    'part spoken (condition unspoken)',
  ],
  [
    'belts good, no slack → spoken',
    [said('belts', good('condition')), said('belts', no('slack', 'slack'))],
    'belts',
    'spoken for',
  ],
  [
    'good without aspects speaks for condition',
    [said('belts', good())],
    'belts',
    'part spoken (slack unspoken)',
  ],
  [
    'both in one breath',
    [said('belts', good('condition'), no('slack', 'slack'))],
    'belts',
    'spoken for',
  ],
  [
    'a crack speaks for its aspect',
    [said('belts', has('crack', { aspects: ['condition'] }))],
    'belts',
    'part spoken (slack unspoken)',
  ],
  [
    'an aspect that is not there',
    [said('belts', good('colour'))],
    'belts',
    'part spoken (condition, slack unspoken)',
  ],
]);

rows('"checked" says that the act was made, not what was found', [
  ['fan checked → part', [said('fan', n.checked)], 'fan', 'part spoken (once unspoken)'],
  [
    'belts checked → part',
    [said('belts', n.checked)],
    'belts',
    'part spoken (condition, slack unspoken)',
  ],
  [
    'fan checked, good → spoken',
    [said('fan', n.checked), said('fan', good())],
    'fan',
    'spoken for',
  ],
]);

rows('acts', [
  [
    'looked at the belts, good → feeling',
    [said('belts', good('condition', 'slack'), n.acts('look'))],
    'belts',
    'part spoken (feel unspoken)',
  ],
  [
    'felt the belts, good → spoken',
    [said('belts', good('condition', 'slack'), n.acts('feel'))],
    'belts',
    'spoken for',
  ],
  [
    'belts good, how is not said → spoken',
    [said('belts', good('condition', 'slack'))],
    'belts',
    'spoken for',
  ],
  [
    'looked, then felt → spoken',
    [
      said('belts', good('condition', 'slack'), n.acts('look')),
      said('belts', good('slack'), n.acts('feel')),
    ],
    'belts',
    'spoken for',
  ],
  [
    'looking is enough where looking is asked',
    [said('fan', good(), n.acts('look'))],
    'fan',
    'spoken for',
  ],
]);

rows('repeats', [
  [
    'brake lines good → which?',
    [said('brake-line', good(), plural)],
    'brake-line',
    'part spoken (left, right unspoken)',
  ],
  [
    'a plural that lists its places → which?',
    [said('brake-line', good(), n.listedPlural('left', 'right'))],
    'brake-line',
    'part spoken (left, right unspoken)',
  ],
  ['both brake lines good → spoken', [said('brake-line', good(), all)], 'brake-line', 'spoken for'],
  [
    'left brake line good → right',
    [said('brake-line', good(), left)],
    'brake-line',
    'part spoken (right unspoken)',
  ],
  [
    'left, right → spoken',
    [said('brake-line', good(), left), said('brake-line', good(), right)],
    'brake-line',
    'spoken for',
  ],
  [
    'left twice → right',
    [said('brake-line', good(), left), said('brake-line', good(), left)],
    'brake-line',
    'part spoken (right unspoken)',
  ],
  [
    'one rivet line → two to go',
    [said('rivets', good(), oneMore)],
    'rivets',
    'part spoken (2, 3 unspoken)',
  ],
  [
    'R5: a fault at one of left and right, side not said → neither is spoken for',
    [said('brake-line', has('chafing'), oneMore)],
    'brake-line',
    'part spoken (left, right unspoken)',
  ],
  [
    'R5: … and the side said then → the other is to go',
    [said('brake-line', has('chafing'), oneMore), said('brake-line', has('chafing'), left)],
    'brake-line',
    'part spoken (right unspoken)',
  ],
  [
    'three rivet lines, one by one → spoken',
    [
      said('rivets', good(), oneMore),
      said('rivets', good(), oneMore),
      said('rivets', good(), oneMore),
    ],
    'rivets',
    'spoken for',
  ],
  [
    'tyres good where the plural counts → spoken',
    [said('tyre', good(), plural)],
    'tyre',
    'spoken for',
  ],
  ['a plural of what is made once → spoken', [said('fan', good(), plural)], 'fan', 'spoken for'],
  [
    'a side that it has not',
    [said('brake-line', good(), n.named('middle'))],
    'brake-line',
    'part spoken (left, right unspoken)',
  ],
]);

rows('R2 talk that is no result', [
  ...(['intention', 'teaching', 'hypothesis', 'question', 'past', 'hearsay'] as const).map(
    (f): Row => [`${f}: fan good`, [said('fan', good(), n.force(f))], 'fan', 'unspoken'],
  ),
  [
    'teaching takes nothing away',
    [said('fan', good()), said('fan', bad(), n.force('teaching'))],
    'fan',
    'spoken for',
  ],
]);

rows('R5 what is unclear is asked about', [
  ['doubtful → in question', [said('fan', good(), n.doubtful)], 'fan', 'in question'],
  [
    'doubtful, then said clearly → spoken',
    [said('fan', good(), n.doubtful), said('fan', good())],
    'fan',
    'spoken for',
  ],
  [
    'said clearly, then doubtful → in question',
    [said('fan', good()), said('fan', good(), n.doubtful)],
    'fan',
    'in question',
  ],
  [
    'a doubtful crack, then good → in question',
    [said('fan', has('crack'), n.doubtful), said('fan', good())],
    'fan',
    'in question',
  ],
  [
    'doubtful, amended → spoken',
    [said('fan', good(), n.doubtful), said('fan', good(), n.amends(1))],
    'fan',
    'spoken for',
  ],
  ['fan or belts → in question', [n.nearTie(['fan', 'belts'], good())], 'fan', 'in question'],
  [
    'fan or belts, the other one too',
    [n.nearTie(['fan', 'belts'], good())],
    'belts',
    'in question',
  ],
  [
    'fan or belts, then fan good → spoken',
    [n.nearTie(['fan', 'belts'], good()), said('fan', good())],
    'fan',
    'spoken for',
  ],
  [
    'fan or belts, answered → the other is free',
    [n.nearTie(['fan', 'belts'], good()), said('fan', good(), n.amends(1))],
    'belts',
    'unspoken',
  ],
  [
    'teaching between two is nothing',
    [n.nearTie(['fan', 'belts'], good(), n.force('teaching'))],
    'fan',
    'unspoken',
  ],
]);

rows('R6 later statements amend and never erase', [
  [
    'crack, later good → in question',
    [said('fan', has('crack')), said('fan', good())],
    'fan',
    'in question',
  ],
  [
    'crack, later no cracks → in question',
    [said('fan', has('crack')), said('fan', no('crack'))],
    'fan',
    'in question',
  ],
  [
    'crack, later no dents → spoken',
    [said('fan', has('crack')), said('fan', no('dent'))],
    'fan',
    'spoken for',
  ],
  [
    'crack, good, crack again → settled',
    [said('fan', has('crack')), said('fan', good()), said('fan', has('crack'))],
    'fan',
    'spoken for',
  ],
  [
    'crack, corrected to good → spoken',
    [said('fan', has('crack')), said('fan', good(), n.amends(1))],
    'fan',
    'spoken for',
  ],
  [
    'good, later a crack → spoken with a finding',
    [said('fan', good()), said('fan', has('crack'))],
    'fan',
    'spoken for',
  ],
  ['good except a crack → spoken', [said('fan', good(), has('crack'))], 'fan', 'spoken for'],
  [
    'crack left, good right → no contradiction',
    [said('brake-line', has('crack'), left), said('brake-line', good(), right)],
    'brake-line',
    'spoken for',
  ],
  [
    'another aspect good → no contradiction',
    [said('belts', has('crack', { aspects: ['condition'] })), said('belts', good('slack'))],
    'belts',
    'spoken for',
  ],
  [
    'left good, no, the right one → left unspoken',
    [said('brake-line', good(), left), said('brake-line', good(), right, n.amends(1))],
    'brake-line',
    'part spoken (left unspoken)',
  ],
  ['good, taken back → unspoken', [said('fan', good()), n.takeBack(1)], 'fan', 'unspoken'],
  [
    'taking back taken back → spoken',
    [said('fan', good()), n.takeBack(1), n.takeBack(2)],
    'fan',
    'spoken for',
  ],
  [
    'the correction taken back → the first counts again',
    [said('fan', good()), said('fan', has('crack'), n.amends(1)), n.takeBack(2)],
    'fan',
    'spoken for',
  ],
  [
    'crack, set aside → in question',
    [said('antenna', has('crack')), n.setAside('antenna', 'not fitted')],
    'antenna',
    'in question',
  ],
]);

rows('R7 blankets', [
  ['boom all good → the skin', [n.blanket('boom', good())], 'skin', 'spoken for'],
  ['boom all good → covers, all four', [n.blanket('boom', good())], 'covers', 'spoken for'],
  ['boom all good does not cover the skid', [n.blanket('boom', good())], 'skid', 'unspoken'],
  [
    'boom all good except the skin',
    [n.blanket('boom', good(), n.except('skin'))],
    'skin',
    'unspoken',
  ],
  ['boom checked covers nothing', [n.blanket('boom', n.checked)], 'skin', 'unspoken'],
  [
    'R7 never answers a follow-up',
    [said('skid', has('wrinkle')), n.blanket('gear', good())],
    'mast-mount',
    'unspoken',
  ],
  [
    'R7 nor when the blanket came first',
    [n.blanket('gear', good()), said('skid', has('wrinkle'))],
    'cross-tubes',
    'unspoken',
  ],
  [
    'R7 a named result answers it',
    [said('skid', has('wrinkle')), said('cross-tubes', good())],
    'cross-tubes',
    'spoken for',
  ],
  [
    'R7 never clears a finding',
    [said('skin', has('crack')), n.blanket('boom', good())],
    'skin',
    'spoken for',
  ],
]);

rows('R8 values', [
  ['oil good → level', [said('oil', good())], 'oil', 'part spoken (level unspoken)'],
  ['seven quarts → spoken', [said('oil', n.value('level', 7))], 'oil', 'spoken for'],
  [
    'seven quarts, measure not named → spoken',
    [said('oil', n.value(null, 7))],
    'oil',
    'spoken for',
  ],
  [
    'five quarts, called good → spoken, a finding',
    [said('oil', good(), n.value('level', 5))],
    'oil',
    'spoken for',
  ],
  ['seven, no unit → in question', [said('oil', n.withoutUnit('level', 7))], 'oil', 'in question'],
  [
    'seven, then seven quarts → spoken',
    [said('oil', n.withoutUnit('level', 7)), said('oil', n.value('level', 7))],
    'oil',
    'spoken for',
  ],
  [
    'five quarts, later seven → in question',
    [said('oil', n.value('level', 5)), said('oil', n.value('level', 7))],
    'oil',
    'in question',
  ],
  [
    'five quarts, later good → in question',
    [said('oil', n.value('level', 5)), said('oil', good())],
    'oil',
    'in question',
  ],
  [
    'second knuckle → spoken',
    [said('clutch-belt', n.onGauge('give', 2, 'second knuckle'))],
    'clutch-belt',
    'spoken for',
  ],
  [
    'looked at the oil, seven quarts → spoken',
    [said('oil', n.value('level', 7), n.acts('look'))],
    'oil',
    'spoken for',
  ],
]);

rows('what is said while the walk is held is talk with somebody else', [
  ['held, fan good → unspoken', [n.holdOn, said('fan', good())], 'fan', 'unspoken'],
  [
    'held, a near-tie → unspoken',
    [n.holdOn, n.nearTie(['fan', 'belts'], good())],
    'fan',
    'unspoken',
  ],
  ['held, a crack → kept (R4)', [n.holdOn, said('fan', has('crack'))], 'fan', 'spoken for'],
  [
    'held because the page was hidden, fan good → spoken',
    [{ kind: 'held', why: 'hidden' }, said('fan', good())],
    'fan',
    'spoken for',
  ],
  [
    'held, resumed, fan good → spoken',
    [n.holdOn, n.goOn, said('fan', good())],
    'fan',
    'spoken for',
  ],
  [
    'held, a correction → does not count',
    [said('fan', has('crack')), n.holdOn, said('fan', good(), n.amends(1))],
    'fan',
    'spoken for',
  ],
]);

rows('set aside', [
  ['antenna not fitted → set aside', [n.setAside('antenna', 'not fitted')], 'antenna', 'set aside'],
  [
    'skid not fitted → the catalogue does not allow it',
    [n.setAside('skid', 'not fitted')],
    'skid',
    'unspoken',
  ],
  [
    'set aside, then good → spoken',
    [n.setAside('antenna', 'not fitted'), said('antenna', good())],
    'antenna',
    'spoken for',
  ],
  [
    'set aside, taken back → unspoken',
    [n.setAside('antenna', 'not fitted'), n.takeBack(1)],
    'antenna',
    'unspoken',
  ],
]);

test.each<[string, readonly n.Line[], readonly string[]]>([
  ['R3 no cracks is no finding', [said('fan', no('crack'))], []],
  [
    'R3 a condition that is there is one',
    [said('fan', has('crack'))],
    ['fan: crack, ground, stands'],
  ],
  ['R2 past is none', [said('fan', has('crack'), n.force('past'))], []],
  [
    'R4 unplaced is kept',
    [n.unplaced('strut thing', has('crack'))],
    ['unplaced strut thing: crack, unrated, stands'],
  ],
  [
    'R4 placed by hand',
    [n.unplaced('strut thing', has('crack')), n.place(1, 'fan')],
    ['fan: crack, ground, stands'],
  ],
  [
    'R4 placed again elsewhere',
    [n.unplaced('it', has('crack')), n.place(1, 'fan'), n.place(1, 'skin')],
    ['skin: crack, ground, stands'],
  ],
  [
    'R4 a near-tie with a fault is unplaced',
    [n.nearTie(['fan', 'belts'], has('crack'))],
    ['unplaced fan crack: crack, unrated, stands'],
  ],
  [
    'R4 a near-tie, answered',
    [n.nearTie(['fan', 'belts'], has('crack')), said('fan', has('crack'), n.amends(1))],
    ['fan: crack, ground, stands'],
  ],
  [
    'R4 a fault of a whole station',
    [n.blanket('boom', has('crack'))],
    ['unplaced boom: crack, unrated, stands'],
  ],
  [
    'R4 a fault of a check that is gone',
    [said('wing', has('crack'))],
    ['unplaced wing: crack, unrated, stands'],
  ],
  [
    'R6 contradicted',
    [said('fan', has('crack')), said('fan', good())],
    ['fan: crack, ground, in-question'],
  ],
  [
    'R6 taken back, still shown',
    [said('fan', has('crack')), n.takeBack(1)],
    ['fan: crack, ground, taken-back'],
  ],
  [
    'R6 corrected to good, still shown',
    [said('fan', has('crack')), said('fan', good(), n.amends(1))],
    ['fan: crack, ground, taken-back'],
  ],
  [
    'R6 moved to the right one',
    [said('brake-line', has('crack'), left), said('brake-line', has('crack'), right, n.amends(1))],
    ['brake-line right: crack, unrated, stands'],
  ],
  [
    'R7 a blanket clears nothing',
    [said('skin', has('crack')), n.blanket('boom', good())],
    ['skin: crack, ground, stands'],
  ],
  [
    'R8 out of limits though called good',
    [said('oil', good(), n.value('level', 5))],
    ['oil: 5 quarts (between 6 and 8 quarts), ground, stands'],
  ],
  [
    'R8 a range with one end outside',
    [said('oil', n.value('level', 6, { inUnit: { low: 5, high: 7, unit: '[qt_us]' } }))],
    ['oil: 6 quarts (between 6 and 8 quarts), ground, stands'],
  ],
  [
    'R8 past the second knuckle',
    [said('clutch-belt', n.onGauge('give', 2.5, 'just past the second knuckle'))],
    ['clutch-belt: just past the second knuckle (at most second knuckle), ground, stands'],
  ],
  ['R8 within limits', [said('oil', n.value('level', 6))], []],
  [
    'said twice is one',
    [said('fan', has('crack')), said('fan', has('crack'))],
    ['fan: crack, ground, stands'],
  ],
  [
    'left and right are two',
    [said('brake-line', has('chafing'), left), said('brake-line', has('chafing'), right)],
    ['brake-line left: chafing, unrated, stands', 'brake-line right: chafing, unrated, stands'],
  ],
  [
    'two places are two',
    [
      said('fan', has('crack', { place: 'at the tip' })),
      said('fan', has('crack', { place: 'at the root' })),
    ],
    ['fan: crack, ground, stands', 'fan: crack, ground, stands'],
  ],
  [
    'one more of left and right: the side is not guessed',
    [said('brake-line', has('chafing'), oneMore)],
    ['brake-line: chafing, unrated, stands'],
  ],
  ['severity said', [said('fan', has('crack'), n.rated('watch'))], ['fan: crack, watch, stands']],
  [
    'severity said afterwards',
    [said('brake-line', has('chafing'), left), n.rate('defer')],
    ['brake-line left: chafing, defer, stands'],
  ],
  [
    'worst severity wins',
    [said('fan', has('crack'), n.rated('watch')), said('fan', has('crack'), n.rated('defer'))],
    ['fan: crack, defer, stands'],
  ],
  [
    'a milder rating does not undo a worse',
    [said('fan', has('crack')), n.rate('ground'), n.rate('note', 1)],
    ['fan: crack, ground, stands'],
  ],
  [
    'severity amended',
    [
      said('fan', has('crack'), n.rated('ground')),
      said('fan', has('crack'), n.rated('watch'), n.amends(1)),
    ],
    ['fan: crack, watch, stands'],
  ],
  [
    'a rating taken back',
    [said('fan', has('crack')), n.rate('note'), n.takeBack(2)],
    ['fan: crack, ground, stands'],
  ],
  ['doubtful is asked, not found', [said('fan', has('crack'), n.doubtful)], []],
])('findings: %s', (_words, lines, expected) => {
  expect(n.findings(fold(n.AIRCRAFT, n.walk(n.begun(), ...lines)))).toEqual(expected);
});

test('every reason names its rule, its events and the words', () => {
  const coverage = fold(
    n.AIRCRAFT,
    n.walk(n.begun(), said('fan', has('crack')), said('fan', good())),
  );
  const fan = coverage.checks.find((c) => c.check === 'fan');
  expect(fan?.reasons[0]).toEqual({
    rule: 'R6',
    text: '“fan crack” was followed by “fan good”; the worse reading stands until it is settled.',
    events: ['e000001', 'e000002'],
    words: 'fan crack … fan good',
  });
});

test('R6 both readings of a correction stay visible', () => {
  const coverage = fold(
    n.AIRCRAFT,
    n.walk(n.begun(), said('fan', has('crack')), said('fan', good(), n.amends(1))),
  );
  const reasons = coverage.checks.find((c) => c.check === 'fan')?.reasons ?? [];
  expect(reasons.map((r) => `${r.rule} ${r.words ?? ''}`)).toEqual(['R1 fan good', 'R6 fan crack']);
  expect(coverage.findings).toHaveLength(1);
});

rows('R5 what may have been said to be good counts for nothing, and is half said', [
  [
    'perhaps good → part spoken',
    [said('fan', good(), n.perhaps)],
    'fan',
    'part spoken (once unspoken)',
  ],
  [
    'perhaps good, then said clearly → spoken',
    [said('fan', good(), n.perhaps), said('fan', good())],
    'fan',
    'spoken for',
  ],
  [
    'said clearly, then perhaps good → spoken, for it says nothing else',
    [said('fan', good()), said('fan', good(), n.perhaps)],
    'fan',
    'spoken for',
  ],
  [
    'a crack, then perhaps good → the finding stands',
    [said('fan', has('crack')), said('fan', good(), n.perhaps)],
    'fan',
    'spoken for',
  ],
  [
    'perhaps good, and a crack that is doubtful → in question',
    [said('fan', good(), n.perhaps), said('fan', has('crack'), n.doubtful)],
    'fan',
    'in question',
  ],
]);
