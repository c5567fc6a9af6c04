import { aspectsOf } from '../aspects.ts';
import type { Decision } from '../decide.ts';
import { lexicon } from '../lexicon.ts';
import { senses } from '../matches/senses.ts';
import { saysOneOf } from '../phrasing.ts';
import { quantitiesIn } from '../values.ts';
import type { CandidateInput, Inputs } from '../scores/around.ts';
import { isPartly } from './partly.ts';
import { phraseIn, SENTENCE } from './phrases.ts';
import { ownWords } from './said.ts';
import type { Scoring } from './scoring.ts';

/**
 * What no score may overrule, because a sheet that says "good" there can kill: a question is
 * no answer (R2), what was not looked at, or is true of a part only, is not good (R1), and words
 * about one aspect speak for no other (R1).
 */
export function withoutFalseGood(s: Scoring, decisions: readonly Decision[]): Decision[] {
  const { inputs } = s;
  const undone = undoneIn(inputs);
  const partly = isPartly(inputs) || isCondemned(inputs);
  return decisions.flatMap((d): Decision[] => {
    const input = inputs.candidates[d.index];
    if (input === undefined || d.kind !== 'result') return [d];
    // R7: "good bar the trim tab" excepts it, and says nothing else of it.
    if (isExcepted(s, input) && inputs.conditions.length === 0 && !d.value)
      return [{ ...d, kind: 'excepted', good: 'no', finding: 'no' }];
    if (!partly && d.finding !== 'counts' && isPraise(inputs) && isUnsure(inputs, d))
      return [{ ...d, good: 'waits', finding: 'no' }];
    // "Not everything on the left is okay": what is not, nobody named: it is asked (R4, R5).
    if (d.finding === 'counts' && isPartly(inputs) && ownWords(input).length === 0)
      return [{ ...d, good: 'no', finding: 'asked' }];
    // "Maybe the propeller has a nick, watch it": asked, and never dropped (R4).
    if (d.finding === 'counts' && d.good === 'no' && isHedged(inputs))
      return [{ ...d, finding: 'asked' }];
    // "Nothing loose in the cockpit" denies what it names: no fault, and good at most (R3).
    if (d.finding === 'asked' && isDenied(inputs))
      return [{ ...d, finding: 'no', good: d.good === 'no' ? 'waits' : d.good, doubt: true }];
    // "Not everything on the left is okay": reported on, and nothing else said of it: it is asked (R4).
    const bare = d.good === 'no' && d.finding === 'no' && !d.value && !d.done && !d.doubt;
    if (bare && (isPartly(inputs) || isCondemned(inputs))) return [{ ...d, finding: 'asked' }];
    if (d.good === 'no') return [d];
    if (partly) return [{ ...d, good: 'no', finding: d.finding === 'no' ? 'asked' : d.finding }];
    if (d.good === 'counts' && d.finding === 'no' && isCompared(inputs))
      return [{ ...d, good: 'waits' }];
    if (isAskedBack(inputs) && d.good === 'counts') return [{ ...d, good: 'waits', doubt: true }];
    if (d.good === 'counts' && isOutOfTheBlue(s, input)) return [{ ...d, doubt: true }];
    const none = undone.has(d.index) || isWondered(inputs) || isExcepted(s, input);
    if (!isAsked(inputs, input) && !none) return [d];
    const rest = { ...d, good: 'no' as const };
    return d.finding !== 'no' || d.value || d.doubt ? [rest] : [{ ...rest, kind: 'talk' }];
  });
}

/**
 * "No good", "dead", "on its way out": words that condemn, undenied, and no praise beside them. A
 * net that has heard "no cracks" a thousand times may take "no good" for the same: it is asked (R1, R4).
 */
function isCondemned({ conditions, tokens }: Inputs): boolean {
  const condemned = conditions.filter(
    (c) => CONDEMNS.has(c.id) && !c.weak && !c.either && c.sign === null && c.denials === 0,
  );
  const { names } = senses();
  const within = (i: number): boolean => condemned.some((c) => i >= c.from && i < c.to);
  return (
    condemned.length > 0 &&
    !tokens.some((t, i) => !within(i) && t.senses.some((k) => /^verdict-good/.test(names[k] ?? '')))
  );
}
const CONDEMNS: ReadonlySet<string> = new Set(['unserviceable', 'unsafe', 'inoperative']);

/** It begins with a denial, and every fault that it names is denied once. */
function isDenied({ tokens, conditions }: Inputs): boolean {
  const named = conditions.filter((c) => !c.weak && !c.either);
  return (
    named.length > 0 &&
    named.every((c) => c.denials === 1) &&
    /^(nothing|no|none|not)$/.test(tokens[0]?.word ?? '') &&
    !tokens.some((t, i) => t.asks || (i > 0 && TURNS.test(t.word)))
  );
}

