import { lexicon, type ForceCue } from './lexicon.ts';
import type { ItemPiece, Piece, SensePiece, StationPiece } from './pieces.ts';
import { SIDE_WORDS, stem } from './names.ts';
import { isNumberWord, numberAt } from './numbers.ts';
import { phraseWords, type Token } from './tokens.ts';
import { Trie, type Hit } from './trie.ts';

/** A cue for the kind of saying, outside every name and verdict. */
export type CueHit = Hit<ForceCue>;

/** What one assertion is made of: words [from, to) about the same things. */
export interface Clause {
  readonly from: number;
  to: number;
  items: ItemPiece[];
  stations: StationPiece[];
  preds: SensePiece[];
  /** Names that only say where on the thing. */
  places: ItemPiece[];
  cues: CueHit[];
  /** Joined to the clause before without a full stop, a contrast or a fresh start. */
  follows: boolean;
  /** Begins after "but", "however" and the like. */
  contrast: boolean;
}

let cueWords: Trie<ForceCue> | null = null;
function cueTrie(): Trie<ForceCue> {
  if (cueWords !== null) return cueWords;
  cueWords = new Trie();
  for (const [cue, say] of Object.entries(lexicon().force) as [ForceCue, string[]][]) {
    for (const phrase of say) cueWords.add(phraseWords(phrase), cue);
  }
  return cueWords;
}

const CONTRAST = new Set([
  'but',
  'however',
  'although',
  'though',
  'nevertheless',
  'yet',
  'whereas',
  'only',
]);
/** "It is", "there are": a fresh result after a verdict, but inside talk it goes on talking. */
export const WEAK_START =
  /^(and )?(it|they|that|those|there|this|these) (is|are|does|do|has|have)( no)?$|^(does|do) look$|^still$/;
const TALK = new Set<ForceCue>([
  'intention',
  'teaching',
  'hypothesis',
  'question',
  'past',
  'hearsay',
]);
const LINK = new Set([
  'on',
  'in',
  'at',
  'of',
  'to',
  'from',
  'around',
  'along',
  'near',
  'inside',
  'under',
  'behind',
  'with',
  'by',
  'for',
  'across',
  'between',
  'where',
]);
const NOUN_START = new Set([
  'the',
  'a',
  'an',
  'this',
  'that',
  'these',
  'those',
  'my',
  'our',
  'your',
  'and',
  'then',
  'now',
  'next',
  'also',
  'both',
  'all',
  'each',
  'every',
  'other',
  'one',
  'number',
  'same',
  'here',
  'so',
  'okay',
  'ok',
  'alright',
  'right',
  'of',
  'on',
  'to',
  'two',
  'three',
  'four',
  'five',
  'six',
  'first',
  'second',
  'third',
  'fourth',
  'last',
  'hand',
  'side',
  'well',
  'with',
]);

function isNounStart(word: string): boolean {
  return (
    NOUN_START.has(word) || SIDE_WORDS.has(stem(word)) || word === 'port' || word === 'starboard'
  );
}

/** Cues outside the pieces, longest at each place. A cue may overlap a verdict that is part of it ("should be tight"). */
export function cuesIn(
  tokens: readonly Token[],
  pieces: readonly Piece[],
  from: number,
  to: number,
): CueHit[] {
  const words = tokens.slice(from, to).map((t) => t.word);
  const covered = new Int32Array(words.length).fill(-1);
  pieces.forEach((p, k) => {
    if (p.kind === 'station') return;
    for (let i = Math.max(p.from, from); i < Math.min(p.to, to); i += 1) covered[i - from] = k;
  });
  const trie = cueTrie();
  const out: CueHit[] = [];
  for (let i = 0; i < words.length;) {
    const hits = trie.at(words, i).filter((h) => {
      if (tokens.slice(h.from + from + 1, h.to + from).some((t) => t.gap === 2)) return false;
      // Inside one longer phrase ("not sure" in a verdict) it is not a cue.
      const k = covered[h.from] ?? -1;
      if (k < 0) return true;
      const piece = pieces[k];
      return piece !== undefined && piece.kind === 'sense' && h.to - h.from > piece.to - piece.from;
    });
    const best = hits[hits.length - 1];
    if (best === undefined) {
      i += 1;
      continue;
    }
    for (const h of hits)
      if (h.to === best.to) out.push({ from: h.from + from, to: h.to + from, item: h.item });
    i = best.to;
  }
  return out;
}

