/**
 * Words of the spelling alphabet and the figures as they are spoken. Letters
 * and spellings: FAA Aeronautical Information Manual 4-2-7, table 4-2-2, and
 * ICAO Annex 10 Volume II, 5.2.1. "Alpha", "Juliet" and "X-ray" are other
 * spellings of the same words, as recognisers write them; common practice.
 */
const SPELT: ReadonlyMap<string, string> = new Map(
  (
    'A Alfa Alpha|B Bravo|C Charlie|D Delta|E Echo|F Foxtrot|G Golf|H Hotel|I India|' +
    'J Juliett Juliet|K Kilo|L Lima|M Mike|N November|O Oscar|P Papa|Q Quebec|R Romeo|S Sierra|' +
    'T Tango|U Uniform|V Victor|W Whiskey Whisky|X Xray X-ray|Y Yankee|Z Zulu|' +
    '0 Zero|1 One Wun|2 Two|3 Three Tree|4 Four Fower|5 Five Fife|6 Six|7 Seven|8 Eight|9 Nine Niner'
  )
    .split('|')
    .flatMap((row) => {
      const [sign = '', ...words] = row.split(' ');
      return words.map((word) => [word.toLowerCase(), sign] as const);
    }),
);

/**
 * A registration that was spelled out, such as "november one two alfa", as
 * letters and figures: "N12A". Null as soon as one word is no word of the
 * alphabet: half a registration would be another aircraft.
 */
export function spelled(words: string): string | null {
  const said = words
    .toLowerCase()
    .replace(/x[- ]ray/g, 'xray')
    .split(/[^a-z0-9]+/)
    .filter((w) => w !== '');
  if (said.length === 0) return null;
  const signs = said.map(
    (w) => SPELT.get(w) ?? (/^(?:[a-z]|\d+)$/.test(w) ? w.toUpperCase() : null),
  );
  return signs.includes(null) ? null : signs.join('');
}

/** A registration said at the begin of a squawk: "squawk on november one two alfa, left tyre flat". */
export interface SaidAircraft {
  /** Letters and figures; null where a word among them is none of the alphabet. */
  readonly registration: string | null;
  /** The words of it, as said. */
  readonly words: string;
  /** What was said of the aircraft. */
  readonly rest: string;
}

/** Below this it is a count ("on one two blades") and no registration. Too few would name an aircraft that nobody meant. */
const LEAST_SIGNS = 3;
/** Words that are not of the alphabet, within which a letter word still belongs to the spelling. */
const BROKEN_WITHIN = 2;

/**
 * The registration that a squawk begins with; null where it begins with none.
 * It is taken whole or not at all: a shorter one may be another aircraft.
 */
export function aircraftSaid(text: string): SaidAircraft | null {
  const [, after = ''] = /^\s*(?:squawk\b[\s,:]*)?on\s+(.*)$/is.exec(text) ?? [];
  const words = after
    .replace(/\bx ray\b/gi, 'xray')
    .split(/\s+/)
    .filter((w) => w !== '');
  let count = 0;
  while (count < words.length && spelled(words[count] ?? '') !== null) {
    count += 1;
    // A comma ends it, so that "alfa, two cracks" is not spelled on.
    if (/[,:;.]$/.test(words[count - 1] ?? '')) break;
  }
  const run = words.slice(0, count);
  const registration = spelled(run.join(' '));
  const letters = run.filter((w) => isLetterWord(w)).length;
  if (registration === null || registration.length < LEAST_SIGNS || letters === 0) return null;
  const ended = /[,:;.]$/.test(run.at(-1) ?? '');
  const more = ended
    ? -1
    : words.slice(count, count + BROKEN_WITHIN + 1).findLastIndex((w) => isLetterWord(w));
  const until = count + more + 1;
  return {
    registration: more >= 0 ? null : registration,
    words: bare(words.slice(0, until).join(' ')),
    rest: words.slice(until).join(' '),
  };
}

/** A word that stands for a letter; a bare letter such as "a" may be a word of the language. */
function isLetterWord(word: string): boolean {
  const sign = spelled(word);
  return sign !== null && /^[A-Z]$/.test(sign) && bare(word).length > 1;
}

function bare(words: string): string {
  return words.replace(/[,:;.]+$/, '');
}

/** Whether two names are one registration, however it is written: "N-12A" is "n12a". */
export function sameRegistration(one: string, other: string): boolean {
  const plain = (name: string) => name.replace(/[^a-z0-9]/gi, '').toUpperCase();
  return plain(one) !== '' && plain(one) === plain(other);
}
