import type { Scene } from '#shared/scene';
import type { Span, Statement } from '#shared/statement';
import { lexicon } from '../lexicon.ts';
import { spanIn } from '../readings/said.ts';
import { phraseWords } from '../tokens.ts';
import { Trie } from '../trie.ts';
import type { Move } from './moves.ts';
import { whole } from './open.ts';
import { retracted } from './retracted.ts';
import { isWord } from './answerwords.ts';

let phrases: Trie<true> | null = null;
function retracting(): Trie<true> {
  if (phrases !== null) return phrases;
  phrases = new Trie();
  for (const phrase of lexicon().dialogue.retract) phrases.add(phraseWords(phrase), true);
  return phrases;
}

/** The last utterance that changed anything, whole (R6): every statement of it is taken back. */
export function retractionsOf(
  scene: Scene,
  { heard, span, nextId }: { heard: string; span: Span; nextId(): string },
): Statement[] {
  const taking = { heard: { id: heard }, span, nextId };
  const last = scene.talk.done.at(-1);
  const why = 'it stays in the log and no longer counts (R6)';
  if (last === undefined)
    return scene.lastId === null
      ? []
      : [retracted(taking, { id: scene.lastId, words: null }, `taken back: ${why}`)];
  const words = last.words.replace(/[\s.,;:!?]+$/, '');
  return last.statements
    .slice()
    .reverse()
    .map(({ id }) => retracted(taking, { id, words }, `"${words}" is taken back: ${why}`));
}

/** "And the one before.", behind a taking back. */
function goesOnTaking({ talk }: Scene, said: string): boolean {
  const now = talk.turns.at(-1)?.heard;
  const before = talk.turns.findLast((t) => t.heard !== now);
  const words = phraseWords(before?.text ?? '');
  return (
    isWord('one-before', said) && words.some((_, i) => retracting().longest(words, i) !== null)
  );
}

/** "Take that back.", and nothing else; said again it takes the one before. */
export const takenBack: Move = ({ heard, words, scene, nextId }) => {
  const list = words.tokens.map((t) => t.word);
  let found = goesOnTaking(scene, list.join(' '));
  for (let i = 0; i < list.length;) {
    const hit = retracting().longest(list, i);
    if (hit !== null) found = true;
    else if (!isWord('takeback', list[i] ?? '')) return null;
    i = hit?.to ?? i + 1;
  }
  if (!found) return null;
  const span = whole(words);
  const made = retractionsOf(scene, { heard: heard.id, span, nextId });
  if (made.length > 0) return made;
  return [
    {
      v: 1,
      id: nextId(),
      heard: heard.id,
      kind: 'not-understood',
      chatter: true,
      span: spanIn(words, 0, list.length),
      why: ['there is nothing left to take back'],
    },
  ];
};
