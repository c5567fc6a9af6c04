import type { Heard } from '#shared/heard';
import type { Question } from '#shared/question';
import type { Reading } from '#shared/reader';
import type { Scene } from '#shared/scene';
import type { Observation, Statement } from '#shared/statement';
import { answerOf } from './conversation/answers.ts';
import { correctsFrom } from './conversation/breath.ts';
import { corrected } from './conversation/correction.ts';
import { followed } from './conversation/follow.ts';
import { lateAnswer } from './conversation/late.ts';
import { harmlessAnswer } from './conversation/harmless.ts';
import { moveOf } from './conversation/moves.ts';
import { whole } from './conversation/open.ts';
import { notSo } from './conversation/retracted.ts';
import { isUnknown } from './conversation/polarity.ts';
import { fitsSeveral, picksOpen } from './conversation/whichone.ts';
import { lexicon } from './lexicon.ts';
import { placeWordsOf } from './matches/heardas.ts';
import type { Roster } from './matches/roster.ts';
import { chatter, look, wordsText, type Parts, type Piece } from './piece.ts';
import type { Words } from './readings/said.ts';
import type { Inputs } from './scores/around.ts';
import type { Token } from './tokens.ts';
import { isWord } from './conversation/answerwords.ts';

/** What a sentence is to what was asked or said before it: an answer, early or late, or a correction in one breath. */

/** What an answer is read from; `enter` follows statements, `read` reads a sentence by itself. */
interface Asked {
  readonly heard: Heard;
  readonly words: Words;
  readonly scene: Scene;
  readonly roster: Roster;
  readonly piece: Piece;
  readonly inputs: Inputs;
  readonly parts: Parts;
  nextId(): string;
  enter(made: readonly Statement[], from: Scene): Reading;
  read(piece: Piece, parts: Parts): Reading;
}

/** The sentence as an answer, with what stands before or behind it; null where it is none. */
export function answeredIn(a: Asked): Reading | null {
  const { words, scene, roster } = a;
  const answer = scene.question === null ? null : answerTo(a, scene.question);
  if (answer !== null) return answer;
  const late = lateAnswer({ ...a, catalogue: roster.catalogue });
  return late === null || isRatingOfNew(a, words.tokens) ? null : a.enter(late, scene);
}

function answerTo(a: Asked, question: Question): Reading | null {
  const { words, scene, roster, piece, inputs } = a;
  const { tokens } = words;
  if (isUnknown(tokens.map((t) => t.word)))
    return a.enter([chatter(piece, `leaves "${question.text}" open`)], scene);
  if (question.kind === 'severity' && isRatingOfNew(a, tokens)) return null;
  const harmless = harmlessAnswer(a, question);
  if (harmless !== null) return a.enter(harmless, scene);
  const answering = { ...a, question, catalogue: roster.catalogue };
  const part = (from: number, to?: number) => ({ ...words, tokens: tokens.slice(from, to) });
  const read = (from: number, to?: number) => answerOf({ ...answering, words: part(from, to) });
  // "Left no right": of two answers in one breath the one behind the "no".
  const turn = correctsFrom(tokens);
  const turned = turn === null || read(0, turn.from) === null ? null : read(turn.to);
  if (turned !== null) return a.enter(turned, scene);
  const cut = answerEnds(tokens, inputs);
  // "One, erosion. Two, the same": counts off what is looked at, and picks nothing that was offered.
  if (cut < tokens.length && isCount(tokens.slice(0, cut)) && !NUMBERED.has(question.kind))
    return null;
  const answer =
    read(0, cut) ?? (cut < tokens.length ? moveOf({ ...a, words: part(0, cut) }) : null);
  if (answer !== null) {
    const told = a.enter(answer, scene);
    if (cut >= tokens.length) return told;
    // "Left, the right's fine": what comes behind the answer is read by itself.
    const rest = a.read({ ...piece, words: part(cut), scene: told.scene }, a.parts);
    return { statements: [...told.statements, ...rest.statements], scene: rest.scene };
  }
  // "Master switch is off, the left one": what comes before the answer is read by itself.
  const begin = answerBegins(tokens);
  const tail = begin === null ? null : read(begin);
  if (begin === null || tail === null) return null;
  // "Left skid tube is cracked, watch it": how bad this one is, and not the one that was asked about.
  if (tail.some((s) => s.kind === 'rating' || (s.kind === 'observation' && isGood(s)))) {
    const alone = a.read({ ...piece, words: part(0, begin), scene }, a.parts);
    const fault = alone.statements.findLast(isFault);
    if (fault !== undefined) {
      const own = tail.map((s) => (s.kind === 'rating' ? { ...s, of: fault.id } : null));
      const rating = own.filter((s) => s !== null);
      // "…, it is good", behind a fault, clears nothing else.
      if (rating.length < tail.length) return null;
      const rated = a.enter(rating, alone.scene);
      return { statements: [...alone.statements, ...rated.statements], scene: rated.scene };
    }
  }
  const told = a.enter(tail, scene);
  const head = a.read({ ...piece, words: part(0, begin), scene: told.scene }, a.parts);
  const said = head.statements.filter((s) => s.kind !== 'not-understood' || !s.chatter);
  return { statements: [...told.statements, ...said], scene: head.scene };
}

