import type { Heard } from '#shared/heard';
import type { Span } from '#shared/statement';

/** How strongly the words part before a token. */
export type Gap = 0 | 1 | 2;

/** One word to read. Several may stand on one heard word ("isn't" is "is", "not"). */
export interface Token {
  /** Lower case, without punctuation, contractions written out. */
  readonly word: string;
  /** Index of the heard word that it comes from; of the last where it comes from two. */
  readonly at: number;
  /** Index of the first of two. */
  readonly since?: number;
  /** 0 none; 1 comma or a short pause; 2 full stop or a long pause before it. */
  readonly gap: Gap;
  /** The gap is a question mark at the end of the sentence that this token ends. */
  readonly asks: boolean;
  /** Capital letters and marks as heard. */
  readonly raw: string;
  /** Ended in 's: "bearing's" may be "bearing is". */
  readonly short?: boolean;
}

/**
 * Pauses between words, seconds. A pause that long between two results parts them
 * for certain; a short one only where the words allow it. Too short a limit tears a
 * name in two (a question too many); too long lets a command hide in a sentence.
 */
export const LONG_PAUSE = 0.8;
export const SHORT_PAUSE = 0.35;

const APOSTROPHES = /[\u2018\u2019\u02bc`\u00b4]/g;
const BARE = new Map<string, readonly string[]>(
  Object.entries({
    cannot: 'can not',
    cant: 'can not',
    dont: 'do not',
    doesnt: 'does not',
    didnt: 'did not',
    isnt: 'is not',
    arent: 'are not',
    wasnt: 'was not',
    werent: 'were not',
    havent: 'have not',
    hasnt: 'has not',
    hadnt: 'had not',
    wont: 'will not',
    wouldnt: 'would not',
    shouldnt: 'should not',
    couldnt: 'could not',
    aint: 'is not',
    gonna: 'going to',
    gotta: 'got to',
    wanna: 'want to',
    lets: 'let us',
    whats: 'what is',
    thats: 'that is',
    theres: 'there is',
    heres: 'here is',
    theyre: 'they are',
    youre: 'you are',
    ive: 'i have',
    weve: 'we have',
    "can't": 'can not',
    "won't": 'will not',
    "shan't": 'shall not',
    "ain't": 'is not',
    "let's": 'let us',
    "y'all": 'you all',
    '&': 'and',
    '+': 'and',
    '%': 'percent',
    '½': 'half',
    '¼': 'quarter',
    'w/': 'with',
    'w/o': 'without',
    'l/h': 'left',
    'r/h': 'right',
    'a/c': 'aircraft',
    'u/s': 'unserviceable',
    tire: 'tyre',
    tires: 'tyres',
    aluminum: 'aluminium',
    color: 'colour',
    colored: 'coloured',
    gage: 'gauge',
    gages: 'gauges',
    gray: 'grey',
    center: 'centre',
    airplane: 'aeroplane',
    discolored: 'discoloured',
    discoloration: 'discolouration',
    fiber: 'fibre',
    meter: 'metre',
    meters: 'metres',
    liter: 'litre',
    liters: 'litres',
    odor: 'odour',
  }).map(([from, to]) => [from, to.split(' ')]),
);
/** Words after which 's is "is" and not a possessor. */
const IS_AFTER = new Set(
  'it that this there here what where who how he she everything nothing something all one which'.split(
    ' ',
  ),
);

/** "Uncracked", "unworn": a fault that is denied. "Unlatched" and its like are faults, and stay one word. */
const HURT = new Set(
  'cracked marked nicked dented scratched bent torn frayed worn corroded rusted chafed pitted broken bitten chipped split burnt burned stained scored buckled wrinkled creased blistered rubbed gouged cut hurt shaken blackened darkened scarred grazed bruised kinked flattened crushed'.split(
    ' ',
  ),
);

/** One written word as the words it stands for. */
export function wordsOf(raw: string): string[] {
  const lower = raw.toLowerCase().replace(APOSTROPHES, "'");
  const bare = lower.replace(/^[^\p{L}\p{N}%½¼&+]+|[^\p{L}\p{N}%½¼&+]+$/gu, '');
  if (bare === '') return [];
  const known = BARE.get(bare);
  if (known !== undefined) return [...known];
  if (/^\d[\d,]*(\.\d+)?$/.test(bare)) return [bare.replaceAll(',', '')];
  const fraction = /^(\d+)\/(\d+)$/.exec(bare);
  if (fraction !== null) return [bare];
  const unit = /^(\d+(?:\.\d+)?)([a-z%]+)$/.exec(bare);
  if (unit?.[1] !== undefined && unit[2] !== undefined && !/^(st|nd|rd|th)$/.test(unit[2])) {
    return [unit[1], unit[2] === '%' ? 'percent' : unit[2]];
  }
  if (/[-/_–—]/.test(bare)) return bare.split(/[-/_–—]+/).flatMap((part) => wordsOf(part));
  const sound = /^un([a-z]+)$/.exec(bare)?.[1];
  if (sound !== undefined && HURT.has(sound)) return ['not', sound];
  const not = /^([a-z]+)n't$/.exec(bare);
  if (not?.[1] !== undefined) return [not[1], 'not'];
  const tail = /^(.+)'(s|re|ve|ll|m|d)$/.exec(bare);
  if (tail?.[1] !== undefined) {
    const head = tail[1];
    if (tail[2] === 's') return IS_AFTER.has(head) ? [head, 'is'] : [head];
    const full = { re: 'are', ve: 'have', ll: 'will', m: 'am', d: 'would' }[tail[2] ?? ''];
    return full === undefined ? [head] : [head, full];
  }
  const cleaned = bare.replace(/[^\p{L}\p{N}]/gu, '');
  return cleaned === '' ? [] : (BARE.get(cleaned) ?? [cleaned]).slice();
}

/** The words of a phrase of the catalogue or the lexicon, as tokens would have them. */
export function phraseWords(phrase: string): string[] {
  let words = phrases.get(phrase);
  if (words === undefined) {
    const all = phrase.split(/\s+/).flatMap((raw) => wordsOf(raw));
    const well = all.at(-2) === 'all' && all.at(-1) === 'right';
    words = well ? [...all.slice(0, -2), 'alright'] : all;
    if (phrases.size >= PHRASES_KEPT) phrases.clear();
    phrases.set(phrase, words);
  }
  return words.slice();
}
/** Catalogues and lexicon ask for the same phrases at every reading; above this the memo starts afresh. */
const PHRASES_KEPT = 20_000;
const phrases = new Map<string, readonly string[]>();

/** Heard as tokens, with the gaps that punctuation and times show. */
export function tokensOf(heard: Pick<Heard, 'text' | 'words'>): {
  tokens: Token[];
  raw: readonly string[];
} {
  const written = heard.text.split(/\s+/).filter((w) => w !== '');
  // Punctuation is only in the text; times only in the words. Where both agree, take both.
  const timed = heard.words.length > 0;
  const raw =
    timed && heard.words.length !== written.length ? heard.words.map((w) => w.text) : written;
  const tokens: Token[] = [];
  let gap: Gap = 0;
  raw.forEach((text, at) => {
    const before = timed ? heard.words[at - 1] : undefined;
    const here = timed ? heard.words[at] : undefined;
    const ended = before?.to ?? null;
    const began = here?.from ?? null;
    if (ended !== null && began !== null) {
      const pause = began - ended;
      if (pause >= LONG_PAUSE) gap = 2;
      else if (pause >= SHORT_PAUSE && gap === 0) gap = 1;
    }
    if (/^[-–—(,]/.test(text) && gap === 0) gap = 1;
    const words = wordsOf(text);
    words.forEach((word, i) => {
      const last = i === words.length - 1;
      tokens.push({
        word,
        at,
        gap: i === 0 ? gap : 0,
        asks: last && /\?["')]*$/.test(text),
        raw: text,
        ...(last && /[a-z]['\u2019]s\W*$/i.test(text) ? { short: true } : {}),
      });
    });
    if (words.length > 0) gap = 0;
    if (/[.!?;\u2026]["')\]]*$/.test(text) || /^[-–—]+$/.test(text)) gap = 2;
    else if (/[,:]["')\]]*$/.test(text) && gap === 0) gap = 1;
  });
  return { tokens: withoutQuite(withAlright(tokens)), raw };
}

/**
 * "The tyre's all right" says that it is well and nothing of the right side: one word, as some
 * write it. "All right tyres" and "all right hand rivets" are those of a side.
 */
function withAlright(tokens: readonly Token[]): Token[] {
  const out: Token[] = [];
  tokens.forEach((token, i) => {
    const all = out[out.length - 1];
    const next = tokens[i + 1];
    const ends = next === undefined || next.gap > 0 || BEHIND_ALRIGHT.has(next.word);
    const begins = out.length === 1 || (all?.gap ?? 0) > 0;
    const well = token.word === 'right' && token.gap === 0 && all?.word === 'all';
    if (!well || all === undefined || (begins && !ends) || SIDED.has(next?.word ?? ''))
      return out.push(token);
    return out.splice(-1, 1, { ...token, word: 'alright', gap: all.gap, since: all.at });
  });
  return out;
}
/** "The tank's right up at the tabs": quite, and no side. "Left good, right at thirty" is one. */
function withoutQuite(tokens: readonly Token[]): Token[] {
  const out: Token[] = [];
  tokens.forEach((token, i) => {
    const [before, behind] = [tokens[i - 1], tokens[i + 1]];
    const verb = before !== undefined && (before.short === true || IS.has(before.word));
    const quite = token.word === 'right' && token.gap === 0 && verb && behind?.gap === 0;
    if (!quite || !WHERE.has(behind.word)) out.push(token);
  });
  return out;
}
const IS = new Set('is are was were sits sit goes go comes come went came'.split(' '));
const WHERE = new Set('up down through round around along across over into home back'.split(' '));

/** What goes on behind "all right" and names no part. */
const BEHIND_ALRIGHT = new Set(
  'and but so no not i we you he she it that this these those they there then now here for to as too since because apart except bar the'.split(
    ' ',
  ),
);
const SIDED = new Set('side sides hand handed wing'.split(' '));

/** Tokens [from, to) as a span over the heard words. */
export function spanOf(
  tokens: readonly Token[],
  raw: readonly string[],
  from: number,
  to: number,
): Span {
  const first = tokens[from];
  const last = tokens[to - 1];
  if (first === undefined || last === undefined || to <= from) return { from: 0, to: 0, words: '' };
  const begins = first.since ?? first.at;
  return { from: begins, to: last.at + 1, words: raw.slice(begins, last.at + 1).join(' ') };
}

const plain = new WeakMap<readonly Token[], readonly string[]>();
/** The words of a row of tokens, made once for each row. */
export function wordsIn(tokens: readonly Token[]): readonly string[] {
  let words = plain.get(tokens);
  if (words === undefined) plain.set(tokens, (words = tokens.map((t) => t.word)));
  return words;
}
