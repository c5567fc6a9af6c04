import type { Scene } from '#shared/scene';
import type { About, Statement } from '#shared/statement';
import type { Clause } from './clauses.ts';
import type { ForceRead } from './forces.ts';
import { lexicon } from './lexicon.ts';
import { isCondition } from './predicates.ts';
import { saidOf } from './said.ts';
import type { Speaker } from './speaker.ts';
import { phraseWords } from './tokens.ts';

let parts: Set<string> | null = null;
function partWords(): Set<string> {
  parts ??= new Set(lexicon().places.parts.flatMap((p) => phraseWords(p)));
  return parts;
}

/** A part said before a predicate ("the lower bolt is loose"): its words, or nothing. */
export function partBefore(speaker: Speaker, clause: Clause, at: number): string {
  let to = at;
  while (
    to > clause.from &&
    /^(is|are|has|have|looks?|seems?|was|were|a|bit|very|slightly|badly)$/.test(
      speaker.tokens[to - 1]?.word ?? '',
    )
  )
    to -= 1;
  let from = to;
  while (
    from > clause.from &&
    !/^(but|and|the|a|an|there|is|so|with|because|that|it|one|of|i|we|see|can|no|not|got|have|has|found|on|in)$/.test(
      speaker.tokens[from - 1]?.word ?? '',
    )
  )
    from -= 1;
  const words = speaker.words(from, to);
  return words.length > 0 && words.some((w) => partWords().has(w))
    ? speaker.span(from, to).words
    : '';
}

export function unplaced(
  speaker: Speaker,
  clause: Clause,
  scene: Scene,
  read: ForceRead,
  squawk: boolean,
  part: string,
): Statement {
  const said = saidOf(clause, null, speaker.tokens, speaker.raw, true);
  if (said.conditions.every((c) => !c.present))
    return speaker.chatter(
      clause,
      read.force !== 'result',
      'sounds like a result, but of what was not understood (R5)',
    );
  const about: About = {
    kind: 'unplaced',
    part: part === '' ? speaker.span(clause.from, clause.to).words : part,
    span: speaker.span(clause.from, clause.to),
  };
  // "What do you call the bent bracket here?" asks its name, and says that it is bent.
  const told = clause.preds.some(
    (p) =>
      isCondition(p) &&
      /^(the|this|that|these|those)$/.test(speaker.tokens[p.from - 1]?.word ?? '') &&
      p.to < clause.to,
  );
  if (read.force === 'question' && told)
    return {
      ...speaker.observation(clause, read, about, [], said, null, squawk, scene, [
        'asked about as something that is there: kept, to be placed (R4)',
      ]),
      force: 'result',
      doubtful: 'said inside a question',
    };
  return speaker.observation(clause, read, about, [], said, null, squawk, scene, [
    'a finding whose check is not clear: kept, to be placed (R4)',
  ]);
}