/** Behind a comma these begin a sentence of their own. */
const SUBJECT = /^(nobody|somebody|someone|everybody|he|she|we|you|they|i|who)$/;
const COPULA = /^(is|are|looks?|was|were|has|have|got)$/;
const PLACE_ALONE =
  /^(left|right|one|two|three|four|five|six|first|second|third|fourth|fifth|sixth|upper|lower|front|rear|inboard|outboard|port|starboard)$/;
const PRED_KINDS = new Set([
  'condition',
  'verdict',
  'compared',
  'notfitted',
  'setaside',
  'severity',
]);
export function isPredicate(piece: Piece): piece is SensePiece {
  return piece.kind === 'sense' && piece.senses.some((s) => PRED_KINDS.has(s.kind));
}
function speaks(piece: SensePiece): boolean {
  return piece.senses.some(
    (s) => s.kind === 'condition' || s.kind === 'verdict' || s.kind === 'compared',
  );
}
export function isCondition(piece: SensePiece): boolean {
  return piece.senses.some((s) => s.kind === 'condition');
}

/**
 * Splits one sentence, tokens [from, to), into clauses. Linear in its length.
 *
 * A predicate belongs to the names before it; to the name behind it when "on",
 * "in", "of" lead there or nothing stands before it. A name behind a finished
 * clause begins the next one, unless it only says where ("a nick near the tip").
 */
