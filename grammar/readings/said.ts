import type { Act, Catalogue, Check } from '#shared/catalogue';
import { signsOf } from '#shared/catalogue';
import type { Severity } from '#shared/severity';
import type { ConditionSaid, Observation, Span, ValueSaid, Verdict } from '#shared/statement';
import { aspectsOf } from '../aspects.ts';
import { DECIDE, type Decision } from '../decide.ts';
import { lexicon } from '../lexicon.ts';
import type { ConditionMatch } from '../matches/heardas.ts';
import type { Member } from '../matches/roster.ts';
import type { CandidateInput } from '../scores/around.ts';
import type { Scored } from '../scores/scored.ts';
import { spanOf, phraseWords, type Token } from '../tokens.ts';
import { Trie } from '../trie.ts';
import { quantitiesFor } from '../differential.ts';
import { valuesOf, type Quantity } from '../values.ts';
import { convert } from '../units.ts';
import { degreeAt, extentAt, placeAt } from './details.ts';

/** Why a fault is asked about that the scores half see: a `doubtful`. */
export const MAY_BE_FAULT = 'it may be a fault';

/** The words of one utterance, as every part of a reading needs them. */
export interface Words {
  readonly tokens: readonly Token[];
  readonly raw: readonly string[];
}

export const spanIn = ({ tokens, raw }: Words, from: number, to: number): Span =>
  spanOf(tokens, raw, from, to);

/** The conditions that are said of a check, present and absent. */
export function conditionsOf(
  words: Words,
  member: Member,
  input: CandidateInput,
  scored: Scored,
  matches: readonly ConditionMatch[],
  catalogue: Catalogue,
): ConditionSaid[] {
  const check = member.check;
  const out: { said: ConditionSaid; share: number }[] = [];
  const own = ownWords(input);
  matches.forEach((match, i) => {
    const [none = 1, present = 0, absent = 0] = scored.conditions[i] ?? [];
    if (none >= Math.max(present, absent)) return;
    const there = present >= absent;
    const said = {
      ...conditionAt(match.id, there, check, catalogue, match.sign),
      degree: there ? degreeAt(words.tokens, match.from, match.to) : null,
      extent: there ? extentAt(words.tokens, match.from, match.to) : null,
      place: there ? placeAt(words, match.to, own) : null,
      span: spanIn(words, match.from, match.to),
    };
    // A sign of the catalogue's own says more than the lexicon's word on the same words.
    const fits = match.sign !== null && said.sign === match.sign;
    const share = Math.max(present, absent) + (fits ? 1 : 0);
    const twin = out.findIndex(
      (o) => o.said.condition === match.id || isOneSign(o.said, said) || overlaps(o.said, said),
    );
    const kept = out[twin];
    if (kept === undefined) out.push({ said, share });
    else if (kept.share < share) out[twin] = { said, share };
  });
  return out.map((o) => o.said);
}

/** "A groove where the belt has sawn into it": two words for what the catalogue has as one sign. */
const isOneSign = (a: ConditionSaid, b: ConditionSaid): boolean =>
  a.sign !== null && a.sign === b.sign && a.present === b.present;

const overlaps = (a: ConditionSaid, b: ConditionSaid): boolean =>
  a.span.from < b.span.to && b.span.from < a.span.to;

/** The tokens at which a candidate is named. */
export function ownWords(input: CandidateInput): number[] {
  const best = Math.max(0, ...input.marks.filter((m) => m.lag === 0).map((m) => m.name));
  return input.marks
    .filter((m) => m.lag === 0 && m.name > 0.25 && m.name >= best - 0.3)
    .map((m) => m.token);
}

/** A condition at a check, with the sign of the catalogue that it means there. */
export function conditionAt(
  id: string,
  present: boolean,
  check: Check | null,
  catalogue: Catalogue,
  sign: string | null = null,
): Omit<ConditionSaid, 'span'> {
  const signs = check === null ? catalogue.signs : signsOf(catalogue, check);
  const own = signs.find((s) => s.id === sign) ?? signs.find((s) => s.conditions.includes(id));
  const usual = usually().get(id);
  return {
    condition: id,
    sign: own?.id ?? null,
    aspects: check === null ? [] : [...aspectsOf(check).about(id)],
    present,
    degree: null,
    extent: null,
    place: null,
    ...(usual === undefined || (own?.severity ?? null) !== null ? {} : { usual }),
  };
}