/** "I think the fan is good": one short sentence, and its speaker does not stand by it: the good waits (R5). */
export const isHedged = ({ tokens }: Inputs): boolean =>
  tokens.length <= LONGEST_HEDGED &&
  !tokens.some((t, i) => i > 0 && t.gap >= SENTENCE) &&
  hedging().test(tokens.map((t) => t.word).join(' '));
/** In a longer one the doubt is about one thing of several: the scores say of which. */
const LONGEST_HEDGED = 10;
let hedges: RegExp | null = null;
function hedging(): RegExp {
  hedges ??= saysOneOf(lexicon().hedges.hedges);
  return hedges;
}

/**
 * "I think the fan is good", "tyres good": nothing but praise in a short sentence. What the scores are unsure of
 * is whether it counts and of what: it waits (R5), and nobody is asked whether it is a fault.
 */
function isPraise(inputs: Inputs): boolean {
  const { tokens, conditions } = inputs;
  const { names } = senses();
  const says = (pattern: RegExp): boolean =>
    tokens.some((t) => t.senses.some((k) => pattern.test(names[k] ?? '')));
  return (
    tokens.length <= LONGEST_PRAISE &&
    conditions.length === 0 &&
    says(/^verdict-good$/) &&
    !says(/^(denial-(before|after)|figure|elsewhere)/) &&
    (isHedged(inputs) || !says(/^force-(past|hearsay|hypothesis|question)/)) &&
    !tokens.some((t) => t.asks || TURNS.test(t.word))
  );
}
const isUnsure = (inputs: Inputs, d: Decision): boolean =>
  d.finding === 'asked' || isHedged(inputs);
const LONGEST_PRAISE = 8;
const TURNS = /^(but|except|bar|though|although|until|only|too|enough|almost|nearly|hardly)$/;

/**
 * "All good", said on coming to a station: of which check is a guess where none was named, just before or
 * now, or asked about: it waits (R5).
 */
function isOutOfTheBlue({ inputs, scene }: Scoring, input: CandidateInput): boolean {
  const check = input.member?.check ?? null;
  if (check === null || scene.question !== null || ownWords(input).length > 0) return false;
  const lately = scene.talk.turns.slice(-LATELY).flatMap((t) => Object.keys(t.said));
  const spoken = input.marks.some((m) => m.lag > 0 && m.name >= NAMED_BEFORE);
  return !spoken && !lately.includes(check.id) && isGeneral(inputs);
}
/** Utterances back in which a thing was spoken of that a bare "good" may mean. */
const LATELY = 3;
/** Share of its name from which it was named then: "left wing" is not the left wing tip. */
const NAMED_BEFORE = 0.7;

/** Every word that judges stands behind "see if and the like, in one sentence with it. */
function isWondered({ tokens }: Inputs): boolean {
  const at = phraseIn(tokens, lexicon().hedges.wondering)?.from ?? null;
  if (at === null) return false;
  const { names } = senses();
  const judges = tokens.flatMap((t, i) =>
    t.senses.some((k) => /^(verdict|condition)/.test(names[k] ?? '')) ? [i] : [],
  );
  return judges.every((i) => i > at && !tokens.slice(at + 1, i + 1).some((t) => t.gap >= SENTENCE));
}

/** "Better than the right one": one of two compared, and no word of how either is (R1, R5). */
const isCompared = ({ tokens }: Inputs): boolean =>
  phraseIn(tokens, lexicon().hedges.compared) !== null;

/** The last sentence is nothing but "is it?". */
function isAskedBack({ tokens }: Inputs): boolean {
  const from = lastSentence(tokens);
  return from > 0 && isTag(tokens.slice(from));
}

/** "Is it?": asks back about what was said, and names nothing. */
export const isTag = (tokens: readonly { readonly word: string }[]): boolean =>
  lexicon().hedges.tags.includes(tokens.map((t) => t.word).join(' '));

/** Named behind "except" and nowhere before it. */
function isExcepted({ inputs, words }: Scoring, input: CandidateInput): boolean {
  const at = phraseIn(inputs.tokens, lexicon().hedges.except)?.from ?? null;
  // "Two point one bar" is a pressure, and excepts nothing.
  const said = quantitiesIn(words.tokens, 0, words.tokens.length);
  if (at === null || said.some((q) => at >= q.from && at < q.to)) return false;
  const own = ownWords(input);
  return at > 0 && own.length > 0 && own.every((t) => t > at && t <= at + NEXT);
}
/** Words behind "except" that are what is excepted. */
const NEXT = 5;

