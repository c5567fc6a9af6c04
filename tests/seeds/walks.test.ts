import { describe, expect, test } from 'vitest';
import { parseCatalogue } from '#catalogue';
import { transcriptHeard } from '#capture';
import { CATALOGUES, WALKS, type SeedWalk } from '#seeds';
import { instancesOf, signsOf, type Catalogue, type Check } from '#shared/catalogue';

function catalogueOf(walk: SeedWalk): Catalogue {
  const seed = CATALOGUES.find((c) => c.name === walk.catalogue);
  const read = parseCatalogue(seed?.text ?? '', seed?.file ?? '');
  if (!read.ok) throw new Error(`${walk.name} has no sound catalogue.`);
  return read.catalogue;
}

function checksOf(catalogue: Catalogue): Map<string, Check> {
  return new Map(catalogue.stations.flatMap((s) => s.checks).map((c) => [c.id, c]));
}

const FAILURES = ['skipped-item', 'from-memory', 'interrupted', 'value-missing', 'not-completed'];

test('there are the sample walks, and one for each failure that the guidelines name', () => {
  const names = WALKS.map((w) => w.name);
  expect(names).toEqual(expect.arrayContaining(FAILURES));
  expect(names).toEqual(
    expect.arrayContaining([
      'brisk-owner',
      'instructor-teaching',
      'student-forgets',
      'three-findings',
      'interrupted',
      'misheard',
    ]),
  );
  for (const walk of WALKS.filter((w) => FAILURES.includes(w.name))) {
    expect(walk.truth.sources.join(' ')).toMatch(/CR-177549|TM-2010-216396/);
  }
  expect(new Set(WALKS.map((w) => /\.(\w+)$/.exec(w.file)?.[1]))).toEqual(
    new Set(['vtt', 'srt', 'txt']),
  );
});

describe.each(WALKS.map((w) => [w.name, w] as const))('%s', (_name, walk) => {
  const { truth } = walk;
  const catalogue = catalogueOf(walk);
  const checks = checksOf(catalogue);

  test('is read as 30 to 80 utterances without a warning', () => {
    const read = transcriptHeard(walk.text, walk.file);
    if (!read.ok) throw new Error(read.error);
    expect(read.warnings).toEqual([]);
    expect(read.heard.length).toBeGreaterThanOrEqual(30);
    expect(read.heard.length).toBeLessThanOrEqual(80);
  });

  test('its truth speaks of what the catalogue has, and of each check once', () => {
    const lists = [
      truth.spoken,
      truth.part.map((p) => p.check),
      truth.question,
      truth.unsure,
      truth.skipped,
      truth.setAside,
    ];
    const named = lists.flat();
    for (const id of [...named, ...truth.followUps]) expect([...checks.keys()]).toContain(id);
    expect(named.length).toBe(new Set(named).size);
    for (const id of truth.setAside) expect(checks.get(id)?.optional).toBe(true);
    for (const id of truth.followUps) expect(checks.get(id)?.required).toBe('follow-up');
    for (const part of truth.part) {
      const check = checks.get(part.check);
      expect(check?.aspects.map((a) => a.id)).toEqual(expect.arrayContaining(part.aspects));
      expect(check?.measures.map((m) => m.id)).toEqual(expect.arrayContaining(part.measures));
    }
    for (const finding of truth.findings) {
      const check = checks.get(finding.check ?? '');
      if (check === undefined) continue;
      expect(instancesOf(check)).toEqual(expect.arrayContaining(finding.instances));
      const signs = signsOf(catalogue, check).map((s) => s.id);
      if (finding.sign !== undefined) expect(signs).toContain(finding.sign);
      const measures = check.measures.map((m) => m.id);
      if (finding.measure !== undefined) expect(measures).toContain(finding.measure);
    }
  });

  test('its exit code follows from its standings', () => {
    const open =
      truth.rest === 'skipped' ||
      truth.part.length + truth.question.length + truth.skipped.length > 0;
    expect(truth.exit).toBe(open ? 1 : 0);
  });
});
