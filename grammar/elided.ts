import { SHORT, type Edits, type Sentence } from './asked.ts';
import { joint } from './joints.ts';
import { SIDE_WORDS, stem } from './names.ts';
import type { SensePiece } from './pieces.ts';
import { speaking } from './predicates.ts';
import type { Token } from './tokens.ts';

const TALK = /^(must|should|would|could|may|might|want|if|when|never|was|were)$/;

/** "Left locked, right not.": the right one is not locked. */
export function complete(
  { from, to, pieces }: Sentence,
  tokens: readonly Token[],
  edits: Edits,
): void {
  const word = (i: number): string => tokens[i]?.word ?? '';
  // "They must not be loose, and the left one isn't.": after talk it is an echo, and read as one.
  for (let i = from; i < to; i += 1) if (TALK.test(word(i))) return;
  for (let i = from + 2; i < to; i += 1) {
    if (word(i) !== 'not' || (i + 1 < to && (tokens[i + 1]?.gap ?? 0) === 0)) continue;
    let at = i - 1;
    while (/^(is|are|has|have|does|do|one|ones)$/.test(word(at))) at -= 1;
    const last = at;
    const isPlace = (k: number): boolean =>
      joint('place').has(word(k)) || SIDE_WORDS.has(stem(word(k)));
    while (at >= from && (isPlace(at) || (at < last && /^(the|number)$/.test(word(at))))) at -= 1;
    if (word(at) === 'the') at -= 1;
    const apart = (tokens[at + 1]?.gap ?? 0) > 0 || /^(and|but)$/.test(word(at));
    const said = pieces
      .filter((p): p is SensePiece => p.kind === 'sense' && speaking(p) && p.to <= at + 1)
      .at(-1);
    if (at === last || !apart || said === undefined || at + 1 - said.to > SHORT) continue;
    const token = tokens[i];
    if (token === undefined) continue;
    edits.added.set(
      i,
      tokens.slice(said.from, said.to).map((t) => ({ ...token, word: t.word, gap: 0 })),
    );
  }
}
