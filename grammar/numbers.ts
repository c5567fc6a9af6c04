import { lexicon } from './lexicon.ts';
import { phraseWords } from './tokens.ts';
import { Trie } from './trie.ts';

/** A number said in words [from, to). */
export interface NumberSaid {
  readonly from: number;
  readonly to: number;
  readonly value: number;
  /** Upper end of "six to seven" and "between six and seven". */
  readonly high: number;
  readonly approximate: boolean;
  /** A fraction or a decimal: never a count of things. */
  readonly part: boolean;
}

interface Words {
  digit: Map<string, number>;
  teen: Map<string, number>;
  ten: Map<string, number>;
  about: Trie<true>;
  /** "point", "day see mal": positions of its words. */
  point: Trie<true>;
  /** "hundred" and "thousand", however they are said. */
  scale: Map<string, number>;
  /** First words of the units: a figure that is also another word is a figure before them. */
  unit: Set<string>;
}
let words: Words | null = null;

function numberWords(): Words {
  if (words !== null) return words;
  const { numbers, units } = lexicon();
  const digit = new Map<string, number>();
  Object.values(numbers.digits).forEach((say, value) => {
    for (const word of say) digit.set(phraseWords(word).join(' '), value);
  });
  const about = new Trie<true>();
  for (const phrase of numbers.about) about.add(phraseWords(phrase), true);
  words = {
    digit,
    teen: new Map(numbers.teens.map((word, i) => [word, 10 + i])),
    ten: new Map(numbers.tens.map((word, i) => [word, 20 + 10 * i])),
    about,
    point: trieOf(numbers.point),
    scale: new Map([
      ...numbers.hundred.map((word) => [word, 100] as const),
      ...numbers.thousand.map((word) => [word, 1000] as const),
    ]),
    unit: new Set(units.flatMap((u) => u.say.map((say) => phraseWords(say)[0] ?? ''))),
  };
  return words;
}

function trieOf(phrases: readonly string[]): Trie<true> {
  const trie = new Trie<true>();
  for (const phrase of phrases) trie.add(phraseWords(phrase), true);
  return trie;
}

/** Words that also mean something else: they do not begin or make a number alone. */
const NEVER_ALONE = new Set(['oh', 'to', 'too', 'tree', 'nil', 'one', 'naught']);

/**
 * A whole number or decimal from `i`, in any of the ways that the radio and the shop say it.
 * A figure that is none any more (more than 308 digits, a third of nought) is not understood.
 */
function plainAt(
  list: readonly string[],
  i: number,
): { to: number; value: number; part: boolean } | null {
  const read = anyAt(list, i);
  return read !== null && Number.isFinite(read.value) ? read : null;
}

