import { distance } from 'fastest-levenshtein';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { Catalogue } from '#shared/catalogue';
import { parseCorpus, type Label, type Utterance } from '../corpus/format.ts';
import { conditionLabels, type CorpusSet } from '../corpus/load.ts';
import { damageAll, errorRate, plainWords, random, wordEdits } from './channel.ts';
import { goneFrom } from './grammar/cues.ts';
import { scoreAt, type BuildReader } from './grammar/run.ts';
import { emptyTally, figures, score } from './grammar/score.ts';

const catalogue = Catalogue.parse(
  parse(`
v: 1
id: tiny
name: Tiny
kind: other
gauges: [{ id: glass, name: glass, steps: [low, half, full] }]
stations:
  - id: tail
    name: tail
    place: { x: 50, y: 50 }
    checks:
      - { id: fin, name: fin, aspects: [condition, security], blanket: true }
      - { id: lamp, name: lamp, blanket: true }
      - { id: wheel, name: wheel, repeat: [left, right], aspects: [condition] }
      - id: oil
        name: oil
        measures: [{ id: level, name: level, unit: '[qt_us]', low: 6, high: 8 }]
      - id: box
        name: box
        aspects: [leaks]
        measures: [{ id: height, name: height, gauge: glass, atLeast: half }]
`),
);

const utterances = parseCorpus(
  `
v: 1
part: work
catalogue: tiny.yaml
voices:
  plain:
    - { id: t1, say: fin good and secure, is: fin good good=security }
    - { id: t2, say: left wheel cracked, is: wheel(left) +crack }
    - { id: t3, say: oil five quarts, is: 'oil =5[qt_us]' }
    - { id: t4, say: you want no cracks in the fin, is: teaching fin -crack }
    - { id: t5, say: last week the fin was loose, is: past fin +loose }
    - { id: t6, say: wheels good, is: wheel(plural) good }
    - { id: t7, say: all of the tail is good, is: 'station:tail good' }
    - { id: t8, say: the pump leaks, is: unplaced +leak }
    - { id: t9, say: lamp checked, is: lamp done }
    - { id: t10, say: box below half, is: box step=0.5 }
    - { id: t11, say: hold, is: command hold }
    - { id: t12, say: lovely day, is: '' }
`,
  'tiny',
  catalogue,
  conditionLabels(),
);
const sets: CorpusSet[] = [{ name: 'tiny', catalogue, utterances }];

const scored = (read: (u: Utterance) => readonly Label[]) => {
  const build: BuildReader = () => (_, utterance) => read(utterance);
  return scoreAt(sets, build, 0, [1]);
};

test('a perfect reader scores 1 everywhere and makes neither of the two errors', () => {
  const { figures: f, tally } = scored((u) => u.labels);
  expect(f).toMatchObject({
    checkF1: 1,
    polarity: 1,
    condition: 1,
    force: 1,
    which: 1,
    value: 1,
    spokenRecall: 1,
    askedRecall: 1,
    orderF1: 1,
    falseSpokenForPer1000: 0,
    findingsLostPer1000: 0,
  });
  expect(tally.findings).toBe(4);
  expect(tally.errors).toEqual([]);
});

test('a silent reader scores 0 and loses every finding', () => {
  const { figures: f, tally } = scored(() => []);
  expect(f).toMatchObject({ checkF1: 0, spokenRecall: 0, orderF1: 0, findingsLostPer1000: 1000 });
  expect(tally.falseSpoken).toBe(0);
});

test('R2: a reader that takes all talk for results is caught by false "spoken for"', () => {
  const { tally } = scored((u) =>
    u.labels.map((l) => (l.kind === 'claim' ? { ...l, force: 'result' as const } : l)),
  );
  expect(tally.falseSpoken).toBe(2);
  expect(tally.talkAsResult).toBe(2);
});

test('R1, R3: a reader that calls everything it hears good is caught both ways', () => {
  const { figures: f } = scored((u) =>
    u.labels.map((l) =>
      l.kind === 'claim'
        ? {
            ...l,
            force: 'result' as const,
            good: true,
            actOnly: false,
            asked: false,
            aspects: ['condition', 'security', 'leaks'],
            signs: [],
            amounts: [],
            instances: l.instances.includes('plural') ? ['left', 'right'] : l.instances,
          }
        : l,
    ),
  );
  expect(f.falseSpokenForPer1000).toBeGreaterThan(200);
  expect(f.findingsLostPer1000).toBe(1000);
});

test('R5: a reader that asks about everything neither speaks falsely nor loses, and is seen asking', () => {
  const { figures: f } = scored(() => [{ kind: 'unclear' }]);
  expect(f).toMatchObject({ falseSpokenForPer1000: 0, findingsLostPer1000: 0, checkF1: 0 });
  expect(f.questionsPer100).toBe(100);
});

