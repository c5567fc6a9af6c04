import type { Observation, Statement } from '#shared/statement';
import type { Token } from '../tokens.ts';
import { optionIn } from './options.ts';
import { whole, type Answering, type AnswerReader } from './open.ts';
import { notSo } from './retracted.ts';
import { isWord } from './answerwords.ts';

/**
 * "Something wrong: brake, rudder or tail spring, or none of them?": the same words may be a
 * fault at several checks. The one that is picked has it, and of the others nothing was said;
 * "none of them" takes all of it back (R4: in its own words, shown as taken back).
 */

export const whichFaultAnswer: AnswerReader = (a) => {
  const items = (a.question.items ?? []).flatMap(({ statement, label }) => {
    const said = a.scene.talk.told.findLast((o) => o.id === statement);
    return said === undefined ? [] : [{ label, said }];
  });
  const words = a.words.tokens.map((t) => t.word).filter((w) => !isWord('fault-beside', w));
  const text = words.join(' ');
  if (isWord('fault-none', text)) return items.map(({ said }, i) => gone(a, said, i === 0));
  if (isWord('fault-all', text)) return items.map(({ said }) => fault(a, said));
  const options = items.map(({ label }) => ({ label, candidate: null }));
  const picked = partsOf(a.words.tokens).map((part) => optionIn({ ...a.question, options }, part));
  if (picked.includes(null)) return null;
  // The fault first: what is taken back beside it was never more than a guess.
  return [
    ...items.filter((_, i) => picked.includes(i)).map(({ said }) => fault(a, said)),
    ...items.filter((_, i) => !picked.includes(i)).map(({ said }) => gone(a, said, false)),
  ];
};

/** "The brake and the rudder." */
function partsOf(tokens: readonly Token[]): (readonly Token[])[] {
  const at = tokens.findIndex((t) => t.word === 'and');
  return at < 1 ? [tokens] : [tokens.slice(0, at), ...partsOf(tokens.slice(at + 1))];
}

function fault(a: Answering, said: Observation): Statement {
  const span = whole(a.words);
  const named = said.conditions.some((c) => c.present);
  return {
    ...said,
    id: a.nextId(),
    heard: a.heard.id,
    span,
    why: [`answers "${a.question.text}": something wrong`],
    verdict: named
      ? null
      : { good: false, aspects: said.verdict?.aspects ?? [], actOnly: false, span },
    amends: said.id,
    answers: a.question.id,
    doubtful: null,
    waits: false,
  };
}

/** Taken back; `nothing`: the whole of what was said was about nothing, which is learned once. */
const gone = (a: Answering, said: Observation, nothing: boolean): Statement =>
  notSo(
    a,
    whole(a.words),
    said,
    `answers "${a.question.text}": not this one`,
    nothing ? a.question.id : null,
  );
