import { isHappening } from '#shared/sign';
import type { ConditionSaid, Observation } from '#shared/statement';
import { lexicon } from '../lexicon.ts';
import { against, placeWordsOf } from '../matches/heardas.ts';
import { senses } from '../matches/senses.ts';
import { SIDE_WORDS, stem } from '../names.ts';
import { numbersIn } from '../numbers.ts';
import { degreeAt, extentAt } from '../readings/details.ts';
import { goesThere } from '../readings/arrivals.ts';
import { ownWords, spanIn, type Words } from '../readings/said.ts';
import { phraseWords, type Token } from '../tokens.ts';
import { Trie } from '../trie.ts';
import { convert, unitTrie } from '../units.ts';
import { quantitiesIn } from '../values.ts';
import { whole } from './open.ts';
import type { Move, Turning } from './moves.ts';
import { placeWord } from './placed.ts';
import { isWord } from './answerwords.ts';

/** More words than this are no detail of what was said before. */
const LONGEST = 16;

let leads: Trie<true> | null = null;
/** "Near", "aft of": what comes behind them says where, whatever it names. */
function leadTrie(): Trie<true> {
  if (leads !== null) return leads;
  leads = new Trie();
  for (const phrase of [...lexicon().places.at, ...lexicon().places.away])
    leads.add(phraseWords(phrase), true);
  return leads;
}

/**
 * "Inboard end, about an inch.": place, size, count and degree of the fault that was just
 * told go to that fault, and their unit takes nobody to another check.
 */
export const detailed: Move = (t) => {
  const { last } = t.scene;
  if (last === null || last.force !== 'result' || last.about.kind === 'station') return null;
  const present = last.conditions.filter((c) => c.present);
  const ill = present.length > 0 || last.verdict?.good === false;
  if (isHappening(t.roster.catalogue, present)) return null;
  const { tokens } = t.words;
  if (!ill || tokens.length > LONGEST || tokens.some((x) => x.asks)) return null;
  // "The right one" is one of several, and no place on the one that was told.
  if (
    tokens.some(
      (x, i) => /^ones?$/.test(x.word) && SIDE_WORDS.has(placeWord(tokens[i - 1]?.word ?? '')),
    )
  )
    return null;
  if (goesThere(tokens.map((x) => x.word)) || namesStation(t) || namesTwin(t, last)) return null;
  if (isBareValue(t, last) || isOwnSide(t, last)) return null;
  // A place that is said after other things is where one goes on, and no detail of what was left.
  if (!isStillTold(t, last)) return null;
  const found = detailsSaid(t, last, 0, tokens.length);
  if (found === null) return null;
  // "Front.", behind a thing that was only called bad: more likely where one goes now than where it is bad.
  if (present.length === 0 && tokens.length <= BARE_PLACE && (found.size ?? found.degree) === null)
    return null;
  const target = present.at(-1) ?? bareFault(last);
  const conditions = last.conditions.map((c) => (c === target ? withDetails(c, found) : c));
  return [
    {
      ...last,
      id: t.nextId(),
      heard: t.heard.id,
      span: whole(t.words),
      why: ['place, size, count and degree belong to the fault that was just told'],
      conditions:
        conditions.includes(target) || present.length > 0
          ? conditions
          : [withDetails(target, found)],
      verdict: present.length > 0 ? last.verdict : null,
      // Nobody tells where and how long something is that is not there.
      doubtful: null,
      waits: false,
      amends: last.id,
      answers: null,
      squawk: false,
    },
  ];
};

/** Whether nothing else was told since: "yes" and "I know" stand between a fault and its details, and tell nothing. */
function isStillTold({ scene, heard }: Turning, last: Observation): boolean {
  const { turns } = scene.talk;
  if (turns.slice(-LATEST).some((turn) => turn.heard === last.heard)) return true;
  const told = turns.findLast(
    (turn) => turn.heard !== heard.id && Object.keys(turn.said).length > 0,
  );
  return told?.heard === last.heard;
}

