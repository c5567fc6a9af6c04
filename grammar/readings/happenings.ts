import type { Observation, Statement } from '#shared/statement';
import { signsOf } from '#shared/catalogue';
import { DECIDE, type Decision } from '../decide.ts';
import type { ConditionMatch } from '../matches/heardas.ts';
import { senses } from '../matches/senses.ts';
import type { CandidateInput } from '../scores/around.ts';
import { conditionAt, ownWords, severitiesIn, spanIn } from './said.ts';
import { stem } from '../names.ts';
import { lexicon } from '../lexicon.ts';
import { oneOf, saysOneOf } from '../phrasing.ts';
import { denialOf } from '../scope.ts';
import { phraseWords, type Token } from '../tokens.ts';
import { Trie } from '../trie.ts';
import type { Scoring } from './scoring.ts';

/**
 * What happened to the whole aircraft (a hard landing, a strike, lightning, overheating) is
 * told of the aircraft, whatever was named last, and "yesterday" does not undo it: what it
 * demands is demanded until somebody says that maintenance has cleared it. To lose one can kill.
 */

/** What the words tell to have happened; null where nothing did, or it is an example. */
export function happeningOf(s: Scoring): ConditionMatch | null {
  const signed = s.inputs.conditions.find(
    (c) => c.sign !== null && c.checks === null && c.denials === 0,
  );
  const found = signed ?? unlisted(s);
  if (found === null || isExample(s, found)) return null;
  return isAtCheck(s, found) ? null : found;
}

let events: Trie<'had' | 'told'> | null = null;
function eventTrie(): Trie<'had' | 'told'> {
  if (events !== null) return events;
  events = new Trie();
  for (const kind of ['had', 'told'] as const)
    for (const phrase of lexicon().happenings[kind]) events.add(phraseWords(phrase), kind);
  return events;
}
let told: { having: RegExp; story: RegExp } | null = null;
/** What stands before an event that somebody had ("we took a", "um, another"), and a story of another day. */
function tellings(): { having: RegExp; story: RegExp } {
  if (told !== null) return told;
  const { openers, who, did, alone, some, kind, story } = lexicon().happenings;
  const having = `^(${oneOf(openers)} )*(${oneOf(who)}( \\w+)? ${oneOf(did)} |${oneOf(alone)} )${oneOf(some)}?( ${oneOf(kind)})?$`;
  told = { having: new RegExp(having), story: saysOneOf(story) };
  return told;
}

/** Whether the words tell of what happens to aircraft, or of another day or another one. */
export function tellsEvent(tokens: readonly Token[]): boolean {
  const list = tokens.map((t) => t.word);
  return (
    tellings().story.test(list.join(' ')) ||
    list.some((_, i) => eventTrie().longest(list, i) !== null)
  );
}

/** What happens to aircraft and is on no list here: it is told of the aircraft all the same (R4). */
function unlisted(s: Scoring): ConditionMatch | null {
  const { words, inputs } = s;
  const list = words.tokens.map((t) => t.word);
  if (tellings().story.test(list.join(' '))) return null;
  const struck = struckIn(s, list);
  if (struck !== null)
    return {
      ...struck,
      id: 'damage',
      weak: false,
      either: false,
      sign: null,
      checks: null,
      denials: 0,
    };
  for (let i = 0; i < list.length; i += 1) {
    const hit = eventTrie().longest(list, i);
    if (hit === null) continue;
    const { item, from, to } = hit;
    const before = list.slice(0, from).join(' ').trim();
    if (item === 'had' && !tellings().having.test(before) && !isBare(list, from, to)) continue;
    if (denialOf(list, { from, to }).count > 0) continue;
    const heard = inputs.conditions.find((c) => c.from <= from && c.to >= to);
    const id = heard?.id ?? 'damage';
    return { from, to, id, weak: false, either: false, sign: null, checks: null, denials: 0 };
  }
  return null;
}

