import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { Claim } from './format.ts';
import { CorpusError, parseCorpus, parseLabel, checksById } from './format.ts';
import { ownSingles, singleWriters } from './singles.ts';
import { conditionLabels, ownCorpus, readCorpus, setOf } from './load.ts';

const sets = ownCorpus('all');
const all = sets.flatMap((s) => s.utterances);
const claims = all.flatMap((u) => u.labels).filter((l): l is Claim => l.kind === 'claim');

test('the corpus has at least 500 utterances, 12 voices and three kinds of aircraft, in two parts', () => {
  expect(all.length).toBeGreaterThanOrEqual(500);
  expect(new Set(all.map((u) => u.voice)).size).toBeGreaterThanOrEqual(12);
  expect(new Set(sets.map((s) => s.catalogue.kind))).toEqual(
    new Set(['helicopter', 'aeroplane', 'other']),
  );
  for (const part of ['work', 'report']) {
    expect(all.filter((u) => u.part === part).length).toBeGreaterThanOrEqual(250);
  }
});

test.each([
  ['helicopter.yaml', 'first'],
  ['aeroplane-more.yaml', 'first'],
  ['fresh-helicopter.yaml', 'fresh'],
  ['stranger-twin.yaml', 'stranger'],
])('the file %s is of the set %s', (file, set) => {
  expect(setOf(file)).toBe(set);
});

test('every utterance is of exactly one set', () => {
  const apart = (['first', 'fresh', 'stranger'] as const).flatMap((set) => ownCorpus('all', set));
  const ids = apart.flatMap((s) => s.utterances).map((u) => u.id);
  expect(ids.sort()).toEqual(all.map((u) => u.id).sort());
});

test('no id is used twice', () => {
  expect(new Set(all.map((u) => u.id)).size).toBe(all.length);
});

test('no utterance with the same scene is in both parts, except commands and bare answers', () => {
  const key = (u: (typeof all)[number]) =>
    `${u.catalogue} ${u.say.toLowerCase()} ${u.at ?? ''} ${u.after.join('|')}`;
  const work = new Set(all.filter((u) => u.part === 'work').map(key));
  const shared = all.filter((u) => u.part === 'report' && work.has(key(u)));
  expect(shared.filter((u) => u.labels.some((l) => l.kind === 'claim')).map((u) => u.id)).toEqual(
    [],
  );
});

test('every force, findings, absences, values, gauges and questions are in both parts', () => {
  for (const part of ['work', 'report'] as const) {
    const own = all
      .filter((u) => u.part === part)
      .flatMap((u) => u.labels)
      .filter((l): l is Claim => l.kind === 'claim');
    expect(new Set(own.map((c) => c.force)).size).toBe(7);
    const kinds = {
      findings: own.some((c) => c.signs.some((s) => s.present)),
      absences: own.some((c) => c.signs.some((s) => !s.present)),
      values: own.some((c) => c.amounts.some((a) => a.unit !== null)),
      gauges: own.some((c) => c.amounts.some((a) => a.step !== null)),
      asked: own.some((c) => c.asked),
      ties: own.some((c) => c.checks.length > 1),
      blankets: own.some((c) => c.station !== null),
      unplaced: own.some((c) => c.unplaced),
      amends: own.some((c) => c.amends),
      actOnly: own.some((c) => c.actOnly),
    };
    expect(Object.entries(kinds).filter(([, has]) => !has)).toEqual([]);
  }
});

test('R2: every talk-only utterance says so, and no label of talk is asked to count', () => {
  expect(claims.filter((c) => c.force !== 'result').length).toBeGreaterThan(100);
});

const heli = sets.find((s) => s.catalogue.id === 'corpus-helicopter')?.catalogue;
if (heli === undefined) throw new Error('no helicopter');
const label = (text: string) => parseLabel(text, heli, checksById(heli), conditionLabels());

test.each([
  ['cowling good', { checks: ['cowling'], instances: ['once'], aspects: ['condition'] }],
  ['pedals good', { aspects: ['movement'] }],
  ['throttle-linkage good', { aspects: [] }],
  ['rivet-line(plural) good', { instances: ['plural'], asked: true }],
  ['torque-stripe(plural) good', { instances: ['1', '2', '3', '4', '5', '6'], asked: false }],
  ['past engine-oil =6[qt_us]', { force: 'past', amounts: [{ low: 6, high: 6, unit: '[qt_us]' }] }],
  ['engine-oil =6', { asked: true }],
  ['main-gearbox|tail-gearbox +leak', { checks: ['main-gearbox', 'tail-gearbox'], asked: true }],
])('reads the label "%s"', (text, expected) => {
  expect(label(text)).toMatchObject(expected);
});