/** "Twenty two", of a tyre that is soft: the value of the check, and no count of faults (R8). */
function isBareValue({ words, roster }: Turning, { about, values }: Observation): boolean {
  const check = about.kind === 'check' ? roster.byKey.get(about.check)?.check : null;
  if (values.length > 0 || !(check?.measures ?? []).some((m) => m.unit !== undefined)) return false;
  const [number, ...more] = numbersIn(words.tokens.map((x) => x.word));
  return number?.from === 0 && number.to === words.tokens.length && more.length === 0;
}

/** "The right", of a right brake: nothing that was not said. */
function isOwnSide({ words, roster }: Turning, { about }: Observation): boolean {
  const member = about.kind === 'check' ? roster.byKey.get(about.check) : undefined;
  const said = words.tokens.map((x) => x.word).filter((w) => !isWord('detail', w) || w === 'right');
  return said.length > 0 && said.every((w) => member?.sides.has(placeWord(w)) === true);
}

/** Place, size, count and degree that these words tell of a fault; null where a word tells more, or nothing. */
export function detailsSaid(
  t: Turning,
  last: Observation,
  from: number,
  to: number,
): Details | null {
  const words = { ...t.words, tokens: t.words.tokens.slice(from, to) };
  const sizes = sizesIn({ ...t, words }, last);
  if (sizes === null) return null;
  const at = sizes.map((q) => ({ ...q, from: q.from + from, to: q.to + from }));
  return isOnlyDetail(t, last, at, from, to) ? detailsOf(words, sizes) : null;
}

/** "Tail." is said on arriving there, whatever stands before it. */
function namesStation({ inputs }: Turning): boolean {
  return inputs.candidates.some(
    (c) => c.member?.check === null && c.marks.some((m) => m.lag === 0 && m.name >= WHOLE_NAME),
  );
}
const WHOLE_NAME = 0.9;
/**
 * "Right tyre is worn", behind what was said of the left one: the other side together with a
 * name or a fault is another thing, and taken for a place on this one its fault would be lost (R4).
 */
function namesTwin({ inputs, words, roster }: Turning, { about }: Observation): boolean {
  if (about.kind !== 'check') return false;
  const member = roster.byKey.get(about.check);
  const sides = new Set([
    ...(member?.sides ?? []),
    ...(member?.stationSides ?? []),
    ...about.which.instances.flatMap((i) => phraseWords(i).map(stem)),
  ]);
  const said = placeWordsOf(words.tokens).sides;
  const other = said.flatMap((side) => (side === null || sides.has(side) ? [] : [side]));
  // "Left tyre is thirty one", behind the nose tyre: what has that side is another check.
  if (
    other.length > 0 &&
    inputs.candidates.some(
      (c) =>
        c.member !== null &&
        c.member.check !== null &&
        c.member.key !== about.check &&
        (c.features[0] ?? 0) >= OTHER_NAME &&
        other.some((side) => c.member?.sides.has(side) === true),
    )
  )
    return true;
  if (!said.some((side) => side !== null && against(side, sides))) return false;
  const named = inputs.candidates.some(
    (c) => (c.member?.check ?? null) !== null && (c.features[0] ?? 0) >= PART_OF_NAME,
  );
  return named || inputs.conditions.some((c) => !c.weak && !c.either);
}
/** Share of a name, its side in it, from which another thing is named: a fault put there wrongly is lost here (R4). */
const OTHER_NAME = 0.6;
/** Share of a name from which it is named, beside a side. */
const PART_OF_NAME = 0.4;
/** So many words name a place and tell nothing. */
const BARE_PLACE = 2;
/** Turns, this one among them, in which the fault must have been told. */
const LATEST = 3;

/** A fault that no word named, so that its details have something to stand at. */
function bareFault(last: Observation): ConditionSaid {
  return {
    condition: 'damage',
    sign: null,
    aspects: last.verdict?.aspects ?? [],
    present: true,
    degree: null,
    extent: null,
    place: null,
    span: last.span,
  };
}

export interface Details {
  readonly place: string | null;
  readonly size: string | null;
  readonly degree: ConditionSaid['degree'];
  readonly extent: ConditionSaid['extent'];
}

