import { instancesOf, ONCE } from '#shared/catalogue';
import type { Scene } from '#shared/scene';
import type { Which } from '#shared/statement';
import { lexicon } from './lexicon.ts';
import { SIDE_WORDS, stem, type CheckEntry } from './names.ts';
import { phraseWords } from './tokens.ts';
import { Trie } from './trie.ts';

/** Words about places that stand beside a name. */
export interface WhichWords {
  readonly sides: readonly string[];
  /** 0 first, 1 second …; -1 last. */
  readonly ordinals: readonly number[];
  readonly all: boolean;
  readonly count: number | null;
  readonly other: boolean;
  readonly again: boolean;
  readonly plural: boolean;
  /** Plain words beside the name, for instances with names of their own. */
  readonly near: readonly string[];
}

type Mark =
  | { kind: 'side'; side: string }
  | { kind: 'ordinal'; n: number }
  | { kind: 'last' | 'all' | 'other' | 'again' };
let marks: Trie<Mark> | null = null;

function markTrie(): Trie<Mark> {
  if (marks !== null) return marks;
  marks = new Trie();
  const { sides } = lexicon();
  for (const [side, say] of Object.entries(sides.sides)) {
    for (const phrase of say) marks.add(phraseWords(phrase), { kind: 'side', side });
  }
  sides.ordinals.forEach((say, n) => {
    for (const phrase of say) marks?.add(phraseWords(phrase), { kind: 'ordinal', n });
  });
  for (const kind of ['last', 'all', 'other', 'again'] as const) {
    for (const phrase of sides[kind]) marks.add(phraseWords(phrase), { kind });
  }
  return marks;
}

/** A map and no object: \"constructor\" is a word that may be heard, and no number. */
/** A map, since "constructor" is a word that may be heard and no number. */
const SMALL: ReadonlyMap<string, number> = new Map(
  Object.entries({
    one: 1,
    '1': 1,
    two: 2,
    three: 3,
    four: 4,
    five: 5,
    six: 6,
    seven: 7,
    eight: 8,
    nine: 9,
    ten: 10,
    '2': 2,
    '3': 3,
    '4': 4,
    '5': 5,
    '6': 6,
    '8': 8,
  }),
);

