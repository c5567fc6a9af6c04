import type { Severity } from '#shared/severity';
import type { Observation, Statement } from '#shared/statement';
import { amending } from '../conversation/restated.ts';
import { DECIDE } from '../decide.ts';
import type { TokenInput } from '../scores/around.ts';
import { RATINGS, type Scores } from '../scores/scored.ts';
import type { Token } from '../tokens.ts';
import { senses } from '../matches/senses.ts';
import { isLecture } from './lecture.ts';
import { isRatingAlone } from './orders.ts';
import { severitiesIn, spanIn } from './said.ts';
import type { Scoring } from './scoring.ts';

/**
 * How bad a fault is said to be: in a word of the list ("defer it"), or in anybody's own words, as
 * the scores hold them ("she's not leaving the ground like that", "it'll see the month out").
 */
export function ratedIn(
  tokens: readonly Token[],
  { ratings }: Scores,
  from: number = DECIDE.ratedInBreath,
): Severity | null {
  const [worded = null] = severitiesIn(tokens);
  const likely = likeliest(ratings);
  if (likely === null) return worded;
  if (worded === null) return likely.share >= from ? likely.severity : null;
  if (isRatingAlone({ words: { tokens, raw: [] } })) return worded;
  const own = ratings[RATINGS.indexOf(worded)] ?? 0;
  // "It's not stopping me, I'll note it and do it tonight": a word of the list, and meant otherwise.
  if (likely.share >= from && own < DECIDE.ratedInWords) return likely.severity;
  return own < DECIDE.ratedInWords && likely.share < DECIDE.ratedInWords ? null : worded;
}

function likeliest(ratings: readonly number[]): { severity: Severity; share: number } | null {
  let best: { severity: Severity; share: number } | null = null;
  RATINGS.forEach((severity, i) => {
    const share = ratings[i];
    if (share !== undefined && (best === null || share > best.share)) best = { severity, share };
  });
  return best;
}

/**
 * "Pitot cover's torn." – "That's us walking home, then.": how bad the fault is that was just told,
 * where nothing else is reported. Null where it is not.
 */
export function commentOn(s: Scoring): Statement[] | null {
  const { scene, words, scores } = s;
  const { last } = scene;
  if (last === null || last.force !== 'result' || !isIll(last) || !isRecent(s, last)) return null;
  const severity = ratedIn(words.tokens, scores, DECIDE.rated);
  if (severity === null || tellsMore(s, last)) return null;
  // Amid minutes of explaining, and behind "last summer" or "if", it has to be plain (R2).
  const share = scores.ratings[RATINGS.indexOf(severity)] ?? 0;
  if (!isRatingAlone({ words }) && isTalk(s) && share < DECIDE.ratedInTalk) return null;
  const why = `by what is said to become of it, it is rated "${severity}"`;
  const asked = scene.question?.kind === 'severity' && scene.question.about === last.id;
  if (last.doubtful !== null && !asked)
    return [amending(s, last, { severity, ...(severity === 'note' ? {} : CERTAIN) }, why)];
  return [
    {
      v: 1,
      id: s.nextId(),
      heard: s.heard.id,
      kind: 'rating',
      severity,
      of: last.id,
      span: spanIn(words, 0, words.tokens.length),
      why: [why],
    },
  ];
}
/** Who says how bad it is says that it is a fault: nobody has to ask (R4). */
const CERTAIN = { doubtful: null, waits: false } as const;

const isTalk = (s: Scoring): boolean => isLecture(s) || saysTalk(s.inputs.tokens);

/** Whether a word asks, or belongs to what was, might be, is taught or told by others. */
export function saysTalk(tokens: readonly TokenInput[]): boolean {
  const { names } = senses();
  return tokens.some((t) => t.asks || t.senses.some((k) => TALKS.test(names[k] ?? '')));
}
const TALKS = /^force-(past|hypothesis|question|teaching|hearsay)/;

const isIll = (o: Observation): boolean =>
  o.conditions.some((c) => c.present) || o.verdict?.good === false;

/** Utterances in which the fault must have been told: a remark and a question may stand between. */
const RECENT = 4;
const isRecent = ({ scene }: Scoring, last: Observation): boolean =>
  scene.talk.turns.slice(-RECENT).some((turn) => turn.heard === last.heard);

/** Whether another check is reported on, or another fault is named, in the same breath. */
function tellsMore({ inputs, scores }: Scoring, last: Observation): boolean {
  const { about } = last;
  const known = new Set(last.conditions.map((c) => c.condition));
  if (inputs.conditions.some((c) => !c.weak && !c.either && c.denials === 0 && !known.has(c.id)))
    return true;
  return inputs.candidates.some(({ member }, i) => {
    const scored = scores.candidates[i];
    if (scored === undefined || member === null) return false;
    if (about.kind === 'check' && member.check?.id === about.check)
      return scored.good >= DECIDE.goodWaits;
    const told = scored.good >= DECIDE.goodWaits || scored.finding >= DECIDE.finding;
    return told && scored.result >= DECIDE.result;
  });
}
