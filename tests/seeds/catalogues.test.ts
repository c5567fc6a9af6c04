import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { z } from 'zod';
import { parseCatalogue } from '#catalogue';
import { CATALOGUES, starters } from '#seeds';
import { startersText } from '../../seeds/write-starters.ts';
import { signsOf, type Catalogue, type Check, type Sign } from '#shared/catalogue';

function load(name: string): Catalogue {
  const seed = CATALOGUES.find((c) => c.name === name);
  const read = parseCatalogue(seed?.text ?? '', `${name}.yaml`);
  if (!read.ok) throw new Error(read.problems.map((p) => `${p.line} ${p.text}`).join('\n'));
  return read.catalogue;
}
const helicopter = load('training-helicopter');
const aeroplane = load('training-aeroplane');

function check(catalogue: Catalogue, id: string): Check {
  const found = catalogue.stations.flatMap((s) => s.checks).find((c) => c.id === id);
  if (found === undefined) throw new Error(`No check ${id}`);
  return found;
}

/** The sign of a check that a condition means there. */
function sign(catalogue: Catalogue, id: string, condition: string): Sign {
  const found = signsOf(catalogue, check(catalogue, id)).filter((s) =>
    s.conditions.includes(condition),
  );
  const first = found[0];
  if (first === undefined || found.length > 1) {
    throw new Error(`${found.length} signs for ${condition} at ${id}`);
  }
  return first;
}

test('the starter catalogues are sound, and nothing in them is doubtful', () => {
  expect(CATALOGUES.map((c) => c.name)).toEqual([
    'training-helicopter',
    'training-aeroplane',
    'appendix-d',
  ]);
  for (const { text, file } of CATALOGUES) {
    expect(parseCatalogue(text, file)).toMatchObject({ ok: true, warnings: [] });
  }
});

test('14.8 what the app reads of them is what they say (else: node tests/load.mjs seeds/write-starters.ts)', () => {
  expect(readFileSync('seeds/starters.json', 'utf8')).toBe(startersText());
  expect(starters().map((s) => s.catalogue)).toEqual(CATALOGUES.map((c) => load(c.name)));
});

test.each([
  ['training-helicopter', 'helicopter', 10, 90],
  ['training-aeroplane', 'aeroplane', 9, 80],
])('%s: enough stations and checks, and marked as a demonstration', (name, kind, stations, n) => {
  const catalogue = load(name);
  const always = catalogue.stations.flatMap((s) => s.checks).filter((c) => c.required === 'always');
  expect(catalogue.kind).toBe(kind);
  expect(catalogue.stations.length).toBeGreaterThanOrEqual(stations);
  expect(always.length).toBeGreaterThanOrEqual(n);
  expect(catalogue.notice).toContain("Demonstration only; use your aircraft's approved checklist");
});

test.each(CATALOGUES.map((c) => [c.name]))(
  '%s: one condition means one sign at a check',
  (name) => {
    const catalogue = load(name);
    for (const c of catalogue.stations.flatMap((s) => s.checks)) {
      const conditions = signsOf(catalogue, c).flatMap((s) => s.conditions);
      expect([c.id, conditions]).toEqual([c.id, [...new Set(conditions)]]);
    }
  },
);

test.each(CATALOGUES.map((c) => [c.name]))('%s: the stations lie apart on the plan', (name) => {
  const { stations } = load(name);
  for (const a of stations) {
    for (const b of stations) {
      if (a === b) continue;
      expect(Math.hypot(a.place.x - b.place.x, a.place.y - b.place.y)).toBeGreaterThan(6);
    }
  }
});

test('the route goes round the aircraft: nose, right, tail, left', () => {
  const at = (id: string): { x: number; y: number } =>
    helicopter.stations.find((s) => s.id === id)?.place ?? { x: -1, y: -1 };
  expect(at('nose').y).toBeLessThan(10);
  expect(at('tail-rotor').y).toBeGreaterThan(90);
  expect(at('right-side').x).toBeGreaterThan(50);
  expect(at('left-side').x).toBeLessThan(50);
  const order = helicopter.stations.map((s) => s.id);
  expect(order.indexOf('right-side')).toBeLessThan(order.indexOf('tail-rotor'));
  expect(order.indexOf('tail-rotor')).toBeLessThan(order.indexOf('left-side'));
});

/* Facts of the trade: common practice, no source, unless one is named. */

test('a belt that goes in past the second knuckle is too slack', () => {
  const belts = check(helicopter, 'drive-belts');
  expect(belts.acts).toContain('feel');
  const [measure] = belts.measures;
  expect(measure).toMatchObject({ gauge: 'finger-depth', atMost: 'second knuckle' });
  expect(measure?.suggests).toMatch(/Re-tension it or replace it/);
  expect(helicopter.gauges[0]?.steps.map((s) => s.name)).toEqual([
    'fingertip',
    'first knuckle',
    'second knuckle',
    'past the second knuckle',
  ]);
  expect(sign(helicopter, 'belt-guard', 'groove').suggests).toMatch(/Turn the guard or replace it/);
});