/** Reads side, count and order words out of the words beside a name. */
export function whichWords(
  words: readonly string[],
  plural: boolean,
  tail: readonly string[] = [],
): WhichWords {
  const sides: string[] = [];
  const ordinals: number[] = [];
  let all = false;
  let other = false;
  let again = false;
  let some = false;
  let count: number | null = null;
  const trie = markTrie();
  const scan = (list: readonly string[], behind: boolean): void => {
    for (let i = 0; i < list.length;) {
      const hit = trie.longest(list, i);
      const after = hit === null ? '' : (list[hit.to] ?? '');
      // "right at the toe", "one last week": no side and no order.
      const adverb =
        hit !== null &&
        hit.to === i + 1 &&
        ((list[i] === 'right' &&
          /^(at|on|by|near|behind|above|below|through|up|down|where|under|along|across|next)$/.test(
            after,
          )) ||
          (list[i] === 'last' &&
            /^(week|month|year|time|night|flight|season|summer|winter|walk)$/.test(after)));
      if (adverb) {
        i += 1;
        continue;
      }
      if (hit !== null) {
        if (hit.item.kind === 'side') sides.push(hit.item.side);
        else if (hit.item.kind === 'ordinal') ordinals.push(hit.item.n);
        else if (hit.item.kind === 'last') ordinals.push(-1);
        else if (hit.item.kind === 'all') {
          all = true;
          const inside = list
            .slice(hit.from, hit.to)
            .map(stem)
            .filter((w) => SIDE_WORDS.has(w));
          if (inside.length === 1 || inside.length === 2) sides.push(...inside);
        } else if (hit.item.kind === 'other') other = true;
        else again = true;
        i = hit.to;
        // "all three": how many, and not the third.
        const many = hit.item.kind === 'all' ? SMALL.get(list[i] ?? '') : undefined;
        if (many !== undefined) {
          count = many;
          i += 1;
        }
        continue;
      }
      const word = list[i] ?? '';
      const n = SMALL.get(word);
      if (n !== undefined) {
        // "rivet line two" names it; "two rivet lines" counts them.
        if (behind) {
          const upTo = /^(to|through)$/.test(list[i + 1] ?? '')
            ? SMALL.get(list[i + 2] ?? '')
            : undefined;
          if (upTo !== undefined && upTo > n) {
            for (let k = n; k <= upTo; k += 1) ordinals.push(k - 1);
            i += 3;
            continue;
          }
          ordinals.push(n - 1);
          // "two of three" is the second one.
          if (list[i + 1] === 'of' && SMALL.get(list[i + 2] ?? '') !== undefined) {
            i += 3;
            continue;
          }
        } else if (n > 1 && !all && list[i - 1] === 'the' && list[i - 2] === 'of') {
          // "one pin missing out of the three": the number of all, not of those meant.
          some = true;
        } else if (n === 1 && list[i + 1] === 'of') {
          // "one of the two": one, without saying which.
          let k = i + 1;
          while (/^(of|the|out)$/.test(list[k] ?? '')) k += 1;
          some = true;
          i = SMALL.get(list[k] ?? '') === undefined ? k : k + 1;
          continue;
        } else if (n > 1) {
          // "two of the three": some, without saying which.
          let k = i + 1;
          while (/^(of|the|out)$/.test(list[k] ?? '')) k += 1;
          if (k > i + 1 && SMALL.get(list[k] ?? '') !== undefined) {
            count = n;
            i = k + 1;
            continue;
          }
          count = n;
        }
      }
      i += 1;
    }
  };
  scan(words, false);
  scan(tail, true);
  return {
    sides: [...new Set(sides)],
    ordinals,
    all,
    count,
    other,
    again,
    plural: plural && !some,
    near: [...words, ...tail].map(stem),
  };
}

/** The instance words, side synonyms folded, "1" as "one". */
const instanceCache = new Map<string, string[]>();
function instanceWords(instance: string): string[] {
  let words = instanceCache.get(instance);
  if (words === undefined) instanceCache.set(instance, (words = phraseWords(instance).map(stem)));
  return words;
}

const OPPOSITE: ReadonlyMap<string, string> = new Map([
  ['left', 'right'],
  ['right', 'left'],
  ['upper', 'lower'],
  ['lower', 'upper'],
  ['forward', 'aft'],
  ['aft', 'forward'],
  ['inboard', 'outboard'],
  ['outboard', 'inboard'],
]);

/** Whether a check can be on a side that was said: 1 named, 0 says nothing, -1 it is on another. */
export function sideFit(entry: CheckEntry, sides: readonly string[]): number {
  let fit = 0;
  const instances = instancesOf(entry.check);
  for (const side of sides) {
    if (entry.sides.has(side) || instances.some((i) => instanceWords(i).includes(side))) fit += 1;
    else {
      const against = OPPOSITE.get(side);
      if (against !== undefined && entry.sides.has(against)) return -1;
    }
  }
  return fit > 0 ? 1 : 0;
}

