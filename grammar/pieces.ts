import type { Catalogue } from '#shared/catalogue';
import type { Circumstance } from '#shared/circumstance';
import { lexicon } from './lexicon.ts';
import { ARTICLES, isPlural, SIDE_WORDS, stem, type NameEntry, type Names } from './names.ts';
import { unable } from './unable.ts';
import { phraseWords, type Token } from './tokens.ts';
import { Trie } from './trie.ts';

/** What a row of words can be. */
export type Sense =
  | {
      kind: 'condition';
      id: string;
      weak: boolean;
      sign: string | null;
      checks: readonly string[] | null;
      /** Only where the check declares an aspect of it; where a good verdict fits as well, or ("asks") neither, it is asked about. */
      either?: 'fits' | 'asks';
    }
  | { kind: 'verdict'; id: string; weak: boolean; beside?: true }
  | { kind: 'severity'; severity: 'ground' | 'defer' | 'watch' | 'note' }
  | {
      kind:
        | 'correct'
        | 'retract'
        | 'setaside'
        | 'notfitted'
        | 'squawk'
        | 'everything'
        | 'same'
        | 'other'
        | 'figure';
    }
  | { kind: 'compared'; how: 'same' | 'worse' | 'better' | 'gone' }
  | { kind: 'circumstance'; circumstance: Circumstance };

export interface ItemPiece {
  readonly kind: 'item';
  readonly from: number;
  readonly to: number;
  readonly entry: NameEntry;
  readonly plural: boolean;
  /** 1 heard to the letter; less by sound. */
  readonly match: number;
  readonly how: string;
}
export interface StationPiece {
  readonly kind: 'station';
  readonly from: number;
  readonly to: number;
  readonly station: string;
}
export interface SensePiece {
  readonly kind: 'sense';
  readonly from: number;
  readonly to: number;
  readonly senses: readonly Sense[];
  readonly match: number;
}
export type Piece = ItemPiece | StationPiece | SensePiece;

/** The lexicon's phrases, with the catalogue's own signs among them. */
export function senseTrie(catalogue: Catalogue): Trie<Sense> {
  const trie = new Trie<Sense>();
  const { conditions, verdicts, severities, dialogue, sides, idioms } = lexicon();
  for (const phrase of idioms.figures) trie.add(phraseWords(phrase), { kind: 'figure' });
  for (const c of conditions) {
    const sense = { kind: 'condition', id: c.id, weak: false, sign: null, checks: null } as const;
    for (const phrase of new Set([...c.say, ...c.also, ...unable(c.cannot)]))
      trie.add(phraseWords(phrase), sense);
    for (const phrase of c.weak) trie.add(phraseWords(phrase), { ...sense, weak: true });
    for (const phrase of c.either)
      trie.add(phraseWords(phrase), { ...sense, weak: true, either: 'asks' });
  }
  for (const v of verdicts) {
    const sense = { kind: 'verdict', id: v.id } as const;
    for (const phrase of new Set([...v.say, ...v.also]))
      trie.add(phraseWords(phrase), { ...sense, weak: v.weak.includes(phrase) });
    for (const phrase of v.beside)
      trie.add(phraseWords(phrase), { ...sense, weak: true, beside: true });
  }
  for (const severity of ['ground', 'defer', 'watch', 'note'] as const) {
    for (const phrase of severities[severity])
      trie.add(phraseWords(phrase), { kind: 'severity', severity });
  }
  for (const kind of [
    'correct',
    'retract',
    'setaside',
    'notfitted',
    'squawk',
    'everything',
  ] as const) {
    for (const phrase of dialogue[kind]) trie.add(phraseWords(phrase), { kind });
  }
  for (const kind of ['same', 'other'] as const) {
    for (const phrase of sides[kind]) trie.add(phraseWords(phrase), { kind });
  }
  for (const how of ['same', 'worse', 'better', 'gone'] as const) {
    for (const phrase of dialogue.compared[how])
      trie.add(phraseWords(phrase), { kind: 'compared', how });
  }
  for (const [circumstance, say] of Object.entries(dialogue.circumstance) as [
    Circumstance,
    string[],
  ][]) {
    for (const phrase of say) trie.add(phraseWords(phrase), { kind: 'circumstance', circumstance });
  }
  addSigns(trie, catalogue);
  return trie;
}

