import { joint } from './joints.ts';
import { harmless } from './leftovers.ts';
import { lexicon } from './lexicon.ts';
import { SIDE_WORDS, stem, stems, type CheckEntry, type Names } from './names.ts';
import { isNumberWord } from './numbers.ts';
import type { ItemPiece, Piece, SensePiece } from './pieces.ts';
import { absent } from './substance.ts';
import { phraseWords, type Token } from './tokens.ts';
import { sideFit } from './which.ts';

/**
 * Names cut short because the word before them was just said: "oil seven quarts,
 * cap tight" is the oil cap. A part of a name completed from the name before it.
 */
export const COMPLETED = 0.95;

export function completed(tokens: readonly Token[], all: readonly Piece[], names: Names): Piece[] {
  const spilt = spilling(tokens, all);
  const none = absent(tokens, all);
  const pieces = [...all.filter((p) => !none.some((n) => n.from < p.to && p.from < n.to)), ...none]
    .sort((a, b) => a.from - b.from)
    .filter((p) => !isTail(p, all, tokens) && !isBuckle(p, tokens))
    .filter((p) => !spilt.some((s) => s.from <= p.from && p.to <= s.to))
    .concat(spilt)
    .sort((a, b) => a.from - b.from)
    // "Down" is where it runs, not how it hangs.
    .filter((p) => !spilt.some((s) => s.to === p.from && p.to === p.from + 1))
    .filter((p) => !isSubstance(p, tokens, all) && !isOther(p, tokens));
  const out: Piece[] = [...pieces, ...missing(tokens, pieces)];
  const covered = new Int8Array(tokens.length);
  /** Words of a verdict or a condition. */
  const states = new Uint8Array(tokens.length);
  for (const p of pieces) {
    covered.fill(p.kind === 'sense' ? 1 : 2, p.from, p.to);
    if (isState(p)) states.fill(1, p.from, p.to);
  }
  let last: ItemPiece | null = null;
  let next = 0;
  for (let i = 0; i < tokens.length; i += 1) {
    const piece = pieces[next];
    if (piece !== undefined && piece.from === i) {
      next += 1;
      if (piece.kind === 'item') last = piece;
      if (piece.kind !== 'sense' || piece.to - piece.from > 1) {
        i = piece.to - 1;
        continue;
      }
      // A single word of the lexicon is left alone: "wear" is no "wear plate".
      continue;
    }
    if (covered[i] !== 0) continue;
    const word = stem(tokens[i]?.word ?? '');
    const sided = withSides(tokens, i, word, names);
    if (sided !== null && isSubject(tokens, states, i)) {
      out.push(sided);
      last = sided;
      continue;
    }
    if (last === null) continue;
    if (word.length < 3 || !isSubject(tokens, states, i)) continue;
    for (const head of last.entry.words) {
      const hit = names.trie.longest([head, word], 0);
      if (hit === null || hit.to !== 2) continue;
      const targets = hit.item.targets.filter((t) => t.score >= 0.9);
      if (targets.length === 0) continue;
      const made: ItemPiece = {
        kind: 'item',
        from: i,
        to: i + 1,
        entry: { ...hit.item, targets },
        plural: stem(tokens[i]?.word ?? '') !== tokens[i]?.word,
        match: COMPLETED,
        how: `"${word}" after "${last.entry.text}"`,
      };
      out.push(made);
      last = made;
      break;
    }
  }
  return out.sort((a, b) => a.from - b.from);
}

/**
 * "Oil weeping out of the transmission": the oil is what leaks, not what is checked.
 * Only where the thing it leaks from, or "there is", tells so.
 */
function isSubstance(piece: Piece, tokens: readonly Token[], all: readonly Piece[]): boolean {
  if (piece.kind !== 'item' || piece.to - piece.from !== 1) return false;
  if (
    !/^(oil|fuel|water|fluid|grease|coolant|hydraulic)$/.test(stem(tokens[piece.from]?.word ?? ''))
  )
    return false;
  let i = piece.to;
  while (/^(is|are|was|keeps|has|been)$/.test(tokens[i]?.word ?? '')) i += 1;
  const state = all.find((p) => p.from === i);
  const leaks =
    state?.kind === 'sense' &&
    state.senses.some(
      (s) => s.kind === 'condition' && /^(leak|seepage|stain|contaminated|dirty)$/.test(s.id),
    );
  if (!leaks) return false;
  // "No oil leaks, no fuel stains": what leaks, in one word with it.
  if (
    state.from === piece.to &&
    /^(leaks?|seeps?|stains?|seepage|streaks?)$/.test(tokens[state.from]?.word ?? '')
  )
    return true;
  return true;
}

