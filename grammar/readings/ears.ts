import { isFinding } from '#shared/abnormal';
import type { HeardBy } from '#shared/heard';
import type { Scene } from '#shared/scene';
import { SEVERITIES } from '#shared/severity';
import type { Observation, Rating, Statement } from '#shared/statement';
import type { Roster } from '../matches/roster.ts';
import { ARTICLES } from '../names.ts';
import { phraseWords } from '../tokens.ts';
import { counts, isBad, type Heard } from './rivals.ts';

/*
 * What two recognisers made of one sound, weighed against each other. What both
 * say counts. Where they differ, what the conversation expects is taken, else it
 * is asked about. A fault that one of them heard is kept or asked about, never
 * dropped (R4); a good is credited only where the other does not gainsay it.
 *
 * What the conversation expects is no proof: our own recogniser is told to listen
 * for it, and finds it in other talk too. So it settles which of two names was
 * said, and makes no result of words in which the other one heard no result.
 */

/** One reading, and who heard it. */
export interface Best extends Heard {
  readonly by: HeardBy;
}

/** What the other recogniser heard. */
export interface Other extends Heard {
  /** It has gone out before, as an utterance of its own. */
  readonly told: boolean;
}

export function settledByEars(
  first: Best,
  other: Other,
  scene: Scene,
  roster: Roster,
): readonly Statement[] {
  const ears: Ears = { first, other, scene, roster };
  if (other.told) return whatIsNew(ears);
  const mine = resultsIn(first);
  const its = resultsIn(other);
  if (its.length === 0 && !first.statements.some(isAct) && other.statements.some(isAct))
    return mine.length > 0 ? first.statements : orderedIn(ears);
  if (mine.length === 0 && its.length === 0) return ratedWorse(ears);
  if (mine.length === 0 && first.statements.some(isAct))
    // An order stands; of what the other one made of its words only a fault is looked at.
    return [
      ...first.statements,
      ...fresh(ears, its.filter((b) => isIll(ears, b)).map(asked(ears))),
    ];
  return merged(ears, mine, its);
}

interface Ears {
  readonly first: Best;
  readonly other: Other;
  readonly scene: Scene;
  readonly roster: Roster;
}

const resultsIn = (h: Heard): Observation[] =>
  h.statements.filter(
    (s): s is Observation => s.kind === 'observation' && s.force === 'result' && counts(s),
  );

/** What does something by itself: an order, a severity, an arrival. */
const isAct = (s: Statement): boolean =>
  s.kind !== 'observation' && s.kind !== 'not-understood' && s.kind !== 'two-candidates';

/** A fault by its words, or by a value that is outside its limit (R8). */
function isIll({ roster }: Ears, o: Observation): boolean {
  return isBad(o) || isFinding(roster.catalogue, checkIn(roster, o), o);
}

const checkIn = (roster: Roster, o: Observation) =>
  o.about.kind === 'check' ? (roster.byKey.get(o.about.check)?.check ?? null) : null;

/** The same thing at the same place; one that does not say which place is the same as one that does. */
function isSame(a: Observation, b: Observation): boolean {
  if (a.about.kind === 'check' && b.about.kind === 'check') {
    if (a.about.check !== b.about.check) return false;
    const [one, two] = [a.about.which.instances, b.about.which.instances];
    if (one.length === 0 || two.length === 0) return true;
    return one.length === two.length && one.every((i) => two.includes(i));
  }
  if (a.about.kind === 'station' && b.about.kind === 'station')
    return a.about.station === b.about.station;
  return a.about.kind === 'unplaced' && b.about.kind === 'unplaced';
}

function sameValues(a: Observation, b: Observation): boolean {
  const told = (o: Observation) =>
    o.values
      .map((v) => [v.measure, v.low, v.high, v.unit, v.step?.index].join(' '))
      .sort()
      .join();
  return told(a) === told(b);
}

/** Why it is asked about. */
const heardAs = ({ first, other }: Ears): string =>
  `heard as "${first.text}" or as "${other.text}"`;

const asked =
  (ears: Ears) =>
  (o: Observation): Observation =>
    o.doubtful === null ? { ...o, doubtful: heardAs(ears) } : o;

/** Statements of the other reading beside those of the first: each id is one statement's. */
function fresh({ first, other }: Ears, made: readonly Observation[]): Observation[] {
  const count = Math.max(first.statements.length, other.statements.length);
  return made.map((s, i) => ({ ...s, id: `${s.heard}.${String(count + i + 1)}` }));
}

function merged(
  ears: Ears,
  mine: readonly Observation[],
  its: readonly Observation[],
): readonly Statement[] {
  const { first } = ears;
  const twin = (a: Observation, of: readonly Observation[]) => of.find((b) => isSame(a, b));
  const loose = its.filter((b) => twin(b, mine) === undefined);
  const goods = loose.filter((b) => !isIll(ears, b));
  const fault = goods.length < loose.length;
  const alone = mine.filter((a) => twin(a, its) === undefined && !isIll(ears, a));
  const names = choose(ears, alone, goods);
  const kept = first.statements.flatMap((s): Statement[] => {
    const a = mine.find((m) => m.id === s.id);
    if (a === undefined) return [s];
    const b = twin(a, its);
    if (b !== undefined) return [settled(ears, a, b)];
    // R4: a fault that only one of them heard stands.
    if (isIll(ears, a)) return [a];
    if (names === 'other') return [];
    // A fault that the other one heard in the same sound gainsays it, whatever it is a fault of.
    return [fault || names === 'asked' || isTalkOf(ears, a) ? asked(ears)(a) : a];
  });
  const added = loose.flatMap((b): Observation[] => {
    if (isIll(ears, b)) return [ears.first.by === 'embedded' ? b : asked(ears)(b)];
    if (names === 'first') return [];
    // Where the first heard another name for a good, only the name is in question.
    const sure = names === 'other' && (alone.length > 0 || isBacked(ears, b));
    return [sure ? b : asked(ears)(b)];
  });
  // What the first made nothing of is no talk any more once the other one has made something of it.
  const rest =
    mine.length === 0 && added.length > 0 ? kept.filter((s) => s.kind !== 'not-understood') : kept;
  return [...rest, ...fresh(ears, added)];
}

