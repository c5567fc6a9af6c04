import type { Observation } from '#shared/statement';
import { lexicon } from '../lexicon.ts';
import { placeWordsOf } from '../matches/heardas.ts';
import type { Member } from '../matches/roster.ts';
import { stem } from '../names.ts';
import { ownWords } from '../readings/said.ts';
import type { Token } from '../tokens.ts';
import type { Move, Turning } from './moves.ts';
import { amending } from './restated.ts';
import { isWord } from './answerwords.ts';

let sides: ReadonlyMap<string, string> | null = null;
/** A word of a place as names have it: "back" is aft where something is called aft or rear. */
export function placeWord(word: string): string {
  sides ??= new Map(
    Object.entries(lexicon().sides.sides).flatMap(([side, say]) =>
      say.filter((s) => !s.includes(' ')).map((s) => [s, stem(side)] as const),
    ),
  );
  return sides.get(word) ?? stem(word);
}

/** The places that these words name and nothing else; null where a word names none. */
export function placesSaid(member: Member, tokens: readonly Token[]): string[] | null {
  if (member.instances.length < 2) return null;
  const marks = placeWordsOf(tokens);
  if (marks.all.some(Boolean) && tokens.every((_, i) => marks.all[i] === true))
    return [...member.instances];
  const spoken = tokens.map((x, i) => marks.sides[i] ?? placeWord(x.word));
  const meant = member.instances.filter((_, i) => {
    const words = member.instanceWords[i] ?? [];
    const number = words.length === 1 && /^\d+$/.test(words[0] ?? '') ? Number(words[0]) : null;
    return (
      (words.length > 0 && words.every((w) => spoken.includes(w))) ||
      (number !== null && marks.counts.includes(number)) ||
      marks.orders.some((n) => n === i || (n === -1 && i === member.instances.length - 1))
    );
  });
  const known = tokens.every(
    (_, i) =>
      (marks.sides[i] ?? marks.counts[i] ?? marks.orders[i] ?? null) !== null ||
      member.instanceWords.some((ws) => ws.includes(spoken[i] ?? '')),
  );
  return known && meant.length > 0 ? meant : null;
}

/** More words than this say more than a place. */
const LONGEST = 6;

/**
 * "It's blade two.", "the second one", behind a fault that was told without saying at which:
 * the place is told later, and not asked for where places are only counted.
 */
export const placedLater: Move = (t) => {
  const { last } = t.scene;
  const { tokens } = t.words;
  if (last === null || last.force !== 'result' || last.about.kind !== 'check') return null;
  const { check, which } = last.about;
  const member = t.roster.byKey.get(check);
  const open = which.how === 'plural' || (which.how === 'one' && which.instances.length === 0);
  if (member === undefined || !open) return null;
  if (!isIll(last) || tokens.length > LONGEST || tokens.some((x) => x.asks)) return null;
  const own = new Set(
    t.inputs.candidates.flatMap((c) => (c.member?.key === check ? ownWords(c) : [])),
  );
  const rest = tokens.filter((x, i) => !own.has(i) && !isWord('placing', x.word));
  // "Two" alone may be how many there are.
  if (rest.length === 0 || (tokens.length === 1 && isCount(t))) return null;
  const places = placesSaid(member, rest);
  if (places === null) return null;
  const how = places.length === member.instances.length ? ('all' as const) : ('named' as const);
  const about = { ...last.about, which: { how, instances: places } };
  return [amending(t, last, { about }, `told where it is: ${places.join(' and ')}`)];
};

const isCount = ({ words }: Turning): boolean =>
  placeWordsOf(words.tokens).counts.every((n) => n !== null);
const isIll = (o: Observation): boolean =>
  o.conditions.some((c) => c.present) || o.verdict?.good === false;
