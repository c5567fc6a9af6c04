import type { Catalogue } from '#shared/catalogue';
import { harmless } from './leftovers.ts';
import { lexicon } from './lexicon.ts';
import {
  ARTICLES,
  isPlural,
  SIDE_WORDS,
  stem,
  type NameEntry,
  type Names,
  type NameTarget,
} from './names.ts';
import { isNumberWord } from './numbers.ts';
import { crosses, type ItemPiece, type Piece, type Sense, type SensePiece } from './pieces.ts';
import type { Ear } from './sound/ear.ts';
import { Listener, type HeardAs } from './sound/hear.ts';
import type { Sounding } from './sound/shapes.ts';
import { LONGEST } from './sound/sounds.ts';
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

/** A word that a recogniser puts for "left" or "right": a side is heard through it only before a whole name. */
const SIDE_MATCH = 0.86;
/** Words that never give way to a name that sounds like them: they turn a meaning round. */
const FIRM = new Set([
  'no',
  'not',
  'nothing',
  'none',
  'never',
  'without',
  'but',
  'except',
  'if',
  'is',
  'are',
  'and',
  'or',
  'has',
  'it',
  'that',
  'there',
  'was',
  'left',
  'right',
]);

export interface ByEar {
  /** Names and longer words of the lexicon that a recogniser mangled. */
  find(tokens: readonly Token[], exact: readonly Piece[]): Piece[];
  /** The names that the words [from, to) sound most like, for a question; best first. */
  guess(tokens: readonly Token[], from: number, to: number): ItemPiece[];
}

