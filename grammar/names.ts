import type { Catalogue, Check, Sign, Station } from '#shared/catalogue';
import { joint } from './joints.ts';
import { lexicon } from './lexicon.ts';
import { phraseWords } from './tokens.ts';
import { Trie } from './trie.ts';

/** A name as it may be said, and the checks that it can mean. */
export interface NameEntry {
  /** Stems, articles left out. */
  readonly words: readonly string[];
  /** As it is spoken. */
  readonly text: string;
  readonly targets: readonly NameTarget[];
}
export interface NameTarget {
  readonly check: number;
  /** 1 for the full name, less for a part of it. */
  readonly score: number;
  readonly full: string;
  /** Places that the name itself says ("left door"). */
  readonly sides?: readonly string[];
}
export interface CheckEntry {
  readonly index: number;
  readonly check: Check;
  readonly station: Station;
  readonly names: readonly string[];
  /** Side words in its own names and its station's. */
  readonly sides: ReadonlySet<string>;
  /** Every word of its names and its station's. */
  readonly words: ReadonlySet<string>;
  /** Signs that can be found at it, the catalogue's own resolved. */
  readonly signs: readonly Sign[];
}

export const ARTICLES: ReadonlySet<string> = new Set([
  'the',
  'a',
  'an',
  'of',
  'my',
  'our',
  'your',
  'and',
  'for',
]);

const SAME_SIDE: ReadonlyMap<string, string> = new Map(
  Object.entries({
    lh: 'left',
    rh: 'right',
    front: 'forward',
    fwd: 'forward',
    rear: 'aft',
    top: 'upper',
    bottom: 'lower',
    inner: 'inboard',
    outer: 'outboard',
    lefthand: 'left',
    righthand: 'right',
  }),
);

/** A word without its plural, spelling variants and side synonyms folded. */
export function stem(word: string): string {
  const side = SAME_SIDE.get(word);
  if (side !== undefined) return side;
  if (word.length > 4 && word.endsWith('ies')) return `${word.slice(0, -3)}y`;
  if (word.length > 4 && /(ss|x|ch|sh)es$/.test(word)) return word.slice(0, -2);
  if (word.length > 3 && word.endsWith('s') && !/(ss|us|is)$/.test(word)) return word.slice(0, -1);
  return word;
}

/** Whether the word is said as a plural. */
export function isPlural(word: string): boolean {
  return stem(word) !== word && SAME_SIDE.get(word) === undefined;
}

export function stems(phrase: string): string[] {
  return phraseWords(phrase)
    .map(stem)
    .filter((w) => !ARTICLES.has(w));
}

export const SIDE_WORDS: ReadonlySet<string> = new Set([
  'left',
  'right',
  'upper',
  'lower',
  'forward',
  'aft',
  'inboard',
  'outboard',
  'middle',
]);

/**
 * The words of a name without those that tell a side. "Port" does where something follows it: a "static
 * port" is none.
 */
export const withoutSides = (name: readonly string[]): string[] =>
  name.filter(
    (w, i) => !SIDE_WORDS.has(w) && w !== 'starboard' && (w !== 'port' || i === name.length - 1),
  );

/**
 * What a part of a name is worth. A part is taken only where it fits nothing better;
 * each dropped word makes it easier to mean something else.
 */
const PART = { front: 0.9, perWord: 0.07, middle: 0.86, tail: 0.76, single: 0.66 };

/** Words too general to name a check by themselves. */
function generic(): Set<string> {
  const { places, aspects, fillers, conditions, verdicts, units } = lexicon();
  return new Set(
    [
      ...places.parts,
      // "Behind" is no short form of "tools left behind".
      ...places.at,
      ...places.on,
      ...places.away,
      ...aspects.flatMap((a) => a.names),
      ...fillers.words,
      ...conditions.flatMap((c) => [...c.say, ...c.weak]),
      ...verdicts.flatMap((v) => [...v.say, ...v.weak]),
      ...units.flatMap((u) => u.say),
      'main',
      'unit',
      'system',
      'box',
      'assembly',
      'control',
      'port',
      'general',
      'area',
      'check',
      'state',
    ].map(stem),
  );
}

/** "Bottom of the engine" is as often "the engine bottom". */
const TURNED = 0.97;
function turnedName(name: string): string[] {
  const words = phraseWords(name);
  const of = words.indexOf('of');
  if (of < 1 || words.indexOf('of', of + 1) >= 0) return [];
  return stems([...words.slice(of + 1), ...words.slice(0, of)].join(' '));
}

export interface Names {
  readonly checks: readonly CheckEntry[];
  readonly byId: ReadonlyMap<string, CheckEntry>;
  readonly stations: ReadonlyMap<string, Station>;
  /** Stems of all words of all names. */
  readonly words: ReadonlySet<string>;
  readonly entries: readonly NameEntry[];
  /** Names with a side before them, for listening. */
  readonly sided: readonly NameEntry[];
  readonly trie: Trie<NameEntry>;
  readonly stationTrie: Trie<string>;
}