/** "Bird strike yesterday": it opens the sentence, and when or how it was is all that follows. */
function isBare(list: readonly string[], from: number, to: number): boolean {
  const { openers, some, behind } = lexicon().happenings;
  return (
    list.slice(0, from).every((w) => openers.includes(w) || some.includes(w)) &&
    (to === list.length || behind.includes(list[to] ?? ''))
  );
}

/**
 * "We ran over a runway light": somebody struck something that is no part of this aircraft. What
 * is on the list may be hit without harm: "I hit the master switch" is an act.
 */
function struckIn(
  { inputs }: Scoring,
  list: readonly string[],
): { from: number; to: number } | null {
  const { who, openers, struck, acted, some, unhurt, behind } = lexicon().happenings;
  for (let i = 1; i < list.length; i += 1) {
    const verb = struck
      .map(phraseWords)
      .filter((v) => v.every((w, k) => list[i + k] === w))
      .sort((a, b) => b.length - a.length)[0];
    if (verb === undefined) continue;
    const [from, object] = [i, i + verb.length];
    const subject = list
      .slice(0, from)
      .filter((w) => !openers.includes(w))
      .join(' ');
    if (!who.includes(subject) || !some.includes(list[object] ?? '')) continue;
    const end = list.findIndex((w, k) => k > object + 1 && (behind.includes(w) || w === 'with'));
    const to = Math.min(end < 0 ? list.length : end, object + 1 + OBJECT);
    const named = inputs.candidates.some(
      (c) =>
        c.member !== null &&
        c.marks.some((m) => m.lag === 0 && m.token > object && m.token < to && m.name >= PART),
    );
    if ((named && acted.includes(verb.join(' '))) || unhurt.includes(list[to - 1] ?? '')) continue;
    return { from, to };
  }
  return null;
}
/** Words that name what was struck. */
const OBJECT = 3;
/** Share of a name from which a word is of the aircraft. */
const PART = 0.5;

/** A check that lists the sign and is named, or was just spoken of, keeps it: "water in the fuel" at its drain. */
function isAtCheck(s: Scoring, match: ConditionMatch): boolean {
  const { catalogue } = s.roster;
  const lists = (input: CandidateInput): boolean => {
    const check = input.member?.check ?? null;
    return check !== null && signsOf(catalogue, check).some((sign) => sign.id === match.sign);
  };
  return s.inputs.candidates.some(
    (c) => lists(c) && (isNamedOutside(c, match) || c.member?.check?.id === s.scene.check),
  );
}

/** Named by other words than those of what happened: "tail strike" names no tail. */
export function isNamedOutside(input: CandidateInput, { from, to }: ConditionMatch): boolean {
  return ownWords(input).some((t) => t < from || t >= to);
}

/** What the words name that may have happened, told or not. */
export const eventIn = (s: Scoring): ConditionMatch | null =>
  s.inputs.conditions.find((c) => c.sign !== null && c.checks === null && !isAtCheck(s, c)) ?? null;

/**
 * What happened is found of no check: what the words do not name beside it is left out, and
 * of what they name its words say nothing.
 */
export function withoutEvent(
  s: Scoring,
  decisions: readonly Decision[],
  match: ConditionMatch,
): Decision[] {
  const other = s.inputs.conditions.some(
    (c) => c.denials === 0 && !c.either && (c.from >= match.to || c.to <= match.from),
  );
  return decisions.flatMap((d): Decision[] => {
    const input = s.inputs.candidates[d.index];
    if (input === undefined || !isNamedOutside(input, match)) return [];
    if (d.kind !== 'result' || d.finding === 'no' || other) return [d];
    const left: Decision = { ...d, finding: 'no', doubt: false };
    return left.good === 'no' && !left.value && !left.done ? [] : [left];
  });
}

