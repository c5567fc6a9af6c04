import type { Clause } from './clauses.ts';
import { lexicon } from './lexicon.ts';
import type { SensePiece } from './pieces.ts';
import { stem } from './names.ts';
import { phraseWords, type Token } from './tokens.ts';

let words: { elsewhere: ReadonlySet<string>; body: ReadonlySet<string> } | null = null;
function lists(): NonNullable<typeof words> {
  const { idioms } = lexicon();
  words ??= {
    elsewhere: new Set(idioms.elsewhere.flatMap(phraseWords)),
    body: new Set(idioms.body.flatMap(phraseWords)),
  };
  return words;
}

/** Not "his" and "her": many say them of the aircraft. */
const MINE = /^(my|your)$/;
const LITTLE =
  /^(the|a|an|and|but|so|well|that|this|is|are|was|has|have|had|been|got|all|really|very|quite|pretty|a|bit|of|over|there|absolutely|completely|totally|just|today|still|both|old|whole|gone|going)$/;
/** "I'm a quart low", "I'm leaking": said by people of their aircraft. */
const OF_AIRCRAFT: ReadonlySet<string> = new Set(['level', 'leaks', 'quantity', 'contamination']);

/**
 * Whether a clause that names nothing of the aircraft speaks of the weather, of a car or
 * of the speaker ("my back is knackered", "the sky's gone black"): talk, no finding. Only
 * where every word before the predicate is such a word: one word more may be a name.
 */
export function isElsewhere(clause: Clause, tokens: readonly Token[], first: SensePiece): boolean {
  const before = tokens.slice(clause.from, first.from).map((t) => t.word);
  const { elsewhere, body } = lists();
  const plain = before.filter((w) => !LITTLE.test(w));
  const mine = plain.findIndex((w) => MINE.test(w));
  const things = plain.filter((w) => !MINE.test(w));
  const isThing = (w: string): boolean =>
    elsewhere.has(w) || elsewhere.has(stem(w)) || (mine >= 0 && body.has(w));
  if (things.length > 0 && things.every(isThing)) return true;
  const [who = '', is = ''] = before.filter((w) => !/^(and|but|so|well|because)$/.test(w));
  if (!/^(i|you|he)$/.test(who) || !/^(am|are|is|feel|feels|was|got)$/.test(is)) return false;
  return first.senses.every(
    (s) =>
      s.kind === 'condition' &&
      lexicon()
        .conditions.find((c) => c.id === s.id)
        ?.aspects.some((a) => OF_AIRCRAFT.has(a)) !== true,
  );
}
