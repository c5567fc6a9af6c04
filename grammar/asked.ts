import { numberAt } from './numbers.ts';
import { lexicon } from './lexicon.ts';
import type { Piece, SensePiece } from './pieces.ts';
import { speaking } from './predicates.ts';
import { phraseWords, type Gap, type Token } from './tokens.ts';
import { Trie } from './trie.ts';

/** A sentence, tokens [from, to), and what is in it. */
export interface Sentence {
  readonly from: number;
  readonly to: number;
  readonly pieces: readonly Piece[];
}

export type Said = 'asking' | 'where' | 'tag' | 'yes' | 'no' | 'slip' | 'mending';
const tries = new Map<Said, Trie<true>>();
export function trieOf(kind: Said): Trie<true> {
  let trie = tries.get(kind);
  if (trie === undefined) {
    tries.set(kind, (trie = new Trie<true>()));
    for (const phrase of lexicon().exchange[kind]) trie.add(phraseWords(phrase), true);
  }
  return trie;
}

/** An answer with more words than this says more than what was asked. */
export const SHORT = 9;
/** Little words that may stand in a question or its answer. */
export const SMALL =
  /^(the|a|an|any|some|and|or|it|its|in|on|of|at|to|there|that|this|those|one|ones|both|all)$/;

/** With a number, asks for its unit. */
export const OF_WHAT = /^(what|which|of|unit|units|in)$/;
export const DENIAL = /^(no|not|nothing|none|without|never)$/;

export const ASKS_OF = /^(what|which|how|who|where)$/;
/** What one hopes to find, and not what is found. */
export const WISHED =
  /^(want|wants|expect|expects|looking|need|needs|hope|hoping|hate|should|must|supposed|acceptable|allowed)$/;

export function sentencesOf(tokens: readonly Token[]): { from: number; to: number }[] {
  const out: { from: number; to: number }[] = [];
  let from = 0;
  for (let i = 1; i <= tokens.length; i += 1) {
    if (i === tokens.length || tokens[i]?.gap === 2) {
      out.push({ from, to: i });
      from = i;
    }
  }
  return out;
}

export function preds(sentence: Sentence): SensePiece[] {
  return sentence.pieces.filter((p): p is SensePiece => p.kind === 'sense' && speaking(p));
}
/** As `preds`, and "the same". */
export function tells(sentence: Sentence): SensePiece[] {
  return sentence.pieces.filter(
    (p): p is SensePiece =>
      p.kind === 'sense' && (speaking(p) || p.senses.some((s) => s.kind === 'same')),
  );
}
export function isCondition(piece: SensePiece): boolean {
  return piece.senses.some((s) => s.kind === 'condition');
}

let aspects: ReadonlySet<string> | null = null;
/** What a thing is looked at for: "pressure?", "condition?". */
export function isMeasured(word: string): boolean {
  aspects ??= new Set(lexicon().aspects.flatMap((a) => a.names.flatMap((n) => phraseWords(n))));
  return aspects.has(word);
}

/** What is changed in the words before they are read. */
export interface Edits {
  readonly dropped: Set<number>;
  /** No longer asked. */
  readonly told: Set<number>;
  readonly gaps: Map<number, Gap>;
  /** Words put in behind a word. */
  readonly added: Map<number, Token[]>;
  /** Denials put in before a word. */
  readonly denials: Set<number>;
}

/** The words with the changes made, or null where there is none. */
export function rewritten(tokens: readonly Token[], edits: Edits): Token[] | null {
  const { dropped, told, gaps, added, denials } = edits;
  if (dropped.size + told.size + gaps.size + added.size === 0) return null;
  const out: Token[] = [];
  let gap: Gap = 0;
  tokens.forEach((token, i) => {
    const set = gaps.get(i);
    const own = set ?? token.gap;
    if (dropped.has(i)) {
      if (set === undefined && own > gap) gap = own;
      return;
    }
    const before = set ?? (Math.max(own, gap) as Gap);
    gap = 0;
    const denied = denials.has(i);
    if (denied) out.push({ ...token, word: 'not', gap: before, asks: false, short: false });
    out.push({ ...token, gap: denied ? 0 : before, asks: token.asks && !told.has(i) });
    out.push(...(added.get(i) ?? []));
  });
  return out;
}

/** Whether nothing but little words is left of tokens [from, to). */
export function isEmptied(
  tokens: readonly Token[],
  { dropped }: Edits,
  from: number,
  to: number,
): boolean {
  for (let i = from; i < to; i += 1)
    if (!dropped.has(i) && !SMALL.test(tokens[i]?.word ?? '')) return false;
  return true;
}

/** Each sentence with its own pieces. */
export function withPieces(tokens: readonly Token[], pieces: readonly Piece[]): Sentence[] {
  let p = 0;
  return sentencesOf(tokens).map(({ from, to }) => {
    const own: Piece[] = [];
    for (; p < pieces.length && (pieces[p]?.from ?? 0) < to; p += 1) {
      const piece = pieces[p];
      if (piece !== undefined && piece.from >= from) own.push(piece);
    }
    return { from, to, pieces: own };
  });
}

/** A number, or a step of a gauge, among the words [from, to). */
export function countsIn(
  words: readonly string[],
  steps: readonly { from: number; to: number }[],
  from: number,
  to: number,
): boolean {
  if (steps.some((s) => s.from >= from && s.to <= to)) return true;
  for (let i = from; i < to; i += 1)
    if (numberAt(words, i) !== null || words[i] === 'one') return true;
  return false;
}