/** Which places of a repeated check are meant, and why. */
export function whichOf(
  entry: CheckEntry,
  words: WhichWords,
  scene: Scene,
  pronoun = false,
): { which: Which; why: string } {
  const instances = instancesOf(entry.check);
  if (entry.check.repeat === undefined || instances.length === 1) {
    return { which: { how: 'all', instances: [...instances] }, why: 'made once' };
  }
  const said = scene.said[entry.check.id] ?? [];
  const left = instances.filter((i) => !said.includes(i));
  const bySide = words.sides.filter((s) => instances.some((i) => instanceWords(i).includes(s)));
  let pool: readonly string[] = instances;
  let named = false;
  if (bySide.length > 0) {
    // "left and right": any of several sides; "upper left": all of them at once.
    const both = instances.filter((i) => bySide.every((s) => instanceWords(i).includes(s)));
    pool =
      both.length > 0
        ? both
        : instances.filter((i) => bySide.some((s) => instanceWords(i).includes(s)));
    named = true;
  }
  if (words.ordinals.length > 0) {
    const picked = words.ordinals
      .map((n) => (n === -1 ? pool[pool.length - 1] : pool[n]))
      .filter((i) => i !== undefined);
    if (picked.length > 0) {
      pool = picked;
      named = true;
    }
  }
  if (!named) {
    const own = instances.filter((i) => {
      const list = instanceWords(i).filter((w) => !/^\d+$/.test(w));
      return list.length > 0 && list.every((w) => words.near.includes(w));
    });
    if (own.length > 0) {
      pool = own;
      named = true;
    }
  }
  if (
    named &&
    (pool.length === 1 ||
      words.all ||
      bySide.length > 1 ||
      words.ordinals.length > 0 ||
      words.count === pool.length ||
      (words.plural && entry.check.repeat.plural))
  ) {
    return {
      which:
        pool.length === instances.length
          ? { how: 'all', instances: [...instances] }
          : { how: 'named', instances: [...pool] },
      why: `named: ${pool.join(', ')}`,
    };
  }
  if (named && words.plural)
    return {
      which: { how: 'plural', instances: [...pool] },
      why: 'the plural alone, without a number (asked about)',
    };
  if (named) {
    const next = pool.find((i) => !said.includes(i)) ?? pool[0] ?? ONCE;
    return { which: { how: 'one', instances: [next] }, why: `one of ${pool.join(', ')}, counted` };
  }
  if (words.other) {
    const other =
      scene.check === entry.check.id ? instances.filter((i) => !scene.instances.includes(i)) : left;
    const rest = other.filter((i) => !said.includes(i));
    const pick = rest.length > 0 ? rest : other;
    if (pick.length === 1)
      return { which: { how: 'named', instances: pick }, why: `the other one: ${pick.join(', ')}` };
    return { which: { how: 'one', instances: pick.slice(0, 1) }, why: 'another one, counted' };
  }
  // "All three", where there are four: which of them was left out, is asked.
  const short = words.all && words.count !== null && words.count !== instances.length;
  if (short)
    return {
      which: { how: 'plural', instances: [...instances] },
      why: `"all ${String(words.count)}", and there are ${String(instances.length)} (asked about)`,
    };
  if (words.all || words.count === instances.length) {
    return {
      which: { how: 'all', instances: [...instances] },
      why: words.all ? 'all of them' : `all ${String(words.count)}`,
    };
  }
  if (pronoun && scene.check === entry.check.id && scene.instances.length > 0) {
    return {
      which: { how: 'named', instances: [...scene.instances] },
      why: `the one just named: ${scene.instances.join(', ')}`,
    };
  }
  if (words.again)
    return { which: { how: 'one', instances: left.slice(0, 1) }, why: 'one more, counted' };
  if (words.count !== null && words.count < instances.length && words.plural) {
    return {
      which: { how: 'plural', instances: [...instances] },
      why: `${String(words.count)} of ${String(instances.length)}, without saying which`,
    };
  }
  if (words.plural) {
    return entry.check.repeat.plural
      ? {
          which: { how: 'all', instances: [...instances] },
          why: 'the plural speaks for all (catalogue)',
        }
      : {
          which: { how: 'plural', instances: [...instances] },
          why: 'the plural alone, without a number (asked about)',
        };
  }
  return {
    which: { how: 'one', instances: left.slice(0, 1) },
    why: 'said once without saying which: one more, counted',
  };
}
