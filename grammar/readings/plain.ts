import { DECIDE } from '../decide.ts';
import { senses } from '../matches/senses.ts';
import type { Inputs } from '../scores/around.ts';
import type { Scored, Scores } from '../scores/scored.ts';
import { convert } from '../units.ts';
import { quantitiesFor } from '../differential.ts';
import { lexicon } from '../lexicon.ts';
import { headAlone } from './headnoun.ts';
import { listedIn } from './listed.ts';
import { phrasesIn } from './phrases.ts';
import { namedAlone, WHOLE, type Range } from './namedalone.ts';
import { isTalk } from './talk.ts';

/**
 * Sentences in which nothing is left to interpret: one whole name of the list, and words
 * that say it is well or name a fault, and nothing else ("drive belts good", "left brake line
 * is chafed", "no cracks on the exhaust"). They are read as they stand, whatever the scores
 * hold: a net that was asked for everything is now and then unsure of the plainest.
 */

/** The share that a plain sentence is worth; above every threshold of decide.ts. */
const PLAIN = 0.995;
/** From here the scores hold the words for talk, as amid a lesson, and they are left to them. */
const TALK = 0.6;

/** What a question begins with. */
const ASKS =
  /^(is|are|has|have|do|does|did|was|were|can|could|will|would|should|what|which|who|how|why|where|when)$/;

/** Little words that join and point and change nothing. */
const JOINING =
  /^(i|we|am|get|the|a|an|is|are|and|both|all|of|it|on|looks?|looking|feels?|seems?|has|have|had|in|at|to|very|nice|nicely|got|there|still|just|that|this|here|my|our|its|underneath|below|above|inside|outside)$/;

/** Words that open a sentence and praise nothing of it. */
const OPENS = /^(okay|ok)$/;

/** Kinds of cue in whose company no sentence is plain. */
const TALK_KINDS: ReadonlySet<string> = new Set([
  ...['intention', 'teaching', 'hypothesis', 'past', 'hearsay', 'doubt'].map((c) => `force-${c}`),
  'figure',
  'elsewhere',
]);

interface Words {
  readonly good: boolean;
  /** Something is wrong, and it is not said what. */
  readonly bad: boolean;
  /** Nothing is wrong, in so many words. */
  readonly pleased: boolean;
  readonly done: boolean;
  readonly everything: boolean;
  readonly conditions: boolean;
}

/** Which one thing is named in a part of the words; null where none is, or several are. */
type Naming = (inputs: Inputs, range: Range) => number | null;

type Made = Partial<Scored> & { readonly index: number; readonly complaint?: true };

/** Of what has one place nothing is left to ask about in a plain sentence: it has no word of doubt. */
const isOnce = ({ candidates }: Inputs, i: number): boolean =>
  (candidates[i]?.member?.instances.length ?? 0) <= 1;

/** The scores, with the candidates of plain sentences made sure of. */
export function plainly(inputs: Inputs, scores: Scores): Scores {
  const made =
    plainOf(inputs) ?? agreed(plainOf(inputs, headAlone), scores) ?? agreed(listOf(inputs), scores);
  if (made === null) return faultsApart(inputs, scores);
  const isHeldForTalk = ({ index }: Made): boolean => (scores.candidates[index]?.talk ?? 1) >= TALK;
  // "Get the mechanic to look at the fan" sounds like a plan: a complaint is asked about, never let go (R4).
  if (made.some((m) => isHeldForTalk(m) && m.complaint !== true)) return scores;
  const sure = new Map(
    made.map((m) => {
      const { index, complaint, ...rest } = m;
      const asked = complaint === true && isHeldForTalk(m);
      return [index, asked ? { ...rest, finding: DECIDE.findingAsked } : rest];
    }),
  );
  const candidates = scores.candidates.map((s, i) =>
    sure.has(i)
      ? { ...s, ...sure.get(i), ask: isOnce(inputs, i) ? 0 : s.ask }
      : { ...s, result: 0, good: 0, finding: 0, ask: 0, talk: 0 },
  );
  return { ...scores, candidates };
}

/** "Brakes, tyres, legs, all good": each of the list. */
function listOf(inputs: Inputs): readonly Made[] | null {
  const list = listedIn(inputs);
  return list.length === 0
    ? null
    : list.map((index) => ({ index, result: PLAIN, good: PLAIN, finding: 0 }));
}

/** By its noun alone, or in a list, a thing is named for certain where the scores see the same of it. */
function agreed(made: readonly Made[] | null, scores: Scores): readonly Made[] | null {
  const agrees = ({ index, finding = 0, good = 0 }: Made): boolean => {
    const seen = scores.candidates[index];
    if (seen === undefined || seen.result < DECIDE.result) return false;
    if (finding > 0) return seen.finding >= DECIDE.findingAsked;
    return good > 0 && seen.good >= UNSEEN && seen.finding < DECIDE.findingAsked;
  };
  return made?.every(agrees) === true ? made : null;
}

