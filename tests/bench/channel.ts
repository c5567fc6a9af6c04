import { commonWords, phoneDistance, pronunciations, sayWord } from './phones.ts';

/**
 * A recogniser that mishears, seeded: words are replaced by words that sound
 * like them, dropped, split in two, or joined with their neighbour.
 */

/** Mulberry32, public domain: the same seed gives the same damage everywhere. */
export function random(seed: number): () => number {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), a | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Edits between two rows of words: substitutions, deletions and insertions. */
export function wordEdits(truth: readonly string[], heard: readonly string[]): number {
  let row = Array.from({ length: heard.length + 1 }, (_, j) => j);
  truth.forEach((word, i) => {
    const next = [i + 1];
    heard.forEach((other, j) => {
      next.push(
        Math.min(
          (row[j + 1] ?? 0) + 1,
          (next[j] ?? 0) + 1,
          (row[j] ?? 0) + (word === other ? 0 : 1),
        ),
      );
    });
    row = next;
  });
  return row[heard.length] ?? 0;
}

/** Words without case and the punctuation around them: what an error is counted on. */
export function plainWords(text: string): string[] {
  return text
    .toLowerCase()
    .split(/[^a-z0-9']+/)
    .filter((w) => /[a-z0-9]/.test(w));
}

/** Alternatives kept for each word, nearest first. */
const NEAR = 8;
/** Phone distance per phone above which nobody would mishear it so. */
const FAR = 0.45;

interface Index {
  /** Phone strings with one phone left out, to the words they come from. */
  readonly holes: ReadonlyMap<string, string[]>;
  readonly whole: ReadonlyMap<string, string[]>;
}

let index: Index | null = null;

function holesOf(phones: readonly string[]): string[] {
  return phones.map((_, i) => phones.filter((__, j) => j !== i).join(' '));
}

function builtIndex(): Index {
  if (index !== null) return index;
  const holes = new Map<string, string[]>();
  const whole = new Map<string, string[]>();
  const common = commonWords();
  const put = (map: Map<string, string[]>, key: string, word: string) => {
    const list = map.get(key);
    if (list === undefined) map.set(key, [word]);
    else list.push(word);
  };
  for (const [word, phones] of pronunciations()) {
    if (!common.has(word)) continue;
    put(whole, phones.join(' '), word);
    for (const hole of new Set(holesOf(phones))) put(holes, hole, word);
  }
  index = { holes, whole };
  return index;
}

const nearCache = new Map<string, string[]>();

/** Words that sound like these phones, nearest first, none of them `not`. */
function near(phones: readonly string[], not: string): string[] {
  const key = `${not} ${phones.join(' ')}`;
  const kept = nearCache.get(key);
  if (kept !== undefined) return kept;
  const { holes, whole } = builtIndex();
  const single = [phones.join(' '), ...holesOf(phones)];
  // Long words: two phones may differ.
  const keys =
    phones.length < 6 ? single : [...new Set(single.flatMap((k) => [k, ...holesOf(k.split(' '))]))];
  const found = new Set(keys.flatMap((k) => [...(whole.get(k) ?? []), ...(holes.get(k) ?? [])]));
  found.delete(not);
  const all = pronunciations();
  const ranked = [...found]
    .map((word) => ({ word, far: phoneDistance(phones, all.get(word) ?? []) / phones.length }))
    .filter((x) => x.far <= FAR)
    .sort((a, b) => a.far - b.far || (a.word < b.word ? -1 : 1))
    .slice(0, NEAR)
    .map((x) => x.word);
  nearCache.set(key, ranked);
  return ranked;
}

function pick<T>(from: readonly T[], draw: () => number): T | null {
  // Squared: nearer ones come up more often.
  return from[Math.floor(draw() ** 2 * from.length)] ?? null;
}

/** "swashplate" becomes "swash late": both halves are words, or nearly. */
function split(phones: readonly string[], draw: () => number): string | null {
  const ways: string[] = [];
  const { whole } = builtIndex();
  for (let i = 2; i <= phones.length - 2; i += 1) {
    const halves = [phones.slice(0, i), phones.slice(i)].map(
      (half) => whole.get(half.join(' '))?.[0] ?? near(half, '')[0],
    );
    if (halves[0] !== undefined && halves[1] !== undefined) ways.push(halves.join(' '));
  }
  return pick(ways, draw);
}

/** How the errors are shared out: most are wrong words. */
const KINDS = { replace: 0.65, drop: 0.8, split: 0.9 } as const;

/**
 * Damages an utterance: each word is hit with probability `rate`.
 *
 * @param rate share of words to hit, 0 to 1; splits and joins count for two
 *   word errors, so the measured rate is higher (see `rateFor`)
 */
export function damage(text: string, rate: number, draw: () => number): string {
  const words = text.split(/\s+/).filter((w) => w !== '');
  const out: string[] = [];
  for (let i = 0; i < words.length; i += 1) {
    const word = words[i] ?? '';
    const hit = draw() < rate;
    const kind = draw();
    if (!hit) {
      out.push(word);
      continue;
    }
    const [, before = '', core = '', after = ''] = /^(\W*)(.*?)(\W*)$/.exec(word) ?? [];
    const phones = sayWord(core.toLowerCase());
    const wrap = (other: string) => `${before}${other}${after}`;
    if (phones === null || (kind >= KINDS.replace && kind < KINDS.drop)) {
      // Dropped: its punctuation stays with the word before.
      if (out.length > 0 && after !== '') out[out.length - 1] += after;
      continue;
    }
    if (kind >= KINDS.drop && kind < KINDS.split) {
      const two = split(phones, draw);
      if (two !== null) {
        out.push(wrap(two));
        continue;
      }
    } else if (kind >= KINDS.split && after === '') {
      const next = words[i + 1] ?? '';
      const [, , nextCore = '', nextAfter = ''] = /^(\W*)(.*?)(\W*)$/.exec(next) ?? [];
      const more = sayWord(nextCore.toLowerCase());
      const joined = more === null ? null : pick(near([...phones, ...more], ''), draw);
      if (joined !== null) {
        out.push(`${before}${joined}${nextAfter}`);
        i += 1;
        continue;
      }
    }
    // A long word without a near neighbour comes out in two pieces, or not at all.
    const other = pick(near(phones, core.toLowerCase()), draw) ?? split(phones, draw);
    if (other !== null) out.push(wrap(other));
    else if (out.length > 0 && after !== '') out[out.length - 1] += after;
  }
  return out.join(' ');
}

/** Measured word error rate over many utterances. */
export function errorRate(pairs: readonly (readonly [string, string])[]): number {
  let edits = 0;
  let words = 0;
  for (const [truth, heard] of pairs) {
    const a = plainWords(truth);
    edits += wordEdits(a, plainWords(heard));
    words += a.length;
  }
  return words === 0 ? 0 : edits / words;
}

/**
 * Damages all texts so that the measured word error rate comes to `target`.
 * The hit rate is found by measuring, at most twelve times.
 */
export function damageAll(
  texts: readonly string[],
  target: number,
  seed: number,
): { texts: string[]; measured: number } {
  if (target === 0) return { texts: [...texts], measured: 0 };
  let rate = target;
  let best = { texts: [...texts], measured: 0 };
  for (let turn = 0; turn < 12; turn += 1) {
    const draw = random(seed);
    const damaged = texts.map((text) => damage(text, rate, draw));
    const measured = errorRate(texts.map((t, i) => [t, damaged[i] ?? ''] as const));
    if (turn === 0 || Math.abs(measured - target) < Math.abs(best.measured - target)) {
      best = { texts: damaged, measured };
    }
    if (Math.abs(measured - target) < 0.002 || measured === 0) break;
    rate = Math.min(1, (rate * target) / measured);
  }
  return best;
}
