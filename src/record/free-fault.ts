import type { Fault } from '#shared/squawk';
import type { Severity } from '#shared/severity';

/** A condition found in free text: positions [from, to) in its words, and the words that name what it is on. */
export interface StateSaid {
  readonly condition: string;
  readonly part: string | null;
  readonly words: string;
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

/** The part of a phrase without sides and numbers; null when nothing is left. */
export function partIn(phrase: string): string | null {
  const kept = phrase.toLowerCase().replace(NO_PART, ' ').replace(/\s+/g, ' ').trim();
  return kept === '' ? null : kept;
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
  const others = places.filter((p) => !sides.includes(p));
  const named = states.map((s) => s.part).find((p) => p !== null && partIn(p) !== null) ?? null;
  return {
    words,
    check: null,
    part: named === null ? null : partIn(named),
    side: sides.length === 0 ? null : sides.join(' and '),
    position: others.length === 0 ? null : others.map(numbered).join(', '),
    conditions: states.map((s) => ({
      condition: s.condition,
      sign: null,
      degree: null,
      extent: null,
      words: s.words,
    })),
    value: null,
    severity,
  };
}

function numbered(place: string): string {
  return /^\d/.test(place) ? `number ${place}` : place;
}
