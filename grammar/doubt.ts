import type { Observation, Span } from '#shared/statement';
import type { Clause } from './clauses.ts';
import { joint } from './joints.ts';
import { leftovers } from './leftovers.ts';
import { nameWords, partWords } from './net.ts';
import { isPlural, SIDE_WORDS, stem } from './names.ts';
import type { ItemPiece } from './pieces.ts';
import { isCondition, speaking } from './predicates.ts';
import type { Speaker } from './speaker.ts';
import { phraseWords } from './tokens.ts';
import { quantitiesIn } from './values.ts';

/** A name heard less surely than this is asked about before it counts: a wrong check spoken for can kill. */
export const SURE_MATCH = 0.86;

const UNIT_WORD = /^(psi|quarts?|gallons?|volts?|litres?|percent|celsius)$/;

/** Words beside a good verdict that were not understood, or a name not surely heard, are asked about (R5). */
export function doubt(
  speaker: Speaker,
  observation: Observation,
  clause: Clause,
  item: ItemPiece | null,
): Observation {
  if (observation.force !== 'result' || observation.doubtful !== null) return observation;
  if (item !== null && item.match < SURE_MATCH) {
    return {
      ...observation,
      doubtful: `took "${speaker.span(item.from, item.to).words}" for "${item.entry.text}"`,
    };
  }
  const unsure = clause.preds.find((p) => p.match < (item === null ? 1 : SURE_MATCH));
  if (unsure !== undefined)
    return {
      ...observation,
      doubtful: `not sure of "${speaker.span(unsure.from, unsure.to).words}"`,
    };
  const spans = observation.values.map((v) => v.span);
  const found = observation.conditions.some((c) => c.present);
  let rest: string[];
  if (found) {
    // A finding stands with its details; words before its end that were not understood may put it on the wrong thing, or into talk.
    const last = clause.preds.filter((p) => speaking(p)).at(-1);
    const start = clause.from;
    const end = Math.max(last?.to ?? clause.from, item?.to ?? clause.from);
    rest = leftovers({ ...clause, to: end }, speaker.tokens, start, spans);
  } else rest = strangers(speaker, clause, item, spans);
  const own = ownWords(speaker, observation);
  rest = rest.filter((word) => !own.has(stem(word)));
  if (rest.length > 0)
    return { ...observation, doubtful: `"${rest.join(' ')}" was not understood` };
  const other = item === null ? null : foreignBefore(speaker, observation, clause, item);
  if (other !== null) return { ...observation, doubtful: other };
  const part = item === null ? null : partOf(speaker, observation, clause, item);
  if (part !== null) return { ...observation, doubtful: part };
  const excepted = exceptionAt(speaker, observation, clause);
  if (excepted !== null) return { ...observation, doubtful: excepted };
  const unheard = misheard(speaker, observation, clause);
  if (unheard !== null) return { ...observation, doubtful: unheard };
  if (strayUnit(speaker, clause, spans))
    return { ...observation, doubtful: 'a unit without its number' };
  return observation;
}

/**
 * Words that were not understood beside what was said to be good or absent. Two kinds
 * take nothing away from it: a further thing that is denied by itself ("no fraying, no
 * glazing"), and a place on the thing named before ("cross tubes: no cracks at the saddles").
 */
function strangers(
  speaker: Speaker,
  clause: Clause,
  item: ItemPiece | null,
  spans: readonly Span[],
): string[] {
  const { tokens } = speaker;
  const last = clause.preds.filter(speaking).at(-1);
  if (last === undefined) return leftovers(clause, tokens, clause.from, spans);
  const end = last.to;
  const rest = leftovers({ ...clause, to: end }, tokens, clause.from, spans);
  const behind = leftovers(clause, tokens, end, spans);
  if (behind.length !== 1) return [...rest, ...behind];
  const word = behind[0] ?? '';
  let pause = clause.to - 1;
  while (pause > end && (tokens[pause]?.gap ?? 0) === 0) pause -= 1;
  const denied =
    (tokens[pause]?.gap ?? 0) > 0 && speaker.words(pause, clause.to).join(' ') === `no ${word}`;
  const tail = speaker.words(end, clause.to).join(' ');
  const placed =
    item !== null &&
    isCondition(last) &&
    item.to <= (clause.preds.find(speaking)?.from ?? 0) &&
    (tokens[end]?.gap ?? 0) === 0 &&
    /^(at|on|in|near|around|round|by|along) (the|its|their|either|both) \S+( end| side)?$/.test(
      tail,
    ) &&
    tail.includes(word);
  return denied || placed ? rest : [...rest, ...behind];
}