function anyAt(
  list: readonly string[],
  i: number,
): { to: number; value: number; part: boolean } | null {
  const w = numberWords();
  const first = list[i] ?? '';
  const fraction = /^(\d+)\/(\d+)$/.exec(first);
  if (fraction !== null) {
    return { to: i + 1, value: Number(fraction[1]) / Number(fraction[2]), part: true };
  }
  if (/^\d+(\.\d+)?$/.test(first)) {
    let value = Number(first);
    let to = i + 1;
    let part = first.includes('.');
    if (list[to] === 'point' && /^\d+$/.test(list[to + 1] ?? '')) {
      value = Number(`${first}.${list[to + 1] ?? ''}`);
      to += 2;
      part = true;
    } else if (/^\d+\/\d+$/.test(list[to] ?? '')) {
      const [top, under] = (list[to] ?? '').split('/').map(Number);
      value += (top ?? 0) / (under ?? 1);
      to += 1;
      part = true;
    }
    if (list[to] === 'thousand' || list[to] === 'hundred') {
      value *= list[to] === 'thousand' ? 1000 : 100;
      to += 1;
    }
    return { to, value, part };
  }
  const digitAt = (k: number): { value: number; to: number } | null => {
    const two = w.digit.get(`${list[k] ?? ''} ${list[k + 1] ?? ''}`);
    if (two !== undefined) return { value: two, to: k + 2 };
    const one = w.digit.get(list[k] ?? '');
    return one === undefined ? null : { value: one, to: k + 1 };
  };
  /** 0 to 99 said as one group: "thirty two", "fifteen", "six". */
  const groupAt = (k: number): { value: number; to: number; digit: boolean } | null => {
    const ten = w.ten.get(list[k] ?? '');
    if (ten !== undefined) {
      const unit = digitAt(k + 1);
      return unit !== null && unit.value > 0
        ? { value: ten + unit.value, to: unit.to, digit: false }
        : { value: ten, to: k + 1, digit: false };
    }
    const teen = w.teen.get(list[k] ?? '');
    if (teen !== undefined) return { value: teen, to: k + 1, digit: false };
    const digit = digitAt(k);
    return digit === null ? null : { ...digit, digit: true };
  };
  let text = '';
  let total: number;
  let to = i;
  let sawScale = false;
  // "a hundred and five" is one hundred and five, and never five alone.
  const one = first === 'a' && w.scale.has(list[i + 1] ?? '');
  const start = one ? { value: 1, to: i + 1, digit: true } : groupAt(i);
  if (start === null) return null;
  if (start.digit) {
    // Digit by digit: "three two", "one two two".
    let next: { value: number; to: number } | null = start;
    while (next !== null && text.length < 12) {
      text += String(next.value);
      to = next.to;
      const more = one ? null : digitAt(to);
      next = more !== null && !(text.length >= 1 && list[to] === 'to') ? more : null;
    }
    total = Number(text);
    if (text.length === 1 && w.ten.has(list[to] ?? '')) {
      // "one fifty": a hundred and fifty.
      const rest = groupAt(to);
      if (rest !== null) {
        total = total * 100 + rest.value;
        to = rest.to;
      }
    }
  } else {
    total = start.value;
    to = start.to;
    const next = groupAt(to);
    if (next !== null && total >= 10 && (next.value >= 10 || start.value < 20)) {
      // "twenty four fifty": hours' way of saying 2,450.
      total = total * 100 + next.value;
      to = next.to;
    }
  }
  const factor = w.scale.get(list[to] ?? '');
  if (factor !== undefined) {
    sawScale = true;
    total *= factor;
    to += 1;
    const and = list[to] === 'and' ? 1 : 0;
    const rest = plainAt(list, to + and);
    if (rest !== null && rest.value < factor && rest.value >= 1) {
      total += rest.value;
      to = rest.to;
    }
  }
  let part = false;
  const point = w.point.longest(list, to);
  if (point !== null && !sawScale) {
    let decimals = '';
    let k = point.to;
    for (let d = groupAt(k); d !== null && decimals.length < 6; d = groupAt(k)) {
      decimals += String(d.value);
      k = d.to;
      if (!d.digit) break;
    }
    if (decimals !== '') {
      total = Number(`${String(total)}.${decimals}`);
      to = k;
      part = true;
    }
  }
  return { to, value: total, part };
}

const FRACTIONS: readonly [readonly string[], number][] = [
  [['three', 'quarters'], 0.75],
  [['3', 'quarters'], 0.75],
  [['three', 'quarter'], 0.75],
  [['3', 'quarter'], 0.75],
  [['two', 'thirds'], 2 / 3],
  [['three', 'eighths'], 3 / 8],
  [['five', 'eighths'], 5 / 8],
  [['seven', 'eighths'], 7 / 8],
  [['a', 'quarter'], 0.25],
  [['one', 'quarter'], 0.25],
  [['a', 'half'], 0.5],
  [['one', 'half'], 0.5],
  [['half', 'a'], 0.5],
  [['half', 'an'], 0.5],
  [['a', 'third'], 1 / 3],
  [['one', 'third'], 1 / 3],
  [['an', 'eighth'], 1 / 8],
  [['one', 'eighth'], 1 / 8],
  [['an', 'eighth', 'of', 'an'], 1 / 8],
  [['a', 'quarter', 'of', 'an'], 0.25],
  [['quarter'], 0.25],
  [['half'], 0.5],
];

