import { senses } from '../matches/senses.ts';
import type { Inputs } from '../scores/around.ts';
import type { Scored, Scores } from '../scores/scored.ts';

/**
 * Sentences in which nothing is left to interpret: one whole name of the list, and words
 * that say it is well or name a fault, and nothing else ("drive belts good", "left brake line
 * is chafed", "no cracks on the exhaust"). They are read as they stand, whatever the scores
 * hold: a net that was asked for everything is now and then unsure of the plainest.
 */

/** A whole name. */
const WHOLE = 0.97;
/** The share that a plain sentence is worth; above every threshold of decide.ts. */
const PLAIN = 0.995;
/** From here the scores hold the words for talk, as amid a lesson, and they are left to them. */
const TALK = 0.4;

/** What a question begins with. */
const ASKS =
  /^(is|are|has|have|do|does|did|was|were|can|could|will|would|should|what|which|who|how|why|where|when)$/;

/** Little words that join and point and change nothing. */
const JOINING =
  /^(the|a|an|is|are|and|both|all|of|it|on|looks?|looking|feels?|seems?|has|have|had|in|at|to|very|nice|nicely|got|there|still|just|that|this|here|my|our|its|underneath|below|above|inside|outside)$/;

/** Kinds of cue in whose company no sentence is plain. */
const TALK_KINDS: ReadonlySet<string> = new Set([
  ...['intention', 'teaching', 'hypothesis', 'past', 'hearsay', 'doubt'].map((c) => `force-${c}`),
  'figure',
  'elsewhere',
]);

interface Words {
  readonly good: boolean;
  readonly done: boolean;
  readonly everything: boolean;
  readonly conditions: boolean;
}

type Made = Partial<Scored> & { readonly index: number };

/** The scores, with a plain sentence's candidate made sure of. */
export function plainly(inputs: Inputs, scores: Scores): Scores {
  const made = plainOf(inputs);
  const scored = made === null ? undefined : scores.candidates[made.index];
  if (made === null || scored === undefined || scored.talk >= TALK) return scores;
  const { index, ...sure } = made;
  const candidates = scores.candidates.map((s, i) =>
    i === index ? { ...s, ...sure } : { ...s, result: 0, good: 0, finding: 0, ask: 0, talk: 0 },
  );
  return { ...scores, candidates };
}

/** Whether the words are a plain sentence. */
export const isPlain = (inputs: Inputs): boolean => plainOf(inputs) !== null;

/** What a plain sentence says; null where it is none. */
function plainOf(inputs: Inputs): Made | null {
  const index = namedAlone(inputs);
  if (index === null) return null;
  const said = wordsOf(inputs, index);
  if (said === null) return null;
  const station = inputs.candidates[index]?.member?.check === null;
  // R7: a blanket says that it is one.
  if (station && (!said.everything || said.conditions || said.done)) return null;
  const strong = inputs.conditions.filter((c) => !c.weak && !c.either);
  // "Refuses to latch": a function denied at length, and left to the scores.
  if (inputs.tokens.some((t) => /^(refuse|refuses|refused|fail|fails|failed)$/.test(t.word)))
    return null;
  const denied = strong.filter((c) => c.denials === 1).length;
  const absent = said.conditions && strong.length > 0 && denied === strong.length;
  if (said.good && said.conditions && !absent) return null;
  if (said.done && !said.good && !said.conditions && !hasDenial(inputs))
    return { index, result: PLAIN, done: PLAIN, good: 0, finding: 0 };
  if (said.good && !said.conditions && !hasDenial(inputs))
    return { index, result: PLAIN, good: PLAIN, finding: 0 };
  if (!said.conditions || strong.length === 0) return null;
  const conditions = inputs.conditions.map((c): number[] =>
    c.weak || c.either ? [1, 0, 0] : c.denials === 0 ? [0, 1, 0] : [0, 0, 1],
  );
  if (absent) return { index, result: PLAIN, good: PLAIN, finding: 0, conditions };
  if (denied > 0 || hasDenial(inputs)) return null;
  return { index, result: PLAIN, finding: PLAIN, good: 0, conditions };
}

/** The one check whose whole name is said, with no other whole name beside it; else the one station. */
function namedAlone(inputs: Inputs): number | null {
  const whole = inputs.candidates.flatMap((c, i) =>
    c.member !== null && (c.features[0] ?? 0) >= WHOLE ? [i] : [],
  );
  const checks = whole.filter((i) => inputs.candidates[i]?.member?.check !== null);
  const own = checks.length > 0 ? checks : whole;
  const share = (i: number): number => inputs.candidates[i]?.features[0] ?? 0;
  const best = Math.max(0, ...own.map(share));
  const near = own.filter((i) => share(i) > best - 1e-3);
  // "Seat belts" says more than the "belts" of the drive in it.
  const words = (i: number): number =>
    inputs.candidates[i]?.marks.filter((m) => m.lag === 0 && m.name > best - 1e-3).length ?? 0;
  const most = Math.max(0, ...near.map(words));
  const top = near.filter((i) => words(i) === most);
  return top.length === 1 ? (top[0] ?? null) : null;
}

/** What the words beside the name are; null where any of them is something else. */
function wordsOf(inputs: Inputs, index: number): Words | null {
  const { names } = senses();
  const own = new Set(
    inputs.candidates[index]?.marks.flatMap((m) => (m.lag === 0 && m.name > 0 ? [m.token] : [])),
  );
  let good = false;
  let done = false;
  let everything = false;
  let conditions = false;
  // "Are the belts good": asked, with the mark or without.
  if (ASKS.test(inputs.tokens[0]?.word ?? '')) return null;
  for (const [i, token] of inputs.tokens.entries()) {
    if (token.asks) return null;
    if (own.has(i)) continue;
    const kinds = token.senses.map((k) => names[k] ?? '');
    if (kinds.some((k) => TALK_KINDS.has(k))) return null;
    const condition = inputs.conditions.some((c) => i >= c.from && i < c.to);
    const verdict = kinds.some((k) => k === 'verdict-good');
    // "No slack": a fault denied, and a way to say that it is well.
    const absent = inputs.conditions.some((c) => i >= c.from && i < c.to && c.denials === 1);
    if (condition && verdict && !absent) return null;
    if (condition) conditions = true;
    else if (verdict) good = true;
    else if (kinds.includes('dialogue-everything')) everything = true;
    else if (kinds.includes('verdict-done')) done = true;
    else if (
      !JOINING.test(token.word) &&
      !kinds.some((k) => /^(denial-before|denial-after|side|degree|filler|which-all)/.test(k))
    )
      return null;
  }
  return { good, done, everything, conditions };
}

/** A denial anywhere: what it reaches is for the scope of the words to say. */
function hasDenial(inputs: Inputs): boolean {
  const { names } = senses();
  return inputs.tokens.some((t) =>
    t.senses.some(
      (k) =>
        (names[k] ?? '').startsWith('denial-before') || (names[k] ?? '').startsWith('denial-after'),
    ),
  );
}
