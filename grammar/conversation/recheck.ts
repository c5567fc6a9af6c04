import { instancesOf } from '#shared/catalogue';
import type { Observation } from '#shared/statement';
import { lexicon } from '../lexicon.ts';
import { phraseWords } from '../tokens.ts';
import { Trie } from '../trie.ts';
import { optionIn } from './options.ts';
import { whole, type AnswerReader } from './open.ts';
import { isWord } from './answerwords.ts';

type Compared = NonNullable<Observation['compared']>;

/** "Still there, worse, or gone?", by order. */
const ORDER = ['same', 'worse', 'gone'] as const;

/** Words of the answer itself, when it is nothing else. */
let single: ReadonlyMap<string, Compared> | null = null;
function bareWords(): ReadonlyMap<string, Compared> {
  single ??= new Map(
    (Object.entries(lexicon().answers.compared) as [Compared, string[]][]).flatMap(([how, say]) =>
      say.map((word) => [word, how] as const),
    ),
  );
  return single;
}

let phrases: Trie<Compared> | null = null;
function comparedTrie(): Trie<Compared> {
  if (phrases !== null) return phrases;
  phrases = new Trie();
  for (const [how, say] of Object.entries(lexicon().dialogue.compared) as [Compared, string[]][])
    for (const phrase of say) phrases.add(phraseWords(phrase), how);
  return phrases;
}

/**
 * What a short answer says of an open squawk: "still there", "it's grown", "gone". Null
 * unless every word of it is known: "not gone" must never close a squawk, and asking
 * again costs a breath.
 */
export const recheckAnswer: AnswerReader = (a) => {
  const picked = optionIn(a.question, a.words.tokens);
  const compared =
    howCompared(a.words.tokens.map((t) => t.word)) ??
    (picked === null ? null : (ORDER[picked] ?? null));
  const candidate = a.question.options[0]?.candidate ?? null;
  const check = a.roster.byKey.get(candidate?.check ?? '')?.check ?? null;
  if (compared === null || candidate === null || check === null) return null;
  const all = [...instancesOf(check)];
  const named = candidate.instances.length === 0 ? all : candidate.instances;
  const span = whole(a.words);
  return {
    v: 1,
    id: a.nextId(),
    heard: a.heard.id,
    kind: 'observation',
    span,
    why: [`answers "${a.question.text}": ${compared}`],
    force: 'result',
    about: {
      kind: 'check',
      check: check.id,
      which: { how: named.length === all.length ? 'all' : 'named', instances: [...named] },
      span,
    },
    candidates: [candidate],
    verdict: null,
    conditions: [],
    values: [],
    acts: [],
    severity: null,
    amends: null,
    answers: a.question.id,
    compared,
    squawk: false,
    doubtful: null,
  };
};

function howCompared(words: readonly string[]): Compared | null {
  const found = new Set<Compared>();
  for (let i = 0; i < words.length; i += 1) {
    // "Is it gone?" asks.
    if (i === 0 && /^(is|has)$/.test(words[i] ?? '')) return null;
    const hit = comparedTrie().longest(words, i);
    if (hit !== null) {
      found.add(hit.item);
      i = hit.to - 1;
      continue;
    }
    const bare = bareWords().get(words[i] ?? '');
    if (bare !== undefined && !(bare === 'same' && found.size > 0)) found.add(bare);
    else if (bare === undefined && !isWord('recheck-beside', words[i] ?? '')) return null;
  }
  // "Still there and worse" is worse; any other two do not go together.
  if (found.size === 2 && found.has('same') && found.has('worse')) return 'worse';
  return found.size === 1 ? ([...found][0] ?? null) : null;
}
