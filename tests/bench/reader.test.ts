import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { parse } from 'yaml';
import { Catalogue } from '#shared/catalogue';
import type { Heard } from '#shared/heard';
import type { Reader, Reading } from '#shared/reader';
import type { Scene } from '#shared/scene';
import { checksById, parseLabel, type Label } from '../corpus/format.ts';
import { conditionLabels, ownCorpus } from '../corpus/load.ts';
import { labelsOf } from './grammar/claims.ts';
import { emptyTally, figures, score } from './grammar/score.ts';
import { heardAt, seedOf, voicesOf, type Conversation } from './reader/conversation.ts';
import { familyOf } from './reader/forms.ts';
import { intervalsOf, WATCHED_NAMES } from './reader/intervals.ts';
import { hashOf, judge } from './reader/judge.ts';
import { measuresOf } from './reader/measures.ts';
import { jsonOf, textOf } from './reader/print.ts';
import { proseOf } from './reader/prose.ts';
import { readBy } from './reader/readers.ts';
import { keepRules, keptRules } from './reader/rules.ts';
import { statedBy, summed, tallyOf } from './reader/tally.ts';

const CATALOGUE = `
v: 1
id: tiny
name: Tiny
kind: other
gauges: [{ id: glass, name: glass, steps: [low, half, full] }]
signs: [{ id: cracked, name: Crack, conditions: [crack], severity: ground }]
stations:
  - id: tail
    name: tail
    place: { x: 50, y: 50 }
    checks:
      - { id: fin, name: fin, aspects: [condition, security], blanket: true, signs: [cracked] }
      - { id: lamp, name: lamp, blanket: true }
      - { id: wheel, name: wheel, repeat: [left, right], aspects: [condition] }
      - { id: oil, name: oil, measures: [{ id: level, name: level, unit: '[qt_us]', low: 6, high: 8 }] }
      - { id: box, name: box, measures: [{ id: height, name: height, gauge: glass, atLeast: half }] }
      - { id: mast, name: mast, optional: true }
      - { id: hook, name: hook }
`;
const catalogue = Catalogue.parse(parse(CATALOGUE));
const conditions = conditionLabels();

/** "labels of one utterance" each; every utterance says nothing but its number. */
function walk(id: string, is: readonly string[], form = 'teaching'): Conversation {
  const checks = checksById(catalogue);
  return {
    id,
    form,
    catalogue,
    running: true,
    lines: is.map((labels, i) => ({
      at: null,
      say: `words ${i}`,
      labels: labels
        .split(';')
        .map((l) => l.trim())
        .filter((l) => l !== '')
        .map((l) => parseLabel(l, catalogue, checks, conditions)),
      asked: null,
      after: [],
      heard: [],
    })),
  };
}

/** Judges a reader that reads these labels instead of the true ones. */
function judged(conversation: Conversation, read: readonly (readonly Label[])[]) {
  const statements = statedBy(conversation, read, conditions);
  const said = statements.map((own) => ({ statements: own, labels: labelsOf(own, catalogue) }));
  return tallyOf(conversation, [], said, conditions);
}

const labels = (c: Conversation) => c.lines.map((l) => l.labels);
const measured = (c: Conversation, read: Conversation) => measuresOf(judged(c, labels(read)));

const TRUTH = walk('a/one', [
  'arrive tail',
  'fin good; fin good=security',
  'teaching lamp',
  'wheel(left) +wear',
  'wheel(right) good',
  'oil =7[qt_us]',
  'oil =5[qt_us] amends',
  'box step=1',
  'aside mast',
  'lamp good',
  '',
  'unplaced +leak',
]);

test('labels turned into statements and back are the same to the judge, over the whole corpus', () => {
  const tally = emptyTally();
  for (const set of ownCorpus('all')) {
    for (const alone of voicesOf(set)) {
      // Together, so that what is taken back has something before it.
      const first = alone.lines.find((l) => l.labels.some((x) => x.kind === 'claim'));
      const lines = first === undefined ? alone.lines : [first, ...alone.lines];
      const voice = { ...alone, running: true, lines };
      const stated = statedBy(voice, labels(voice), conditions);
      voice.lines.forEach((line, i) => {
        score(
          {
            id: voice.id,
            say: line.say,
            truth: line.labels,
            read: labelsOf(stated[i] ?? [], voice.catalogue),
            catalogue: voice.catalogue,
            conditions,
          },
          tally,
        );
      });
    }
  }
  expect(tally.utterances).toBeGreaterThan(1900);
  // "good=" speaks for no aspect; as a statement it names one that no check has.
  expect(tally.errors.filter((e) => !e.endsWith('# '))).toEqual([]);
  expect(tally.errors.length).toBeLessThan(3);
  expect(figures(tally)).toMatchObject({ checkF1: 1, spokenRecall: 1, askedRecall: 1, orderF1: 1 });
});

