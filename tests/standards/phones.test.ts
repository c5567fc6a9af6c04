import { expect, test } from 'vitest';
import { parseDictionary } from '#grammar';
import { PHONES } from '../../grammar/sound/phones.ts';
import { spellOut } from '../../grammar/sound/letters.ts';
import { dictionaryText, phoneCost, phoneDistance, GAP } from '../bench/phones.ts';

/**
 * The 39 phones of the CMU Pronouncing Dictionary, without stress.
 * Source: the phone table with examples on cmusphinx.github.io/wiki/cmubet
 * (read; SIL left out), and cmudict 0.2's own notes ("contains 39 phones").
 */
const EXAMPLES: readonly (readonly [string, string, string])[] = [
  ['AA', 'odd', 'AA D'],
  ['AE', 'at', 'AE T'],
  ['AH', 'hut', 'HH AH T'],
  ['AO', 'ought', 'AO T'],
  ['AW', 'cow', 'K AW'],
  ['AY', 'hide', 'HH AY D'],
  ['B', 'be', 'B IY'],
  ['CH', 'cheese', 'CH IY Z'],
  ['D', 'dee', 'D IY'],
  ['DH', 'thee', 'DH IY'],
  ['EH', 'ed', 'EH D'],
  ['ER', 'hurt', 'HH ER T'],
  ['EY', 'ate', 'EY T'],
  ['F', 'fee', 'F IY'],
  ['G', 'green', 'G R IY N'],
  ['HH', 'he', 'HH IY'],
  ['IH', 'it', 'IH T'],
  ['IY', 'eat', 'IY T'],
  ['JH', 'gee', 'JH IY'],
  ['K', 'key', 'K IY'],
  ['L', 'lee', 'L IY'],
  ['M', 'me', 'M IY'],
  ['N', 'knee', 'N IY'],
  ['NG', 'ping', 'P IH NG'],
  ['OW', 'oat', 'OW T'],
  ['OY', 'toy', 'T OY'],
  ['P', 'pee', 'P IY'],
  ['R', 'read', 'R IY D'],
  ['S', 'sea', 'S IY'],
  ['SH', 'she', 'SH IY'],
  ['T', 'tea', 'T IY'],
  ['TH', 'theta', 'TH EY T AH'],
  ['UH', 'hood', 'HH UH D'],
  ['UW', 'two', 'T UW'],
  ['V', 'vee', 'V IY'],
  ['W', 'we', 'W IY'],
  ['Y', 'yield', 'Y IY L D'],
  ['Z', 'zee', 'Z IY'],
  ['ZH', 'seizure', 'S IY ZH ER'],
];
const published = EXAMPLES.map(([phone]) => phone);
const dictionary = parseDictionary(dictionaryText());

test('the grammar knows exactly the 39 published phones', () => {
  expect(published.length).toBe(39);
  expect([...PHONES].sort()).toEqual([...published].sort());
});

test.each(EXAMPLES)('%s as in "%s" is %s in the dictionary that ships', (_phone, word, phones) => {
  const own = dictionary.of(word).map((p) => p.join(' '));
  // The dictionary writes "theta" with another vowel; any pronunciation with the phone will do there.
  if (word === 'theta') expect(own.some((p) => p.startsWith('TH'))).toBe(true);
  else expect(own).toContain(phones);
});

test('the dictionary has the size it is known by, and no phone outside the 39', () => {
  expect(dictionary.size).toBeGreaterThan(120_000);
  const used = new Set<string>();
  for (const line of dictionaryText().split('\n')) {
    if (line.startsWith(';') || line.trim() === '') continue;
    for (const phone of line.trim().split(/\s+/).slice(1)) used.add(phone.replace(/\d/g, ''));
  }
  expect([...used].filter((p) => !published.includes(p))).toEqual([]);
  expect(used.size).toBe(39);
});

test('"word(2)" is a further pronunciation and stress digits are dropped (format of cmudict)', () => {
  const own = parseDictionary(
    ';;; a comment\nDUPLICATED D UW1 P L IH0 K EY2 T IH0 D\nDUPLICATED(2) D Y UW1 P L AH0 K EY2 T IH0 D\n',
  );
  expect(own.of('duplicated').map((p) => p.join(' '))).toEqual([
    'D UW P L IH K EY T IH D',
    'D Y UW P L AH K EY T IH D',
  ]);
});

test.each(['swashplate', 'empennage', 'pitot', 'oleo', 'stabiliser', 'qrtz', '737', 'naïve'])(
  'letter to sound gives "%s" published phones only, and some',
  (word) => {
    const phones = spellOut(word);
    expect(phones.length).toBeGreaterThan(0);
    expect(phones.filter((p) => !published.includes(p))).toEqual([]);
  },
);

/**
 * ICAO and FAA spelling alphabet, AIM table 4-2-2 (letters): each code word has
 * a pronunciation, so a registration can be spelled to the recogniser.
 */
const ALPHABET =
  'alfa bravo charlie delta echo foxtrot golf hotel india juliett kilo lima mike november oscar papa quebec romeo sierra tango uniform victor whiskey xray yankee zulu'.split(
    ' ',
  );

test('AIM table 4-2-2: all 26 code words can be said, begin with their letter, and none sounds like another', () => {
  expect(ALPHABET.map((w) => w[0]).join('')).toBe('abcdefghijklmnopqrstuvwxyz');
  const said = ALPHABET.map((w) => dictionary.of(w)[0] ?? spellOut(w));
  expect(said.filter((p) => p.length < 3)).toEqual([]);
  said.forEach((a, i) =>
    said.slice(i + 1).forEach((b) => expect(phoneDistance(a, b)).toBeGreaterThan(1)),
  );
});

test("the bench's own costs are a distance: nought to itself, alike both ways, at most 1", () => {
  for (const a of published) {
    expect(phoneCost(a, a)).toBe(0);
    for (const b of published) {
      expect(phoneCost(a, b)).toBe(phoneCost(b, a));
      expect(phoneCost(a, b)).toBeLessThanOrEqual(1);
      if (a !== b) expect(phoneCost(a, b)).toBeGreaterThan(0);
    }
  }
  expect(phoneDistance(['B', 'IY'], ['IY'])).toBe(GAP);
});