/** "Tail gearbox sight glass", where "gearbox sight glass" is the main one's: a word of other names stands before it (R5). */
function foreignBefore(
  speaker: Speaker,
  observation: Observation,
  clause: Clause,
  item: ItemPiece,
): string | null {
  if (observation.about.kind !== 'check' || item.from <= clause.from) return null;
  const { names } = speaker.compiled;
  const entry = names.byId.get(observation.about.check);
  const before = stem(speaker.tokens[item.from - 1]?.word ?? '');
  if (entry === undefined || entry.words.has(before) || SIDE_WORDS.has(before)) return null;
  if ((speaker.tokens[item.from]?.gap ?? 0) > 0 || !nameWords(names).has(before)) return null;
  if (clause.preds.some((p) => p.to === item.from)) return null;
  return `"${before}" before "${item.entry.text}" belongs to another name`;
}

/** "The cap on the engine oil is good": of a part of it, not of the whole (R1). */
function partOf(
  speaker: Speaker,
  observation: Observation,
  clause: Clause,
  item: ItemPiece,
): string | null {
  if (observation.verdict?.good !== true || observation.conditions.some((c) => c.present))
    return null;
  let i = item.from - 1;
  while (i > clause.from && isLead(speaker.tokens[i]?.word ?? '')) i -= 1;
  if (i <= clause.from || !joint('belongs').has(speaker.tokens[i]?.word ?? '')) return null;
  const head = speaker.tokens[i - 1]?.word ?? '';
  // "The bolts on the starter are tight" says how it is held.
  if (
    !partWords().has(head) ||
    isPlural(head) ||
    clause.preds.some((p) => p.from < i && i - 1 < p.to)
  )
    return null;
  const entry = speaker.compiled.names.byId.get(
    observation.about.kind === 'check' ? observation.about.check : '',
  );
  if (entry?.words.has(stem(head)) === true) return null;
  return `${quoted(speaker, i - 1, item.to)}: of a part of it`;
}
const isLead = (word: string): boolean =>
  /^(the|a|an|this|that|these|those|my|our|each|both)$/.test(word) || SIDE_WORDS.has(stem(word));
const quoted = (speaker: Speaker, from: number, to: number): string =>
  `"${speaker.span(from, to).words}"`;

/** "Torque stripes all aligned bar one on the upper bearing": not all of them (R5). */
function exceptionAt(speaker: Speaker, observation: Observation, clause: Clause): string | null {
  if (observation.about.kind !== 'check' || observation.conditions.some((c) => c.present))
    return null;
  const said = clause.preds.filter(speaking).at(-1);
  if (said === undefined) return null;
  for (let i = said.to; i <= clause.to; i += 1) {
    const word = speaker.tokens[i]?.word ?? '';
    // "… except there's a ripple": what is left out is said in full, and counts for itself.
    if (/^(there|it)$/.test(speaker.tokens[i + 1]?.word ?? '')) continue;
    if (word !== 'but' && word !== 'than' && joint('exception').has(word))
      return `"${speaker.span(i, Math.min(i + 2, speaker.tokens.length)).words}": something is left out`;
  }
  return null;
}