let usual: ReadonlyMap<string, Severity> | null = null;
/** How bad a condition usually is, as the lexicon says; common practice, no source. */
function usually(): ReadonlyMap<string, Severity> {
  usual ??= new Map(
    lexicon().conditions.flatMap((c) =>
      c.severity === undefined ? [] : [[c.id, c.severity] as const],
    ),
  );
  return usual;
}

/** The verdict on a check and the aspects that it speaks for. */
export function verdictOf(
  words: Words,
  check: Check | null,
  scored: Scored,
  good: boolean,
  actOnly: boolean,
  only: ReadonlySet<number> | null = null,
  general = false,
): Verdict {
  const aspects = check?.aspects ?? [];
  // Plain "good" is the general aspect's own word; the others need their words or a high share.
  const plain = general && check !== null ? aspectsOf(check).general : null;
  const likely = aspects.filter(
    (a, i) => (scored.aspects[i] ?? 0) >= (a.id === plain ? DECIDE.general : DECIDE.aspect),
  );
  const worded = likely.filter((a) => only?.has(aspects.indexOf(a)) ?? true);
  const spoken = worded.length > 0 ? worded : likely;
  const top = aspects
    .map((a, i) => ({ a, share: scored.aspects[i] ?? 0 }))
    .sort((x, y) => y.share - x.share)[0];
  const own =
    spoken.length > 0 || top === undefined || top.share < DECIDE.aspect / 2 ? spoken : [top.a];
  return {
    good,
    actOnly,
    aspects: own.map((a) => a.id),
    span: spanIn(words, 0, words.tokens.length),
  };
}

/** The values that are said of each check that is measured here; a number goes to the nearest that can have it. */
export function valuesFor(
  words: Words,
  wanted: readonly { check: Check; own: readonly number[] }[],
  catalogue: Catalogue,
): ValueSaid[][] {
  const { tokens, raw } = words;
  const holders = new Map<number, number>();
  const checks = wanted.map((w) => w.check);
  for (const quantity of quantitiesFor(checks, tokens, 0, tokens.length)) {
    let best: { index: number; cost: number } | null = null;
    wanted.forEach(({ check, own }, index) => {
      if (!canHave(check, quantity)) return;
      const far =
        own.length === 0 ? tokens.length : Math.min(...own.map((t) => apart(t, quantity)));
      if (best === null || far < best.cost) best = { index, cost: far };
    });
    const found = best as { index: number } | null;
    if (found !== null) holders.set(quantity.from, found.index);
  }
  return wanted.map(({ check }, index) =>
    valuesOf(check, catalogue, tokens, raw, 0, tokens.length, (q) => {
      const holder = holders.get(q.from);
      return holder === index || (holder === undefined && wanted.length === 1);
    }).filter((v) => v.trouble !== 'no-measure'),
  );
}

/** Behind its name sooner than before it. */
const apart = (token: number, q: Quantity): number =>
  token <= q.from ? q.from - token : 2 * (token - q.to + 1);

function canHave(check: Check, quantity: Quantity): boolean {
  const measured = check.measures.filter((m) => m.unit !== undefined);
  if (measured.length === 0) return false;
  if (quantity.units.length === 0) return true;
  return measured.some((m) =>
    quantity.units.some(
      (u) => m.unit === u || (m.unit !== undefined && convert(1, u, m.unit) !== null),
    ),
  );
}

let acts: Trie<Act> | null = null;
/** Acts that the words name. */
export function actsIn(tokens: readonly Token[]): Act[] {
  if (acts === null) {
    acts = new Trie();
    for (const [act, say] of Object.entries(lexicon().acts) as [Act, string[]][])
      for (const p of say) acts.add(phraseWords(p), act);
  }
  return [...new Set(foundIn(acts, tokens))];
}

let severities: Trie<Severity> | null = null;
/** Severities that the words name, in order. */
export function severitiesIn(tokens: readonly Token[]): Severity[] {
  if (severities === null) {
    severities = new Trie();
    for (const [severity, say] of Object.entries(lexicon().severities) as [Severity, string[]][])
      for (const p of say) severities.add(phraseWords(p), severity);
  }
  const found = foundIn(severities, tokens);
  return found.length > 0 ? found : ratingsIn(tokens);
}

