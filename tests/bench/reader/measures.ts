import { z } from 'zod';
import { figures } from '../grammar/score.ts';
import type { WalkTally } from './tally.ts';

/**
 * The figures of one reader at one level. Shares and F1 go from 0 to 1; a share
 * of nothing is 1. `sheet` is null for single utterances, which make none.
 */
export const Measures = z.strictObject({
  utterances: z.number(),
  checkF1: z.number(),
  credited: z.number(),
  polarity: z.number(),
  condition: z.number(),
  value: z.number(),
  falseSpokenForPer1000: z.number(),
  falseFindingsPer100: z.number(),
  /** Utterances rather than findings, and only where the finding is not asked about: the milder count. */
  falseFindingUtterancesPer100: z.number(),
  findingsLostPer1000: z.number(),
  questionsPer100: z.number(),
  needlessQuestionsPer100: z.number(),
  severityQuestionsPer100: z.number(),
  /** Of the utterances that say how bad a fault is, those understood alike; of the others, those taken to say so. Not in figures kept before it was measured. */
  severity: z.number().optional(),
  falseSeverityPer1000: z.number().optional(),
  mentionF1: z.number(),
  ordersF1: z.number(),
  sheet: z
    .strictObject({
      checks: z.number(),
      agreement: z.number(),
      /** Agreement over the checks that either sheet says anything about. */
      touchedAgreement: z.number(),
      falseSpokenFor: z.number(),
      falseFindings: z.number(),
      lostFindings: z.number(),
    })
    .nullable(),
});
export type Measures = z.infer<typeof Measures>;

const share = (part: number, whole: number) => (whole === 0 ? 1 : part / whole);
const rate = (per: number, part: number, whole: number) => (whole === 0 ? 0 : (per * part) / whole);

export function measuresOf({ score: tally, more, sheet }: WalkTally): Measures {
  const f = figures(tally);
  const n = tally.utterances;
  return {
    utterances: n,
    checkF1: f.checkF1,
    credited: f.spokenRecall,
    polarity: f.polarity,
    condition: f.condition,
    value: f.value,
    falseSpokenForPer1000: f.falseSpokenForPer1000,
    falseFindingsPer100: rate(100, more.falseThere, more.clean),
    falseFindingUtterancesPer100: rate(100, more.falseUtterances, more.clean),
    findingsLostPer1000: f.findingsLostPer1000,
    questionsPer100: rate(100, more.asks, n),
    needlessQuestionsPer100: rate(100, more.needless, n),
    severityQuestionsPer100: rate(100, more.severityAsks, n),
    severity: share(more.ratedRight, more.rated),
    falseSeverityPer1000: rate(1000, more.ratedFalse, n - more.rated),
    mentionF1: share(
      2 * more.mentionRight,
      2 * more.mentionRight + more.mentionFalse + more.mentionMissed,
    ),
    ordersF1: f.orderF1,
    sheet: sheet
      ? {
          checks: more.checks,
          agreement: share(more.agreed, more.checks),
          touchedAgreement: share(more.touchedAgreed, more.touched),
          falseSpokenFor: more.falseSpokenFor,
          falseFindings: more.falseFindings,
          lostFindings: more.lostFindings,
        }
      : null,
  };
}
