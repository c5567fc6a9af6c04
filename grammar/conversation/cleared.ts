import type { Catalogue } from '#shared/catalogue';
import { stem } from '../names.ts';
import { phraseWords, type Token } from '../tokens.ts';
import { whole } from './open.ts';
import type { Move } from './moves.ts';
import { says } from './answerwords.ts';

/** "Maintenance has cleared it": what happened demands nothing more, as said. Their word is taken as told, and said to be so (R9). */
export const clearedBy: Move = ({ heard, words, scene, roster, nextId }) => {
  const events = scene.talk.events.filter((e) => e.cleared === null);
  const text = words.tokens.map((t) => t.word).join(' ');
  const last = events.at(-1);
  if (last === undefined || words.tokens.some((t) => t.asks)) return null;
  const open = text.replace(/\bno (damage|findings?) found\b|\bfound nothing\b/g, '');
  if (!says('clears', text) || !says('cleared', text) || says('not-cleared', open)) return null;
  if (/^(has|have|is|was|did|do|does|are|can|could)\b/.test(text)) return null;
  // "Both", "all": everything that happened; "the hard landing": that; otherwise what was told last.
  const named = events.filter((e) => isNamed(e.sign, words.tokens, roster.catalogue));
  const of = /\b(all|both|everything)\b/.test(text) ? events : named.length > 0 ? named : [last];
  return of.map((event) => ({
    v: 1,
    id: nextId(),
    heard: heard.id,
    kind: 'clearance',
    span: whole(words),
    why: [
      'said to have been cleared by maintenance: kept as said, its follow-ups are no longer demanded',
    ],
    of: event.statement,
  }));
};

/** Whether the words call what happened by a name that the catalogue has for it. */
function isNamed(id: string, tokens: readonly Token[], { signs }: Catalogue): boolean {
  const said = new Set(tokens.map((t) => stem(t.word)));
  const sign = signs.find((s) => s.id === id);
  // What no catalogue lists is kept in its words.
  return [sign?.name ?? id, ...(sign?.say ?? [])].some((phrase) => {
    const own = phraseWords(phrase).filter((w) => !/^(the|a|an|it|in|by|hit)$/.test(w));
    return own.length > 0 && own.every((w) => said.has(stem(w)));
  });
}