function addSigns(trie: Trie<Sense>, catalogue: Catalogue): void {
  const general = new Map(catalogue.signs.map((s) => [s.id, s]));
  const holders = new Map<string, string[]>();
  const own: { sign: (typeof catalogue.signs)[number]; checks: string[] | null }[] = [];
  for (const station of catalogue.stations) {
    for (const check of station.checks) {
      for (const sign of check.signs) {
        if (typeof sign === 'string') holders.set(sign, [...(holders.get(sign) ?? []), check.id]);
        else own.push({ sign, checks: [check.id] });
      }
    }
  }
  for (const [id, sign] of general)
    own.push({ sign, checks: sign.anywhere ? null : (holders.get(id) ?? []) });
  const words = new Map<string, string>();
  for (const c of lexicon().conditions)
    for (const phrase of [...c.also, ...c.say]) words.set(phrase, c.id);
  for (const { sign, checks } of own) {
    for (const phrase of [sign.name, ...sign.say]) {
      const list = phraseWords(phrase);
      const id =
        sign.conditions[0] ??
        list.map((w) => words.get(w)).find((c) => c !== undefined) ??
        'damage';
      trie.add(list, { kind: 'condition', id, weak: false, sign: sign.id, checks });
    }
  }
}

/** Position of every word that is no article, and its stem: names are matched over these. */
export function withoutArticles(tokens: readonly Token[]): { stems: string[]; at: number[] } {
  const out: string[] = [];
  const at: number[] = [];
  tokens.forEach((token, i) => {
    if (ARTICLES.has(token.word)) return;
    out.push(stem(token.word));
    at.push(i);
  });
  return { stems: out, at };
}

/** Names heard to the letter: the longest at each place. */
export function exactItems(tokens: readonly Token[], names: Names): (ItemPiece | StationPiece)[] {
  const { stems, at } = withoutArticles(tokens);
  const out: (ItemPiece | StationPiece)[] = [];
  for (let i = 0; i < stems.length; i += 1) {
    const from = at[i] ?? 0;
    for (const hit of names.trie.at(stems, i)) {
      const to = (at[hit.to - 1] ?? 0) + 1;
      if (crosses(tokens, from, to)) continue;
      // "Fuel drains, left, main and auxiliary": a pause parts what a name would join.
      if (tokens.slice(from + 1, to).some((t) => t.gap > 0)) continue;
      out.push({
        kind: 'item',
        from,
        to,
        entry: hit.item,
        plural: isPlural(tokens[to - 1]?.word ?? ''),
        match: 1,
        how: 'heard to the letter',
      });
    }
    const parted = partedAt(stems, at, i, tokens, names);
    if (parted !== null) out.push(parted);
    for (const hit of names.stationTrie.at(stems, i)) {
      const to = (at[hit.to - 1] ?? 0) + 1;
      if (!crosses(tokens, from, to)) out.push({ kind: 'station', from, to, station: hit.item });
    }
  }
  return out;
}

/** A name with a word between its own is less sure than one without, and not asked about. */
const PARTED = 0.9;
/** "Nose wheel strut" is the nose strut: one more word that belongs to names stands inside it. */
function partedAt(
  stems: readonly string[],
  at: readonly number[],
  i: number,
  tokens: readonly Token[],
  names: Names,
): ItemPiece | null {
  const [one, two, three] = [stems[i] ?? '', stems[i + 1] ?? '', stems[i + 2] ?? ''];
  if (three === '' || SIDE_WORDS.has(one) || SIDE_WORDS.has(two)) return null;
  if (!names.words.has(two)) return null;
  const hit = names.trie.longest([one, three], 0);
  if (hit === null || hit.to !== 2 || (hit.item.targets[0]?.score ?? 0) < 1) return null;
  const [from, to] = [at[i] ?? 0, (at[i + 2] ?? 0) + 1];
  if (to - from !== 3 || tokens.slice(from + 1, to).some((t) => t.gap > 0)) return null;
  return {
    kind: 'item',
    from,
    to,
    entry: hit.item,
    plural: isPlural(tokens[to - 1]?.word ?? ''),
    match: PARTED,
    how: `with "${two}" in it`,
  };
}

/** A name never runs over a full stop or a long pause. */
export function crosses(tokens: readonly Token[], from: number, to: number): boolean {
  for (let i = from + 1; i < to; i += 1) if (tokens[i]?.gap === 2) return true;
  return false;
}

/** "Hang on", "come in": the little word belongs to the verb and closes nothing. */
const GOES_ON: ReadonlySet<string> = new Set(
  'hang hold come go goes going carry move moving later early further keep work start so get right one it them that'.split(
    ' ',
  ),
);
const verdict = (id: string): Sense => ({ kind: 'verdict', id, weak: true });
const beside = (id: string): Sense => ({ ...verdict(id), beside: true }) as Sense;
/** A cover or a lock that is still on is a finding, where its being off is what is checked. */
const STILL: Sense = {
  kind: 'condition',
  id: 'fitted-still',
  weak: true,
  sign: null,
  checks: null,
  either: 'fits',
};
const CLOSING: ReadonlyMap<string, readonly Sense[]> = new Map(
  Object.entries({
    on: [verdict('secure'), verdict('working'), STILL],
    in: [verdict('present'), STILL],
    there: [verdict('present')],
    sat: [verdict('good')],
    moves: [beside('free')],
    move: [beside('free')],
    turns: [beside('free')],
    turn: [beside('free')],
    spins: [beside('free')],
    rotates: [beside('free')],
  }),
);

