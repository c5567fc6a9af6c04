import { expect, test } from 'vitest';
import { createGrammar } from '#grammar';
import { FIRST_SCENE } from '#shared/scene';
import { FIXTURE, heard, pronunciations } from './fixtures/catalogue.ts';
import { testWeights } from '../weights.ts';

const grammar = createGrammar(FIXTURE, {
  pronunciations: pronunciations(),
  weights: testWeights(),
});

/** Work that was done is no fault, and no verdict either: half spoken for at most (R1, R4). */
test.each(['the exhaust is greased', 'exhaust lubricated', 'exhaust gapped'])(
  '"%s" finds nothing and calls nothing good',
  (words) => {
    const { statements } = grammar.read(heard(words), FIRST_SCENE);
    for (const s of statements) {
      if (s.kind !== 'observation' || s.force !== 'result') continue;
      expect(s.conditions.filter((c) => c.present)).toEqual([]);
      expect(s.verdict === null || s.verdict.actOnly).toBe(true);
    }
  },
);
