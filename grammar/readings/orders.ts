import type { Check } from '#shared/catalogue';
import type { Circumstance } from '#shared/circumstance';
import type { Scene } from '#shared/scene';
import type { Severity } from '#shared/severity';
import type { CommandName, Span, Statement } from '#shared/statement';
import { commandOf } from '../commands.ts';
import { retractionsOf } from '../conversation/takeback.ts';
import { DECIDE } from '../decide.ts';
import { lexicon } from '../lexicon.ts';
import type { Roster } from '../matches/roster.ts';
import { senses } from '../matches/senses.ts';
import { ORDERS, RATINGS, type Scores } from '../scores/scored.ts';
import type { Inputs } from '../scores/around.ts';
import { denialOf } from '../scope.ts';
import { phraseWords, type Token } from '../tokens.ts';
import { Trie } from '../trie.ts';
import { arrivedAt, goesAcross, goesThere, isStationAlone, NAMED } from './arrivals.ts';
import { asideAround, plainlyAside } from './absent.ts';
import { clauseOf } from './happenings.ts';
import { phraseIn } from './phrases.ts';
import { severitiesIn, spanIn, type Words } from './said.ts';

/** What is said to Talkround itself, or about the walk and not about a check. */

type Dialogue = { kind: 'retract' | 'aside' } | { kind: 'circumstance'; of: Circumstance };

let phrases: Trie<Dialogue> | null = null;
function dialogueTrie(): Trie<Dialogue> {
  if (phrases !== null) return phrases;
  phrases = new Trie();
  const { dialogue } = lexicon();
  for (const phrase of dialogue.retract) phrases.add(phraseWords(phrase), { kind: 'retract' });
  for (const phrase of [...dialogue.setaside, ...dialogue.notfitted])
    phrases.add(phraseWords(phrase), { kind: 'aside' });
  for (const [of, say] of Object.entries(dialogue.circumstance) as [Circumstance, string[]][])
    for (const phrase of say) phrases.add(phraseWords(phrase), { kind: 'circumstance', of });
  return phrases;
}

let absent: Trie<true> | null = null;
/** "Isn't fitted": what is not on this aircraft is no fault of it. */
export function saysNotFitted(tokens: readonly Token[]): boolean {
  if (absent === null) {
    absent = new Trie();
    for (const phrase of lexicon().dialogue.notfitted) absent.add(phraseWords(phrase), true);
  }
  const trie = absent;
  const words = tokens.map((t) => t.word);
  return words.some((_, i) => trie.longest(words, i) !== null);
}

interface Ordering {
  readonly heard: string;
  readonly words: Words;
  readonly scene: Scene;
  readonly roster: Roster;
  readonly inputs: Inputs;
  readonly scores: Scores;
  nextId(): string;
}

/** An order that is the whole utterance, or a sentence of it. */
export function commandsIn(o: Ordering): { statements: Statement[]; whole: boolean } {
  const { tokens } = o.words;
  const share = o.scores.orders[ORDERS.indexOf('command')] ?? 0;
  const bounds = [0, ...tokens.flatMap((t, i) => (i > 0 && t.gap === 2 ? [i] : [])), tokens.length];
  const statements: Statement[] = [];
  let covered = 0;
  bounds.slice(0, -1).forEach((from, k) => {
    const to = bounds[k + 1] ?? tokens.length;
    const words = tokens.slice(from, to).map((t) => t.word);
    const alone = to - from === tokens.length;
    const command = commandOf(words, o.scene.question !== null, alone);
    // Said alone the words are enough; amid talk the net has to hear an order too.
    if (command === null || (!alone && share < DECIDE.order)) return;
    covered += to - from;
    statements.push({
      ...common(o, from, to, [`"${words.join(' ')}" stands alone: an order to Talkround`]),
      kind: 'command',
      command,
      ...momentOf(command, tokens.slice(from, to)),
    });
  });
  const held = statements.length === 0 ? holdFirst(o) : null;
  if (held !== null) return { statements: [held], whole: true };
  const loose = statements.length === 0 ? looseOrder(o, share) : null;
  if (loose !== null) return { statements: [loose], whole: true };
  return { statements, whole: covered === tokens.length };
}

/**
 * "Hold on, I've dropped my glasses": an order to wait, and then why. "Hang on, that's a crack" is none:
 * behind it nothing may be named, judged or found, or it would be lost (R4).
 */
function holdFirst(o: Ordering): Statement | null {
  const { tokens } = o.words;
  const to = tokens.findIndex((t, i) => i > 1 && t.gap > 0);
  const words = tokens.slice(0, to).map((t) => t.word);
  if (to < 0 || commandOf(words, false) !== 'hold') return null;
  const { names } = senses();
  const judged = o.inputs.tokens
    .slice(to)
    .some((t) => t.senses.some((k) => /^(verdict|condition)/.test(names[k] ?? '')));
  const named = o.inputs.candidates.some((c) =>
    c.marks.some((m) => m.lag === 0 && m.token >= to && m.name >= NAMED),
  );
  const told = o.scores.candidates.some(
    (c) => Math.max(c.result, c.finding) >= DECIDE.findingAsked,
  );
  if (judged || named || told || o.inputs.conditions.length > 0) return null;
  return {
    ...common(o, 0, to, [`"${words.join(' ')}" comes first: an order to Talkround, and then why`]),
    kind: 'command',
    command: 'hold',
    ...momentOf('hold', tokens.slice(0, to)),
  };
}