/** The clause in which it is told, and what is said before and behind it. */
export function clauseOf(
  tokens: readonly Token[],
  { from, to }: { readonly from: number; readonly to: number },
): { before: readonly Token[]; clause: readonly Token[]; behind: readonly Token[] } {
  const parts = (i: number): boolean =>
    (tokens[i]?.gap ?? 0) > 0 || /^(and|but|so)$/.test(tokens[i]?.word ?? '');
  let a = from;
  while (a > 0 && !parts(a)) a -= 1;
  let b = to;
  while (b < tokens.length && !parts(b)) b += 1;
  return { before: tokens.slice(0, a), clause: tokens.slice(a, b), behind: tokens.slice(b) };
}

let having: { told: RegExp; opens: RegExp } | null = null;
/** Verbs of having happened: in front of them nobody teaches. */
function isTelling(before: string): boolean {
  if (having === null) {
    const { tellers, telling, openers, opens } = lexicon().happenings;
    having = {
      told: new RegExp(`\\b${oneOf(tellers)}\\b.*\\b${oneOf(telling)}\\b`),
      opens: new RegExp(`^(${oneOf(openers)} )*${oneOf(opens)}\\b`),
    };
  }
  return having.told.test(before) || having.opens.test(before);
}
/** So few words tell it, and teach nothing. */
const SHORT = 5;

/** Whether it is told as an example: taught, supposed, asked, or somebody else's word (R2). The past does not undo it. */
function isExample(s: Scoring, match: ConditionMatch): boolean {
  const { inputs, scores, words } = s;
  const cues = new Set(['hypothesis', 'teaching', 'hearsay', 'question'].map((c) => `force-${c}`));
  const { names } = senses();
  const supposed =
    words.tokens.some((t) => t.asks) ||
    inputs.tokens.some((t) => t.senses.some((k) => cues.has(names[k] ?? '')));
  if (supposed) return true;
  const before = words.tokens
    .slice(0, match.to)
    .map((t) => t.word)
    .join(' ');
  if (words.tokens.length <= SHORT || isTelling(before) || isToldOutright(s, match)) return false;
  return scores.candidates.slice(0, -1).some((c) => c.talk >= DECIDE.example);
}

/** "The engine overheated", "a bird hit us": the words for it have their own verb, and open the sentence. */
function isToldOutright({ words }: Scoring, { from, to }: ConditionMatch): boolean {
  const { verbs, openers, some, who } = lexicon().happenings;
  const before = words.tokens.slice(0, from).map((t) => t.word);
  return (
    words.tokens.slice(from, to).some((t) => verbs.includes(t.word)) &&
    (who.includes(before.filter((w) => !openers.includes(w)).join(' ')) ||
      before.every((w) => openers.includes(w) || some.includes(w) || w === 'then'))
  );
}

/** The statement of what happened: about no check. */
export function happeningSaid(s: Scoring, match: ConditionMatch, base: Observation): Statement {
  const { words } = s;
  const { catalogue } = s.roster;
  const sign = catalogue.signs.find((x) => x.id === match.sign);
  return {
    ...base,
    about: {
      kind: 'unplaced',
      part: sign?.name ?? spanIn(words, match.from, match.to).words,
      span: base.span,
    },
    conditions: [
      {
        ...conditionAt(match.id, true, null, catalogue, match.sign),
        ...(sign === undefined ? { sign: null, happened: true as const } : {}),
        span: spanIn(words, match.from, match.to),
      },
    ],
    squawk: s.squawk,
    severity: severitiesIn(words.tokens)[0] ?? null,
  };
}

/**
 * R4: a fault told at a check that something which happened demands is a finding, never an
 * intention and never a doubt: that is what was looked for.
 */
