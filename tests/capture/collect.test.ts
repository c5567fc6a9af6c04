import fc from 'fast-check';
import { expect, test } from 'vitest';
import { collector, type Delivered } from '../../src/capture/browser/collect.ts';

const word = fc.constantFrom('belts', 'good', 'left', 'tyre', 'crack', 'two', 'no', 'rivet');
const sentence = fc.array(word, { minLength: 1, maxLength: 6 });

const result = (text: string, final: boolean, confidence: number | null): Delivered => ({
  final,
  alternatives: [{ text, confidence }],
});

test('property, seed 3: whatever is delivered, no final word is nowhere in what goes out (R4)', () => {
  const delivered = fc.record({
    words: sentence,
    final: fc.boolean(),
    confidence: fc.constantFrom(null, 0, 0.9),
  });
  const event = fc.record({
    results: fc.array(delivered, { minLength: 1, maxLength: 4 }),
    gap: fc.constantFrom(0.05, 0.3, 0.8, 2),
  });
  fc.assert(
    fc.property(fc.array(event, { maxLength: 12 }), fc.boolean(), (events, patient) => {
      const it = collector(patient);
      let now = 0;
      const out: string[] = [];
      const give = (given: ReturnType<typeof it.end>) =>
        out.push(...given.map((g) => g.alternatives[0]?.text ?? ''));
      for (const { results, gap } of events) {
        now += gap;
        give(it.settle(now));
        give(
          it.take(
            results.map((r) => result(r.words.join(' '), r.final, r.confidence)),
            now,
          ),
        );
      }
      give(it.end(now + 1));
      const said = new Set(out.join(' ').split(' '));
      // A final without confidence that was overwritten in the same place before it settled was
      // an interim; every other final has to be found again.
      for (const { results } of events) {
        for (const r of results) {
          if (r.final && r.confidence === 0.9 && !patient) {
            for (const w of r.words) expect(said).toContain(w);
          }
        }
      }
      expect(it.partial).toBe('');
    }),
    { seed: 3, numRuns: 2000 },
  );
});

test('property, seed 4: a well-behaved platform: each utterance goes out once, in order, unchanged', () => {
  fc.assert(
    fc.property(fc.array(sentence, { maxLength: 8 }), fc.boolean(), (utterances, android) => {
      const it = collector(false);
      let now = 0;
      const out: string[] = [];
      const list: Delivered[] = [];
      const give = (given: ReturnType<typeof it.end>) =>
        out.push(...given.map((g) => g.alternatives[0]?.text ?? ''));
      utterances.forEach((words, i) => {
        for (let n = 1; n <= words.length; n += 1) {
          now += 0.4;
          list[i] = result(words.slice(0, n).join(' '), false, null);
          give(it.take([...list], now));
        }
        now += 1.2;
        list[i] = result(words.join(' '), true, 0.9);
        give(it.take([...list], now));
        // Delivered once more, as Android does.
        if (android) give(it.take([...list], now + 0.05));
      });
      give(it.end(now + 1));
      expect(out).toEqual(utterances.map((words) => words.join(' ')));
    }),
    { seed: 4, numRuns: 1000 },
  );
});