export function clausesOf(
  tokens: readonly Token[],
  pieces: readonly Piece[],
  cues: readonly CueHit[],
  from: number,
  to: number,
): Clause[] {
  const out: Clause[] = [];
  const fresh = (at: number, follows: boolean, contrast: boolean): Clause => ({
    from: at,
    to,
    items: [],
    stations: [],
    preds: [],
    places: [],
    cues: [],
    follows,
    contrast,
  });
  let cur = fresh(from, false, false);
  let used = from;
  const isEmpty = (): boolean =>
    cur.items.length + cur.preds.length + cur.stations.length + cur.cues.length === 0;
  const cut = (at: number, follows: boolean, contrast = false): void => {
    const place = Math.max(at, cur.from);
    if (isEmpty() && place === cur.from) {
      cur = { ...fresh(cur.from, cur.follows, cur.contrast || contrast) };
      return;
    }
    cur.to = place;
    if (place > cur.from) out.push(cur);
    cur = fresh(place, follows, contrast);
    used = place;
  };
  /** Where the noun group that ends at `at` begins: articles, sides and counts before the name. */
  const groupStart = (at: number, floor: number): number => {
    let i = at;
    while (i > floor) {
      const word = tokens[i - 1]?.word ?? '';
      if (CONTRAST.has(word)) break;
      const number = isNumberWord(word) && !isUnitBehind(i - 1);
      if (!isNounStart(word) && !number) break;
      i -= 1;
      if ((tokens[i]?.gap ?? 0) > 0) break;
    }
    return i;
  };
  const isUnitBehind = (i: number): boolean =>
    /^(psi|quarts?|gallons?|inch(es)?|percent|litres?|volts?)$/.test(tokens[i + 1]?.word ?? '');
  const inside = pieces.filter((p) => p.from >= from && p.to <= to).sort((a, b) => a.from - b.from);
  const sorted = inside.filter((p) => !isOpener(p, tokens, from, inside));
  let c = 0;
  let p = 0;
  for (let i = from; i < to; i += 1) {
    const word = tokens[i]?.word ?? '';
    // Cues first: they may begin a clause of their own.
    for (; c < cues.length && (cues[c]?.from ?? to) <= i; c += 1) {
      const cue = cues[c];
      if (cue === undefined) break;
      const said = cur.preds.some(speaks);
      switch (cue.item) {
        case 'present': {
          const weak = WEAK_START.test(
            tokens
              .slice(cue.from, cue.to)
              .map((t) => t.word)
              .join(' '),
          );
          const talk = cur.cues.some((k) => TALK.has(k.item));
          const bound = /^(that|sure|if|whether|how|when)$/.test(tokens[cue.from - 1]?.word ?? '');
          if (said && !bound) cut(cue.from, weak);
          else if (talk && !bound && (!weak || cur.items.length > 0)) cut(cue.from, false);
          break;
        }
        case 'intention':
        case 'topic':
        case 'teaching':
        case 'hypothesis':
        case 'question':
          if (!isEmpty() && (said || cur.items.length > 0 || (tokens[cue.from]?.gap ?? 0) > 0))
            cut(cue.from, true);
          break;
        case 'past':
          if (said && (tokens[cue.from]?.gap ?? 0) > 0) cut(cue.from, false);
          break;
        case 'hearsay':
          if (said) cut(cue.from, true);
          break;
        case 'doubt':
        case 'tense':
          break;
      }
      cur.cues.push(cue);
    }
    const piece = sorted[p];
    if (piece !== undefined && piece.from === i) {
      p += 1;
      if (piece.kind === 'item') takeItem(piece);
      else if (piece.kind === 'station') takeStation(piece);
      else takeSense(piece);
      i = piece.to - 1;
      continue;
    }
    if ((tokens[i]?.gap ?? 0) > 0 && SUBJECT.test(word) && cur.preds.some(speaks)) cut(i, false);
    if (CONTRAST.has(word) && word !== 'only') {
      if (!isEmpty()) cut(i, false, true);
      else cur.contrast = true;
    }
  }
  cut(to, false);
  return out;

  function takeItem(item: ItemPiece): void {
    const start = groupStart(item.from, Math.max(used, cur.from));
    const before = tokens[start - 1]?.word ?? '';
    const linked = LINK.has(before) || LINK.has(tokens[start]?.word ?? '');
    const last = cur.preds[cur.preds.length - 1];
    if (cur.preds.some(speaks)) {
      const gapped = (tokens[start]?.gap ?? 0) > 0;
      if (cur.items.length === 0 && cur.stations.length === 0) {
        // "no cracks on the blade", "cracked blade"; but "good, left tyre" is two.
        const told =
          last !== undefined &&
          (COPULA.test(tokens[last.from - 1]?.word ?? '') ||
            /^(it|them|that)$/.test(before) ||
            /^(it|them)$/.test(tokens[start + 1]?.word ?? ''));
        const far = start - (last?.to ?? start) > 2;
        if (!linked && hasOwn(item) && (gapped || told || far)) cut(start, true);
        cur.items.push(item);
      } else if (last !== undefined && isCondition(last) && linked && start - last.to <= 6) {
        cur.places.push(item);
        used = item.to;
        return;
      } else {
        cut(start, true);
        cur.items.push(item);
      }
    } else if (cur.items.length > 0) {
      const previous = cur.items[cur.items.length - 1];
      if (joined(previous?.to ?? 0, item.from)) cur.items.push(item);
      else {
        cut(start, true);
        cur.items.push(item);
      }
    } else cur.items.push(item);
    used = item.to;
  }

  /** Whether a predicate or a number follows the name before the next name. */
  function hasOwn(item: ItemPiece): boolean {
    for (let k = p; k < sorted.length; k += 1) {
      const next = sorted[k];
      if (next === undefined || next.from >= to || next.kind !== 'sense') break;
      for (let i = item.to; i < next.from; i += 1)
        if (CONTRAST.has(tokens[i]?.word ?? '')) return false;
      if (speaks(next)) return true;
    }
    for (let i = item.to; i < Math.min(to, item.to + 4); i += 1) {
      if (
        /^(no|not|nothing)$/.test(tokens[i]?.word ?? '') ||
        numberAt([tokens[i]?.word ?? ''], 0) !== null
      )
        return true;
    }
    return false;
  }

  /** Only "and", commas, articles and sides between two names. */
  function joined(a: number, b: number): boolean {
    let joint = false;
    for (let i = a; i < b; i += 1) {
      const word = tokens[i]?.word ?? '';
      if (word === 'and' || word === 'or' || word === 'plus') joint = true;
      else if (!isNounStart(word)) return false;
    }
    for (let i = a; i <= b; i += 1) if (tokens[i]?.gap === 1) joint = true;
    if (joint) return true;
    // "tyres brakes and struts good": the joint comes before the last of the row.
    const next = sorted[p];
    if (b === a && next?.kind === 'item') {
      for (let i = sorted[p - 1]?.to ?? b; i < next.from; i += 1)
        if (tokens[i]?.word === 'and') return true;
    }
    return false;
  }

  function takeStation(station: StationPiece): void {
    if (
      cur.preds.some(speaks) &&
      !cur.preds.some((k) => k.senses.some((s) => s.kind === 'everything'))
    ) {
      const start = groupStart(station.from, Math.max(used, cur.from));
      const linked = LINK.has(tokens[start - 1]?.word ?? '') || LINK.has(tokens[start]?.word ?? '');
      if (!linked) cut(start, true);
    }
    cur.stations.push(station);
    used = station.to;
  }

  function takeSense(sense: SensePiece): void {
    const kinds = new Set(sense.senses.map((s) => s.kind));
    if ((kinds.has('correct') || kinds.has('retract') || kinds.has('squawk')) && !isEmpty())
      cut(sense.from, false);
    else if (kinds.has('setaside') && cur.preds.some(speaks)) cut(sense.from, false);
    else if (kinds.has('everything') && !isEmpty() && cur.preds.some(speaks)) cut(sense.from, true);
    else if (kinds.has('same') && cur.preds.some(speaks)) cut(sense.from, true);
    else if (kinds.has('circumstance') && cur.preds.some(isCircumstance)) cut(sense.from, true);
    else if (speaks(sense) && cur.preds.some(speaks) && cur.items.length > 0 && leadsOn(sense)) {
      cut(backOver(sense.from), true);
    } else if (speaks(sense) && cur.preds.some(speaks)) {
      const place = placeBefore(sense.from);
      if (place !== null) cut(place, true);
    }
    cur.preds.push(sense);
    used = sense.to;
  }

  /** "left good right dented", "one good two good": where a side or a number right before the predicate begins. */
  function placeBefore(at: number): number | null {
    let i = at;
    while (
      i > used &&
      /^(is|are|has|have|looks?|got|a|an|no|not|slightly|bit)$/.test(tokens[i - 1]?.word ?? '')
    )
      i -= 1;
    const word = tokens[i - 1]?.word ?? '';
    if (i - 1 < used) return null;
    const place = PLACE_ALONE.test(word);
    if (!place) return null;
    const start =
      /^(the|and|number|line|side)$/.test(tokens[i - 2]?.word ?? '') && i - 2 >= used
        ? i - 2
        : i - 1;
    return LINK.has(tokens[start - 1]?.word ?? '') ? null : start;
  }

  /** "… no cracks on the blade": behind the predicate a link leads to a name. */
  function leadsOn(sense: SensePiece): boolean {
    let i = sense.to;
    let linked = false;
    for (; i < Math.min(to, sense.to + 7); i += 1) {
      const word = tokens[i]?.word ?? '';
      const next = sorted[p];
      if (next !== undefined && next.from === i) {
        if (next.kind === 'item') return linked;
        if (next.kind === 'sense' && speaks(next) && !linked) {
          p += 1;
          const on = leadsOn(next);
          p -= 1;
          return on;
        }
        return false;
      }
      if (LINK.has(word)) linked = true;
      else if (linked && /^(it|them|that|this|one)$/.test(word)) return false;
      else if (!isNounStart(word) && word !== 'any' && word !== 'or') return false;
    }
    return false;
  }
  /** Denials, degrees and articles before a predicate go with it. */
  function backOver(at: number): number {
    let i = at;
    while (
      i > used &&
      /^(no|not|any|a|an|the|some|small|slight|tiny|little|bit|of|and|or|nor|without|big|large|there|is|are|has|have|got|i|we|with|very|heavy|light|minor|major|two|three|four|see|can|do|also)$/.test(
        tokens[i - 1]?.word ?? '',
      )
    )
      i -= 1;
    return i;
  }
}