function withDetails(c: ConditionSaid, d: Details): ConditionSaid {
  return {
    ...c,
    degree: d.degree ?? c.degree,
    extent: d.extent ?? c.extent,
    place: placeWith(c.place, d.place),
    ...(d.size === null ? {} : { size: d.size }),
  };
}

/** "Rear", then "rear left": the second says the first again. */
const placeWith = (was: string | null, now: string | null): string | null =>
  was === null || now === null || now.includes(was) ? (now ?? was) : `${was}, ${now}`;

/** Words from one to another that are a length. */
interface Size {
  readonly from: number;
  readonly to: number;
  /** "Two inches aft of …": where, and not how large. */
  readonly where: boolean;
}

const isAmount = (word: string): boolean => isWord('amount', word) || /^[\d.,/]+$/.test(word);

/** Lengths that are said; null where a number is of another kind, or may be the value of the check. */
function sizesIn({ words, roster }: Turning, last: Observation): Size[] | null {
  const { tokens } = words;
  const list = tokens.map((t) => t.word);
  const check = last.about.kind === 'check' ? roster.byKey.get(last.about.check)?.check : null;
  const isLength = (unit: string): boolean => convert(1, unit, '[in_i]') !== null;
  const sizes: Size[] = [];
  for (let i = 0; i < list.length; i += 1) {
    const hit = unitTrie().longest(list, i);
    if (hit === null) continue;
    let from = i;
    // "Outboard third, two centimetres": an amount does not reach over a pause.
    while (from > 0 && isAmount(list[from - 1] ?? '') && (tokens[from]?.gap ?? 0) === 0) from -= 1;
    while (from < i && tokens[from]?.word === 'and') from += 1;
    // "In" is a word of places more often than a length.
    if (from === i) continue;
    if (!hit.item.some(isLength)) return null;
    let to = hit.to;
    while (isWord('long', list[to] ?? '') && (tokens[to]?.gap ?? 0) === 0) to += 1;
    sizes.push({ from, to, where: to === hit.to && isWord('away', list[to] ?? '') });
    i = to - 1;
  }
  sizes.push(...likenesses(tokens));
  const measured = (check?.measures ?? []).some((m) => m.unit !== undefined && isLength(m.unit));
  return measured && last.values.length > 0 ? null : sizes;
}

/** "The size of a thumbnail", "as long as my finger": as large as something that everybody knows. */
function likenesses(tokens: readonly Token[]): Size[] {
  const { like } = lexicon().sizes;
  const words = tokens.map((t) => t.word);
  for (const phrase of like) {
    const said = phraseWords(phrase);
    const from = words.findIndex((_, i) => said.every((w, k) => words[i + k] === w));
    if (from < 0) continue;
    const open = from > 0 && words[from - 1] === 'the' ? from - 1 : from;
    let to = from + said.length;
    while (to < words.length && (tokens[to]?.gap ?? 0) === 0 && to < from + said.length + LIKE)
      to += 1;
    if (to > from + said.length) return [{ from: open, to, where: false }];
  }
  return [];
}
/** Words that name what something is as large as. */
const LIKE = 3;