/**
 * "Landing light out and nav lights okay": a part that is a plain fault by itself stands, whatever is well in
 * the others; the praise of another thing is no praise of this one (R4, R6).
 */
function faultsApart(inputs: Inputs, scores: Scores): Scores {
  const { tokens } = inputs;
  if (isTalk(inputs) || tokens.some((t) => TURNS.test(t.word))) return scores;
  const starts = [0, ...tokens.flatMap((_, i) => (i > 0 && isParted(inputs, i) ? [i] : []))];
  const faults = new Map<number, Partial<Scored>>();
  starts.forEach((from, k) => {
    const made = plainIn(inputs, { from, to: starts[k + 1] ?? tokens.length });
    if (made === null || (made.finding ?? 0) < PLAIN || !isOfCheck(inputs, made.index)) return;
    // Only against scores that hold it for good: of what they are unsure it is asked already.
    const { good = 0, finding = 1 } = scores.candidates[made.index] ?? {};
    if (finding < UNSEEN && good >= UNSEEN) faults.set(made.index, made);
  });
  if (starts.length < 2 || faults.size === 0) return scores;
  const candidates = scores.candidates.map((s, i) =>
    faults.has(i) ? { ...s, ...faults.get(i), ask: isOnce(inputs, i) ? 0 : s.ask } : s,
  );
  return { ...scores, candidates };
}
/** Under this the scores do not see the fault, from it on they see praise. */
const UNSEEN = 0.5;

/** Whether the words are a plain sentence, or a row of them. */
export const isPlain = (inputs: Inputs): boolean => plainOf(inputs) !== null;

/**
 * What a plain sentence says, or each of a row ("controls full and free, rudder pedals free");
 * null where one of them is none: it may take back what another said.
 */
function plainOf(inputs: Inputs, naming: Naming = namedAlone): readonly Made[] | null {
  const whole = plainIn(inputs, { from: 0, to: inputs.tokens.length }, naming);
  if (whole !== null) return [whole];
  const measured = measuredIn(inputs);
  if (measured !== null) return [measured];
  const ranges = clausesOf(inputs);
  if (ranges.length < 2) return null;
  const made = ranges.map((range) => plainIn(inputs, range, naming));
  const sure = made.filter((m) => m !== null);
  const checks = sure.filter(({ index }) => isOfCheck(inputs, index));
  const apart = new Set(sure.map(({ index }) => index)).size === ranges.length;
  // "The guard has a groove where the belt has sawn into it": two names, and one of them at fault.
  const parted = ranges.every(({ from }) => from === 0 || isParted(inputs, from));
  const well = parted || sure.every(({ finding }) => finding === 0 || finding === undefined);
  return apart && well && checks.length === ranges.length ? sure : null;
}

/** One whole name and one number in a unit of its own, and nothing else: "test gauge five hundred psi". */
function measuredIn(inputs: Inputs): Made | null {
  const { tokens } = inputs;
  const index = namedAlone(inputs, { from: 0, to: tokens.length });
  const member = index === null ? null : (inputs.candidates[index]?.member ?? null);
  if (index === null || member === null || member.check === null) return null;
  const { measures } = member.check;
  const words = tokens.map((t, at) => ({ ...t, at, raw: t.word, gap: 0 as const }));
  const said = quantitiesFor([member.check], words, 0, words.length);
  // One value of what has one place, or a row of them: "compressions 76/80, 74/80, 75/80".
  const places = Math.max(1, member.instances.length);
  if (said.length === 0 || said.length > places || (said.length === 1 && places > 1)) return null;
  const fits = said.every((number) =>
    number.units.some((u) =>
      measures.some(
        (m) => m.unit !== undefined && (m.unit === u || convert(1, u, m.unit) !== null),
      ),
    ),
  );
  const own = new Set(
    inputs.candidates[index]?.marks.flatMap((m) => (m.lag === 0 && m.name > 0 ? [m.token] : [])),
  );
  const isIn = (i: number): boolean => said.some(({ from, to }) => i >= from && i < to);
  const plain = tokens.every((t, i) => !t.asks && (own.has(i) || isIn(i) || READS.test(t.word)));
  return fits && plain ? { index, result: PLAIN, value: PLAIN, good: 0, finding: 0 } : null;
}
const READS = /^(the|is|at|and|reads?|reading|says?|shows?|showing)$/;

/**
 * "Left cap on, right cap on, left tank full": a row in which each part names one check whole, and another
 * than the others, and has a word of how it is. Each is read by itself. Null where it is no such row.
 */