test('a perfect reader has the true sheet, asks nothing needless and loses nothing', () => {
  const m = measured(TRUTH, TRUTH);
  expect(m).toMatchObject({
    utterances: 12,
    checkF1: 1,
    credited: 1,
    mentionF1: 1,
    ordersF1: 1,
    falseSpokenForPer1000: 0,
    falseFindingsPer100: 0,
    findingsLostPer1000: 0,
    needlessQuestionsPer100: 0,
  });
  expect(m.sheet).toEqual({
    checks: 7,
    agreement: 1,
    touchedAgreement: 1,
    falseSpokenFor: 0,
    falseFindings: 0,
    lostFindings: 0,
  });
  // Where the leak is, and how bad the wear and the leak are.
  expect(m.questionsPer100).toBeCloseTo((100 * 3) / 12);
  expect(m.severityQuestionsPer100).toBeCloseTo((100 * 2) / 12);
});

test('a silent reader credits nothing and loses every finding, on the sheet too', () => {
  const m = measured(
    TRUTH,
    walk(
      'a/one',
      TRUTH.lines.map(() => ''),
    ),
  );
  expect(m).toMatchObject({ checkF1: 0, credited: 0, mentionF1: 0, findingsLostPer1000: 1000 });
  // Worn, five quarts, the leak. The hook is open on both sheets.
  expect(m.sheet).toMatchObject({
    checks: 7,
    lostFindings: 3,
    falseFindings: 0,
    falseSpokenFor: 0,
  });
  expect(m.sheet?.agreement).toBeCloseTo(1 / 7);
  expect(m.sheet?.touchedAgreement).toBe(0);
});

test('R2: talk taken for results is false on the sheet and no mention', () => {
  const talk = walk('t', ['teaching hook +crack', 'teaching lamp', 'past fin +loose']);
  const m = measured(talk, walk('t', ['hook +crack', 'lamp good', 'past fin +loose']));
  expect(m.mentionF1).toBeCloseTo((2 * 1) / (2 * 1 + 2));
  expect(m.falseFindingsPer100).toBeCloseTo(100 / 3);
  expect(m.falseFindingUtterancesPer100).toBeCloseTo(100 / 3);
  const two = measured(talk, walk('t', ['hook +crack; lamp +wear', '', 'wheel(one) +wear']));
  expect(two.falseFindingsPer100).toBeCloseTo(100);
  expect(two.falseFindingUtterancesPer100).toBeCloseTo(100 / 3);
  expect(m.sheet).toMatchObject({ falseSpokenFor: 2, falseFindings: 1 });
});

test('a mention that is missed and one that is made up count against, a tie does not', () => {
  const talk = walk('t', ['teaching hook', 'teaching fin|lamp', 'teaching oil']);
  const m = measured(talk, walk('t', ['teaching hook; past box', 'teaching fin', '']));
  expect(m.mentionF1).toBeCloseTo(2 / (2 + 1 + 1));
});

test('R5: a question that the labels call for is not needless, and severity is told apart', () => {
  const due = walk('q', ['wheel(plural) good', 'hook +wear', 'oil =7', 'lamp good']);
  expect(measured(due, due).needlessQuestionsPer100).toBe(0);
  expect(measured(due, due).questionsPer100).toBe(75);
  const m = measured(
    due,
    walk('q', ['wheel(plural) good ?', 'hook +wear', 'oil =7', 'lamp +wear']),
  );
  expect(m.needlessQuestionsPer100).toBe(25);
  expect(m.severityQuestionsPer100).toBe(50);
  const unclear = measured(
    due,
    walk('q', ['wheel(plural) good', 'hook +wear', 'oil =7', 'unclear']),
  );
  expect(unclear.needlessQuestionsPer100).toBe(25);
});

test('what is said while the walk is held is for somebody else and brings no question', () => {
  const truth = walk('h', ['command hold', 'lamp good', 'unclear', 'command resume', 'unclear']);
  const m = measured(truth, truth);
  expect(m.questionsPer100).toBe(20);
  expect(m.sheet?.agreement).toBe(1);
});