/** Every word is place, size, count or degree: nothing is named by itself, and nothing judged. */
function isOnlyDetail(
  t: Turning,
  last: Observation,
  sizes: readonly Size[],
  from: number,
  to: number,
): boolean {
  const { tokens } = t.words;
  const { names } = senses();
  const own = new Set(
    t.inputs.candidates.flatMap((c) =>
      last.about.kind === 'check' && c.member?.key === last.about.check ? ownWords(c) : [],
    ),
  );
  // What happened to the aircraft is never a detail, and has none.
  if (t.inputs.conditions.some((c) => c.sign !== null && c.checks === null)) return false;
  const same = new Set(last.conditions.map((c) => c.condition));
  const sized = (from: number): boolean => sizes.some((q) => from >= q.from && from < q.to);
  if (t.inputs.conditions.some((c) => !c.weak && !c.either && !same.has(c.id) && !sized(c.from)))
    return false;
  const words = tokens.map((x) => x.word);
  let led = false;
  return tokens.every((token, i) => {
    if (i < from || i >= to) return true;
    if (token.gap > 0) led = false;
    if (sizes.some((q) => i >= q.from && i < q.to)) return true;
    if (leadTrie().longest(words, i) !== null && !isWord('no-lead', token.word)) led = true;
    const kinds = (t.inputs.tokens[i]?.senses ?? []).map((k) => names[k] ?? '');
    if (kinds.some((k) => STOPS.test(k)) && !isWord('detail', token.word)) return false;
    return (
      led ||
      isPartOfPlace(t, i, from, sizes) ||
      isWord('detail', token.word) ||
      isWord('part', token.word) ||
      SIDE_WORDS.has(stem(token.word)) ||
      own.has(i) ||
      kinds.some((k) => /^(degree-|number|part$|ordinal|is-)/.test(k)) ||
      /^\d/.test(token.word)
    );
  });
}
/** "Outer sidewall, half an inch": behind a word of place, and beside a size, a word that names no check is a part. */
function isPartOfPlace(
  { words, inputs }: Turning,
  at: number,
  from: number,
  sizes: readonly Size[],
): boolean {
  const before = words.tokens[at - 1]?.word ?? '';
  return (
    at > from &&
    sizes.length > 0 &&
    (words.tokens[at]?.gap ?? 0) === 0 &&
    (isWord('part', before) || SIDE_WORDS.has(stem(before))) &&
    !inputs.candidates.some((c) => c.marks.some((m) => m.lag === 0 && m.token === at && m.name > 0))
  );
}

/** Words of a verdict, a denial or another force: then it is no detail. */
const STOPS =
  /^(verdict-good|verdict-bad|verdict-done|denial-|force-(teaching|hypothesis|intention|hearsay)|severity-|command)/;

/** Parts the words at commas and sizes; null where nothing tells more. */
function detailsOf(words: Words, sizes: readonly Size[]): Details | null {
  const { tokens } = words;
  const size = sizes.find((q) => !q.where) ?? null;
  const [from, to] = [size?.from ?? 0, size?.to ?? 0];
  const rest = tokens.flatMap((_, i) => (size !== null && i >= from && i < to ? [] : [i]));
  const place = placesIn(tokens, rest)
    .map(([a, b]) => bare(spanIn(words, a, b).words))
    .join(', ');
  const others = rest.flatMap((i) => tokens[i] ?? []);
  const degree = degreeAt(others, others.length, others.length) ?? degreeAt(others, 0, 0);
  const extent = extentAt(others, others.length, others.length) ?? countIn(others);
  const found = {
    place: place === '' ? null : place,
    size: size === null ? null : bare(spanIn(words, from, to).words),
    degree,
    extent,
  };
  return Object.values(found).every((x) => x === null) ? null : found;
}

const bare = (text: string): string => text.replace(/^[\s.,;:]+|[\s.,;:!?]+$/g, '');

/** Runs of words that say where. */
function placesIn(tokens: readonly Token[], rest: readonly number[]): [number, number][] {
  const runs: [number, number][] = [];
  for (const i of rest) {
    const run = runs.at(-1);
    if (run !== undefined && run[1] === i && (tokens[i]?.gap ?? 0) === 0) run[1] = i + 1;
    else runs.push([i, i + 1]);
  }
  return runs.flatMap(([a, b]): [number, number][] => {
    while (a < b && isWord('where-beside', tokens[a]?.word ?? '')) a += 1;
    while (b > a && isWord('where-beside', tokens[b - 1]?.word ?? '')) b -= 1;
    const tells = tokens
      .slice(a, b)
      .some(
        (t) => isWord('part', t.word) || SIDE_WORDS.has(stem(t.word)) || isWord('where', t.word),
      );
    return tells ? [[a, b]] : [];
  });
}

/** "Three of them." */
function countIn(tokens: readonly Token[]): ConditionSaid['extent'] {
  const of = tokens.findIndex((t, i) => t.word === 'of' && tokens[i + 1]?.word === 'them');
  const [said] = of < 1 ? [] : quantitiesIn(tokens, 0, of);
  return said === undefined || said.to !== of || said.number.part
    ? null
    : { count: said.number.value, of: null };
}
