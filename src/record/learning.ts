import type { Catalogue } from '#shared/catalogue';
import type { Learned } from '#shared/phrasebook';
import { proposedSeverity } from '#shared/sign';
import { LONGEST_PHRASE, LONGEST_SENTENCE, sizeOf } from '#shared/phrasebook';
import type { Question } from '#shared/question';
import type { Severity } from '#shared/severity';
import type { Observation, Span, Statement } from '#shared/statement';
import { bare, checkOf } from './wording.ts';

export type Taught = Pick<Learned, 'phrase' | 'means'>;

/** What an answer tells of the words that it is about; null where it tells nothing. */
export function learnedFrom(
  answer: Statement,
  question: Question | undefined,
  before: Statement | undefined,
  /** The whole utterance that was asked about. */
  utterance = '',
): Taught | null {
  if (answer.kind !== 'observation' || answer.force !== 'result' || answer.doubtful !== null)
    return null;
  const asked = before?.kind === 'two-candidates' ? before.said : before;
  if (question === undefined || asked?.kind !== 'observation') return null;
  if (question.kind === 'place' || question.kind === 'which-check') {
    if (asked.about.kind !== 'unplaced' || answer.about.kind !== 'check') return null;
    return placed(asked.about.part, answer.about.check);
  }
  if (question.kind !== 'polarity' && question.kind !== 'recap') return null;
  const ill = answer.verdict?.good === false || answer.conditions.some((c) => c.present);
  const phrase = phraseOf(asked.own ?? '');
  if (phrase === null) return meant(answer, asked, sentenceOf(utterance), ill);
  // Nothing is ever learned to be good without a yes: the answer itself has to say so.
  if (ill) return { phrase, means: faultIn(answer, asked) };
  return answer.verdict?.good === true && answer.about.kind === 'check'
    ? { phrase, means: { is: 'good', check: answer.about.check } }
    : null;
}

/** The fault that the answer calls by its name, where what was asked about did not; any fault otherwise. */
function faultIn(answer: Observation, asked: Observation): Learned['means'] {
  const known = new Set(asked.conditions.flatMap((c) => (c.present ? [c.condition] : [])));
  const named = answer.conditions.filter((c) => c.present && !known.has(c.condition));
  const [only] = named;
  return named.length === 1 && only !== undefined
    ? { is: 'condition', condition: only.condition }
    : { is: 'bad' };
}

/** What a whole sentence meant, where none of its words can be learned by themselves. */
function meant(
  { about, verdict }: Observation,
  asked: Observation,
  sentence: string | null,
  ill: boolean,
): Taught | null {
  // A plural is asked about each time (R5), and so is a fault that a word names.
  if (sentence === null || asked.doubtful === null) return null;
  if (about.kind !== 'check' || asked.about.kind !== 'check') return null;
  if (about.check !== asked.about.check || (!ill && verdict?.good !== true)) return null;
  if (!ill && asked.conditions.some((c) => c.present)) return null;
  return { phrase: sentence, means: { is: 'meant', check: about.check, good: !ill } };
}

/**
 * How bad a fault was called: the next time the same condition at the same check is proposed
 * so. Of several conditions none is worse than all of them. Never where the catalogue grounds it.
 */
export function ratedAs(
  severity: Severity,
  fault: Statement | undefined,
  utterance: string,
  catalogue: Catalogue,
): readonly Taught[] {
  if (fault?.kind !== 'observation' || fault.force !== 'result' || fault.values.length > 0)
    return [];
  const check = fault.about.kind === 'check' ? checkOf(catalogue, fault.about.check) : null;
  if (check === null || proposedSeverity(catalogue, check, fault) === 'ground') return [];
  // Proposed so already, by the same speaker.
  if (fault.usual?.severity === severity) return [];
  const means = { is: 'severity' as const, check: check.id, severity };
  const present = fault.conditions.filter((c) => c.present);
  const sentence = sentenceOf(utterance);
  if (present.length === 0)
    return sentence === null || fault.verdict?.good !== false
      ? []
      : [
          {
            phrase: sentence,
            means: { ...means, condition: '', degree: null, count: null, size: null },
          },
        ];
  return present.map(({ span, condition, degree, extent, size, place }) => ({
    phrase: bare(span.words).toLowerCase(),
    means: {
      ...means,
      condition,
      degree,
      count: extent?.count ?? null,
      size: sizeOf({ size, place }),
    },
  }));
}

/**
 * A whole sentence that was answered with "nothing". Never one that holds what the catalogue
 * grounds: that is asked about each time.
 */
export function harmless(
  said: Observation,
  utterance: string,
  catalogue: Catalogue,
): Taught | null {
  const check = said.about.kind === 'check' ? checkOf(catalogue, said.about.check) : null;
  if (proposedSeverity(catalogue, check, said) === 'ground') return null;
  const sentence = sentenceOf(utterance);
  return sentence === null ? null : { phrase: sentence, means: { is: 'nothing' } };
}