/** "Left skid tube is dented. Note it.": a rating behind a fault of the same utterance is that fault's. */
function isRatingOfNew({ scene, heard }: Asked, tokens: readonly Token[]): boolean {
  const { last, question } = scene;
  if (last === null || last.heard !== heard.id || !isFault(last)) return false;
  return tokens.length <= LONGEST_TAIL && question?.about !== last.id;
}

const isGood = (s: Observation): boolean =>
  s.verdict?.good === true && !s.conditions.some((c) => c.present);

const isFault = (s: Statement): boolean =>
  s.kind === 'observation' &&
  s.force === 'result' &&
  (s.conditions.some((c) => c.present) || s.verdict?.good === false);

/** "Neither.", "front" of four: meant for the question, and it picks nothing (R5): no good and no fault of anything. */
export function picksNone(
  a: Pick<Asked, 'heard' | 'words' | 'scene' | 'roster' | 'inputs' | 'nextId'>,
  question: Question,
): boolean {
  const { tokens } = a.words;
  const text = tokens.map((t) => t.word).join(' ');
  if (tokens.length < 3 && picksOpen(text)) return true;
  if (isNoneOfThem(text)) return true;
  return fitsSeveral({ ...a, question, catalogue: a.roster.catalogue });
}

const isNoneOfThem = (text: string): boolean => isWord('none-of-them', text);

/** "I don't know", "neither of them", where nothing is asked: they tell nothing of what was named last. */
export const saysNothing = (words: readonly string[]): boolean =>
  isUnknown(words) || isNoneOfThem(words.join(' '));

/**
 * A whole sentence that says what was asked: "the front one is frayed", to "front or rear?" or to
 * "good, or something wrong?". It takes the place of what was asked about, which is not left open.
 */
export function asAnswer(
  a: Pick<Asked, 'heard' | 'words' | 'scene' | 'nextId'>,
  said: readonly Statement[],
): Statement[] {
  const { question, talk } = a.scene;
  if (question === null) return [...said];
  const items = question.items?.map((i) => i.statement) ?? [question.about];
  const asked = talk.told.filter((o) => items.includes(o.id));
  const met = said.flatMap((s) => {
    if (s.kind !== 'observation' || s.amends !== null || !isFault(s) || s.doubtful !== null)
      return [];
    const of = asked.findLast((o) => saysWhatWasAsked(question, o, s));
    return of === undefined ? [] : [{ s, of }];
  });
  const [first] = met;
  if (first === undefined || met.length > 1) return [...said];
  const { s, of } = first;
  const others = asked.filter((o) => o.id !== of.id && question.kind === 'which-fault');
  return [
    ...said.map((x) => (x === s ? { ...s, amends: of.id, answers: question.id } : x)),
    ...others.map((o) => notSo(a, whole(a.words), o, `answers "${question.text}": not this one`)),
  ];
}

function saysWhatWasAsked({ kind }: Question, asked: Observation, said: Observation): boolean {
  if (asked.about.kind !== 'check' || said.about.kind !== 'check') return false;
  if (asked.about.check !== said.about.check) return false;
  switch (kind) {
    case 'polarity':
    case 'which-fault':
      // Both said and unsure: told plainly, it is that. What was found and called good is settled otherwise (R6).
      return asked.doubtful !== null && isFault(asked);
    case 'which-instance':
      return (
        isFault(asked) &&
        said.about.which.how === 'named' &&
        said.conditions.some((c) =>
          asked.conditions.some((k) => k.present && k.condition === c.condition),
        )
      );
    default:
      return false;
  }
}