export function byEarOf(names: Names, ear: Ear): ByEar {
  const phrases: Sounding<Heardable>[] = [];
  for (const entry of [...names.entries, ...names.sided]) {
    phrases.push({ item: { kind: 'name', entry }, words: entry.words });
  }
  const whole = new Listener(
    [...names.entries.filter((e) => (e.targets[0]?.score ?? 0) >= WHOLE), ...names.sided].map(
      (entry) => ({ item: entry, words: entry.words }),
    ),
    ear,
  );
  const senses = new Map<string, Extract<Heardable, { kind: 'sense' }>>();
  for (const c of lexicon().conditions) {
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
  /** Words of the catalogue's own names: heard to the letter they are what they are. */
  const named = new Set(names.entries.flatMap((e) => e.words));

  /** Every word of what is listened for. */
  const vocabulary = new Set(phrases.flatMap((p) => p.words));

  const find = (tokens: readonly Token[], exact: readonly Piece[]): Piece[] => {
    const words = tokens.map((t) => t.word);
    const roots = words.map(stem);
    /** Words that are no name's by themselves. */
    const common = words.map((word) => plain.has(word) || isNumberWord(word));
    /** Words that a full name or a phrase of the lexicon already explains, to the letter. */
    const known = new Uint8Array(words.length);
    for (const piece of exact) {
      const full = piece.kind !== 'item' || piece.entry.targets[0]?.score === 1;
      if (full) known.fill(1, piece.from, piece.to);
    }
    /** Names to the letter by the word they begin at: a hit asks only about those inside it. */
    const starts = new Map<number, ItemPiece[]>();
    for (const piece of exact) {
      if (piece.kind !== 'item') continue;
      const row = starts.get(piece.from);
      if (row === undefined) starts.set(piece.from, [piece]);
      else row.push(piece);
    }
    /** Words that may be mangled: in no phrase, or a small word where a side may have stood. */
    const open = words.map((word, i) => {
      if (known[i] === 1 || isNumberWord(word)) return false;
      if (!plain.has(word)) return true;
      return (
        starts.has(i + 1) && !ARTICLES.has(word) && !FIRM.has(word) && !SIDE_WORDS.has(stem(word))
      );
    });
    /** Words that no name by sound may have within: they say something of their own, and are in no name. */
    const foreign = words.map(
      (word, i) =>
        (known[i] === 1 || common[i] === true) &&
        !ARTICLES.has(word) &&
        !vocabulary.has(word) &&
        !vocabulary.has(roots[i] ?? ''),
    );
    const found: Piece[] = [];
    const bySpan = new Map<string, Row>();
    for (const hit of near(words, open, foreign, listener)) {
      if (crosses(tokens, hit.from, hit.to)) continue;
      const own = hit.item.kind === 'name' ? hit.item.entry.words : hit.item.words;
      const sided = hit.item.kind === 'name' && hit.item.entry.targets[0]?.sides !== undefined;
      let fresh = false;
      let swallows = false;
      for (let i = hit.from; i < hit.to; i += 1) {
        const word = words[i] ?? '';
        const root = roots[i] ?? '';
        if (own.includes(word) || own.includes(root)) continue;
        const edge = i === hit.from || i === hit.to - 1;
        const side =
          sided &&
          !SIDE_WORDS.has(root) &&
          i === hit.from &&
          hit.match >= SIDE_MATCH &&
          !FIRM.has(word) &&
          !isNumberWord(word) &&
          known[i] !== 1;
        if (side && !ARTICLES.has(word)) fresh = true;
        else if (ARTICLES.has(word)) swallows ||= edge;
        else if (known[i] === 1 || common[i] === true) swallows = true;
        else fresh = true;
      }
      if (swallows || !fresh) continue;
      const inside: ItemPiece[] = [];
      for (let i = hit.from; i < hit.to; i += 1)
        for (const piece of starts.get(i) ?? []) if (piece.to <= hit.to) inside.push(piece);
      if (strained(hit, inside)) continue;
      // "exhaust krakd" is no "exhaust stack": a name heard whole never swallows the word behind it.
      if (hit.item.kind === 'name' && wholeWithin(inside, hit.item.entry)) continue;
      if (hit.item.kind === 'sense') {
        if (tokens.slice(hit.from + 1, hit.to).some((t) => t.gap > 0)) continue;
        const piece: SensePiece = {
          kind: 'sense',
          from: hit.from,
          to: hit.to,
          senses: hit.item.senses,
          match: hit.match,
        };
        found.push(piece);
      } else put(bySpan, hit.from, hit.to, hit.item.entry, hit.match);
    }
    for (const row of bySpan.values()) found.push(joined(row, tokens));
    return found;
  };

  const guess = (tokens: readonly Token[], from: number, to: number): ItemPiece[] => {
    const words = tokens.slice(from, to).map((t) => t.word);
    const bySpan = new Map<string, Row>();
    for (const hit of whole.hear(words, true)) {
      const heard = words.slice(hit.from, hit.to);
      const strange = heard.some((w) => !plain.has(w) && !isNumberWord(w));
      // "Left brake line" is no "left aux drain": the brake is another thing by its own name.
      const other = heard.some(
        (w) => !plain.has(w) && named.has(stem(w)) && !hit.item.words.includes(stem(w)),
      );
      if (strange && !other) put(bySpan, hit.from + from, hit.to + from, hit.item, hit.match);
    }
    return [...bySpan.values()]
      .map((row) => joined(row, tokens))
      .sort((a, b) => b.match - a.match || b.to - b.from - (a.to - a.from));
  };
  return { find, guess };
}

/** Whether one of the pieces is a full name of the same check. */
function wholeWithin(inside: readonly ItemPiece[], entry: NameEntry): boolean {
  for (const piece of inside)
    for (const t of piece.entry.targets)
      if (t.score === 1)
        for (const e of entry.targets)
          if (e.check === t.check && e.sides === undefined) return true;
  return false;
}

/** Words on each side of a mangled one that may belong to the same name. */
const AROUND = 4;

/**
 * So many foreign words part a stretch, and as many stay on each side: a name is heard where
 * it costs least, and a mangled word that goes better with what is beside it is no other name.
 */
const BESIDE = 1;

/** Listens only around the words that may be mangled; stretches that touch are one. */
function near(
  words: readonly string[],
  open: readonly boolean[],
  foreign: readonly boolean[],
  listener: Listener<Heardable>,
): HeardAs<Heardable>[] {
  const out: HeardAs<Heardable>[] = [];
  const part = (from: number, to: number, until: number): void => {
    const asked = open.slice(from, to);
    if (!asked.includes(true)) return;
    const begins = asked.map((_, i) =>
      open.slice(from + i, Math.min(until, from + i + LONGEST)).includes(true),
    );
    for (const hit of listener.hear(words.slice(from, to), false, asked, begins))
      out.push({ ...hit, from: hit.from + from, to: hit.to + from });
  };
  const hear = (from: number, to: number): void => {
    let began = from;
    for (let i = from; i < to; i += 1) {
      if (foreign[i] !== true) continue;
      let end = i + 1;
      while (end < to && foreign[end] === true) end += 1;
      if (end - i >= BESIDE) {
        part(began, i + BESIDE, to);
        began = end - BESIDE;
      }
      i = end;
    }
    part(began, to, to);
  };
  let from = -1;
  let to = -1;
  for (let i = 0; i < words.length; i += 1) {
    if (open[i] !== true) continue;
    if (from >= 0 && i - AROUND >= to) {
      hear(from, to);
      from = -1;
    }
    if (from < 0) from = Math.max(0, i - AROUND);
    to = Math.min(words.length, i + 1 + AROUND);
  }
  if (from >= 0) hear(from, to);
  return out;
}

/** Least likeness of the words by which a name by sound is longer than one to the letter inside it. */
const EXTRA_MATCH = 0.74;

/**
 * "Whoa, temperature strip" is nearly "tail temperature strip", because two words of
 * it are heard to the letter. They name something in full already, so only the words
 * beside them may speak for the longer name.
 */
function strained(hit: HeardAs<Heardable>, inside: readonly ItemPiece[]): boolean {
  const { item } = hit;
  if (item.kind !== 'name') return false;
  const letters = (words: readonly string[]): number => words.join('').length;
  return inside.some((p) => {
    const target = p.entry.targets[0];
    if (target === undefined || target.score < 1) return false;
    if (item.entry.targets.some((t) => t.check === target.check)) return false;
    const extra = 1 - letters(p.entry.words) / letters(item.entry.words);
    return extra <= 0 || 1 - (1 - hit.match) / extra < EXTRA_MATCH;
  });
}

/** A part of a name is never guessed at. */
const WHOLE = 0.95;

interface Row {
  readonly from: number;
  readonly to: number;
  readonly entries: { entry: NameEntry; match: number }[];
}
function put(
  rows: Map<string, Row>,
  from: number,
  to: number,
  entry: NameEntry,
  match: number,
): void {
  const key = `${String(from)}-${String(to)}`;
  let row = rows.get(key);
  if (row === undefined) rows.set(key, (row = { from, to, entries: [] }));
  row.entries.push({ entry, match });
}

/** Names heard on the same words, as one piece: the likest, and those near it. */
function joined(row: Row, tokens: readonly Token[]): ItemPiece {
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
    plural:
      isPlural(last) || (/[xz]$/.test(last) && !/[sxz]$/.test(best.entry.words.at(-1) ?? 's')),
    match: best.match,
    how: `by its sound (${best.match.toFixed(2)})`,
  };
}