function fractionAt(list: readonly string[], i: number): { to: number; value: number } | null {
  for (const [phrase, value] of FRACTIONS) {
    if (phrase.every((word, k) => list[i + k] === word)) return { to: i + phrase.length, value };
  }
  return null;
}

/** One number from `i`: "six and a half", "three quarters", "one two two point one". */
export function numberAt(
  list: readonly string[],
  i: number,
): Omit<NumberSaid, 'high' | 'approximate'> | null {
  const fraction = fractionAt(list, i);
  if (fraction !== null) return { from: i, to: fraction.to, value: fraction.value, part: true };
  const plain = plainAt(list, i);
  if (plain === null) return null;
  if (!plain.part && list[plain.to] === 'and') {
    const more = fractionAt(list, plain.to + 1);
    if (more !== null) {
      // "Ten, ten and a half": said again to go on with it, and no row of figures.
      const again = plain.to === i + 2 && list[i] === list[i + 1] ? plainAt(list, i + 1) : null;
      const value = (again?.value ?? plain.value) + more.value;
      return { from: i, to: more.to, value, part: true };
    }
  }
  if (!plain.part && (list[plain.to] === 'half' || list[plain.to] === 'quarter')) {
    // "six half": a dropped "and a".
    const more = list[plain.to] === 'half' ? 0.5 : 0.25;
    return { from: i, to: plain.to + 1, value: plain.value + more, part: true };
  }
  return { from: i, to: plain.to, value: plain.value, part: plain.part };
}

/** Figures that are more often another word: alone they are figures only before a unit. */
const SELDOM = new Set(['oh', 'too', 'tree', 'naught']);

/** Every number in the words, ranges joined. */
export function numbersIn(list: readonly string[]): NumberSaid[] {
  const out: NumberSaid[] = [];
  const { about, unit } = numberWords();
  let approximate = -1;
  for (let i = 0; i < list.length;) {
    const vague = about.longest(list, i);
    if (vague !== null) {
      approximate = vague.to;
      i = vague.to;
      continue;
    }
    const one = numberAt(list, i);
    if (
      one === null ||
      (one.to === i + 1 && SELDOM.has(list[i] ?? '') && !unit.has(list[i + 1] ?? ''))
    ) {
      i += 1;
      continue;
    }
    let from = one.from;
    let { to } = one;
    let high = one.value;
    let { part } = one;
    const between = list[i - 1] === 'between';
    const joint = list[to] ?? '';
    if (joint === 'to' || joint === 'or' || (joint === 'and' && between)) {
      const second = numberAt(list, to + 1);
      if (second !== null && second.value > one.value) {
        high = second.value;
        to = second.to;
        part ||= second.part;
      }
    }
    if (between) from -= 1;
    out.push({ from, to, value: one.value, high, approximate: approximate === i, part });
    i = to;
  }
  return out;
}

/** A word that begins as a figure and is none that can be counted with: too long, or over nought. */
export function isNoFigure(word: string): boolean {
  if (!/^\d/.test(word)) return false;
  const [top, under] = word.split('/');
  return !Number.isFinite(parseFloat(top ?? '') / (under === undefined ? 1 : parseFloat(under)));
}
function isFigure(word: string): boolean {
  return /^\d/.test(word) && !isNoFigure(word);
}

/** Whether a word could be a number by itself and nothing else. */
export function isNumberWord(word: string): boolean {
  const w = numberWords();
  return (
    (isFigure(word) || w.digit.has(word) || w.teen.has(word) || w.ten.has(word)) &&
    !NEVER_ALONE.has(word)
  );
}