/** What else speaks against taking the words as they stand, or null. */
function misheard(speaker: Speaker, observation: Observation, clause: Clause): string | null {
  const { tokens } = speaker;
  const word = (i: number): string =>
    i >= clause.from && i < clause.to ? (tokens[i]?.word ?? '') : '';
  const quote = (from: number, to: number): string => `"${speaker.span(from, to).words}"`;
  for (const piece of clause.preds.filter(speaking)) {
    // "knot secure", "nut the left one": a word that sounds like a denial stands where one may have stood.
    if (joint('like-not').has(word(piece.from - 1)) && (tokens[piece.from]?.gap ?? 0) === 0)
      return `${quote(piece.from - 1, piece.to)} may be a denial`;
    // "lost its cotter pin": what is missing is not what was named.
    if (
      [piece.to - 1, piece.to].some((k) => /^(its|his|her|their)$/.test(word(k))) &&
      piece.senses.some((s) => s.kind === 'condition')
    )
      return `${quote(piece.from, piece.to + 1)}: of what is not clear`;
    // "Negative, loose": an answer, or a denial.
    if (word(piece.from - 1) === 'negative' && (tokens[piece.from]?.gap ?? 0) > 0)
      return `${quote(piece.from - 1, piece.to)}: denied or answered`;
    // "not undone", "not unsafe": a denial of a denial.
    if (/^(not|un[a-z]{3,})$/.test(word(piece.from)) && /^(not|never)$/.test(word(piece.from - 1)))
      return `denied twice: ${quote(piece.from - 1, piece.to)}`;
  }
  for (const piece of clause.preds.filter(isCondition)) {
    // "Two screws missing no three", "cracked no it isn't it's a scratch": without a pause a slip sounds like a denial.
    if (word(piece.to) !== 'no') continue;
    if (piece.to + 1 >= clause.to && (tokens[clause.to]?.gap ?? 2) > 0) continue;
    const listed = /^(no|any|or|nor|not|and)$/.test(word(piece.from - 1));
    if (!listed && !clause.preds.some((p) => speaking(p) && p.from === piece.to + 1))
      return `${quote(piece.from, Math.min(clause.to, piece.to + 2))}: denied or corrected`;
  }
  const name = clause.items[0];
  const early = clause.preds.find((p) => speaking(p) && name !== undefined && p.to <= name.from);
  // "A lovely morning and the windscreen's dirty": the verdict is on something else.
  if (early !== undefined && name !== undefined && !isCondition(early))
    for (let i = early.to; i < name.from; i += 1)
      if (word(i) === 'and' && clause.preds.some((p) => speaking(p) && p.from >= name.to))
        return `${quote(early.from, early.to)} may be of something else`;
  for (const value of observation.values) {
    const end = tokens.findIndex((t) => t.at >= value.span.to);
    if (end > 0 && /^(less|minus|short|shy)$/.test(word(end)))
      return `"${value.span.words}" goes on: ${quote(end, Math.min(clause.to, end + 2))}`;
  }
  // "good I thing", "okay, I …?": an end that was lost, and may have been "I think".
  const last = clause.preds.filter(speaking).at(-1);
  if (last !== undefined)
    for (let i = last.to; i < clause.to; i += 1)
      if (word(i) === 'i' && i + 2 >= clause.to)
        return `the end is missing: ${quote(i, clause.to)}`;
  return null;
}

/** Words of the check's own names and of its author's aspects: always understood. */
export function ownWords(speaker: Speaker, observation: Observation): ReadonlySet<string> {
  if (observation.about.kind !== 'check') return new Set();
  const entry = speaker.compiled.names.byId.get(observation.about.check);
  return new Set([
    ...(entry?.words ?? []),
    ...(entry?.check.aspects ?? [])
      .flatMap((a) => [a.name, ...a.say])
      .flatMap((name) => phraseWords(name).map(stem)),
  ]);
}

/** "Oil quarts, that's fine": the number was lost, and it might have been out of limits (R8). */
export function strayUnit(speaker: Speaker, clause: Clause, values: readonly Span[]): boolean {
  for (let i = clause.from; i < clause.to; i += 1) {
    if (!UNIT_WORD.test(speaker.tokens[i]?.word ?? '')) continue;
    const at = speaker.tokens[i]?.at ?? -1;
    if (
      !values.some((v) => v.from <= at && at < v.to) &&
      clause.items.every((it) => i < it.from || i >= it.to)
    ) {
      const number = quantitiesIn(speaker.tokens, clause.from, clause.to).some(
        (q) => q.from <= i && i < q.to,
      );
      if (!number) return true;
    }
  }
  return false;
}
