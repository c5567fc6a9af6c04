import type { Catalogue, Gauge } from '#shared/catalogue';
import { lexicon } from './lexicon.ts';
import { stem } from './names.ts';
import { numberAt } from './numbers.ts';
import { phraseWords, type Token } from './tokens.ts';
import { Trie } from './trie.ts';

/**
 * Steps of a gauge, as they are said: "second knuckle", "between half and three
 * quarters", "just past the first knuckle", "one knuckle", "a knuckle and a half",
 * "between first and second knuckle". A half step lies between two.
 */
export interface Step {
  /** Lowest 0. */
  readonly index: number;
  readonly name: string;
  readonly from: number;
  readonly to: number;
  readonly approximate: boolean;
}

interface Ladder {
  readonly trie: Trie<number>;
  /** What is counted ("knuckle") and the step of the first, second …, where the steps are numbered. */
  readonly noun: string | null;
  readonly counted: ReadonlyMap<number, number>;
}

const ladders = new WeakMap<Gauge, Ladder>();
function ladderOf(gauge: Gauge): Ladder {
  let ladder = ladders.get(gauge);
  if (ladder !== undefined) return ladder;
  const trie = new Trie<number>();
  const counted = new Map<number, number>();
  let noun: string | null = null;
  gauge.steps.forEach((step, index) => {
    for (const phrase of [step.name, ...step.say]) trie.add(plain(phraseWords(phrase)), index);
    const [first = '', second, ...more] = phraseWords(step.name);
    const order = orders().get(first);
    if (order === undefined || second === undefined || more.length > 0) return;
    noun ??= stem(second);
    if (stem(second) === noun) counted.set(order, index);
  });
  ladders.set(gauge, (ladder = { trie, noun, counted }));
  return ladder;
}

let ordinals: ReadonlyMap<string, number> | null = null;
/** "First" is 1, "second" is 2. */
function orders(): ReadonlyMap<string, number> {
  ordinals ??= new Map(
    lexicon().sides.ordinals.flatMap((say, i) =>
      say.filter((w) => !w.includes(' ')).map((w) => [w, i + 1] as const),
    ),
  );
  return ordinals;
}

/** Without articles; "until the brim" is "to the brim". */
function plain(words: readonly string[]): string[] {
  return words.filter((w) => w !== 'the').map((w) => (w === 'until' || w === 'till' ? 'to' : w));
}

interface Hit {
  readonly index: number;
  readonly from: number;
  readonly to: number;
}

/** The steps in these words, in order; none overlaps another. */
function hitsIn(gauge: Gauge, words: readonly string[]): Hit[] {
  const { trie } = ladderOf(gauge);
  const out: Hit[] = [];
  for (let i = 0; i < words.length;) {
    const named = trie.longest(words, i);
    const hit =
      named === null
        ? (countedAt(gauge, words, i) ?? shortAt(gauge, words, i))
        : { index: named.item, from: i, to: named.to };
    if (hit !== null) out.push(hit);
    i = hit?.to ?? i + 1;
  }
  return out;
}

/** "One knuckle", "two and a bit knuckles", "half a knuckle", "a knuckle and a half". */
function countedAt(gauge: Gauge, words: readonly string[], i: number): Hit | null {
  const { noun, counted } = ladderOf(gauge);
  if (noun === null) return null;
  const single = words[i] === 'a' && stem(words[i + 1] ?? '') === noun;
  const number = single ? { to: i + 1, value: 1 } : numberAt(words, i);
  if (number === null) return null;
  let { to, value } = number;
  const more = /^(and )?(a )?(bit|little|tad)$/;
  for (let k = 3; k >= 1; k -= 1) {
    if (!more.test(words.slice(to, to + k).join(' '))) continue;
    to += k;
    value = Math.floor(value) + 0.5;
    break;
  }
  if (words[to] === 'a' || words[to] === 'of') to += words[to + 1] === 'a' ? 2 : 1;
  if (stem(words[to] ?? '') !== noun) return null;
  to += 1;
  const half = /^and (a )?(bit|half)$/;
  for (let k = 3; k >= 2; k -= 1) {
    if (!half.test(words.slice(to, to + k).join(' '))) continue;
    to += k;
    value += 0.5;
    break;
  }
  const most = Math.max(...counted.keys());
  const end = gauge.steps.length - 1;
  // "Three knuckles", where the steps end past the second one.
  if (value > most && (counted.get(most) ?? end) < end) return { index: end, from: i, to };
  const low = counted.get(Math.floor(value));
  const high = counted.get(Math.ceil(value));
  const index = Number.isInteger(value)
    ? low
    : low !== undefined
      ? low + 0.5
      : high === undefined
        ? undefined
        : high - 0.5;
  return index === undefined ? null : { index, from: i, to };
}