/** "Hang on", "one moment": a hold that ends with the next plain result. */
function momentOf(command: CommandName, said: Words['tokens']): { moment?: true } {
  const brief = command === 'hold' && phraseIn(said, lexicon().hedges.moments) !== null;
  return brief ? { moment: true } : {};
}

/** More words than this are no order that was said loosely. */
const LOOSE = 9;
/** Nor are more than this that no order has: "begin a new chapter in your life". */
const FOREIGN = 2;

let orderly: ReadonlySet<string> | null = null;
/** Every word that some order has. */
function orderWords(): ReadonlySet<string> {
  const { commands, orders } = lexicon();
  orderly ??= new Set(
    [...Object.values(commands), ...Object.values(orders)].flat().flatMap(phraseWords),
  );
  return orderly;
}

/** "Pause, please.", "what's, um, what's left?": no phrase to the letter, and plainly an order. */
function looseOrder(o: Ordering, share: number): Statement | null {
  const { tokens } = o.words;
  if (share < DECIDE.looseOrder || tokens.length > LOOSE) return null;
  if (o.scores.candidates.some((c) => Math.max(c.result, c.finding) >= DECIDE.result)) return null;
  const words = new Set(tokens.map((t) => t.word));
  const foreign = [...words].filter((w) => !orderWords().has(w) && !BESIDE.test(w));
  if (foreign.length > FOREIGN) return null;
  for (const [command, say] of Object.entries(lexicon().orders) as [CommandName, string[]][])
    // "What have we not got done?" asks, and ends nothing.
    if (say.some((w) => words.has(w)) && !(command === 'finish' && words.has('what')))
      return {
        ...common(o, 0, tokens.length, ['it is said to Talkround, and not of the aircraft']),
        kind: 'command',
        command,
        ...momentOf(command, tokens),
      };
  return null;
}

/** Words that may stand around an order and change nothing. */
const BESIDE =
  /^(so|and|okay|ok|right|now|then|well|um|uh|er|alright|please|sorry|oh|actually|it|is|that|the|a|no|wait|today|all|of)$/;

function isAlone(list: readonly string[], from: number, to: number): boolean {
  return list.every((w, i) => (i >= from && i < to) || BESIDE.test(w));
}

/** "Ground it.": the words of a severity and nothing else. */
function isWholly(tokens: Words['tokens'], severity: Severity): boolean {
  const { severities, ratings, exchange } = lexicon();
  const list = tokens
    .map((t) => t.word)
    .filter((w) => !BESIDE.test(w) && !exchange.yes.includes(w));
  return [...severities[severity], ...ratings[severity]].some(
    (phrase) =>
      phraseWords(phrase)
        .filter((w) => !BESIDE.test(w))
        .join(' ') === list.join(' '),
  );
}

/** Retractions, ratings, what is set aside, what is special today. */
export function othersIn(o: Ordering, finding: boolean): Statement[] {
  const { tokens } = o.words;
  const list = tokens.map((t) => t.word);
  const share = (name: (typeof ORDERS)[number]): number =>
    o.scores.orders[ORDERS.indexOf(name)] ?? 0;
  const out: Statement[] = [];
  const goes = goesThere(list) || isStationAlone(o) || goesAcross(o);
  if (share('arrive') >= DECIDE.order || goes) {
    const station = arrivedAt(o);
    const why = ['the words go to this station: no result (R1)'];
    const arrival: Statement | null =
      station === null ? null : { ...common(o, 0, tokens.length, why), kind: 'arrival', station };
    if (arrival !== null) out.push(arrival);
  }
  for (let i = 0; i < list.length; i += 1) {
    const hit = dialogueTrie().longest(list, i);
    if (hit === null) continue;
    const { item, from, to } = hit;
    i = to - 1;
    // Nothing else is said: the words are enough.
    const alone = isAlone(list, from, to);
    const held = (name: (typeof ORDERS)[number]): boolean => alone || share(name) >= DECIDE.order;
    // One word amid others is thin: "then that night, they burned the wheel".
    const said = to - from > 1 || share('circumstance') >= DECIDE.looseOrder;
    if (item.kind === 'retract' && held('retract') && !out.some((s) => s.kind === 'retraction'))
      out.push(
        ...retractionsOf(o.scene, {
          heard: o.heard,
          span: spanIn(o.words, from, to),
          nextId: () => o.nextId(),
        }),
      );
    if (item.kind === 'aside' && held('aside')) {
      const aside = setAside(o, from, to);
      if (aside !== null) out.push(aside);
    }
    if (item.kind === 'circumstance' && held('circumstance') && (said || alone))
      out.push({
        ...common(o, from, to, [`"${spanIn(o.words, from, to).words}" says what is special today`]),
        kind: 'circumstance',
        circumstance: item.of,
        holds: denialOf(list, { from, to }).count === 0,
      });
  }
  const around = asideAround(list) ?? plainlyAside(o.inputs, o.words);
  if (around !== null && !out.some((s) => s.kind === 'set-aside')) {
    const aside = setAside(o, around.from, around.to);
    if (aside !== null) out.push(aside);
  }
  const severity = severitiesIn(tokens)[0];
  // "Last summer we grounded one for less": the word alone is not enough.
  const meant =
    severity === undefined ? 0 : (o.scores.ratings[RATINGS.indexOf(severity)] ?? DECIDE.rated);
  const rated =
    severity !== undefined &&
    (isWholly(tokens, severity) || (share('rating') >= DECIDE.order && meant >= DECIDE.rated));
  if (!finding && rated)
    out.push({
      ...common(o, 0, list.length, [`the latest finding is rated "${severity}"`]),
      kind: 'rating',
      severity,
      of: null,
    });
  return out;
}