export function rowApart(inputs: Inputs): readonly Range[] | null {
  const ranges = namesApart(inputs);
  const named = ranges.map((range) => namedAlone(inputs, range));
  const { tokens } = inputs;
  if (ranges.length < 2 || named.includes(null) || new Set(named).size < ranges.length) return null;
  if (isTalk(inputs) || tokens.some((t) => TURNS.test(t.word))) return null;
  const { names } = senses();
  const judged = ({ from, to }: Range): boolean =>
    inputs.conditions.some((c) => c.from >= from && c.to <= to) ||
    tokens
      .slice(from, to)
      .some((t) => t.senses.some((k) => /^verdict-(good|done)/.test(names[k] ?? '')));
  return ranges.every(judged) ? ranges : null;
}

/** Parts between commas, stops and "and", each with a whole name; what has none belongs to the name before it. */
function namesApart(inputs: Inputs): Range[] {
  const { tokens } = inputs;
  const named = (from: number, to: number): boolean =>
    inputs.candidates.some(
      (c) =>
        c.member !== null &&
        c.member.check !== null &&
        c.marks.some((m) => m.lag === 0 && m.name >= WHOLE && m.token >= from && m.token < to),
    );
  const starts = [0, ...tokens.flatMap((_, i) => (i > 0 && isParted(inputs, i) ? [i] : []))];
  const out: Range[] = [];
  starts.forEach((from, k) => {
    const to = starts[k + 1] ?? tokens.length;
    const last = out.at(-1);
    if (last === undefined || (named(from, to) && named(last.from, last.to)))
      out.push({ from, to });
    else out[out.length - 1] = { from: last.from, to };
  });
  return out;
}
/** What takes back or leaves out something said before it is read with that. */
const TURNS =
  /^(no|not|none|neither|nor|never|sorry|wait|actually|rather|instead|except|bar|but|same|too|also|other)$/;

/** Where a comma, a stop, an "and" or a new name parts what has a name of its own on either side. */
function clausesOf(inputs: Inputs): Range[] {
  const { tokens } = inputs;
  const whole = inputs.candidates.map((c) =>
    c.member === null || c.member.check === null
      ? []
      : c.marks.flatMap((m) => (m.lag === 0 && m.name >= WHOLE ? [m.token] : [])),
  );
  const names = ({ from, to }: Range): boolean =>
    whole.some((own) => own.some((t) => t >= from && t < to));
  const begins = (i: number): boolean =>
    whole.some((own) => own.includes(i) && !own.includes(i - 1)) &&
    !whole.some((own) => own.includes(i) && own.includes(i - 1));
  const out: Range[] = [];
  let from = 0;
  for (let i = 1; i < tokens.length; i += 1) {
    const parts = isParted(inputs, i) || begins(i);
    if (!parts || !names({ from, to: i }) || !names({ from: i, to: tokens.length })) continue;
    out.push({ from, to: i });
    from = i;
  }
  return [...out, { from, to: tokens.length }];
}

/** By a comma, a stop or an "and", and not by a new name alone. */
const isParted = ({ tokens }: Inputs, i: number): boolean =>
  (tokens[i]?.gap ?? 0) > 0 || tokens[i]?.word === 'and';

function plainIn(inputs: Inputs, range: Range, naming: Naming = namedAlone): Made | null {
  const index = naming(inputs, range);
  if (index === null) return null;
  const said = wordsOf(inputs, index, range);
  if (said === null) return null;
  const within = (i: number): boolean => i >= range.from && i < range.to;
  const station = inputs.candidates[index]?.member?.check === null;
  // R7: a blanket says that it is one.
  if (station && (!said.everything || said.conditions || (said.done && !said.good))) return null;
  const heard = inputs.conditions.filter((c) => within(c.from));
  const strong = heard.filter((c) => !c.weak && !c.either);
  const tokens = inputs.tokens.slice(range.from, range.to);
  if (said.bad) {
    if (said.good || said.done || said.conditions || station) return null;
    const conditions = inputs.conditions.map((): number[] => [1, 0, 0]);
    // Nobody said what is wrong: no word of it is a fault by name.
    return {
      index,
      result: PLAIN,
      finding: PLAIN,
      good: 0,
      conditions,
      named: [],
      complaint: true,
    };
  }
  if (said.pleased && !said.conditions) return { index, result: PLAIN, good: PLAIN, finding: 0 };
  // "Refuses to latch": a function denied at length, and left to the scores.
  if (tokens.some((t) => /^(refuse|refuses|refused|fail|fails|failed)$/.test(t.word))) return null;
  const denied = strong.filter((c) => c.denials === 1).length;
  const absent = said.conditions && strong.length > 0 && denied === strong.length;
  if (said.good && said.conditions && !absent) return null;
  if (said.done && !said.good && !said.conditions && !hasDenial(tokens))
    return { index, result: PLAIN, done: PLAIN, good: 0, finding: 0 };
  if (said.good && !said.conditions && !hasDenial(tokens))
    return { index, result: PLAIN, good: PLAIN, finding: 0 };
  if (!said.conditions || strong.length === 0) return null;
  const conditions = inputs.conditions.map((c): number[] =>
    c.weak || c.either || !within(c.from) ? [1, 0, 0] : c.denials === 0 ? [0, 1, 0] : [0, 0, 1],
  );
  if (absent) return { index, result: PLAIN, good: PLAIN, finding: 0, conditions };
  if (denied > 0 || hasDenial(tokens)) return null;
  return { index, result: PLAIN, finding: PLAIN, good: 0, conditions };
}

