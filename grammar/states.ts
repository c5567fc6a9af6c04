import { lexicon } from './lexicon.ts';
import { deniedAt } from './scope.ts';
import { phraseWords, tokensOf } from './tokens.ts';
import { Trie } from './trie.ts';

/** A condition read from free text, without a catalogue. */
export interface StateFound {
  /** Positions [from, to) in the words of the text, split at blanks. */
  readonly from: number;
  readonly to: number;
  /** Id of the condition in the lexicon. */
  readonly condition: string;
  /** The words before it that name what it is on; null where nothing is named. */
  readonly part: string | null;
}

interface Entry {
  readonly id: string;
  readonly weak: boolean;
}

/** Weak words ("hot", "open", "short") that describe a state only at the end of a short text or before its thing. */
let trie: Trie<Entry> | null = null;
function states(): Trie<Entry> {
  if (trie !== null) return trie;
  trie = new Trie();
  const { conditions, written } = lexicon();
  for (const c of conditions) {
    for (const phrase of [...c.say, ...c.also])
      trie.add(phraseWords(phrase), { id: c.id, weak: false });
    for (const phrase of c.weak) trie.add(phraseWords(phrase), { id: c.id, weak: true });
  }
  for (const [id, say] of Object.entries(written)) {
    for (const phrase of say) trie.add(phraseWords(phrase), { id, weak: false });
  }
  return trie;
}

/** Words that more often name a thing than a state: "water pump", "high voltage", "fire extinguisher". */
const NAMING =
  /^(water|fire|dust|alarm|alarms|stick|bend|dirt|mud|high|low|full|wear|sand|smoke|heat|warm|hot|slow|gap|tear|light|play|split|noise|open|short|down|flat|issue)$/;

function names(
  words: readonly string[],
  tokens: readonly { gap: number }[],
  hit: { from: number; to: number },
): boolean {
  if (hit.to - hit.from !== 1 || !NAMING.test(words[hit.from] ?? '')) return false;
  const next = words[hit.to];
  return (
    next !== undefined &&
    (tokens[hit.to]?.gap ?? 0) === 0 &&
    !STOP.test(next) &&
    !/^(side|front|rear|left|right|when|pressure|level|oil|voltage|compression|rpm|charge|tension|idle|flow|vacuum|current)$/.test(
      next,
    )
  );
}

const STOP =
  /^(and|or|but|the|a|an|is|are|was|were|be|been|has|have|had|to|of|in|on|at|with|for|from|by|not|no|due|found|very|too|still|also|as|it|this|that|there|when|while|after|during|if)$/;

/**
 * The undesirable states that a text asserts, in reading order: work orders, logbook
 * entries, squawks. A state that is denied ("no leaks found") is left out.
 */
export function statesIn(text: string): StateFound[] {
  const { tokens } = tokensOf({ text, words: [] });
  const words = tokens.map((t) => t.word);
  const table = states();
  const out: StateFound[] = [];
  for (let i = 0; i < words.length;) {
    const hit = table.longest(words, i);
    if (hit === null) {
      i += 1;
      continue;
    }
    i = hit.to;
    if (names(words, tokens, hit)) continue;
    if (deniedAt(words, { from: hit.from, to: hit.to }, tokens)) continue;
    let from = hit.from;
    while (from > 0 && /^(is|are|was|were|has|have|been)$/.test(words[from - 1] ?? '')) from -= 1;
    let start = from;
    while (
      start > 0 &&
      from - start < 5 &&
      !STOP.test(words[start - 1] ?? '') &&
      (tokens[start]?.gap ?? 0) === 0
    )
      start -= 1;
    const before = words.slice(start, from).filter((w) => !/^\d+$/.test(w));
    let part = before.join(' ');
    if (part === '') {
      let end = hit.to;
      while (
        end < words.length &&
        end - hit.to < 4 &&
        !STOP.test(words[end] ?? '') &&
        (tokens[end]?.gap ?? 0) === 0
      )
        end += 1;
      part = words.slice(hit.to, end).join(' ');
    }
    out.push({
      from: tokens[hit.from]?.at ?? 0,
      to: (tokens[hit.to - 1]?.at ?? 0) + 1,
      condition: hit.item.id,
      part: part === '' ? null : part,
    });
  }
  return out;
}