/** "Defer it": how bad the latest is, and no fault of its own (R4). */
export function isRatingAlone({ words }: Pick<Ordering, 'words'>): boolean {
  const severity = severitiesIn(words.tokens)[0];
  return severity !== undefined && isWholly(words.tokens, severity);
}

const checkAt = (inputs: Inputs, index: number): Check | null =>
  inputs.candidates[index]?.member?.check ?? null;

/** Where the words set something aside; null where they do not. */
export function asideIn(tokens: readonly Token[]): { from: number; to: number } | null {
  const list = tokens.map((t) => t.word);
  const around = asideAround(list);
  if (around !== null) return around;
  for (let i = 0; i < list.length; i += 1) {
    const hit = dialogueTrie().longest(list, i);
    if (hit?.item.kind === 'aside') return hit;
  }
  return null;
}

/**
 * "Canopy good, tail bumper not fitted": the part that sets aside what it names itself, to be read
 * apart from what is said before and behind it; null where it is all one.
 */
export function asideApart(
  tokens: readonly Token[],
  { candidates }: Inputs,
): readonly (readonly Token[])[] | null {
  const at = asideIn(tokens);
  if (at === null) return null;
  const { before, clause, behind } = clauseOf(tokens, at);
  if (Math.max(before.length, behind.length) < 2) return null;
  // "Skip the aux tank, it isn't fitted" is one thing, told twice.
  if (asideIn(before) !== null || asideIn(behind) !== null) return null;
  if (/^(it|they|that|this|those|these|is|are|not|has|have)$/.test(firstWord(clause))) return null;
  const from = before.length;
  const to = from + clause.length;
  const named = candidates.some(
    (c) =>
      (c.member?.check ?? null) !== null &&
      c.marks.some((m) => m.lag === 0 && m.token >= from && m.token < to && m.name >= OWN_NAME),
  );
  return named ? [before, clause, behind] : null;
}
const firstWord = (tokens: readonly Token[]): string =>
  tokens.find((t) => !/^(and|but|so|um|uh|er|well)$/.test(t.word))?.word ?? '';
/** Share of a name from which the part names what it sets aside by itself. */
const OWN_NAME = 0.3;

function setAside(o: Ordering, from: number, to: number): Statement | null {
  let best: { index: number; share: number } | null = null;
  o.scores.candidates.slice(0, -1).forEach((s, index) => {
    if (checkAt(o.inputs, index) === null) return;
    // What is named outright is meant, whatever else the scores see in the sentence.
    const marks = o.inputs.candidates[index]?.marks ?? [];
    const name = Math.max(0, ...marks.filter((m) => m.lag === 0).map((m) => m.name));
    const whole = o.inputs.candidates[index]?.features[0] ?? 0;
    // "Skid" is a name by itself, and "skid shoes" are not called so: more words name it better.
    const words = new Set(marks.flatMap((m) => (m.lag === 0 && m.name > 0 ? [m.token] : []))).size;
    const share = Math.max(s.result, s.talk) + 2 * (name + whole) + words;
    if (best === null || share > best.share) best = { index, share };
  });
  const found = best as { index: number } | null;
  const member = found === null ? null : o.inputs.candidates[found.index]?.member;
  const check = member?.check ?? null;
  if (found === null || member === undefined || member === null || check === null) return null;
  const places = member.instances.filter(
    (_, i) => (o.scores.candidates[found.index]?.places[i]?.meant ?? 0) >= DECIDE.place,
  );
  return {
    ...common(o, from, to, [`set aside: "${member.names[0]?.join(' ') ?? ''}"`]),
    kind: 'set-aside',
    check: check.id,
    instances:
      places.length > 0 ? places : member.instances.length > 0 ? [...member.instances] : ['once'],
    reason: spanIn(o.words, 0, o.words.tokens.length).words,
  };
}

function common(
  o: Ordering,
  from: number,
  to: number,
  why: string[],
): { v: 1; id: string; heard: string; span: Span; why: string[] } {
  return { v: 1, id: o.nextId(), heard: o.heard, span: spanIn(o.words, from, to), why };
}
