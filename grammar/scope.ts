import { lexicon, type ForceCue } from './lexicon.ts';
import { phraseWords } from './tokens.ts';
import { Trie, type Hit } from './trie.ts';

/**
 * Scope of denial, time and hearsay over plain words, without any vocabulary of
 * the trade: a cue, how far it reaches, and what ends it (after NegEx, Chapman
 * et al. 2001). The walk's own clauses and the bench's sentences use the same.
 */
type Cue = 'before' | 'after' | 'pseudo' | 'end';

/** Words a denial reaches over. Longer reach denies too much and loses findings. */
export const REACH_BEFORE = 12;
/** A denial behind its word ("cracks: none") must follow closely. */
export const REACH_AFTER = 5;

let cues: Trie<Cue> | null = null;
let proseCues: Trie<Cue> | null = null;
let times: Trie<ForceCue> | null = null;

function cueTrie(prose: boolean): Trie<Cue> {
  if (prose) {
    if (proseCues !== null) return proseCues;
  } else if (cues !== null) return cues;
  const made = new Trie<Cue>();
  const { negation } = lexicon();
  for (const kind of ['end', 'before', 'after', 'pseudo'] as const) {
    for (const phrase of negation[kind]) made.add(phraseWords(phrase), kind);
  }
  if (prose) for (const phrase of negation.prose) made.add(phraseWords(phrase), 'after');
  if (prose) proseCues = made;
  else cues = made;
  return made;
}

function timeTrie(): Trie<ForceCue> {
  if (times !== null) return times;
  times = new Trie();
  const { force } = lexicon();
  for (const kind of ['past', 'hypothesis', 'hearsay', 'present'] as const) {
    for (const phrase of force[kind]) times.add(phraseWords(phrase), kind);
  }
  return times;
}

export interface Denial {
  readonly negated: boolean;
  /** How many separate denials reach the words; two are asked about. */
  readonly count: number;
  /** The cue's words, for the explanation. */
  readonly cue: string | null;
  readonly at: { from: number; to: number } | null;
}

/** Cues in a row of words, longest first at each place, none inside another. */
function cuesIn(
  words: readonly string[],
  skip: { from: number; to: number },
  prose: boolean,
): Hit<Cue>[] {
  const trie = cueTrie(prose);
  const out: Hit<Cue>[] = [];
  for (let i = 0; i < words.length;) {
    const hits = trie.at(words, i).filter((h) => h.to <= skip.from || h.from >= skip.to);
    const length = Math.max(0, ...hits.map((h) => h.to - h.from));
    const best = hits.filter((h) => h.to - h.from === length);
    if (best.length === 0) {
      i += 1;
      continue;
    }
    out.push(...best);
    i += length;
  }
  return out;
}

function isCopula(words: readonly string[], hit: { from: number; to: number }): boolean {
  return /^(is|are|was|were|has|have|had)$/.test(words.slice(hit.from, hit.to).join(' '));
}
/** "None of the mount bolts is loose", "nothing is loose": the denial is the subject, and its verb ends nothing. */
function deniesSubject(cue: string, distance: number): boolean {
  if (/^(none of|neither|neither of|not one of|not a single|not a single one of)$/.test(cue))
    return distance <= SUBJECT;
  return cue === 'nothing' && distance === 0;
}
/** Words of a subject that is denied, as in "neither of the lower pitch links". */
const SUBJECT = 6;

/**
 * Whether the words at `span` are denied by cues in `words`.
 *
 * @param words lower-case words as `phraseWords` gives them, one clause or sentence
 * @param span positions [from, to) of the phrase in question
 * @param breaks positions that begin a new sentence: a denial never crosses one
 * @param pauses positions behind a comma, in running prose about other things than a walk
 */