/** "Five, no, six quarts": what was said, and its correction behind it; null where it corrects nothing. */
export function inOneBreath(
  piece: Piece,
  parts: Parts,
  inputs: Inputs,
  readPiece: Asked['read'],
): Reading | null {
  const { heard, words, nextId } = piece;
  const turn = correctsFrom(words.tokens);
  if (turn === null) return null;
  // "Oh wait, that was the flap": what stands before it tells nothing that could be corrected.
  const { beside } = lexicon().corrections;
  if (words.tokens.slice(0, turn.from).every((t) => beside.includes(t.word))) return null;
  // "No nicks, no leaks" denies what is behind it, and corrects nothing (R3).
  const denied = inputs.conditions.some(
    (c) => c.from === turn.to || (c.from > turn.to && c.denials > 0),
  );
  // "A scratch, no, a crack", without the pauses: nobody denies "a crack" so.
  const named = /^(a|an)$/.test(words.tokens[turn.to]?.word ?? '');
  if (
    !turn.plainly &&
    !named &&
    (denied || words.tokens.slice(0, turn.from).some((t) => isWord('denies', t.word)))
  )
    return null;
  const { roster } = parts;
  const part = (from: number, to?: number): Words => ({
    ...words,
    tokens: words.tokens.slice(from, to),
  });
  const said = readPiece({ ...piece, words: part(0, turn.from) }, parts);
  const own = said.scene.last;
  if (own === null || !said.statements.some((s) => s.id === own.id)) return null;
  const tail = part(turn.from);
  const behind = look(heard.id, wordsText(tail), tail.tokens, said.scene, parts);
  // "The second line, no, the third, has dark powder": the fault is told behind it, once.
  if (own.doubtful !== null && behind.inputs.conditions.length > 0) return null;
  const made =
    corrected({ heard, words: tail, roster, ...behind, breath: true, nextId }) ??
    // "Good, sorry, not good": the worse is what is meant (R6).
    (turn.plainly && own.verdict?.good === true
      ? faultsOf(readPiece({ ...piece, words: part(turn.to), scene: said.scene }, parts), own)
      : null);
  if (made === null) return null;
  return {
    statements: [...said.statements, ...made],
    scene: made.reduce((now, s) => followed(now, s, roster), behind.scene),
  };
}

/** Faults of the same check, in the place of what was said of it; null where there are none. */
function faultsOf({ statements }: Reading, { id, about }: Observation): Statement[] | null {
  const faults = statements.flatMap((s): Statement[] =>
    s.kind === 'observation' &&
    s.force === 'result' &&
    about.kind === 'check' &&
    s.about.kind === 'check' &&
    s.about.check === about.check &&
    (s.verdict?.good === false || s.conditions.some((c) => c.present))
      ? // Said to correct what was called good, it is no guess any more (R4).
        [{ ...s, about: { ...s.about, which: about.which }, amends: id, doubtful: null }]
      : [],
  );
  return faults.length > 0 ? faults.slice(0, 1) : null;
}

/** Questions whose answer may be a number, with something else behind it. */
const NUMBERED: ReadonlySet<Question['kind']> = new Set(['which-instance', 'unit', 'value']);
const isCount = (tokens: readonly Token[]): boolean =>
  placeWordsOf(tokens).counts.every((n) => n !== null);

/** A name is said whole from here. */
const WHOLE = 0.97;

/** Where an answer ends that something else comes behind: at the first pause, unless a name opens it. */
function answerEnds(tokens: readonly Token[], inputs: Inputs): number {
  // "Um, the left one": a hesitation is no answer yet.
  const starts = tokens.findIndex((t) => !isWord('before-answer', t.word));
  const pause = tokens.findIndex((t, i) => i > Math.max(0, starts) && t.gap > 0);
  if (pause < 0) return tokens.length;
  // "Right, exhaust secure": an opener, and no answer.
  const named = inputs.candidates.some(
    (c) =>
      c.member !== null && c.marks.some((m) => m.lag === 0 && m.token >= pause && m.name >= WHOLE),
  );
  const first = tokens[0]?.word ?? '';
  if (pause === 1 && first === 'right' && named) return tokens.length;
  // "Not the cap, the drain. Chocks are in.": a correction goes on to the end of its sentence.
  const stop = tokens.findIndex((t, i) => i > pause && t.gap === 2);
  const whole = tokens[pause]?.gap === 2 ? pause : stop < 0 ? tokens.length : stop;
  return /^(no|not|sorry)$/.test(first) ? whole : pause;
}

/** Where an answer begins that something else comes before; null where the tail is a word of courtesy. */
function answerBegins(tokens: readonly Token[]): number | null {
  const pause = tokens.findLastIndex((t, i) => i > 0 && t.gap > 0);
  const tail = tokens.slice(pause);
  if (pause < 2 || tail.length > LONGEST_TAIL) return null;
  return tail.length === 1 && isWord('courtesy', tail[0]?.word ?? '') ? null : pause;
}
/** More words than this behind a pause are no short answer. */
const LONGEST_TAIL = 5;
