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