test('R4: a finding on the wrong check, or at the wrong place, is lost; unplaced it is kept', () => {
  const at = (change: object) => {
    const tally = emptyTally();
    const u = utterances.find((x) => x.id === 't2');
    const read = (u?.labels ?? []).map((l) => (l.kind === 'claim' ? { ...l, ...change } : l));
    score(
      { id: 't2', say: '', truth: u?.labels ?? [], read, catalogue, conditions: conditionLabels() },
      tally,
    );
    return { lost: tally.lost, misplaced: tally.misplaced };
  };
  expect(at({})).toEqual({ lost: 0, misplaced: 0 });
  expect(at({ checks: ['fin'], instances: ['once'] })).toEqual({ lost: 1, misplaced: 1 });
  expect(at({ instances: ['right'] })).toMatchObject({ lost: 1 });
  expect(at({ checks: [], unplaced: true })).toEqual({ lost: 0, misplaced: 0 });
  expect(at({ asked: true })).toEqual({ lost: 0, misplaced: 0 });
});

test('R8: five quarts and below half are findings even when called good', () => {
  const { tally } = scored((u) =>
    u.labels.map((l) => (l.kind === 'claim' && l.amounts.length > 0 ? { ...l, good: true } : l)),
  );
  expect(tally.lost).toBe(0);
  const without = scored((u) =>
    u.labels.map((l) => (l.kind === 'claim' ? { ...l, amounts: [], good: true } : l)),
  );
  expect(without.tally.lost).toBe(2);
});

test('figures of nothing are no figures to be proud of or ashamed of', () => {
  expect(figures(emptyTally())).toMatchObject({ falseSpokenForPer1000: 0, questionsPer100: 0 });
});

const SAID = [
  'left brake line chafed replace before flight',
  'swashplate moves freely and the cotter pins are in place',
  'oil seven quarts, cap on tight',
  'no cracks in the exhaust but the cowling is loose',
];
const many = Array.from({ length: 240 }, (_, i) => SAID[i % SAID.length] ?? '');

test.each([0, 0.1, 0.2, 0.3])(
  'the channel reaches a word error rate of %d within 0.01 (seed 5)',
  (rate) => {
    const made = damageAll(many, rate, 5);
    expect(Math.abs(made.measured - rate)).toBeLessThan(0.01);
    expect(errorRate(many.map((t, i) => [t, made.texts[i] ?? ''] as const))).toBe(made.measured);
  },
);

test('the same seed damages alike and another seed otherwise (seeds 5 and 6)', () => {
  expect(damageAll(many, 0.2, 5)).toEqual(damageAll(many, 0.2, 5));
  expect(damageAll(many, 0.2, 5).texts).not.toEqual(damageAll(many, 0.2, 6).texts);
});

test('the draw is the same on every machine: Mulberry32, seed 1, worked out beside it in Python', () => {
  const draw = random(1);
  expect([draw(), draw(), draw()]).toEqual([
    0.6270739405881613, 0.002735721180215478, 0.5274470399599522,
  ]);
});

test.each([
  ['a b c', 'a b c', 0],
  ['a b c', 'a c', 1],
  ['a b c', 'a x c', 1],
  ['a b', 'a b c', 1],
  ['swashplate good', 'swash late good', 2],
])('word errors of "%s" heard as "%s": %d', (truth, heard, errors) => {
  expect(wordEdits(plainWords(truth), plainWords(heard))).toBe(errors);
});

test('word errors of damaged texts are those that fastest-levenshtein counts, one letter for a word (seed 5)', () => {
  const made = damageAll(many, 0.3, 5);
  const letters = new Map<string, string>();
  const coded = (text: string) =>
    plainWords(text)
      .map((w) => {
        const own = letters.get(w) ?? String.fromCharCode(0x4e00 + letters.size);
        letters.set(w, own);
        return own;
      })
      .join('');
  let edits = 0;
  let words = 0;
  many.forEach((text, i) => {
    edits += distance(coded(text), coded(made.texts[i] ?? ''));
    words += plainWords(text).length;
  });
  expect(edits / words).toBe(made.measured);
  expect(made.measured).toBeGreaterThan(0.29);
});

test.each([
  ['left wheel cracked', 'left wheel cricket', 't2', { finding: true }],
  ['left wheel cracked', 'left wheel cracked', 't2', { finding: false }],
  ['left wheel cracked', 'let whale cracked', 't2', { finding: false }],
  ['oil five quarts', 'oil fine quarts', 't3', { finding: true }],
  ['you want no cracks in the fin', 'you want know cracks in the fin', 't4', { denial: false }],
  ['you want no cracks in the fin', 'you want cracks in the fin', 't4', { denial: true }],
  ['last week the fin was loose', 'lost week the fin loose', 't5', { talk: true }],
])('"%s" heard as "%s": what nobody can know any more', (said, heard, id, gone) => {
  const labels = utterances.find((u) => u.id === id)?.labels ?? [];
  expect(goneFrom(said, heard, labels, catalogue)).toMatchObject(gone);
});