/** All names of the catalogue, whole and in part. */
export function namesOf(catalogue: Catalogue): Names {
  const checks: CheckEntry[] = [];
  const general = new Map(catalogue.signs.map((s) => [s.id, s]));
  for (const station of catalogue.stations) {
    for (const check of station.checks) {
      const names = [...new Set([check.name, ...check.say])];
      const sides = new Set(
        [...names, station.name].flatMap(stems).filter((w) => SIDE_WORDS.has(w)),
      );
      const signs = check.signs.flatMap((s) => {
        const sign = typeof s === 'string' ? general.get(s) : s;
        return sign === undefined ? [] : [sign];
      });
      checks.push({
        index: checks.length,
        check,
        station,
        names,
        sides,
        words: new Set([...names, station.name, ...station.say].flatMap(stems)),
        signs,
      });
    }
  }
  const vague = generic();
  // "The tail", "the engine": a station sooner than the end of one check's name.
  const ends = new Map<string, Set<number>>();
  for (const entry of checks)
    for (const name of entry.names) {
      const last = stems(name).at(-1) ?? '';
      ends.set(last, (ends.get(last) ?? new Set()).add(entry.index));
    }
  for (const { name, say } of catalogue.stations)
    for (const word of [name, ...say].flatMap(stems))
      if ((ends.get(word)?.size ?? 0) < 2) vague.add(word);
  const count = new Map<string, Set<number>>();
  for (const entry of checks) {
    for (const name of entry.names) {
      for (const word of stems(name)) {
        let set = count.get(word);
        if (set === undefined) count.set(word, (set = new Set()));
        set.add(entry.index);
      }
    }
  }
  const table = new Map<
    string,
    { words: string[]; text: string; targets: Map<number, NameTarget> }
  >();
  const add = (words: string[], entry: CheckEntry, score: number, full: string): void => {
    if (words.length === 0) return;
    const key = words.join(' ');
    let row = table.get(key);
    if (row === undefined) table.set(key, (row = { words, text: key, targets: new Map() }));
    const old = row.targets.get(entry.index);
    if (old === undefined || old.score < score)
      row.targets.set(entry.index, { check: entry.index, score, full });
  };
  for (const entry of checks) {
    for (const name of entry.names) {
      const words = stems(name);
      add(words, entry, 1, name);
      // "Elevator trim", where the trims are one check with a place called elevator.
      for (const place of entry.check.repeat?.instances ?? []) {
        const own = stems(place);
        if (own.some((w) => SIDE_WORDS.has(w) || /^\d+$/.test(w) || words.includes(w))) continue;
        add([...own, ...words], entry, 1, name);
      }
      const turned = turnedName(name);
      if (turned.length > 1) add(turned, entry, TURNED, name);
      const n = words.length;
      if (n < 2) continue;
      for (let k = 1; k < n; k += 1) {
        const tail = words.slice(k);
        const dropped = words.slice(0, k);
        if (tail.length === 1 && vague.has(tail[0] ?? '')) continue;
        // "On the left" is no part of "vent on the left" that could stand for it.
        // And "nose wheel" is not the damper on it.
        if (joint('link').has(tail[0] ?? '') || joint('link').has(dropped.at(-1) ?? '')) continue;
        // "Tyre" is the left tyre; "engine" is not the bottom of the engine.
        const sideOnly = turned.length === 0 && dropped.every((w) => SIDE_WORDS.has(w));
        const score = sideOnly
          ? 0.97
          : tail.length === 1
            ? PART.single
            : PART.front - PART.perWord * (k - 1);
        add(tail, entry, score, name);
      }
      for (let k = 1; k < n - 1; k += 1) {
        add([...words.slice(0, k), ...words.slice(k + 1)], entry, PART.middle, name);
      }
      const head = words.slice(0, -1);
      const only = head[0] ?? '';
      const content = head.filter((w) => !SIDE_WORDS.has(w));
      if (joint('link').has(head.at(-1) ?? '')) continue;
      if (content.length >= 2) add(head, entry, PART.tail, name);
      else if (
        head.length === 1 &&
        only.length >= 5 &&
        !vague.has(only) &&
        !SIDE_WORDS.has(only) &&
        count.get(only)?.size === 1
      ) {
        add(head, entry, PART.single, name);
      }
      if (n === 2 && !SIDE_WORDS.has(words[0] ?? ''))
        add([words[1] ?? '', words[0] ?? ''], entry, 0.93, name);
    }
    for (const measure of entry.check.measures) {
      for (const name of [measure.name, ...measure.say]) {
        const words = stems(name);
        if (words.length >= 2 || !vague.has(words[0] ?? '')) add(words, entry, 0.9, name);
      }
    }
  }
  // With the side said before the name, so that a mangled side is still heard
  // ("deft fuel cap"): only for listening, the exact words are read by `whichOf`.
  const sided: NameEntry[] = [];
  for (const entry of checks) {
    const own = new Set(stems(entry.station.name).filter((w) => SIDE_WORDS.has(w)));
    const places = entry.check.repeat?.instances.flatMap((i) => stems(i)) ?? [];
    const sides = [...new Set([...own, ...places.filter((w) => SIDE_WORDS.has(w))])];
    for (const name of entry.names) {
      const words = stems(name);
      if (words.some((w) => SIDE_WORDS.has(w))) continue;
      for (const side of sides) {
        sided.push({
          words: [side, ...words],
          text: `${side} ${name}`,
          targets: [{ check: entry.index, score: 1, full: name, sides: [side] }],
        });
      }
    }
  }
  const entries: NameEntry[] = [];
  const trie = new Trie<NameEntry>();
  for (const row of table.values()) {
    const entry = {
      words: row.words,
      text: row.text,
      targets: [...row.targets.values()].sort((a, b) => b.score - a.score),
    };
    entries.push(entry);
    trie.add(row.words, entry);
  }
  const stationTrie = new Trie<string>();
  for (const station of catalogue.stations) {
    for (const name of [station.name, ...station.say]) stationTrie.add(stems(name), station.id);
  }
  return {
    checks,
    byId: new Map(checks.map((c) => [c.check.id, c])),
    stations: new Map(catalogue.stations.map((s) => [s.id, s])),
    words: new Set(count.keys()),
    entries,
    sided,
    trie,
    stationTrie,
  };
}
