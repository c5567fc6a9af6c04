import { aspectsOf } from '../aspects.ts';
import type { Decision } from '../decide.ts';
import { lexicon } from '../lexicon.ts';
import { senses } from '../matches/senses.ts';
import { saysOneOf } from '../phrasing.ts';
import type { CandidateInput, Inputs } from '../scores/around.ts';
import { isPartly } from './partly.ts';
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
    if (input === undefined || d.kind !== 'result' || d.good === 'no') return [d];
    if (partly) return [{ ...d, good: 'no', finding: d.finding === 'no' ? 'asked' : d.finding }];
    if (!isAsked(inputs, input) && !undone.has(d.index)) return [d];
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
/** The gap before a word that begins a sentence (tokens.ts). */
const SENTENCE = 2;

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
  return inputs.tokens.some((t) => {
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
