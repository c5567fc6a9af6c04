import type { Scene } from '#shared/scene';
import type { Statement } from '#shared/statement';
import type { Clause } from './clauses.ts';
import type { ForceRead } from './forces.ts';
import { joint } from './joints.ts';
import { harmless, leftovers } from './leftovers.ts';
import { lexicon } from './lexicon.ts';
import { SIDE_WORDS, stem, type Names } from './names.ts';
import type { Speaker } from './speaker.ts';
import { phraseWords } from './tokens.ts';
import { stepsIn } from './steps.ts';
import { quantitiesIn } from './values.ts';

/** More words than this beside one hint are talk about something else. A longer limit asks more, a shorter one loses findings. */
const SHORT = 9;
/** A side or a number alone is an answer or a correction that lost its opening. */
const ALONE = 4;

const ownWords = new WeakMap<Names, ReadonlySet<string>>();
/** Words that the catalogue's names are made of, little words and sides left out. */
export function nameWords(names: Names): ReadonlySet<string> {
  let words = ownWords.get(names);
  if (words === undefined) {
    const plain = harmless();
    words = new Set(
      names.checks
        .flatMap((entry) => [...entry.words])
        .map(stem)
        .filter((w) => !plain.has(w) && !SIDE_WORDS.has(w)),
    );
    ownWords.set(names, words);
  }
  return words;
}

let parts: ReadonlySet<string> | null = null;
/** Words for parts that many things have: bolts, caps, edges. */
export function partWords(): ReadonlySet<string> {
  parts ??= new Set(lexicon().places.parts.flatMap((p) => phraseWords(p)));
  return parts;
}

/**
 * Words that would pass as small talk, and bear the mark of a result that was not
 * heard well: they are not understood, and asked about, rather than passed over (R5).
 * Losing a finding can kill; asking costs a breath.
 */
export function caught(
  speaker: Speaker,
  clause: Clause,
  scene: Scene,
  read: ForceRead,
  made: readonly Statement[],
): Statement[] {
  if (made.length === 0 || !made.every((s) => s.kind === 'not-understood' && s.chatter))
    return [...made];
  const hint = hintOf(speaker, clause, scene, read);
  if (hint === null) return [...made];
  return made.map((s) =>
    s.kind === 'not-understood'
      ? { ...s, chatter: false, why: [`${hint}: not taken for talk (R5)`] }
      : s,
  );
}

function hintOf(speaker: Speaker, clause: Clause, scene: Scene, read: ForceRead): string | null {
  if (read.force !== 'result' && read.force !== 'intention') return null;
  const words = speaker.words(clause.from, clause.to);
  const { last } = scene;
  const found = last !== null && last.force === 'result' && last.conditions.some((c) => c.present);
  if (
    found &&
    words.length <= ALONE &&
    words.some((w) => SIDE_WORDS.has(stem(w)) || joint('order').has(w)) &&
    words.some((w) => w === 'one' || w === 'ones' || w === 'other')
  )
    return 'a place alone, after a finding';
  // "Battery tight. No.": whether it takes that back is not told (R6).
  if (
    words.length <= 2 &&
    words.every((w) => /^(no|nope|nah|oh|um|uh|well|er)$/.test(w)) &&
    words.some((w) => /^no/.test(w)) &&
    last?.heard === speaker.heard.id &&
    (found || last.verdict?.good === true)
  )
    return 'a "no" behind a result';
  // "(Left clear.) Right's got …": what the right one has, was not understood.
  const side = SIDE_WORDS.has(stem(words[0] ?? '')) && joint('copula').has(words[1] ?? '');
  const short = SIDE_WORDS.has(stem(words[0] ?? '')) && speaker.tokens[clause.from]?.short === true;
  if (
    (side || short) &&
    scene.check !== null &&
    leftovers(clause, speaker.tokens, clause.from).length > 0
  )
    return 'a place, and how it is there was not understood';
  const denies = words.some((w) => /^(no|not|nothing|none)$/.test(w));
  if (denies && words.length <= ALONE && joint('unended').has(words.at(-1) ?? ''))
    return 'a denial of what, was not said to the end';
  const rest = leftovers(clause, speaker.tokens, clause.from);
  if (rest.length === 0 || words.length > SHORT) return null;
  if (quantitiesIn(speaker.tokens, clause.from, clause.to).some((q) => q.units.length > 0))
    return 'a value of what was not understood';
  const steps = stepsIn(speaker.compiled.catalogue, speaker.tokens.slice(clause.from, clause.to));
  if (steps.length > 0) return 'a step of a gauge, of what was not understood';
  const own = nameWords(speaker.compiled.names);
  const name = words.find((w) => own.has(stem(w)));
  if (name !== undefined)
    return `"${name}" belongs to a name, and "${rest.join(' ')}" was not understood`;
  const part = words.find((w) => partWords().has(w));
  const told = words.some((w) => joint('copula').has(w));
  if (part !== undefined && told)
    return `"${part}" is a part, and "${rest.join(' ')}" was not understood`;
  return null;
}
