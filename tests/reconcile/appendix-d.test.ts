import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { parseCatalogue } from '#catalogue';
import { fold } from '#reconcile';
import * as n from './notation.ts';

/*
 * 14 CFR Part 43, Appendix D, paragraphs (a) to (j): an inspection that speaks
 * for one group leaves exactly the others.
 */
const file = '../../seeds/catalogues/appendix-d.yaml';
const text = readFileSync(fileURLToPath(new URL(file, import.meta.url)), 'utf8');
const parsed = parseCatalogue(text, file);
if (!parsed.ok) throw new Error(parsed.problems.map((p) => p.text).join('\n'));
const { catalogue } = parsed;

test.each(catalogue.stations.map((s) => [s.id, s] as const))(
  'Appendix D: a walk that names group %s leaves exactly the others skipped',
  (_id, group) => {
    const lines = group.checks.flatMap((c) => [
      n.said(c.id, n.good(...c.aspects.map((a) => a.id)), n.all),
      ...c.measures.map((m) =>
        n.said(c.id, n.all, {
          values: [
            {
              measure: m.id,
              low: m.low ?? m.high ?? 1,
              high: m.low ?? m.high ?? 1,
              unit: m.unit ?? null,
              inUnit: { low: m.low ?? m.high ?? 1, high: m.low ?? m.high ?? 1, unit: m.unit ?? '' },
              step: null,
              approximate: false,
              trouble: null,
              span: { from: 0, to: 1, words: 'so much' },
            },
          ],
        }),
      ),
    ]);
    const coverage = fold(
      catalogue,
      n.walk(n.begun({ catalogue: catalogue.id }), ...lines, n.finish),
    );
    const expected = catalogue.stations.flatMap((s) =>
      s.checks
        .filter((c) => c.required === 'always')
        .map((c) => `${c.id} ${s.id === group.id ? 'spoken' : 'skipped'}`),
    );
    const required = coverage.checks.filter((c) => c.required.by === 'always');
    expect(required.map((c) => `${c.check} ${c.standing}`)).toEqual(expected);
    expect(coverage.open.every((o) => o.station !== group.id)).toBe(true);
  },
);

test('Appendix D: a blanket over a group covers only what permits it (R7)', () => {
  for (const group of catalogue.stations) {
    const coverage = fold(catalogue, n.walk(n.begun(), n.blanket(group.id, n.good())));
    const spoken = coverage.checks.filter((c) => c.standing === 'spoken').map((c) => c.check);
    const permitted = group.checks.filter((c) => c.blanket && c.measures.length === 0);
    expect(spoken).toEqual(permitted.map((c) => c.id));
  }
});