/** "Between first and second knuckle", "just over the second": the order alone, led to by words of measuring. */
function shortAt(gauge: Gauge, words: readonly string[], i: number): Hit | null {
  const { trie, counted } = ladderOf(gauge);
  const index = counted.get(orders().get(words[i] ?? '') ?? 0);
  if (index === undefined) return null;
  const { numbers } = lexicon();
  const order = (k: number): boolean => counted.has(orders().get(words[k] ?? '') ?? 0);
  const between =
    (words[i - 1] === 'between' &&
      words[i + 1] === 'and' &&
      (order(i + 2) || trie.longest(words, i + 2) !== null)) ||
    (words[i - 3] === 'between' && words[i - 1] === 'and' && order(i - 2));
  const measured = endsAt([...numbers.past, ...numbers.short], words, i) !== null;
  return between || measured ? { index, from: i, to: i + 1 } : null;
}

/** Where one of the phrases begins that ends at `end`, or null; the longest. */
function endsAt(phrases: readonly string[], words: readonly string[], end: number): number | null {
  let best: number | null = null;
  for (const phrase of phrases) {
    const own = plain(phraseWords(phrase));
    if (own.every((w, k) => words[end - own.length + k] === w))
      best = Math.min(best ?? end, end - own.length);
  }
  return best;
}

/** Tokens [from, to) without articles, and where each stands. */
function laid(
  tokens: readonly Token[],
  from: number,
  to: number,
): { words: string[]; at: number[] } {
  const at: number[] = [];
  for (let i = from; i < to; i += 1) if (tokens[i]?.word !== 'the') at.push(i);
  return { at, words: plain(at.map((i) => tokens[i]?.word ?? '')) };
}

/** The step of a gauge that is said; "between", "just past" and "just short of" are half steps. */
export function stepIn(
  gauge: Gauge,
  tokens: readonly Token[],
  from: number,
  to: number,
): Step | null {
  const { words, at } = laid(tokens, from, to);
  const hits = hitsIn(gauge, words);
  // The last one said stands: "past the first knuckle, no, the second knuckle" is split before it comes here.
  const last = hits[hits.length - 1];
  if (last === undefined) return null;
  const { numbers } = lexicon();
  const name = (hit: Hit): string =>
    gauge.steps[hit.index]?.name ?? words.slice(hit.from, hit.to).join(' ');
  const first = hits[hits.length - 2];
  if (
    first !== undefined &&
    words[last.from - 1] === 'and' &&
    endsAt(numbers.between, words, first.from) !== null
  ) {
    return {
      index: (first.index + last.index) / 2,
      name: `between ${name(first)} and ${name(last)}`,
      from: at[first.from - 1] ?? from,
      to: (at[last.to - 1] ?? to - 1) + 1,
      approximate: false,
    };
  }
  const said = hits.map((hit) => {
    const past = endsAt(numbers.past, words, hit.from);
    const short = endsAt(numbers.short, words, hit.from);
    const about = endsAt(numbers.about, words, hit.from);
    const shift = past !== null ? 0.5 : short !== null ? -0.5 : 0;
    return {
      index: Math.max(0, hit.index + shift),
      shift,
      start: past ?? short ?? about ?? hit.from,
      approximate: about !== null,
    };
  });
  const stands = said[said.length - 1];
  if (stands === undefined) return null;
  // "Two and a bit knuckles, call it just over the second": said twice, and both times the same.
  const agree = said.every((s) => s.index === stands.index);
  const start = agree ? said[0]?.start : stands.start;
  const { shift } = stands;
  return {
    index: stands.index,
    name: shift === 0 ? name(last) : `${shift > 0 ? 'past' : 'short of'} ${name(last)}`,
    from: at[start ?? stands.start] ?? from,
    to: (at[last.to - 1] ?? to - 1) + 1,
    approximate: stands.approximate,
  };
}

/** Where the steps of any gauge are said in more than one word, such as "second knuckle". */
export function stepsIn(
  catalogue: Catalogue,
  tokens: readonly Token[],
): { from: number; to: number }[] {
  const { words, at } = laid(tokens, 0, tokens.length);
  return catalogue.gauges.flatMap((gauge) =>
    hitsIn(gauge, words)
      .filter((hit) => hit.to - hit.from > 1)
      .map((hit) => ({ from: at[hit.from] ?? 0, to: (at[hit.to - 1] ?? 0) + 1 })),
  );
}
