import type { CueHit } from './cues.ts';
import { isBeside, isEcho, isNounStart, isStranger, leads } from './bounds.ts';
import { COMPLETED } from './ellipsis.ts';
import { joint } from './joints.ts';
import type { ForceCue } from './lexicon.ts';
import type { ItemPiece, Piece, SensePiece, StationPiece } from './pieces.ts';
import { SIDE_WORDS, stems } from './names.ts';
import { isNumberWord, numberAt } from './numbers.ts';
import { isOpener } from './openers.ts';
import { isCondition, speaks } from './predicates.ts';
import { rowBefore } from './row.ts';
import type { Token } from './tokens.ts';

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

/** Below this a name is a part of one, that may as well be the place of the name before it. */
const WHOLE = 0.8;

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
      if ((tokens[i]?.gap ?? 0) > 0 || joint('contrast').has(word)) break;
      const number = isNumberWord(word) && !isUnitBehind(i - 1);
      if (!isNounStart(word) && !number) break;
      i -= 1;
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
          // "(upper sheave's fine,) lower one's got a groove": with the place that it is said of.
          if (said && !bound) cut(rowBefore(tokens, cue.from, used)?.from ?? cue.from, weak);
          else if (talk && !bound && (!weak || cur.items.length > 0)) cut(cue.from, false);
          break;
        }
        case 'topic':
          // "No, that's the rear one": what mends a slip turns to nothing new.
          if (isSlip(cur.preds.at(-1), cue.from)) break;
          if (!isEmpty() && (said || cur.items.length > 0 || (tokens[cue.from]?.gap ?? 0) > 0))
            cut(cue.from, true);
          break;
        case 'intention':
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
    if (cur.preds.some(speaks) && isEcho(tokens, i, to)) cut(i, true);
    const piece = sorted[p];
    if (piece !== undefined && piece.from === i) {
      p += 1;
      if (piece.kind === 'item') takeItem(piece);
      else if (piece.kind === 'station') takeStation(piece);
      else takeSense(piece);
      i = piece.to - 1;
      continue;
    }
    if (
      (tokens[i]?.gap ?? 0) > 0 &&
      cur.items.length > 0 &&
      cur.preds.some(speaks) &&
      isStranger(tokens, i, sorted[p])
    )
      cut(i, true);
    if ((tokens[i]?.gap ?? 0) > 0 && joint('subject').has(word) && cur.preds.some(speaks))
      cut(
        i,
        cur.cues.some((k) => k.item === 'hypothesis' || k.item === 'teaching'),
      );
    // "Nothing but rust", "anything but clean": there is no turn in it.
    const whole = word === 'but' && /^(nothing|anything|none|all)$/.test(tokens[i - 1]?.word ?? '');
    if (joint('contrast').has(word) && word !== 'only' && !whole) {
      if (!isEmpty()) cut(i, false, true);
      else cur.contrast = true;
    }
  }
  cut(to, false);
  return out;

  function takeItem(item: ItemPiece): void {
    const start = groupStart(item.from, Math.max(used, cur.from));
    const before = tokens[start - 1]?.word ?? '';
    const linked = joint('link').has(before) || joint('link').has(tokens[start]?.word ?? '');
    const last = cur.preds[cur.preds.length - 1];
    if (cur.preds.some(speaks)) {
      const gapped = (tokens[start]?.gap ?? 0) > 0;
      if (cur.items.length === 0 && cur.stations.length === 0) {
        // "no cracks on the blade", "cracked blade"; but "good, left tyre" is two.
        const told =
          last !== undefined &&
          (joint('copula').has(tokens[last.from - 1]?.word ?? '') ||
            /^(it|them|that)$/.test(before) ||
            /^(it|them)$/.test(tokens[start + 1]?.word ?? ''));
        const far = start - (last?.to ?? start) > 2;
        // "A ripple a foot behind the frame": what has the ripple is said elsewhere.
        if (last !== undefined && isCondition(last) && isBeside(tokens, start)) {
          cur.places.push(item);
          used = item.to;
          return;
        }
        if (!linked && hasOwn(item) && (gapped || told || far)) cut(start, true);
        cur.items.push(item);
      } else if (last !== undefined && isCondition(last) && linked && start - last.to <= 6) {
        cur.places.push(item);
        used = item.to;
        return;
      } else if (isPartOf(item, cur.items.at(-1))) {
        // "Rust on the battery tray", where there is a drip tray as well.
        cur.places.push(item);
      } else {
        cut(start, true);
        cur.items.push(item);
      }
    } else if (cur.items.length > 0) {
      const previous = cur.items[cur.items.length - 1];
      // "Mount tubes engine": a part of a name right behind a name only says where that is;
      // but "right fuel source" may be the fuel source at the right.
      const weak =
        item.match === COMPLETED ||
        isInside(item, previous) ||
        ((item.entry.targets[0]?.score ?? 1) < WHOLE &&
          previous?.entry.words.some((w) => SIDE_WORDS.has(w)) === false);
      if (weak && previous?.to === item.from && (tokens[item.from]?.gap ?? 0) === 0)
        cur.places.push(item);
      // "The sight glass on the main gearbox is half": the first is what is looked at.
      else if (previous !== undefined && leads(tokens, previous.to, item.from))
        cur.places.push(item);
      else if (joined(previous?.to ?? 0, item.from)) cur.items.push(item);
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
        if (joint('contrast').has(tokens[i]?.word ?? '')) return false;
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
      if (/^(and|or|nor|plus)$/.test(word)) joint = true;
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
      const linked =
        joint('link').has(tokens[start - 1]?.word ?? '') ||
        joint('link').has(tokens[start]?.word ?? '');
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
    else if (kinds.has('same') && (cur.preds.some(speaks) || rowAt(sense.from) !== null))
      // "…, right the same": the side goes with it.
      cut(rowAt(sense.from) ?? sense.from, true);
    else if (kinds.has('circumstance') && cur.preds.some(isCircumstance)) cut(sense.from, true);
    else if (
      speaks(sense) &&
      (cur.preds.some(speaks) || isMeasured(sense.from)) &&
      cur.items.length + cur.stations.length > 0 &&
      leadsOn(sense)
    ) {
      cut(backOver(sense.from), true);
    } else if (speaks(sense) && cur.preds.some(speaks)) {
      const place = placeBefore(sense.from);
      if (place !== null) cut(place, true);
    }
    cur.preds.push(sense);
    used = sense.to;
  }

  /** "(right tank) three quarters (no water in the sump)": a value was said of the name before. */
  function isMeasured(at: number): boolean {
    const from = cur.items.at(-1)?.to ?? at;
    for (let i = from; i < at; i += 1)
      if (isNumberWord(tokens[i]?.word ?? '') && !joint('place').has(tokens[i]?.word ?? ''))
        return true;
    return false;
  }

  /** "left good, right has a big dent", "one good, two and three loose": where the sides or numbers before the predicate begin. */
  function placeBefore(at: number): number | null {
    const row = rowBefore(tokens, at, used);
    return row === null || joint('link').has(tokens[row.from - 1]?.word ?? '') ? null : row.from;
  }

  function rowAt(at: number): number | null {
    const end = tokens[at - 1]?.word === 'the' ? at - 1 : at;
    const row = rowBefore(tokens, end, used);
    return row !== null && (tokens[row.from]?.gap ?? 0) > 0 ? row.from : null;
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
      if (joint('link').has(word)) linked = true;
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
      /^(no|not|nothing|none|never|neither|hardly|any|a|an|the|some|small|slight|tiny|little|bit|of|and|or|nor|without|big|large|there|is|are|has|have|got|i|we|with|very|heavy|light|minor|major|two|three|four|couple|few|see|can|do|also)$/.test(
        tokens[i - 1]?.word ?? '',
      )
    )
      i -= 1;
    return i;
  }
}

/** A part of a name right behind a whole name, without a side of its own. */
function isPartOf(item: ItemPiece, previous: ItemPiece | undefined): boolean {
  return previous?.to === item.from && (item.entry.targets[0]?.score ?? 1) < WHOLE;
}

/** "(the hydraulic) line on the left, brake": words of the longer name that the first is a part of. */
function isInside(item: ItemPiece, previous: ItemPiece | undefined): boolean {
  const best = previous?.entry.targets[0];
  if (best === undefined || best.score === 1) return false;
  const whole = stems(best.full);
  return item.entry.words.every((w) => whole.includes(w));
}

function isCircumstance(piece: SensePiece): boolean {
  return piece.senses.some((s) => s.kind === 'circumstance');
}
function isSlip(piece: SensePiece | undefined, to: number): boolean {
  return piece?.to === to && piece.senses.some((s) => s.kind === 'correct');
}