/** What the words beside the name are; null where any of them is something else. */
function wordsOf(inputs: Inputs, index: number, { from, to }: Range): Words | null {
  const { names } = senses();
  const own = new Set(
    inputs.candidates[index]?.marks.flatMap((m) => (m.lag === 0 && m.name > 0 ? [m.token] : [])),
  );
  const { pleased, displeased } = lexicon().hedges;
  const told = phrasesIn(inputs.tokens.slice(from, to), pleased, displeased);
  const opinion = (i: number): string | null => {
    const at = told.find((r) => i >= from + r.from && i < from + r.to);
    if (at === undefined) return null;
    return inputs.tokens
      .slice(from + at.from, from + at.to)
      .map((t) => t.word)
      .join(' ');
  };
  let praise = false;
  let bad = false;
  let good = false;
  let done = false;
  let everything = false;
  let conditions = false;
  // "Are the belts good": asked, with the mark or without. "Can't fault the belts" is not.
  if (ASKS.test(inputs.tokens[from]?.word ?? '') && opinion(from) === null) return null;
  for (let i = from; i < to; i += 1) {
    const token = inputs.tokens[i];
    if (token === undefined || token.asks) return null;
    if (own.has(i)) continue;
    const phrase = opinion(i);
    if (phrase !== null) {
      if (displeased.includes(phrase)) bad = true;
      else praise = true;
      continue;
    }
    const kinds = token.senses.map((k) => names[k] ?? '');
    // "Okay, oil": goes on to it, and praises nothing (R1).
    if (i === from && OPENS.test(token.word)) continue;
    if (kinds.some((k) => TALK_KINDS.has(k))) return null;
    const condition = inputs.conditions.some((c) => i >= c.from && i < c.to);
    const verdict = kinds.some((k) => k === 'verdict-good');
    // "No slack": a fault denied, and a way to say that it is well.
    const absent = inputs.conditions.some((c) => i >= c.from && i < c.to && c.denials === 1);
    // "Light out" is told by both words; "tank dry" may be either, and of that nothing is plain.
    const both = inputs.conditions.some(
      (c) =>
        i >= c.from && i < c.to && c.to - c.from > 1 && inputs.tokens[c.to - 1]?.word === 'out',
    );
    if (condition && verdict && !absent && !both) return null;
    // "Left wing all good": says of a station that it is all of it (R7).
    const every = token.word === 'all' || token.word === 'whole';
    if (every) everything = true;
    if (condition) conditions = true;
    else if (verdict) good = true;
    else if (kinds.includes('dialogue-everything')) everything = true;
    else if (kinds.includes('verdict-done')) done = true;
    else if (
      !every &&
      !JOINING.test(token.word) &&
      !kinds.some((k) =>
        /^(denial-before|denial-after|side|degree|filler|which-all|aspect)/.test(k),
      )
    )
      return null;
  }
  // "No problem with the fan, I'm not happy with the belt": what is denied beside an opinion turns it.
  if ((bad || praise) && (bad === praise || deniesBeside(inputs, told, from, to))) return null;
  return { good, pleased: praise, bad, done, everything, conditions };
}

function deniesBeside(
  { tokens }: Inputs,
  told: readonly Range[],
  from: number,
  to: number,
): boolean {
  const rest = tokens.slice(from, to).filter((_, i) => !told.some((r) => i >= r.from && i < r.to));
  return hasDenial(rest);
}

/** A denial anywhere: what it reaches is for the scope of the words to say. */
function hasDenial(tokens: Inputs['tokens']): boolean {
  const { names } = senses();
  return tokens.some((t) =>
    t.senses.some(
      (k) =>
        (names[k] ?? '').startsWith('denial-before') || (names[k] ?? '').startsWith('denial-after'),
    ),
  );
}

function isOfCheck(inputs: Inputs, index: number): boolean {
  const member = inputs.candidates[index]?.member ?? null;
  return member !== null && member.check !== null;
}