/** "Both buckles lock", "the left buckle's stiff": a part of the belt, and no wrinkle. */
function isBuckle(piece: Piece, tokens: readonly Token[]): boolean {
  if (piece.kind !== 'sense' || piece.to !== piece.from + 1) return false;
  if (!/^buckles?$/.test(tokens[piece.from]?.word ?? '')) return false;
  const before = tokens[piece.from - 1]?.word ?? '';
  return /^(the|both|all|each|its|belt|seat|and)$/.test(before) || SIDE_WORDS.has(stem(before));
}

/** A word heard right behind a name as another name less surely than this is a part of the first ("elevator horn"). */
const TAIL = 0.95;
function isTail(piece: Piece, all: readonly Piece[], tokens: readonly Token[]): boolean {
  if (piece.kind !== 'item' || piece.match >= TAIL || piece.match === COMPLETED) return false;
  if (piece.to - piece.from > 1 || (tokens[piece.from]?.gap ?? 0) > 0) return false;
  return all.some((p) => p.kind === 'item' && p.match === 1 && p.to === piece.from);
}

/** Asked about: "no seal" may be the beginning of "no seal damage" that was not heard. */
const MISSING = 0.85;
/** "No cap on the main tank", "there's no lens": a part that is not there, and not a fault that is not. */
function missing(tokens: readonly Token[], pieces: readonly Piece[]): SensePiece[] {
  const out: SensePiece[] = [];
  for (let i = 0; i + 1 < tokens.length; i += 1) {
    if (tokens[i]?.word !== 'no' || !joint('removable').has(tokens[i + 1]?.word ?? '')) continue;
    const next = tokens[i + 2];
    const ends = next === undefined || next.gap === 2;
    if (!ends && !(next.gap === 0 && LINKS.test(next.word))) continue;
    if (pieces.some((p) => p.from < i + 2 && p.to > i)) continue;
    const gone = {
      kind: 'condition',
      id: 'missing',
      weak: false,
      sign: null,
      checks: null,
    } as const;
    out.push({ kind: 'sense', from: i, to: i + 2, senses: [gone], match: MISSING });
  }
  return out;
}

/** More words than this between "oil down the …" and the thing are about something else. */
const SPREAD = 6;
/**
 * "Some oil down the side of the transmission": where a substance is said to be on
 * another thing, it has come out of something. The word itself is the condition then.
 */
function spilling(tokens: readonly Token[], all: readonly Piece[]): SensePiece[] {
  const out: SensePiece[] = [];
  for (let i = 0; i + 1 < tokens.length; i += 1) {
    if (!joint('substance').has(stem(tokens[i]?.word ?? ''))) continue;
    const next = tokens[i + 1];
    if (next === undefined || next.gap > 0 || !joint('spread').has(next.word)) continue;
    // "Engine oil on …" names what is checked; "oil" and "red fluid" what runs.
    const own = all.find((p) => p.from <= i && i < p.to);
    if (own !== undefined && own.kind !== 'sense' && own.to - own.from > 1) continue;
    if (own?.kind === 'sense' && !own.senses.every((s) => s.kind === 'verdict')) continue;
    const checks = new Set(own?.kind === 'item' ? own.entry.targets.map((t) => t.check) : []);
    const thing = all.find((p) => p.from > i && p.kind !== 'sense');
    if (thing === undefined || thing.from - i - 1 > SPREAD) continue;
    if (thing.kind === 'item' && thing.entry.targets.some((t) => checks.has(t.check))) continue;
    const between = tokens.slice(i + 1, thing.to);
    if (between.some((t, k) => k > 0 && t.gap > 0)) continue;
    if (between.some((t) => /^(stick|dipstick|gauge|glass|line|mark)$/.test(t.word))) continue;
    const leak = { kind: 'condition', id: 'leak', weak: false, sign: null, checks: null } as const;
    out.push({
      kind: 'sense',
      from: own?.kind === 'sense' ? own.from : i,
      to: i + 1,
      senses: [leak],
      match: 1,
    });
  }
  return out;
}

