import { isMore, SURELY, type Line, type Means } from '#shared/phrasebook';
import { SEVERITY_WORDS, worse, type Severity } from '#shared/severity';
import { proposedSeverity } from '#shared/sign';
import type { Observation } from '#shared/statement';
import { lexicon } from './lexicon.ts';
import type { Roster } from './matches/roster.ts';
import type { InputMaker } from './scores/inputs.ts';
import { phraseWords, tokensOf, type Token } from './tokens.ts';
import { Trie } from './trie.ts';

/** What a speaker's own words mean on this aircraft, ready to be looked up. */
export interface Phrasebook {
  readonly trie: Trie<{ line: Line; words: readonly string[] }>;
  readonly size: number;
  /** What whole sentences were said to mean, by check and sentence. */
  readonly meant: ReadonlyMap<string, { line: Line; good: boolean }>;
  /** How bad faults were called before, by check and condition, or sentence. */
  readonly rated: ReadonlyMap<string, { line: Line; means: Rated }>;
  /** Whole sentences that are not asked about any more. */
  readonly harmless: ReadonlyMap<string, Line>;
}
type Rated = Extract<Means, { is: 'severity' }>;

export const NO_PHRASES: Phrasebook = {
  trie: new Trie(),
  size: 0,
  meant: new Map(),
  rated: new Map(),
  harmless: new Map(),
};

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
  const rated = new Map<string, { line: Line; means: Rated }>();
  const harmless = new Map<string, Line>();
  const meant = new Map<string, { line: Line; good: boolean }>();
  let size = 0;
  for (const line of lines) {
    const { means } = line;
    const sentence = sentenceIn(tokensOf({ text: line.phrase, words: [] }).tokens);
    if (means.is === 'severity')
      rated.set(`${means.check} ${means.condition || `"${sentence}"`}`, { line, means });
    if (means.is === 'meant') meant.set(`${means.check} ${sentence}`, { line, good: means.good });
    if (means.is === 'nothing' && line.times >= SURELY) harmless.set(sentence, line);
    const words = wordsFor(line, roster);
    if (words === null || isNamed(line.phrase, maker)) continue;
    trie.add(phraseWords(line.phrase), { line, words });
    size += 1;
  }
  return { trie, size, meant, rated, harmless };
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
  if (means.is === 'condition') {
    const said = lexicon().conditions.find((c) => c.id === means.condition)?.say[0];
    return said === undefined ? null : ['is', ...phraseWords(said)];
  }
  if (means.is !== 'check') return null;
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

/**
 * The observation with how this speaker rated the same fault before. Never where the
 * catalogue grounds it, and only where every fault in it was rated and none is more, larger
 * or of an unknown size now: the cost of asking again is a breath, that of proposing too
 * little is a fault that nobody looks at.
 */
function withUsual(
  said: Observation,
  sentence: string,
  book: Phrasebook,
  { catalogue, byKey }: Roster,
): Observation {
  const rest = { ...said };
  delete rest.usual;
  if (book.rated.size === 0 || said.about.kind !== 'check' || said.force !== 'result') return rest;
  if (said.severity !== null || said.doubtful !== null || said.compared !== null) return rest;
  const id = said.about.check;
  const check = byKey.get(id)?.check ?? null;
  const present = said.conditions.filter((c) => c.present);
  const bare = present.length === 0 && said.verdict?.good === false;
  if (check === null || (present.length === 0 && !bare) || said.values.length > 0) return rest;
  if (proposedSeverity(catalogue, check, said) === 'ground') return rest;
  const faults = bare
    ? [{ condition: `"${sentence}"`, degree: null, extent: null, size: null, place: null }]
    : present;
  const known = faults.flatMap((c) => {
    const found = book.rated.get(`${id} ${c.condition}`);
    if (found === undefined) return [];
    const { degree, count, size } = found.means;
    const extent = count === null ? null : { count, of: null };
    return isMore(c, { degree, extent, size, place: null }) ? [] : [found];
  });
  const severity = known.map((k) => k.means.severity as Severity | null).reduce(worse, null);
  const line = known.find((k) => k.means.severity === severity)?.line;
  if (known.length < faults.length || severity === null || line === undefined) return rest;
  return {
    ...rest,
    usual: { severity, on: line.on },
    why: [...said.why, `${SEVERITY_WORDS[severity]}, as you rated it on ${line.on}`],
  };
}

/**
 * The doubt of a sentence that was asked about before, settled as it was answered then. A
 * fault that a word names is never settled as good, and what only sounded like one has to be
 * called good twice.
 */
function withMeaning(
  said: Observation,
  sentence: string,
  book: Phrasebook,
  roster: Roster,
): Observation {
  if (book.meant.size === 0 || said.doubtful === null || said.force !== 'result') return said;
  if (said.about.kind !== 'check') return said;
  const found = book.meant.get(`${said.about.check} ${sentence}`);
  if (found === undefined) return said;
  const { line, good } = found;
  const check = roster.byKey.get(said.about.check)?.check;
  const ill = said.conditions.some((c) => c.present);
  const sounded = said.verdict?.good !== true;
  if (good && (ill || check?.mandatory === true || (sounded && line.times < SURELY))) return said;
  const verdict =
    good || !ill
      ? { actOnly: false, aspects: [], span: said.span, ...said.verdict, good }
      : said.verdict?.good === true
        ? null
        : said.verdict;
  return {
    ...said,
    verdict,
    doubtful: null,
    waits: false,
    why: [...said.why, learnedWhy(line, roster)],
  };
}

const sentenceIn = (tokens: readonly Token[]): string => tokens.map((t) => t.word).join(' ');

/** An observation with what was learned of its sentence and of its fault. */
export function asLearned(
  said: Observation,
  tokens: readonly Token[],
  book: Phrasebook,
  roster: Roster,
): Observation {
  const sentence = sentenceIn(tokens);
  return withUsual(withMeaning(said, sentence, book, roster), sentence, book, roster);
}

/** The line by which these words say nothing; null where they may say something. */
export function harmlessBy(tokens: readonly Token[], book: Phrasebook): Line | null {
  if (book.harmless.size === 0) return null;
  return book.harmless.get(sentenceIn(tokens)) ?? null;
}

/** "Learned from you, on 2026-03-01", for a person. */
export function learnedWhy({ phrase, means, on }: Line, { byKey }: Roster): string {
  const what =
    means.is === 'check'
      ? `"${byKey.get(means.check)?.check?.name ?? means.check}"`
      : means.is === 'meant'
        ? means.good
          ? 'good'
          : 'bad'
        : means.is === 'condition'
          ? `"${means.condition}"`
          : means.is;
  return `"${phrase}" is ${what}: learned from you, on ${on}`;
}