/** A correction that puts what was said on another check tells what its words meant. */
export function correctedTo(
  now: Statement,
  before: Statement | undefined,
  catalogue: Catalogue,
): Taught | null {
  if (now.kind !== 'observation' || before?.kind !== 'observation' || now.answers !== null)
    return null;
  if (now.about.kind !== 'check') return null;
  // What fitted nothing on the list and was put on a check by a touch is called so from now on.
  if (before.about.kind === 'unplaced')
    return isCalledSo(before.about.part.toLowerCase(), catalogue)
      ? null
      : placed(before.about.part, now.about.check);
  if (before.about.kind !== 'check' || now.about.check === before.about.check) return null;
  const words = before.span.words.split(/\s+/);
  const said = before.conditions[0]?.span ?? before.verdict?.span;
  const fault = said === undefined ? -1 : said.from - before.span.from;
  if (fault <= 0)
    return before.about.span === null
      ? null
      : calledElse(before.about.span, before.span, now.about.check, catalogue);
  const name = words.slice(0, fault).join(' ');
  const phrase = phraseOf(
    name.replace(/\s+(is|are|was|were|has|have|looks?|feels?|got|a|an)\b.*$/i, ''),
  );
  return phrase === null || isCalledSo(phrase, catalogue)
    ? null
    : { phrase, means: { is: 'check', check: now.about.check } };
}

/** Every word of it stands in names of the catalogue: then it was a slip, and no name of the speaker's own. */
function isCalledSo(phrase: string, { stations }: Catalogue): boolean {
  const names = stations.flatMap((s) => s.checks).flatMap((c) => [c.name, ...c.say]);
  const known = new Set(names.flatMap((n) => n.toLowerCase().split(/[^a-z0-9]+/)));
  return phrase
    .split(' ')
    .every((w) => known.has(w) || known.has(`${w}s`) || known.has(w.replace(/s$/, '')));
}

/** A finding that was placed by hand tells what its part is called. */
export function placed(part: string, check: string): Taught | null {
  const phrase = phraseOf(part);
  return phrase === null ? null : { phrase, means: { is: 'check', check } };
}

/**
 * A name that was taken for another check's, with the words before it that make it the
 * speaker's own: "pogo stick" where only "stick" is on the list. Null where every word is:
 * then it was a slip.
 */
export function calledElse(
  name: Span,
  whole: Span,
  check: string,
  catalogue: Catalogue,
): Taught | null {
  const words = bare(whole.words).toLowerCase().split(/\s+/);
  let from = name.from - whole.from;
  while (from > 0 && !JOINS.test(words[from - 1] ?? '')) from -= 1;
  const phrase = phraseOf(words.slice(from, name.to - whole.from).join(' '));
  return phrase === null || isCalledSo(phrase, catalogue)
    ? null
    : { phrase, means: { is: 'check', check } };
}
/** Words that no name goes back past. */
const JOINS = /^(the|a|an|this|that|my|our|your|and|but|on|of|at|in|is|are|has|got|with)$/;

/** A whole sentence, to be known again; null where it is too long for that. */
function sentenceOf(utterance: string): string | null {
  const words = bare(utterance).toLowerCase().split(/\s+/);
  return words.length > LONGEST_SENTENCE || words[0] === '' ? null : words.join(' ');
}

/** The words without articles; null where they are none, or a sentence. */
function phraseOf(text: string): string | null {
  const words = bare(text)
    .toLowerCase()
    .split(/\s+/)
    .filter((w) => w !== '');
  while (/^(the|a|an|this|that|my|our|on|of|at)$/.test(words[0] ?? '')) words.shift();
  if (words.every((w) => CALLS_NOTHING.test(w))) return null;
  return words.length > LONGEST_PHRASE ? null : words.join(' ');
}
/**
 * Words that are said of everything: learned as a name, "there's" would put whatever is said
 * next on that check. Without the guard a correction of "there's a crack" taught just that.
 */
const CALLS_NOTHING =
  /^(there('?s)?|here('?s)?|it('?s)?|that('?s)?|this|these|those|he('?s)?|she('?s)?|they('?re)?|we('?ve)?|i('?ve|'?m)?|you|her|his|him|my|mine|your|yours|our|ours|one|ones|two|three|four|five|six|some|something|somebody|someone|thing|bit|other|another|same|both|all|every|left|right|upper|lower|front|rear|back|top|bottom|first|second|third|last|next|the|a|an|and|but|or|so|no|not|yes|yeah|well|oh|ah|um|uh|ok|okay|now|still|just|only|also|too|then|again|is|are|was|were|be|been|has|have|had|got|get|goes|looks?|feels?|says?|what|where|which|who|how|for|from|in|on|of|at|to|with)$/;