test.each([
  ['cowlin good', 'no check "cowlin"'],
  ['door good', 'repeats: say which'],
  ['door(middle) good', 'has no "middle"'],
  ['cowling +haunted', 'names no condition'],
  ['cowling good=leaks', 'has no aspect "leaks"'],
  ['cowling fine', 'is not a fact'],
  ['station:attic good', 'no station "attic"'],
])('refuses the label "%s" with one sentence', (text, sentence) => {
  expect(() => label(text)).toThrow(sentence);
});

test('a bad corpus file is refused with the file and the place', () => {
  const bad = 'v: 1\npart: work\ncatalogue: x.yaml\nvoices: { a: [{ id: a1, say: 3 }] }';
  expect(() => parseCorpus(bad, 'mine.yaml', heli, {})).toThrow(CorpusError);
  expect(() => parseCorpus(bad, 'mine.yaml', heli, {})).toThrow('mine.yaml: at "voices.a.0.say"');
});

const CATALOGUE = `v: 1
id: small
name: Small
kind: other
stations:
  - id: nose
    name: nose
    place: { x: 50, y: 10 }
    checks:
      - { id: pitot, name: Pitot tube }
`;
const utterances = (check: string, catalogue = 'small.yaml') =>
  `v: 1\npart: report\ncatalogue: ${catalogue}\nvoices:\n  me:\n    - id: m1\n      say: pitot tube is good\n      is: ${check} good\n`;

test("somebody else's utterances are read; what cannot be is refused in one sentence", () => {
  const folder = mkdtempSync(join(tmpdir(), 'talkround-corpus-'));
  const file = (name: string, text: string) => {
    const path = join(folder, name);
    writeFileSync(path, text);
    return path;
  };
  try {
    const small = file('small.yaml', CATALOGUE);
    const good = file('good.yaml', utterances('pitot'));
    expect(readCorpus(good, null).utterances).toHaveLength(1);
    expect(readCorpus(file('away.yaml', utterances('pitot', 'x.yaml')), small).catalogue.id).toBe(
      'small',
    );
    const refused: [string, string | null, RegExp][] = [
      [join(folder, 'nowhere.yaml'), null, /^There is no file .*nowhere\.yaml\.$/],
      [good, join(folder, 'nowhere.yaml'), /^There is no file .*nowhere\.yaml\.$/],
      [folder, null, /is a folder; give a file\.$/],
      [file('empty.yaml', ''), null, /holds no utterances\./],
      [file('broken.yaml', 'v: [1\n'), null, /is not YAML: /],
      [good, file('broken-too.yaml', 'v: [1\n'), /broken-too\.yaml is not YAML: /],
      [good, good, /is not a catalogue: at "id": /],
      [file('lost.yaml', utterances('pitot', 'x.yaml')), null, /names the catalogue "x\.yaml"/],
      [file('wrong.yaml', utterances('pitut')), null, /utterance "m1": no check "pitut"\./],
    ];
    for (const [corpus, catalogue, sentence] of refused) {
      let told = '';
      try {
        readCorpus(corpus, catalogue);
      } catch (error) {
        expect(error).toBeInstanceOf(CorpusError);
        told = error instanceof Error ? error.message : '';
      }
      expect(told).toMatch(sentence);
      expect(told.split('\n')).toHaveLength(1);
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});

test.each(['learn', 'looked-at', 'sealed'] as const)(
  'the single sentences of the part %s can be read, and no id is used twice in a file',
  (part) => {
    const own = ownSingles(part);
    expect(own.length).toBeGreaterThanOrEqual(singleWriters(part).length);
    for (const { utterances } of own)
      expect(new Set(utterances.map(({ id }) => id)).size).toBe(utterances.length);
  },
);

test('what is sealed says so in each of its files, by which the judge refuses its errors', () => {
  expect(
    ownSingles('sealed')
      .flatMap((s) => s.utterances)
      .every((u) => u.part === 'report'),
  ).toBe(true);
  expect(
    ownSingles('learn')
      .flatMap((s) => s.utterances)
      .some((u) => u.part === 'report'),
  ).toBe(false);
});