export function demandedFaults(s: Scoring, decisions: readonly Decision[]): Decision[] {
  const demanded = demandedIn(s);
  if (demanded.size === 0) return [...decisions];
  const { names } = senses();
  const cues = new Set(['hypothesis', 'teaching', 'hearsay', 'question'].map((c) => `force-${c}`));
  const supposed =
    s.words.tokens.some((t) => t.asks) ||
    s.inputs.tokens.some((t) => t.senses.some((k) => cues.has(names[k] ?? '')));
  const faults = s.inputs.conditions.filter((c) => !c.either && c.denials === 0);
  if (supposed || faults.length === 0) return [...decisions];
  const called = s.inputs.candidates.flatMap((c, index) => {
    const id = c.member?.check?.id;
    return id !== undefined && demanded.has(id) && isCalled(s, c)
      ? [{ index, own: new Set(ownWords(c)) }]
      : [];
  });
  if (called.length === 0) return [...decisions];
  // "Mount bolts" are no boom bolts: of two, the one whose name has all of the other's words and more.
  const meant = called.filter(
    (m) => !called.some((o) => o.own.size > m.own.size && [...m.own].every((t) => o.own.has(t))),
  );
  const own = new Set(meant.flatMap((m) => [...m.own]));
  // Words that name what is demanded name nothing else beside it.
  const others = decisions.filter((d) => {
    const input = s.inputs.candidates[d.index];
    return (
      !meant.some((m) => m.index === d.index) &&
      (d.kind === 'excepted' || input === undefined || !ownWords(input).every((t) => own.has(t)))
    );
  });
  return [
    ...meant.map(({ index }): Decision => ({
      index,
      kind: 'result',
      good: 'no',
      finding: 'counts',
      value: false,
      done: false,
      amends: false,
      doubt: false,
      demanded: true,
      sure: Math.max(DECIDE.finding, s.scores.candidates[index]?.finding ?? 0),
    })),
    ...others,
  ];
}
/**
 * Named well, or by a word that nothing else has in its name: "the crankshaft" after a strike. The "from" of
 * "where the fuel came from" is no such word: half of what is said has it.
 */
function isCalled({ inputs, words, roster }: Scoring, input: CandidateInput): boolean {
  const share = (c: CandidateInput): number => c.features[0] ?? 0;
  if (share(input) >= NAMED) return true;
  const tells = ownWords(input).some((i) => {
    const word = words.tokens[i]?.word ?? '';
    return !LITTLE.test(word) && (roster.worth.get(stem(word)) ?? 0) >= TELLS;
  });
  return (
    tells &&
    share(input) >= NAMED_ALONE &&
    inputs.candidates.every((c) => c === input || share(c) < share(input))
  );
}
/** Words that stand in a name and tell nothing by themselves, however rare they are among names. */
const LITTLE =
  /^(from|for|the|a|an|to|in|into|where|when|after|before|came|come|of|with|at|on|by|and|or|it|is|was|all|any|its|other)$/;
/** What a word of the names is worth at least (roster.ts) to name a thing by itself. */
const TELLS = 0.5;
/** Share of a name from which a demanded check is named, and where nothing else is named as well. */
const NAMED = 0.5;
const NAMED_ALONE = 0.25;

/** "Going to check the firewall, it's wrinkled": the fault is told in a clause of its own, and is no plan. */
export function isToldApart({ inputs, words }: Scoring, cues: ReadonlySet<string>): boolean {
  const { names } = senses();
  return inputs.conditions.some((c) => {
    if (c.either || c.denials > 0) return false;
    const { tokens } = words;
    let from = c.from;
    while (from > 0 && (tokens[from]?.gap ?? 0) === 0) from -= 1;
    return !inputs.tokens
      .slice(from, c.from)
      .some((t) => t.senses.some((k) => cues.has(names[k] ?? '')));
  });
}

/** Checks that something which happened and was not cleared demands. */
function demandedIn({ scene, roster }: Scoring): ReadonlySet<string> {
  const signs = new Set(scene.talk.events.flatMap((e) => (e.cleared === null ? [e.sign] : [])));
  return new Set(
    roster.catalogue.signs.flatMap((sign) => (signs.has(sign.id) ? sign.followUps : [])),
  );
}
