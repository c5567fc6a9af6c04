import type { Catalogue } from '#shared/catalogue';
import type { Learned } from '#shared/phrasebook';
import { LONGEST_PHRASE } from '#shared/phrasebook';
import type { Question } from '#shared/question';
import type { Statement } from '#shared/statement';
import { bare } from './wording.ts';

type Taught = Pick<Learned, 'phrase' | 'means'>;

/** What an answer tells of the words that it is about; null where it tells nothing. */
export function learnedFrom(
  answer: Statement,
  question: Question | undefined,
  before: Statement | undefined,
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
  const phrase = phraseOf(asked.own ?? '');
  if (phrase === null) return null;
  const ill = answer.verdict?.good === false || answer.conditions.some((c) => c.present);
  // Nothing is ever learned to be good without a yes: the answer itself has to say so.
  if (ill) return { phrase, means: { is: 'bad' } };
  return answer.verdict?.good === true && answer.about.kind === 'check'
    ? { phrase, means: { is: 'good', check: answer.about.check } }
    : null;
}

/** A correction that puts what was said on another check tells what its words meant. */
export function correctedTo(
  now: Statement,
  before: Statement | undefined,
  catalogue: Catalogue,
): Taught | null {
  if (now.kind !== 'observation' || before?.kind !== 'observation' || now.answers !== null)
    return null;
  if (now.about.kind !== 'check' || before.about.kind !== 'check') return null;
  if (now.about.check === before.about.check) return null;
  const words = before.span.words.split(/\s+/);
  const said = before.conditions[0]?.span ?? before.verdict?.span;
  const fault = said === undefined ? -1 : said.from - before.span.from;
  const name = words.slice(0, fault > 0 ? fault : 0).join(' ');
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

/** The words without articles; null where they are none, or a sentence. */
function phraseOf(text: string): string | null {
  const words = bare(text)
    .toLowerCase()
    .split(/\s+/)
    .filter((w) => w !== '');
  while (/^(the|a|an|this|that|my|our|on|of|at)$/.test(words[0] ?? '')) words.shift();
  return words.length === 0 || words.length > LONGEST_PHRASE ? null : words.join(' ');
}