/** Phrases of the lexicon: the longest at each place, all its senses. */
export function sensePieces(tokens: readonly Token[], trie: Trie<Sense>): SensePiece[] {
  const words = tokens.map((t) => t.word);
  const out: SensePiece[] = [];
  for (let i = 0; i < words.length; i += 1) {
    const hits = trie.at(words, i).filter((h) => !crosses(tokens, h.from, h.to));
    // "Cap on.", "pins all in.": only where nothing follows.
    const closing = CLOSING.get(words[i] ?? '');
    if (
      closing !== undefined &&
      i > 0 &&
      !GOES_ON.has(words[i - 1] ?? '') &&
      (i + 1 === words.length ||
        (tokens[i + 1]?.gap ?? 0) > 0 ||
        (words[i] === 'there' && words[i + 1] === 'and'))
    ) {
      out.push({
        kind: 'sense',
        from: i,
        to: i + 1,
        senses: closing,
        match: 1,
      });
    }
    // "…, no, the left one": "no" between pauses takes back.
    if (
      words[i] === 'no' &&
      (i === 0 || (tokens[i]?.gap ?? 0) > 0) &&
      ((tokens[i + 1]?.gap ?? 0) === 1 ||
        // "No it isn't loose.", "no there's a crack": it takes back, and denies nothing itself.
        (i > 0 &&
          (tokens[i]?.gap ?? 0) === 2 &&
          /^(it|that|they|there)$/.test(words[i + 1] ?? '') &&
          /^(is|are|has|have|does|do)$/.test(words[i + 2] ?? '')))
    ) {
      out.push({ kind: 'sense', from: i, to: i + 1, senses: [{ kind: 'correct' }], match: 1 });
    }
    const lengths = [...new Set(hits.map((h) => h.to))];
    for (const to of lengths) {
      out.push({
        kind: 'sense',
        from: i,
        to,
        senses: hits.filter((h) => h.to === to).map((h) => h.item),
        match: 1,
      });
    }
  }
  return out;
}

/** Outweighs any name: what "everything on the …" is about is the station. */
const OVERALL = 100;
const BETWEEN: ReadonlySet<string> = new Set(['else', 'on', 'in', 'at', 'of', 'about', 'around']);

/** Does "everything (else) on the" stand before this station? */
function overall(
  station: StationPiece,
  found: readonly Piece[],
  tokens: readonly Token[],
): boolean {
  let start = station.from;
  const open = (word: string): boolean => BETWEEN.has(word) || ARTICLES.has(word);
  while (start > 0 && open(tokens[start - 1]?.word ?? '')) start -= 1;
  // "Everything's good on the skids": the verdict may stand between.
  const verdicts = found.filter(
    (p) => p.kind === 'sense' && p.senses.some((s) => s.kind === 'verdict'),
  );
  let before =
    start === station.from
      ? start
      : Math.min(start, ...verdicts.filter((v) => v.to === start).map((v) => v.from));
  while (before > 0 && /^(is|are|looks|all)$/.test(tokens[before - 1]?.word ?? '')) before -= 1;
  return found.some(
    (p) =>
      p.kind === 'sense' &&
      p.to >= before &&
      p.to <= station.from &&
      p.senses.some((s) => s.kind === 'everything'),
  );
}

/**
 * Chooses pieces that do not overlap. Longer wins; at the same length a name wins
 * over a station, a station over a word of the lexicon. A part of a name weighs less,
 * so that "oil leak" is not swallowed by the tail of a longer name.
 */
export function choosePieces(found: readonly Piece[], tokens: readonly Token[]): Piece[] {
  const weight = (p: Piece): number => {
    let length = 0;
    for (let i = p.from; i < p.to; i += 1) if (!ARTICLES.has(tokens[i]?.word ?? '')) length += 1;
    if (p.kind === 'item')
      return (length + 0.5) * (p.entry.targets[0]?.score ?? 0) ** 0.5 * p.match;
    if (p.kind === 'station') return length + (overall(p, found, tokens) ? OVERALL : 0.49);
    return length * p.match;
  };
  const sorted = found
    .map((piece) => ({ piece, w: weight(piece) }))
    .sort((a, b) => b.w - a.w || a.piece.from - b.piece.from || b.piece.to - a.piece.to);
  const taken = new Uint8Array(tokens.length);
  const out: Piece[] = [];
  for (const { piece } of sorted) {
    let free = true;
    for (let i = piece.from; i < piece.to && free; i += 1) if (taken[i] === 1) free = false;
    if (!free) continue;
    taken.fill(1, piece.from, piece.to);
    out.push(piece);
  }
  return out.sort((a, b) => a.from - b.from);
}
