import type { Fault } from '#shared/squawk';
import type { Severity } from '#shared/severity';

/** A condition found in free text, at the words [from, to) of the text split at blanks. */
export interface StateSaid {
  readonly condition: string;
  readonly from: number;
  readonly to: number;
}

/** Ways of writing and saying where on the aircraft, as maintenance entries and pilots do. */
const WHERE: readonly (readonly [RegExp, string])[] = [
  [/\b(left|l\/h|lh|lefthand|port side)\b/i, 'left'],
  [/\b(right|r\/h|rh|righthand|starboard)\b/i, 'right'],
  [/\b(forward|fwd)\b/i, 'forward'],
  [/\baft\b/i, 'aft'],
  [/\bfront\b/i, 'front'],
  [/\b(rear|back)\b(?!\s*fir)/i, 'rear'],
  [/\b(upper|upr)\b/i, 'upper'],
  [/\b(lower|lwr)\b/i, 'lower'],
  [/\btop\b/i, 'top'],
  [/\bbottom\b/i, 'bottom'],
  [/\b(inboard|i\/b)\b/i, 'inboard'],
  [/\b(outboard|o\/b)\b/i, 'outboard'],
];

/** "#2, 3 & 4", "number two", "no. 3": the numbers of a part that is counted. */
const COUNTED =
  /(?:#|\b(?:number|no\.|nr|cyl(?:inder)?s?|intakes?|rocker covers?|gaskets?)\s*#?\s*)((?:\d{1,2}|one|two|three|four|five|six)(?:\s*(?:,|&|and|\s)\s*(?:\d{1,2}|one|two|three|four|five|six)\b)*)/gi;
const SPOKEN_NUMBERS = ['zero', 'one', 'two', 'three', 'four', 'five', 'six'];

/** Where on the aircraft a text says that something is: sides first, then numbers, each once. */
export function placesIn(text: string): readonly string[] {
  const sides = WHERE.filter(([pattern]) => pattern.test(text)).map(([, name]) => name);
  const leading = /^\s*(\d{1,2}(?:\s*(?:,|&|and)\s*\d{1,2})+)\s+[a-z]/i.exec(text)?.[1];
  const lists = [...text.matchAll(COUNTED)].map((m) => m[1] ?? '');
  const numbers = [...(leading === undefined ? [] : [leading]), ...lists]
    .flatMap((list) => list.toLowerCase().match(/\d{1,2}|[a-z]{3,5}/g) ?? [])
    .map((n) => (/^\d/.test(n) ? n : String(SPOKEN_NUMBERS.indexOf(n))))
    .filter((n) => n !== '-1');
  return [...new Set([...sides, ...numbers])];
}

/** Words that say where or how many and name no part. */
const NO_PART =
  /\b(left|right|l\/h|r\/h|lh|rh|fwd|forward|aft|front|rear|upper|lower|lwr|upr|top|bottom|inboard|outboard|i\/b|o\/b|side|both|all|the|a|an|on|of|at|is|are|has|and|number|cyl|no)\b|[#&,.\d]+/gi;

/** "Number two": the figure belongs to it. */
const NUMBERED = /\b(?:number|no\.?)\s+(?:one|two|three|four|five|six|seven|eight|nine|ten)\b/g;

/** The part of a phrase without sides and numbers; null when nothing is left. */
export function partIn(phrase: string): string | null {
  const kept = phrase
    .toLowerCase()
    .replace(NUMBERED, ' ')
    .replace(NO_PART, ' ')
    .replace(/\s+/g, ' ')
    .trim();
  return kept === '' ? null : kept;
}

/** Words that end the name of the thing at the begin of an entry: "screw on the baffle", "cylinder has low …". */
const ENDS =
  /^(on|of|at|in|for|from|to|by|with|w\/|over|under|near|above|below|behind|during|after|when|while|is|are|was|were|has|have|had|needs?|requires?|appears?|seems?|would|will|made|ran|running|dropped|reads|stays|keeps|runs|works|noted|found|suspect|suspected)$/i;

/**
 * The part that a text is about: the name that it begins with, or, where it
 * begins with the condition ("leaking gasket"), the one behind it.
 */
export function subjectIn(text: string, states: readonly StateSaid[]): string | null {
  const words = text.split(/\s+/).filter((w) => w !== '');
  const first = states.reduce((min, s) => Math.min(min, s.from), words.length);
  const before = nameFrom(words, 0, first);
  if (before !== null) return before;
  const behind = states.find((s) => s.from === first)?.to ?? words.length;
  const named = nameFrom(words, behind, words.length);
  if (named !== null) return named;
  // "Noted on the upper baffle": the thing stands behind the preposition.
  const start = words.findIndex((w, i) => i >= behind && ENDS.test(w)) + 1;
  return start === 0 ? null : nameFrom(words, start, words.length);
}

/** The words from a place up to one that ends a name or closes a clause; null when no part is among them. */
function nameFrom(words: readonly string[], from: number, to: number): string | null {
  const name: string[] = [];
  for (const word of words.slice(from, to)) {
    if (ENDS.test(word)) break;
    name.push(word.replace(/[.;:!?]+$/, ''));
    if (/[.;:!?]$/.test(word)) break;
  }
  return partIn(name.join(' '));
}

/**
 * A fault from words about something that the catalogue does not name: what
 * can be told of it is told, and the words are kept as said (R4).
 */
export function freeFault(
  words: string,
  states: readonly StateSaid[],
  severity: Severity | null,
): Fault {
  const places = placesIn(words);
  const sides = places.filter((p) => p === 'left' || p === 'right');
  const others = places.filter((p) => p !== 'left' && p !== 'right');
  const all = words.split(/\s+/).filter((w) => w !== '');
  return {
    words,
    check: null,
    part: subjectIn(words, states),
    side: sides.length === 0 ? null : sides.join(' and '),
    position: others.length === 0 ? null : others.map(numbered).join(', '),
    conditions: states.map((s) => ({
      condition: s.condition,
      sign: null,
      degree: null,
      extent: null,
      words: all.slice(s.from, s.to).join(' '),
    })),
    value: null,
    severity,
  };
}

function numbered(place: string): string {
  return /^\d/.test(place) ? `number ${place}` : place;
}