test.each([
  ['clutch-actuator', 'seepage', 'defer'],
  ['clutch-actuator', 'play', 'ground'],
  ['temperature-strip', 'overheated', 'ground'],
  ['torque-stripes', 'broken', 'ground'],
  ['cooling-fan', 'crack', 'ground'],
  ['cooling-fan', 'dent', 'defer'],
  ['cooling-fan', 'wrinkle', 'ground'],
  ['cooling-fan', 'missing', 'ground'],
  ['rivet-lines', 'fretting', 'ground'],
  ['boom-underside', 'wrinkle', 'ground'],
  ['boom-line', 'droop', 'ground'],
  ['leading-edges', 'dent', 'ground'],
  ['trailing-edges', 'bent', 'ground'],
  ['tail-skid', 'rough', 'ground'],
])('helicopter: %s has a sign for %s, severity %s', (id, condition, severity) => {
  expect(sign(helicopter, id, condition).severity).toBe(severity);
});

test.each([
  ['boom-underside', 'wrinkle', 'cross-tube-spread boom-attach-bolts mount-bolts'],
  ['boom-line', 'droop', 'cross-tube-spread boom-attach-bolts mount-bolts'],
  ['tail-skid', 'rough', 'tail-rotor-after-strike tail-drive-after-strike'],
  ['temperature-strip', 'overheated', 'oil-after-heat'],
  ['fuel-sample', 'water', 'second-sample fuel-source'],
])('helicopter: at %s, %s demands %s', (id, condition, followUps) => {
  expect(sign(helicopter, id, condition).followUps.join(' ')).toBe(followUps);
  for (const f of followUps.split(' ')) expect(check(helicopter, f).required).toBe('follow-up');
});

test.each([
  [
    'training-helicopter',
    'hard-landing tail-strike rotor-strike lightning-strike overheating fuel-contamination',
  ],
  [
    'training-aeroplane',
    'hard-landing tail-strike propeller-strike lightning-strike overheating fuel-contamination',
  ],
])('%s: %s may be told without naming a check, and each demands follow-ups', (name, ids) => {
  const catalogue = load(name);
  for (const id of ids.split(' ')) {
    const found = catalogue.signs.find((s) => s.id === id);
    expect(found).toMatchObject({ anywhere: true, severity: 'ground' });
    expect(found?.followUps.length).toBeGreaterThan(0);
    expect(found?.caution).toMatch(/Maintenance decides|No flight/);
  }
});

test('antennas and lights are moved gently, never wrenched; belts and fans wait for the magnetos', () => {
  for (const catalogue of [helicopter, aeroplane]) {
    expect(check(catalogue, 'antennas').caution).toMatch(/gently and never wrench/);
    expect(catalogue.cautions.join(' ')).toMatch(/Magnetos off.*earpiece/s);
  }
  expect(check(helicopter, 'strobe').caution).toMatch(/gently and never wrench/);
  expect(check(helicopter, 'drive-belts').caution).toMatch(/magnetos off/);
  expect(check(helicopter, 'cooling-fan').caution).toMatch(/magnetos off/);
});

/** FAA Airplane Flying Handbook ch. 2, the signs of the visual assessment [R]. */
test.each([
  ['left-gear-leg', 'misaligned'],
  ['fuselage-skin', 'wrinkle'],
  ['left-tyre', 'wear'],
  ['left-tyre', 'cut'],
  ['left-tyre', 'blister'],
  ['engine-leaks', 'leak'],
  ['engine-leaks', 'stain'],
  ['left-fuel-level', 'stain'],
  ['cowling', 'loose'],
  ['cowling', 'fretting'],
  ['left-sump', 'water'],
  ['left-sump', 'contaminated'],
  ['left-brake-disc', 'crack'],
  ['nose-strut', 'leak'],
])('Airplane Flying Handbook ch. 2: %s has a sign for %s', (id, condition) => {
  expect(sign(aeroplane, id, condition).name.length).toBeGreaterThan(0);
});

test('Airplane Flying Handbook ch. 2: cords that show are a sign of a tyre', () => {
  expect(check(aeroplane, 'left-tyre').signs).toContain('tyre-cords');
  expect(check(aeroplane, 'left-tyre').measures[0]).toMatchObject({ unit: '[psi]' });
});

test('each condition that a sign names is a condition of the lexicon', () => {
  const lexicon = z
    .array(z.looseObject({ id: z.string() }))
    .parse(parse(readFileSync('grammar/en/conditions.yaml', 'utf8')));
  const known = new Set(lexicon.map((condition) => condition.id));
  for (const { name } of CATALOGUES) {
    const catalogue = load(name);
    const signs = catalogue.stations.flatMap((s) => s.checks).flatMap((c) => signsOf(catalogue, c));
    for (const s of signs) {
      expect([name, s.id, s.conditions.filter((c) => !known.has(c))]).toEqual([name, s.id, []]);
    }
  }
});