export function denialOf(
  words: readonly string[],
  span: { from: number; to: number },
  breaks: readonly number[] = [],
  pauses: ReadonlySet<number> | null = null,
): Denial {
  let from = 0;
  let to = words.length;
  for (const b of breaks) {
    if (b <= span.from) from = Math.max(from, b);
    else if (b >= span.to) to = Math.min(to, b);
  }
  const local = words.slice(from, to);
  const here = { from: span.from - from, to: span.to - from };
  const found = cuesIn(local, here, pauses !== null);
  let count = 0;
  let cue: Hit<Cue> | null = null;
  for (const hit of found) {
    if (hit.item === 'before' && hit.to <= here.from) {
      if (here.from - hit.to > REACH_BEFORE) continue;
      const text = local.slice(hit.from, hit.to).join(' ');
      // "Zero leaks"; but "thirty zero psi, secure" denies nothing.
      if (text === 'zero' && hit.to !== here.from) continue;
      const ended = found.some(
        (e) =>
          e.item === 'end' &&
          e.from >= hit.to &&
          e.to <= here.from &&
          !(isCopula(local, e) && deniesSubject(text, e.from - hit.to)),
      );
      if (ended) continue;
    } else if (hit.item === 'after' && hit.from >= here.to) {
      if (hit.from - here.to > REACH_AFTER) continue;
      // "Pain, no fever": a bare "no" denies what is behind it unless nothing is.
      const bare = local.slice(hit.from, hit.to).join(' ');
      if (
        /^(no|negative|none)$/.test(bare) &&
        hit.to < local.length &&
        pauses?.has(hit.to + from) !== true
      )
        continue;
      const ended = found.some(
        (e) => e.item === 'end' && e.from >= here.to && e.to <= hit.from && !isCopula(local, e),
      );
      if (ended) continue;
    } else continue;
    count = Math.max(count, 1);
    // "not not secure"; but "no no cracks" is a stammer and "no nicks, no cracks" is a list.
    const twice = cue !== null && hit.from === cue.to && hit.item === 'before';
    if (twice && !/^(no|negative)$/.test(local.slice(hit.from, hit.to).join(' '))) count += 1;
    cue = hit;
  }
  return {
    negated: count > 0,
    count,
    cue: cue === null ? null : local.slice(cue.from, cue.to).join(' '),
    at: cue === null ? null : { from: cue.from + from, to: cue.to + from },
  };
}

/** Whether the words at `span` are denied inside their own sentence. */
export function deniedAt(
  words: readonly string[],
  span: { from: number; to: number },
  tokens: readonly { gap: number }[],
): boolean {
  const breaks = tokens.flatMap((t, i) => (t.gap === 2 ? [i] : []));
  return denialOf(words, span, breaks).negated;
}

export interface Scope {
  negated: boolean;
  time: 'recent' | 'historical' | 'hypothetical';
  who: 'self' | 'other';
}

/**
 * Denial, time and speaker over a phrase, needing no vocabulary.
 *
 * @param sentence the words of the sentence, as written
 * @param span positions [from, to) of the phrase in `sentence`, counted in written words
 */
export function scopeOf(sentence: readonly string[], span: { from: number; to: number }): Scope {
  const words: string[] = [];
  const breaks: number[] = [];
  const pauses = new Set<number>();
  let from = 0;
  let to = 0;
  sentence.forEach((raw, i) => {
    if (i === span.from) from = words.length;
    words.push(...phraseWords(raw));
    if (i === span.to - 1) to = words.length;
    if (/[.;!?:]$/.test(raw)) breaks.push(words.length);
    else if (raw.endsWith(',')) pauses.add(words.length);
  });
  const denial = denialOf(words, { from, to }, breaks, pauses);
  const trie = timeTrie();
  let time: Scope['time'] = 'recent';
  let who: Scope['who'] = 'self';
  for (let i = 0; i < words.length; i += 1) {
    const hit = trie.longest(words, i);
    if (hit === null || (hit.from < to && hit.to > from)) continue;
    if (hit.item === 'past') time = 'historical';
    else if (hit.item === 'hypothesis' && hit.to <= from) time = 'hypothetical';
    else if (hit.item === 'hearsay' && hit.to <= from) who = 'other';
  }
  return { negated: denial.negated, time, who };
}