test('R4: on the sheet a finding without a place is kept, at another check it is lost and false', () => {
  const truth = walk('f', ['wheel(left) +crack', 'lamp good']);
  const sheet = (is: string) => measured(truth, walk('f', [is, 'lamp good'])).sheet;
  expect(sheet('unplaced +crack')).toMatchObject({ lostFindings: 0, falseFindings: 0 });
  expect(sheet('hook +crack')).toMatchObject({ lostFindings: 1, falseFindings: 1 });
  expect(sheet('wheel(right) +crack')).toMatchObject({ lostFindings: 1, falseFindings: 1 });
  expect(sheet('wheel(left) bad ?')).toMatchObject({ lostFindings: 0, falseFindings: 0 });
  expect(sheet('wheel(left) good')).toMatchObject({ lostFindings: 1, falseSpokenFor: 0 });
});

test('R6: a later correction in the labels takes the place of what it corrects', () => {
  const truth = walk('c', ['oil =5[qt_us]', 'oil =7[qt_us] amends', 'lamp +crack', 'retract']);
  const silentOnRest = walk('c', ['', 'oil =7[qt_us]', '', '']);
  expect(measured(truth, silentOnRest).sheet).toMatchObject({ agreement: 1, lostFindings: 0 });
});

test('the same walk is damaged alike for every reader, another walk otherwise', () => {
  const say = 'the left wheel is good and the fin is secure and the oil is at seven quarts today';
  const with_ = (id: string): Conversation => ({
    ...walk(id, ['', '', '', '']),
    lines: walk(id, ['', '', '', '']).lines.map((l) => ({ ...l, say })),
  });
  const [one, again, other] = ['x/one', 'x/one', 'x/two'].map(with_);
  if (one === undefined || again === undefined || other === undefined) throw new Error('no walk');
  expect(heardAt(one, 30)).toEqual(heardAt(again, 30));
  expect(heardAt(one, 30)).not.toEqual(heardAt(other, 30));
  expect(heardAt(one, 0)).toEqual(one.lines.map((l) => l.say));
  expect(seedOf('x/one')).not.toBe(seedOf('x/two'));
});

test('each utterance is read in the scene that the one before left, and a question only where it is answered', () => {
  const base = walk('s', ['', '', '']);
  const conversation: Conversation = {
    ...base,
    lines: base.lines.map((l, i) => ({
      ...l,
      at: i === 1 ? 'tail' : null,
      asked: i === 1 ? { kind: 'which-check', options: ['fin', 'lamp'] } : null,
    })),
  };
  const seen: unknown[] = [];
  const reader: Reader = {
    follow: (scene) => scene,
    read: (heard, scene) => {
      seen.push([scene.check, scene.station, scene.question?.about ?? null]);
      const [statement] = statedBy(base, [base.lines[0]?.labels ?? []], conditions)[0] ?? [];
      const id = `said-${heard.text}`;
      const unread = {
        v: 1 as const,
        kind: 'not-understood' as const,
        id,
        heard: heard.id,
        span: { from: 0, to: 0, words: '' },
        why: [],
        chatter: true,
      };
      return { statements: [statement ?? unread], scene: { ...scene, check: heard.text } };
    },
  };
  readBy(reader, conversation, [], { here: false, crashed: () => undefined });
  expect(seen).toEqual([
    [null, null, null],
    ['words 0', null, 'said-words 0'],
    ['words 1', null, null],
  ]);
  seen.length = 0;
  readBy(reader, conversation, [], { here: true, crashed: () => undefined });
  expect(seen.map((s) => (Array.isArray(s) ? s[1] : null))).toEqual([null, 'tail', 'tail']);
});

test('an utterance that the reader fails at is counted, and stands as not understood', () => {
  const truth = walk('z', ['lamp good', 'fin +crack']);
  const reader: Reader = {
    follow: (scene) => scene,
    read: () => {
      throw new Error('no');
    },
  };
  const run = judge({
    conversations: [truth],
    levels: [0],
    readers: [{ name: 'ours', build: () => reader, kept: null }],
    peers: [],
    here: false,
    conditions,
    errors: false,
  });
  expect(run.crashes).toEqual(['ours at 0 %: z, utterance 1', 'ours at 0 %: z, utterance 2']);
  expect(run.errors).toEqual([]);
  expect(run.rows.get(0)?.get('ours')?.measures).toMatchObject({
    questionsPer100: 100,
    findingsLostPer1000: 0,
    credited: 0,
  });
  expect(run.byForm.get('teaching')?.get('ours')?.utterances).toBe(2);
});

