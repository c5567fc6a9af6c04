import type { Force } from '#shared/statement';
import { WEAK_START, type Clause } from './clauses.ts';
import type { CueHit } from './cues.ts';
import { echoOf } from './echo.ts';
import { joint } from './joints.ts';
import { isCondition } from './predicates.ts';
import type { Token } from './tokens.ts';
import { quantitiesIn } from './values.ts';

export interface ForceRead {
  readonly force: Force;
  /** Why it must be asked about, or null. */
  readonly doubt: string | null;
  readonly why: string;
}

/** Words behind a clause in the past tense in which "now" is looked for. */
const LOOK_AHEAD = 20;

const say = (tokens: readonly Token[], cue: CueHit): string =>
  tokens
    .slice(cue.from, cue.to)
    .map((t) => t.word)
    .join(' ');

/**
 * The kind of saying of one clause (R2). Only "result" may count, so every cue
 * that speaks against a result wins over its absence.
 *
 * @param before what the clause before was, where this one hangs on it
 */
export function forceOf(clause: Clause, tokens: readonly Token[], before: Force | null): ForceRead {
  const { cues } = clause;
  const first = firstWord(clause, tokens);
  const has = (item: CueHit['item']): CueHit | undefined => cues.find((c) => c.item === item);
  const present = cues.find((c) => c.item === 'present' && !WEAK_START.test(say(tokens, c)));
  const fresh = cues.some((c) => c.item === 'present');
  /** Says that it is about now, whatever was before: stronger than "last week". */
  const today = cues.find(
    (c) =>
      c.item === 'present' &&
      /\b(today|now|this time|this morning|currently|moment|still)\b/.test(say(tokens, c)),
  );
  const doubtCue = has('doubt');
  const doubt = doubtCue === undefined ? null : `said with doubt: "${say(tokens, doubtCue)}"`;
  const asked = tokens[clause.to - 1]?.asks === true;
  const question = cues.find((c) => c.item === 'question' && c.from <= first);
  // "…, which rattles": no question, but said of what was just named.
  const relative =
    question !== undefined &&
    tokens[question.from]?.gap === 1 &&
    !asked &&
    /^(which|who)$/.test(say(tokens, question));
  if (question !== undefined && !relative && startsFresh(clause, tokens)) {
    return {
      force: 'question',
      doubt: null,
      why: `begins with "${say(tokens, question)}": a question, no result (R2)`,
    };
  }
  if (tokens[first]?.word === 'any' && clause.preds.length > 0) {
    return {
      force: 'teaching',
      doubt: null,
      why: 'begins with "any": what would be, no result (R2)',
    };
  }
  // "A chafed fuel line is a no-go": of any such thing, not of this one.
  const item = clause.items[0];
  if (
    /^(a|an)$/.test(tokens[first]?.word ?? '') &&
    item !== undefined &&
    clause.preds.every((p) => p.from >= item.from || p.to === item.from) &&
    /^(is|means|mean|becomes|would|can|will|with|that|which|stays|makes|should|could)$/.test(
      tokens[item.to]?.word ?? '',
    )
  ) {
    return {
      force: 'teaching',
      doubt: null,
      why: 'of any such thing, not of this one: no result (R2)',
    };
  }
  // "A boom that droops would tell you": of any such thing, not of this one.
  if (
    /^(a|an|any)$/.test(tokens[first]?.word ?? '') &&
    clause.preds.length > 0 &&
    /^(would|means|mean|can|could|will|tells|shows)$/.test(tokens[clause.to]?.word ?? '')
  ) {
    return {
      force: 'teaching',
      doubt: null,
      why: 'of any such thing, not of this one: no result (R2)',
    };
  }
  // "You'd expect a little oil here, that's normal": a remark on what was taught.
  if (
    (before === 'teaching' || before === 'hypothesis') &&
    clause.items.length === 0 &&
    /^(and |but )?(that|this|it) (is|would be) (quite |perfectly |all )?(normal|fine|ok|okay|good|right|alright|expected|allowed|acceptable|bad)$/.test(
      tokens
        .slice(clause.from, clause.to)
        .map((t) => t.word)
        .join(' '),
    )
  )
    return { force: before, doubt: null, why: `a remark on ${before} (R2)` };
  if (
    clause.items.length === 0 &&
    before !== null &&
    before !== 'result' &&
    cues.every((c) => c.item === 'present') &&
    echoOf(tokens.slice(clause.from, clause.to).map((t) => t.word)) !== null
  )
    return { force: 'result', doubt: null, why: 'says how it is, after talk: a result' };
  const lastPred = clause.preds[clause.preds.length - 1];
  const end = lastPred?.to ?? clause.to;
  for (const kind of ['hypothesis', 'teaching', 'intention', 'hearsay'] as const) {
    const cue = cues.find((c) => c.item === kind && (c.from < end || kind === 'hearsay'));
    if (cue === undefined) continue;
    // "… and there are none": a fresh result behind the cue is a clause of its own by then.
    return { force: kind, doubt: null, why: `"${say(tokens, cue)}": ${kind}, no result (R2)` };
  }
  // A time behind a comma is an aside ("clear, nobody has been in since yesterday").
  const past = cues.find((c) => {
    if (c.item !== 'past') return false;
    // "The same nick as last week" is about now.
    if (/^(as|than|since)$/.test(tokens[c.from - 1]?.word ?? '')) return false;
    if (lastPred === undefined || c.from < lastPred.to) return true;
    for (let i = lastPred.to; i <= c.from; i += 1) if ((tokens[i]?.gap ?? 0) > 0) return false;
    return true;
  });
  const once =
    tokens[clause.to - 1]?.word === 'once' &&
    tokens[clause.to - 2]?.word !== 'for' &&
    clause.preds.length > 0;
  if (once)
    return { force: 'past', doubt: null, why: 'ends in "once": said of the past, no result (R2)' };
  if (past !== undefined && today === undefined) {
    return {
      force: 'past',
      doubt: null,
      why: `"${say(tokens, past)}": said of the past, no result (R2)`,
    };
  }
  // "He checked the oil this morning, five quarts": when he did, not how it is.
  const told =
    before === 'hearsay' &&
    clause.items.length === 0 &&
    present !== undefined &&
    say(tokens, present) === 'this morning';
  if (told) return { force: before, doubt: null, why: `goes on from ${before} before it (R2)` };
  if (
    before !== null &&
    before !== 'result' &&
    clause.follows &&
    present === undefined &&
    has('topic') === undefined
  ) {
    const own = clause.items.length > 0;
    // "It weeps a little, normally, and it's weeping": taught, or found.
    const found = /^and (it|they|there|this|these) (is|are|has|have)\b/.test(
      tokens
        .slice(clause.from, clause.from + 3)
        .map((t) => t.word)
        .join(' '),
    );
    if (before === 'teaching' && !own && fresh && found && clause.preds.some(isCondition))
      return { force: 'result', doubt: 'taught, or found', why: 'a result, but said in teaching' };
    const carries = before === 'teaching' || before === 'hypothesis' || (!own && !fresh);
    if (carries)
      return { force: before, doubt: null, why: `goes on from ${before} before it (R2)` };
  }
  const tense = has('tense');
  const later =
    tense !== undefined &&
    tokens.slice(clause.to, clause.to + LOOK_AHEAD).some((t) => /^(now|today)$/.test(t.word));
  const said = clause.preds.length > 0 || quantitiesIn(tokens, clause.from, clause.to).length > 0;
  if (later && clause.preds.length > 0 && today === undefined) {
    return {
      force: 'past',
      doubt: null,
      why: 'told as past, and how it is now comes after: no result (R2)',
    };
  }
  const now =
    present !== undefined && !/\b(this morning|today|this time)\b/.test(say(tokens, present));
  if (tense !== undefined && !now && tense.from < end && said) {
    return {
      force: 'result',
      doubt: `said in the past tense: "${say(tokens, tense)}"`,
      why: 'a result, but told as past',
    };
  }
  if (
    asked &&
    /^(what|why|how|where|when|who|which|can|do|does|did)$/.test(opening(clause, tokens))
  ) {
    return { force: 'question', doubt: null, why: 'asked, in the words of a question (R2)' };
  }
  if (asked) return { force: 'result', doubt: 'said as a question', why: 'a result, but asked' };
  const topic = has('topic');
  // "That's the sprag clutch in there": shows it, and says nothing of how it is.
  const shown = clause.preds.every(
    (p) => p.to === clause.to && /^(there|in|here)$/.test(tokens[p.from]?.word ?? ''),
  );
  if (topic !== undefined && shown) {
    return {
      force: 'intention',
      doubt: null,
      why: `"${say(tokens, topic)}": turning to it, no result (R2)`,
    };
  }
  return { force: 'result', doubt, why: 'said outright: a result' };
}

function firstWord(clause: Clause, tokens: readonly Token[]): number {
  let i = clause.from;
  while (i < clause.to && joint('start').has(tokens[i]?.word ?? '')) i += 1;
  return i;
}

function startsFresh(clause: Clause, tokens: readonly Token[]): boolean {
  return clause.from === 0 || (tokens[clause.from]?.gap ?? 0) > 0 || !clause.follows;
}

/** The first word of the sentence that the clause stands in, openers left out. */
function opening(clause: Clause, tokens: readonly Token[]): string {
  let from = clause.from;
  while (from > 0 && tokens[from]?.gap !== 2) from -= 1;
  while (from < clause.to && joint('start').has(tokens[from]?.word ?? '')) from += 1;
  return tokens[from]?.word ?? '';
}
