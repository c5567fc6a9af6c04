import type { Observation, Statement } from '#shared/statement';
import { lexicon } from '../lexicon.ts';
import { placeWordsOf } from '../matches/heardas.ts';
import { phraseWords, type Token } from '../tokens.ts';
import { Trie } from '../trie.ts';
import { moved } from './correction.ts';
import { isJustTold, placesOnly, twinAt } from './otherside.ts';
import { placesSaid } from './placed.ts';
import { whole } from './open.ts';
import type { Move, Turning } from './moves.ts';

/** More words than this tell something of their own. */
const LONGEST = 9;

let words: Trie<true> | null = null;
function alsoTrie(): Trie<true> {
  if (words !== null) return words;
  words = new Trie();
  for (const phrase of lexicon().corrections.also) words.add(phraseWords(phrase), true);
  return words;
}

/**
 * "So does the left one", "right one too", behind a fault: it is at that place as well, and what
 * was told stays as it was (R4). A good is taken over by no such word (R1).
 */
export const alsoThere: Move = (t) => {
  const { last } = t.scene;
  const { tokens } = t.words;
  if (last === null || last.force !== 'result' || last.about.kind !== 'check') return null;
  if (!isIll(last) || last.doubtful !== null || last.values.length > 0) return null;
  if (tokens.length > LONGEST || tokens.some((x) => x.asks) || !isJustTold(t, last)) return null;
  const rest = withoutAlso(tokens);
  const member = t.roster.byKey.get(last.about.check);
  if (rest === null || member === undefined) return null;
  const places = placesOnly(t, last, member, rest);
  if (places === null || places.length === 0) return null;
  const own = placesSaid(member, places);
  const twin = own === null ? twinAt(t, member, placeWordsOf(places).sides) : null;
  if (own !== null) return own.some((i) => isSaid(last, i)) ? null : [there(t, last, own)];
  return twin === null ? null : [again(t, moved(t, last, twin))];
};

/** What is left without the words of "as well"; null where there are none. */
function withoutAlso(tokens: readonly Token[]): Token[] | null {
  const list = tokens.map((x) => x.word);
  const { beside } = lexicon().corrections;
  const rest: Token[] = [];
  let found = false;
  for (let i = 0; i < tokens.length;) {
    const hit = alsoTrie().longest(list, i);
    const token = tokens[i] as Token;
    if (hit !== null) found = true;
    else if (!beside.includes(token.word) && token.word !== 'actually') rest.push(token);
    i = hit?.to ?? i + 1;
  }
  return found && rest.length > 0 ? rest : null;
}

const isSaid = ({ about }: Observation, place: string): boolean =>
  about.kind === 'check' && about.which.instances.includes(place);
const isIll = (o: Observation): boolean =>
  o.conditions.some((c) => c.present) || o.verdict?.good === false;

function there(t: Turning, last: Observation, instances: readonly string[]): Statement {
  if (last.about.kind !== 'check') return last;
  const which = { how: 'named' as const, instances: [...instances] };
  return again(t, { ...last, about: { ...last.about, which } });
}

/** The same fault, told of another place: nothing is amended. */
const again = (t: Turning, said: Observation): Statement => ({
  ...said,
  id: said.heard === t.heard.id ? said.id : t.nextId(),
  heard: t.heard.id,
  span: whole(t.words),
  why: ['the same fault is said to be there as well'],
  amends: null,
  answers: null,
  squawk: false,
});
