import { isWord } from '../conversation/answerwords.ts';
import { lexicon } from '../lexicon.ts';
import type { Inputs } from '../scores/around.ts';
import type { Words } from './said.ts';

/** "Skip the air box", "no rotor brake on this ship": set aside in so many words, whatever the scores hold. */
export function plainlyAside(
  { candidates }: Inputs,
  { tokens }: Words,
): { readonly from: number; readonly to: number } | null {
  const named = new Set(
    candidates.flatMap((c) =>
      c.member === null || c.member.check === null
        ? []
        : c.marks.flatMap((m) => (m.lag === 0 && m.name >= WHOLE ? [m.token] : [])),
    ),
  );
  const from = tokens.findIndex((t) => !BESIDE.test(t.word));
  const rest = tokens.slice(from + 1);
  if (from < 0 || rest.length > LONGEST) return null;
  const whole = { from, to: tokens.length };
  const isName = (i: number): boolean => named.has(i) || BESIDE.test(tokens[i]?.word ?? '');
  if (tokens[from]?.word === 'skip')
    return rest.length > 0 && rest.every((_, k) => isName(from + 1 + k)) ? whole : null;
  if (tokens[from]?.word !== 'no' || !named.has(from + 1)) return null;
  const words = tokens.map((t) => t.word);
  const behind = lexicon().hedges.nohere.map((phrase) => phrase.split(' '));
  return behind.some(
    (phrase) =>
      phrase.length < words.length - from - 1 &&
      words.slice(-phrase.length).join(' ') === phrase.join(' ') &&
      words.slice(from + 1, -phrase.length).every((_, k) => named.has(from + 1 + k)),
  )
    ? whole
    : null;
}
/** Share of a name from which it is said whole. */
const WHOLE = 0.97;
/** More words are a sentence about something. */
const LONGEST = 8;
const BESIDE = /^(the|a|okay|ok|so|and|well|please|now|today|then)$/;

/** "Set the tail bumper aside." */
export function asideAround(list: readonly string[]): { from: number; to: number } | null {
  const from = list.findIndex((w) => isWord('aside-verb', w));
  const to = list.findIndex((w, i) => i > from && isWord('aside', w)) + 1;
  return from < 0 || to < from + 2 || to - from > MOST_ASIDE ? null : { from, to };
}
/** Words from "set" to "aside" at most. */
const MOST_ASIDE = 7;