function isCircumstance(piece: SensePiece): boolean {
  return piece.senses.some((s) => s.kind === 'circumstance');
}

const OPENING = /^(so|and|well|now|um|uh|er|oh|then|ok|okay|alright|all|right|yeah|yes)$/;
const OPENER = /^(ok|okay|o k|alright|all right)$/;
const OPENER_BEFORE_COMMA = /^(good|great|fine|lovely|perfect|nice|excellent)$/;

/**
 * "Okay, tail boom": a word that opens the next thing is no verdict on the last
 * one. Taking it for one would speak for a check that nobody spoke about (R1).
 */
function isOpener(
  piece: Piece,
  tokens: readonly Token[],
  from: number,
  all: readonly Piece[],
): boolean {
  if (piece.kind !== 'sense' || !piece.senses.every((s) => s.kind === 'verdict')) return false;
  for (let i = from; i < piece.from; i += 1) {
    if (!OPENING.test(tokens[i]?.word ?? '')) return false;
  }
  const said = tokens.slice(piece.from, piece.to).map((t) => t.word);
  const comma = (tokens[piece.to]?.gap ?? 0) > 0;
  const opens = OPENER.test(said.join(' ')) || (comma && OPENER_BEFORE_COMMA.test(said.join(' ')));
  return opens && all.some((p) => p.kind !== 'sense' && p.from >= piece.to);
}