test('intervals are by walk, the same each time, and hold the figure', () => {
  const good = judged(TRUTH, labels(TRUTH));
  const bad = judged(TRUTH, []);
  const tallies = [good, good, bad, good, bad];
  const intervals = intervalsOf(tallies);
  expect(intervals).toEqual(intervalsOf(tallies));
  const m = measuresOf(summed(tallies));
  for (const name of WATCHED_NAMES) {
    expect(intervals[name][0]).toBeLessThanOrEqual(m[name]);
    expect(intervals[name][1]).toBeGreaterThanOrEqual(m[name]);
  }
  expect(intervals.credited[1] - intervals.credited[0]).toBeGreaterThan(0.3);
  expect(intervalsOf([good, good]).credited).toEqual([1, 1]);
});

test('prose: what is made of sentences is counted, a false order does not silence the rest', () => {
  const said = ['lamp good', 'command hold', 'unclear; unplaced +crack', 'arrive tail'];
  const words = walk('p', said);
  const stated = statedBy(words, labels(words), conditions);
  const reader: Reader = {
    follow: (scene) => scene,
    read: (heard, scene) => ({
      statements: stated[said.indexOf(heard.text)] ?? [],
      scene,
    }),
  };
  const counts = proseOf(said, { name: 'ours', build: () => reader, kept: null }, [catalogue]);
  // Not understood, where the crack is, and how bad: the sign is known at the fin alone.
  expect(counts).toEqual({ sentences: 4, spokenFor: 1, findings: 1, questions: 3, orders: 1 });
});

test('every form that writers give belongs to one family', () => {
  expect(
    [
      'teaching unpunctuated',
      'unpunctuated crew',
      'brisk, unpunctuated',
      'unpunctuated',
      'odd',
    ].map(familyOf),
  ).toEqual(['teaching', 'pair', 'terse', 'unpunctuated', 'other']);
});

test('kept figures of the rules are shown for the walks that they are of, and for no others', () => {
  const folder = mkdtempSync(join(tmpdir(), 'reader-rules-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  const file = join(folder, 'rules.json');
  const entry = {
    of: 'report',
    walks: hashOf([TRUTH]),
    here: false,
    wer: { 0: measured(TRUTH, TRUTH) },
    intervals: {},
    byForm: {},
  };
  keepRules(file, entry);
  keepRules(file, { ...entry, here: true });
  keepRules(file, { ...entry, of: 'again' });
  expect(keptRules(file, { walks: hashOf([TRUTH]), here: false })).toMatchObject({ of: 'again' });
  expect(keptRules(file, { walks: hashOf([TRUTH]), here: true })).toMatchObject({ of: 'report' });
  expect(keptRules(file, { walks: hashOf([]), here: false })).toBeNull();
  const relabelled = { ...TRUTH, lines: TRUTH.lines.map((l) => ({ ...l, labels: [] })) };
  expect(hashOf([relabelled])).not.toBe(hashOf([TRUTH]));
});

test('when the rules have left, their kept figures stand in their rows and are called so', () => {
  const good = measured(TRUTH, TRUTH);
  const bad = measuresOf(judged(TRUTH, []));
  const run = judge({
    conversations: [TRUTH],
    levels: [0],
    readers: [
      { name: 'ours', build: () => ({ follow: (s) => s, read: silent }), kept: null },
      { name: 'rules', build: null, kept: 'somewhere.json' },
    ],
    peers: [],
    here: false,
    conditions,
    errors: false,
  });
  const rules = {
    of: 'report',
    walks: 'hash',
    here: false,
    wer: { 0: good },
    intervals: { 0: { checkF1: [0.9, 1] as [number, number] } },
    byForm: { teaching: good },
  };
  const extra = { keptRules: rules, speed: null, weightsKb: 12 };
  expect(jsonOf(run, extra)).toMatchObject({
    wer: { 0: { ours: bad, rules: good, bestPeer: null } },
    intervals: { 0: { rules: { checkF1: [0.9, 1] } } },
    byForm: { teaching: { ours: bad, rules: good } },
    kept: ['rules'],
    weightsKb: 12,
  });
  const text = textOf(run, [TRUTH], extra);
  expect(text).toMatch(/^rules, as kept +1\.000/m);
  expect(text).toMatch(/^teaching: rules, as kept +1 +1\.000/m);
  expect(textOf(run, [TRUTH], { ...extra, keptRules: null })).not.toContain('rules');
});

function silent(_: Heard, scene: Scene): Reading {
  return { statements: [], scene };
}
