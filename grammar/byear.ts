import type { Catalogue } from '#shared/catalogue';
import { harmless } from './leftovers.ts';
import { lexicon } from './lexicon.ts';
import { ARTICLES, isPlural, stem, type NameEntry, type Names, type NameTarget } from './names.ts';
import { isNumberWord } from './numbers.ts';
import { crosses, type ItemPiece, type Piece, type Sense, type SensePiece } from './pieces.ts';
import type { Ear } from './sound/ear.ts';
import { Listener, type Sounding } from './sound/hear.ts';
import { phraseWords, type Token } from './tokens.ts';

type Heardable =
  { kind: 'name'; entry: NameEntry } | { kind: 'sense'; words: readonly string[]; senses: Sense[] };

/** Shorter words of the lexicon are never taken by sound: "good" is not "could". */
const SENSE_LETTERS = 6;
/** Two names heard on the same words as near as this stay both possible. */
const SAME_SPAN = 0.07;

/** The author's own pronunciations, by word. */
export function ownPronunciations(catalogue: Catalogue): Map<string, readonly string[]> {
  const own = new Map<string, readonly string[]>();
  for (const station of catalogue.stations) {
    for (const check of station.checks) {
      for (const [word, phones] of Object.entries(check.pronounce)) {
        const list = phones.trim().toUpperCase().replace(/\d/g, '').split(/\s+/);
        for (const w of phraseWords(word)) own.set(w, list);
      }
    }
  }
  return own;
}

/** Listens for names and for longer words of the lexicon that a recogniser mangled. */
export function byEarOf(
  names: Names,
  ear: Ear,
): (tokens: readonly Token[], exact: readonly Piece[]) => Piece[] {
  const phrases: Sounding<Heardable>[] = [];
  for (const entry of names.entries)
    phrases.push({ item: { kind: 'name', entry }, words: entry.words });
  const senses = new Map<string, Extract<Heardable, { kind: 'sense' }>>();
  const { conditions } = lexicon();
  for (const c of conditions) {
    for (const say of c.say) {
      const words = phraseWords(say);
      if (say.length < SENSE_LETTERS || words.some((w) => /^(no|not|without)$/.test(w))) continue;
      const key = words.join(' ');
      let row = senses.get(key);
      if (row === undefined) senses.set(key, (row = { kind: 'sense', words, senses: [] }));
      row.senses.push({ kind: 'condition', id: c.id, weak: false, sign: null, checks: null });
    }
  }
  for (const row of senses.values()) phrases.push({ item: row, words: row.words });
  const listener = new Listener(phrases, ear);
  const plain = harmless();

  return (tokens, exact) => {
    const words = tokens.map((t) => t.word);
    /** Words that a full name or a phrase of the lexicon already explains, to the letter. */
    const known = new Uint8Array(words.length);
    for (const piece of exact) {
      const full = piece.kind !== 'item' || piece.entry.targets[0]?.score === 1;
      if (full) known.fill(1, piece.from, piece.to);
    }
    if (words.every((w, i) => known[i] === 1 || plain.has(w) || isNumberWord(w))) return [];
    const found: Piece[] = [];
    const bySpan = new Map<
      string,
      { from: number; to: number; entries: { entry: NameEntry; match: number }[] }
    >();
    for (const hit of listener.hear(words)) {
      if (crosses(tokens, hit.from, hit.to)) continue;
      const own = new Set(hit.item.kind === 'name' ? hit.item.entry.words : hit.item.words);
      let fresh = false;
      let swallows = false;
      for (let i = hit.from; i < hit.to; i += 1) {
        const word = words[i] ?? '';
        const same = own.has(word) || own.has(stem(word));
        const fixed = known[i] === 1 || plain.has(word) || isNumberWord(word);
        if (!same && fixed && !ARTICLES.has(word)) swallows = true;
        if (!same && (i === hit.from || i === hit.to - 1) && ARTICLES.has(word)) swallows = true;
        if (!same && !fixed) fresh = true;
      }
      if (swallows || !fresh) continue;
      if (hit.item.kind === 'sense') {
        const piece: SensePiece = {
          kind: 'sense',
          from: hit.from,
          to: hit.to,
          senses: hit.item.senses,
          match: hit.match,
        };
        found.push(piece);
        continue;
      }
      const key = `${String(hit.from)}-${String(hit.to)}`;
      let row = bySpan.get(key);
      if (row === undefined) bySpan.set(key, (row = { from: hit.from, to: hit.to, entries: [] }));
      row.entries.push({ entry: hit.item.entry, match: hit.match });
    }
    for (const row of bySpan.values()) found.push(joined(row, tokens));
    return found;
  };
}

/** Names heard on the same words, as one piece: the likest, and those near it. */
function joined(
  row: { from: number; to: number; entries: { entry: NameEntry; match: number }[] },
  tokens: readonly Token[],
): ItemPiece {
  const worth = (e: { entry: NameEntry; match: number }): number =>
    e.match * (e.entry.targets[0]?.score ?? 0);
  const sorted = [...row.entries].sort((a, b) => worth(b) - worth(a));
  const best = sorted[0] ?? row.entries[0];
  if (best === undefined) throw new Error('A span without a name.');
  const targets = new Map<number, NameTarget>();
  for (const e of sorted) {
    if (worth(best) - worth(e) > SAME_SPAN) continue;
    for (const t of e.entry.targets) {
      const score = Math.min(1, (t.score * e.match) / best.match);
      const old = targets.get(t.check);
      if (old === undefined || old.score < score) targets.set(t.check, { ...t, score });
    }
  }
  const last = tokens[row.to - 1]?.word ?? '';
  return {
    kind: 'item',
    from: row.from,
    to: row.to,
    entry: { ...best.entry, targets: [...targets.values()].sort((a, b) => b.score - a.score) },
    plural: isPlural(last),
    match: best.match,
    how: `by its sound (${best.match.toFixed(2)})`,
  };
}