/** Both speak of the same thing. */
function settled(ears: Ears, a: Observation, b: Observation): Observation {
  const [ill, its] = [isIll(ears, a), isIll(ears, b)];
  // R4: what one of them heard as a fault is no good; said again, it is settled.
  if (ill && !its)
    return { ...a, why: [...a.why, `The other recogniser heard "${ears.other.text}".`] };
  if (!ill && its) return { ...asked(ears)(b), id: a.id };
  if (!sameValues(a, b)) return ill ? a : asked(ears)(a);
  const sure = a.doubtful !== null && a.waits === true && b.doubtful === null ? b : a;
  return { ...sure, id: a.id, why: [...sure.why, BOTH] };
}

/** Why a result is sure of its hearing. */
const BOTH = 'Two recognisers heard it so.';

/**
 * Which of two names for a good is taken, where each recogniser heard another
 * one: the one that is expected more; where none is, it is asked about (R5).
 */
function choose(
  ears: Ears,
  alone: readonly Observation[],
  goods: readonly Observation[],
): 'first' | 'other' | 'asked' {
  if (goods.length === 0) return 'first';
  if (alone.length === 0) return goods.every((b) => expected(ears, b) > 0) ? 'other' : 'asked';
  const most = (of: readonly Observation[]) => Math.max(...of.map((o) => expected(ears, o)));
  const [mine, its] = [most(alone), most(goods)];
  return mine === its ? 'asked' : mine > its ? 'first' : 'other';
}

/** How much the conversation expects it: an answer before what is here, that before the next station. */
function expected({ scene, roster }: Ears, o: Observation): number {
  if (o.about.kind !== 'check') return 0;
  const { check } = o.about;
  const { question } = scene;
  if (question !== null) {
    const options = question.options.some((q) => q.candidate?.check === check);
    if (o.answers === question.id || options) return ANSWER;
  }
  if (scene.check === check) return HERE;
  const at = roster.stations.findIndex((s) => s.id === scene.station);
  const of = roster.byKey.get(check)?.stationIndex ?? -1;
  if (at < 0 || of < 0) return 0;
  return of === at ? HERE : of === at + 1 ? NEXT : 0;
}
const ANSWER = 3;
const HERE = 2;
const NEXT = 1;

/** Whether the first one heard the words that make it a result, whatever it made of the name. */
function isBacked({ first }: Ears, o: Observation): boolean {
  const said = new Set(phraseWords(first.text));
  const name = new Set(o.about.span === null ? [] : phraseWords(o.about.span.words));
  const words = [...(o.verdict === null ? [] : [o.verdict]), ...o.conditions, ...o.values]
    .flatMap(({ span }) => phraseWords(span.words))
    .filter((w) => !name.has(w) && !ARTICLES.has(w) && w.length >= LEAST_LETTERS);
  return words.length > 0 && words.every((w) => said.has(w));
}
/** Letters under which a word is in any talk. Higher leaves "good" out, lower takes "is" for a result. */
const LEAST_LETTERS = 4;

/** Whether the other one heard the same as no result: "make sure" before it (R2). */
function isTalkOf({ other }: Ears, a: Observation): boolean {
  return other.statements.some(
    (s) => s.kind === 'observation' && s.force !== 'result' && isSame(s, a),
  );
}

/** Orders that only the other one heard, where the first made nothing of the words. */
function orderedIn(ears: Ears): readonly Statement[] {
  const { first, other, scene } = ears;
  if (first.statements.some((s) => s.kind === 'observation' && s.force === 'result'))
    return first.statements;
  // What takes something off the sheet, or sets it aside, is not done on the word of one of two.
  const taken = other.statements.filter(
    (s) =>
      s.kind === 'command' ||
      s.kind === 'arrival' ||
      (s.kind === 'rating' && scene.question?.kind === 'severity'),
  );
  return taken.length > 0 ? taken : first.statements;
}

/** Two severities: the worse one stands (R6). */
function ratedWorse({ first, other }: Ears): readonly Statement[] {
  const of = other.statements.find((s): s is Rating => s.kind === 'rating');
  if (of === undefined) return first.statements;
  const rank = (s: Rating) => SEVERITIES.indexOf(s.severity);
  return first.statements.map((s) =>
    s.kind === 'rating' && rank(of) < rank(s) ? { ...s, severity: of.severity } : s,
  );
}

/**
 * Words that came after those of the other recogniser had gone out: only what
 * is new in them is looked at. Done twice, an order would be two; a good of our
 * own that nobody waited for is nobody's; a fault is never dropped (R4).
 */
function whatIsNew(ears: Ears): readonly Statement[] {
  const { first, other } = ears;
  const known = resultsIn(other);
  return resultsIn(first).flatMap((a): Observation[] => {
    const twin = known.find((b) => isSame(a, b));
    const ill = isIll(ears, a);
    if (twin !== undefined && (!ill || isIll(ears, twin))) return [];
    if (ill) return [first.by === 'embedded' ? asked(ears)(a) : a];
    return first.by === 'embedded' || known.length > 0 ? [] : [a];
  });
}
