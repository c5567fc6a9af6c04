import type { Line } from '#shared/phrasebook';
import type { Roster } from './matches/roster.ts';
import type { InputMaker } from './scores/inputs.ts';
import { phraseWords, tokensOf, type Token } from './tokens.ts';
import { Trie } from './trie.ts';

/** What a speaker's own words mean on this aircraft, ready to be looked up. */
export interface Phrasebook {
  readonly trie: Trie<{ line: Line; words: readonly string[] }>;
  readonly size: number;
}

export const NO_PHRASES: Phrasebook = { trie: new Trie(), size: 0 };

/** Share of a name from which words name a check of the catalogue by themselves. */
const NAMES = 0.5;

/**
 * The lines that may be used. A learned word never beats a named check: words that name one,
 * or that the catalogue no longer has the check for, are left out.
 */
export function phrasesOf(
  lines: readonly Line[],
  { roster, maker }: { roster: Roster; maker: InputMaker },
): Phrasebook {
  const trie = new Trie<{ line: Line; words: readonly string[] }>();
  let size = 0;
  for (const line of lines) {
    const words = wordsFor(line, roster);
    if (words === null || isNamed(line.phrase, maker)) continue;
    trie.add(phraseWords(line.phrase), { line, words });
    size += 1;
  }
  return { trie, size };
}

/** Whether the words name a check of the catalogue by themselves, and hold no word beside the name. */
export function isNamed(phrase: string, maker: InputMaker): boolean {
  const { tokens } = tokensOf({ text: phrase, words: [] });
  return maker
    .alone(tokens)
    .candidates.some(
      (c) =>
        c.member !== null &&
        (c.features[0] ?? 0) >= NAMES &&
        tokens.every((_, i) => c.marks.some((m) => m.lag === 0 && m.token === i && m.name > 0)),
    );
}

function wordsFor({ means }: Line, { byKey }: Roster): readonly string[] | null {
  if (means.is === 'good') return ['good'];
  if (means.is === 'bad') return ['is', 'damaged'];
  const check = byKey.get(means.check)?.check;
  return check === undefined || check === null ? null : phraseWords(check.name);
}

/**
 * The tokens with learned words put in the place of those that were said. Each keeps its
 * place in the utterance, so that every statement quotes what was said.
 */
export function inOwnWords(
  tokens: readonly Token[],
  book: Phrasebook,
  maker: InputMaker,
): { tokens: readonly Token[]; used: readonly Line[] } {
  if (book.size === 0) return { tokens, used: [] };
  const list = tokens.map((t) => t.word);
  const out: Token[] = [];
  const used: Line[] = [];
  for (let i = 0; i < tokens.length;) {
    const hit = book.trie.longest(list, i);
    const first = tokens[i];
    if (first === undefined) break;
    const { means } = hit?.item.line ?? { means: null };
    // What is good of one check is said of that one.
    const elsewhere = means?.is === 'good' && !names(tokens, means.check, maker);
    if (hit === null || elsewhere) {
      out.push(first);
      i += 1;
      continue;
    }
    used.push(hit.item.line);
    hit.item.words.forEach((word, k) => {
      const at = tokens[Math.min(i + k, hit.to - 1)] ?? first;
      out.push({ ...at, word, gap: k === 0 ? first.gap : 0, asks: first.asks });
    });
    i = hit.to;
  }
  return { tokens: out, used };
}

/** Whether the words name this check. */
function names(tokens: readonly Token[], check: string, maker: InputMaker): boolean {
  return maker
    .alone(tokens)
    .candidates.some((c) => c.member?.check?.id === check && (c.features[0] ?? 0) >= NAMES);
}

/** "Learned from you, on 2026-03-01", for a person. */
export function learnedWhy({ phrase, means, on }: Line, { byKey }: Roster): string {
  const what =
    means.is === 'check' ? `"${byKey.get(means.check)?.check?.name ?? means.check}"` : means.is;
  return `"${phrase}" is ${what}: learned from you, on ${on}`;
}