/** "Dented. Watch.": the one word rates as a sentence of its own, or as the last part of one. */
function ratingsIn(tokens: readonly Token[]): Severity[] {
  const ends = tokens.flatMap((t, i) => (i > 0 && t.gap > 0 ? [i] : []));
  return [0, ...ends].flatMap((from, k): Severity[] => {
    const to = ends[k] ?? tokens.length;
    const isSentence = (from === 0 || tokens[from]?.gap === 2) && (tokens[to]?.gap ?? 2) === 2;
    if (!isSentence && to < tokens.length) return [];
    const words = tokens
      .slice(from, to)
      .map((t) => t.word)
      .filter((w) => !BESIDE_RATING.has(w))
      .join(' ');
    const rows = Object.entries(lexicon().ratings) as [Severity, string[]][];
    return rows.flatMap(([severity, say]) => (say.includes(words) ? [severity] : []));
  });
}
const BESIDE_RATING: ReadonlySet<string> = new Set(
  'so and okay ok well then just i say'.split(' '),
);

let dictated: Trie<true> | null = null;
/** Where the words begin that are dictated as a squawk; 0 where nothing says so. */
export function dictatedTo(tokens: readonly Token[]): number {
  if (dictated === null) {
    dictated = new Trie();
    for (const p of lexicon().dialogue.squawk) dictated.add(phraseWords(p), true);
  }
  const words = tokens.map((t) => t.word);
  let from = 0;
  while (/^(okay|ok|right|so|um|uh|please|and|talkround)$/.test(words[from] ?? '')) from += 1;
  return dictated.longest(words, from)?.to ?? 0;
}

/** What a fault that fits nothing is on: the words before it, else those behind it. */
export function partOf(words: Words, at: { from: number; to: number } | null): string {
  const { tokens } = words;
  const strip = (from: number, to: number): string => {
    let a = from;
    let b = to;
    while (a < b && EMPTY.test(tokens[a]?.word ?? '')) a += 1;
    while (b > a && EMPTY.test(tokens[b - 1]?.word ?? '')) b -= 1;
    return b > a ? spanIn(words, a, b).words.replace(/[.,;:!?]+$/, '') : '';
  };
  if (at === null) return strip(0, tokens.length);
  const before = strip(0, at.from);
  return before === '' ? strip(at.to, tokens.length) : before;
}
const EMPTY =
  /^(the|a|an|is|are|was|has|have|had|got|it|there|and|but|so|on|of|in|at|we|i|that|this|been|be|some|also|well|oh|um|uh)$/;

let compared: Trie<Compared> | null = null;
type Compared = NonNullable<Observation['compared']>;
/** How it is beside an open squawk: "same as before", "it's grown". */
export function comparedIn(tokens: readonly Token[]): Compared | null {
  if (compared === null) {
    compared = new Trie();
    for (const [how, say] of Object.entries(lexicon().dialogue.compared) as [Compared, string[]][])
      for (const p of say) compared.add(phraseWords(p), how);
  }
  const found = new Set(foundIn(compared, tokens));
  return found.size === 1 ? ([...found][0] ?? null) : null;
}

function foundIn<T>(trie: Trie<T>, tokens: readonly Token[]): T[] {
  const words = tokens.map((t) => t.word);
  const out: T[] = [];
  for (let i = 0; i < words.length; i += 1) {
    const hit = trie.longest(words, i);
    if (hit === null) continue;
    out.push(hit.item);
    i = hit.to - 1;
  }
  return out;
}

/** What a finding is called that no word of the lexicon names; null where even that is open. */
export function unnamedCondition(scored: Scored, labels: readonly string[]): string | null {
  let best = -1;
  for (let i = 0; i < labels.length; i += 1)
    if (best < 0 || (scored.named[i] ?? 0) > (scored.named[best] ?? 0)) best = i;
  return best >= 0 && (scored.named[best] ?? 0) >= DECIDE.named ? (labels[best] ?? null) : null;
}

/** Whether anything of a decision would be written down. */
export const says = (d: Decision): boolean =>
  d.good !== 'no' || d.finding !== 'no' || d.value || d.done || d.doubt;