/** Whether the last sentence is a question, and the thing is named there or nowhere. */
function isAsked({ tokens }: Inputs, input: CandidateInput): boolean {
  const from = lastSentence(tokens);
  if (tokens.at(-1)?.asks !== true && !beginsToAsk(tokens, from)) return false;
  return ownWords(input).every((t) => t >= from) && (from === 0 || ownWords(input).length > 0);
}
/** Whether the order of the words asks, whatever the marks: "does the left door refuse to latch" (R2). */
export function asksByOrder({ tokens }: Inputs, input: CandidateInput): boolean {
  const from = lastSentence(tokens);
  return beginsToAsk(tokens, from) && ownWords(input).every((t) => t >= from);
}

function lastSentence(tokens: Inputs['tokens']): number {
  let from = tokens.length - 1;
  while (from > 0 && (tokens[from]?.gap ?? 0) < SENTENCE) from -= 1;
  return Math.max(0, from);
}

/** A verb before its subject, and no answer behind it in the same breath. */
function beginsToAsk(tokens: Inputs['tokens'], from: number): boolean {
  return (
    ASKS.test(tokens[from]?.word ?? '') &&
    SUBJECT.test(tokens[from + 1]?.word ?? '') &&
    !tokens.slice(from).some((t) => ANSWERS.test(t.word))
  );
}
/** "Have a crack here" and "was the left one" are no questions: those verbs are left out. */
const ASKS = /^(is|are|does|will|would|could|should|can)$/;
const SUBJECT =
  /^(the|that|this|these|those|it|they|there|any|anything|my|your|our|his|her|left|right|both)$/;
const ANSWERS = /^(yes|yep|yeah|yup|aye|no|nope|nah)$/;
/** What was to be done with a thing: denied, it says that nobody has. */
const LOOKED =
  /^(inspected|checked|done|looked|seen|tested|drained|examined|touched|opened|reached|sampled|verified|measured)$/;
/** "Not yet been properly checked": words between the denial and what was not done. */
const BETWEEN = 3;
/** Words between the thing and the denial behind it, and between what was not done and the thing. */
const BEHIND = 6;
const AHEAD = 4;

/** Candidates of which the words say that they were not looked at. */
function undoneIn(inputs: Inputs): ReadonlySet<number> {
  const words = inputs.tokens.map((t) => t.word);
  const out = new Set<number>();
  words.forEach((word, i) => {
    if (word !== 'not') return;
    const verb = words.findIndex((w, k) => k > i && k <= i + BETWEEN && LOOKED.test(w));
    if (verb < 0) return;
    /** All that are named by the nearest word: what they share was not looked at. */
    const nearest = (near: (token: number) => number): number[] => {
      const far = inputs.candidates.map((c) => Math.min(...ownWords(c).map(near)));
      const least = Math.min(...far);
      return far.flatMap((x, index) => (x === least && x < Infinity ? [index] : []));
    };
    const ahead = nearest((t) => (t > verb && t - verb <= AHEAD ? t - verb : Infinity));
    const behind = nearest((t) => (t < i && i - t <= BEHIND ? i - t : Infinity));
    for (const index of ahead.length > 0 ? ahead : behind) out.add(index);
  });
  return out;
}

/** Whether the words say that it is well, and not in what. */
export function isGeneral(inputs: Inputs): boolean {
  const { names } = senses();
  return inputs.tokens.some((t, i) => {
    // "Right tyre" has a side and no praise; "that's right" has.
    const next = inputs.tokens[i + 1];
    if (t.side && next !== undefined && next.gap === 0) return false;
    const kinds = t.senses.map((k) => names[k] ?? '');
    const good = kinds.some((k) => k === 'verdict-good' || k === 'verdict-good-weak');
    return good && !kinds.some((k) => k.startsWith('verdict-of-'));
  });
}

/**
 * Which aspects the words may speak for: null where they say it is well in general, or name no
 * aspect at all. "The left door shuts and locks" says nothing of its condition.
 */
export function spokenOf(inputs: Inputs, input: CandidateInput): ReadonlySet<number> | null {
  const check = input.member?.check ?? null;
  const named = input.aspectAt.flatMap((at, i) => (at.length > 0 ? [i] : []));
  if (isGeneral(inputs)) {
    const plain = check === null ? null : aspectsOf(check).general;
    const at = check?.aspects.findIndex((a) => a.id === plain) ?? -1;
    return at < 0 ? null : new Set([...named, at]);
  }
  return named.length === 0 ? null : new Set(named);
}