/** A part of a name right before a word of its own: a "wheel pant" is no wheel, a part of a name that stands for another thing. */
function isOther(piece: Piece, tokens: readonly Token[]): boolean {
  // "A bubble of water" is no windscreen, whatever else is called a bubble.
  if (
    piece.kind === 'item' &&
    piece.to === piece.from + 1 &&
    /^(a|an|some)$/.test(tokens[piece.from - 1]?.word ?? '') &&
    tokens[piece.to]?.word === 'of'
  )
    return true;
  if (piece.kind !== 'item' || (piece.entry.targets[0]?.score ?? 1) > SINGLE_PART) return false;
  const next = tokens[piece.to];
  return (
    next !== undefined &&
    next.gap === 0 &&
    (joint('carrier').has(next.word) ||
      (!harmless().has(next.word) && !isNumberWord(next.word) && !isStateWord(next.word)))
  );
}
/** Names of one word that are parts of longer ones score no more than this. */
const SINGLE_PART = 0.7;

let stateWords: Set<string> | null = null;
function isStateWord(word: string): boolean {
  if (stateWords === null) {
    const { conditions, verdicts } = lexicon();
    stateWords = new Set(
      [...conditions, ...verdicts]
        .flatMap((e) => [...e.say, ...e.weak])
        .flatMap((p) => phraseWords(p)),
    );
  }
  return stateWords.has(word);
}

const endings = new WeakMap<Names, ReadonlyMap<string, CheckEntry[]>>();
/** Checks by the last word of their names of several words, in the catalogue's order; made once. */
function endingIn(names: Names): ReadonlyMap<string, CheckEntry[]> {
  const known = endings.get(names);
  if (known !== undefined) return known;
  const made = new Map<string, CheckEntry[]>();
  for (const entry of names.checks) {
    const lasts = entry.names
      .map((n) => stems(n))
      .flatMap((w) => (w.length > 1 ? w.slice(-1) : []));
    for (const last of new Set(lasts)) {
      const row = made.get(last);
      if (row === undefined) made.set(last, [entry]);
      else row.push(entry);
    }
  }
  endings.set(names, made);
  return made;
}

/** "Right lower mount": a general word that ends one name only, given the sides before it. */
function withSides(
  tokens: readonly Token[],
  i: number,
  word: string,
  names: Names,
): ItemPiece | null {
  const sides: string[] = [];
  for (let k = i - 1; k >= 0 && SIDE_WORDS.has(stem(tokens[k]?.word ?? '')); k -= 1)
    sides.push(stem(tokens[k]?.word ?? ''));
  if (sides.length === 0) return null;
  const fits = (endingIn(names).get(word) ?? []).filter((e) =>
    sides.every((s) => sideFit(e, [s]) > 0),
  );
  const entry = fits[0];
  if (entry === undefined || fits.length !== 1) return null;
  const full = entry.names.find((n) => stems(n).at(-1) === word) ?? entry.check.name;
  return {
    kind: 'item',
    from: i,
    to: i + 1,
    entry: { words: [word], text: full, targets: [{ check: entry.index, score: COMPLETED, full }] },
    plural: word !== tokens[i]?.word,
    match: COMPLETED,
    how: `"${word}" with ${sides.join(' ')}`,
  };
}

const COPULA = /^(is|are|has|have|looks?|on|all|both|also|seems?|feels?)$/;
const LINKS = /^(of|on|in|at|near|by|to|from|with|under|behind|around)$/;

/** Whether a word stands where the subject of a statement stands: a predicate or a number follows, no link leads to it. */
function isSubject(tokens: readonly Token[], states: Uint8Array, i: number): boolean {
  let before = i - 1;
  while (
    before >= 0 &&
    (/^(the|and|a|so|then|also|uh|um|er)$/.test(tokens[before]?.word ?? '') ||
      SIDE_WORDS.has(stem(tokens[before]?.word ?? '')))
  )
    before -= 1;
  if (LINKS.test(tokens[before]?.word ?? '')) return false;
  let after = i + 1;
  while (after < tokens.length && COPULA.test(tokens[after]?.word ?? '') && after < i + 4)
    after += 1;
  const word = tokens[after]?.word ?? '';
  if (/^(no|not|nothing)$/.test(word)) return true;
  return states[after] === 1;
}

function isState(piece: Piece): boolean {
  return (
    piece.kind === 'sense' &&
    piece.senses.some((s) => s.kind === 'verdict' || s.kind === 'condition')
  );
}
