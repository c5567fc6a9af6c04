import type { Heard } from '#shared/heard';
import type { Reading } from '#shared/reader';
import type { Scene } from '#shared/scene';
import type { Observation, Statement } from '#shared/statement';
import { answerOf } from './conversation/answers.ts';
import { moveOf } from './conversation/moves.ts';
import { followed, heardIn, unheard } from './conversation/follow.ts';
import { isUnknown } from './conversation/polarity.ts';
import { OPEN } from './conversation/whichone.ts';
import { dictatedTo, spanIn, type Words } from './readings/said.ts';
import {
  commandsIn,
  othersIn,
  saysNotFitted,
  isRatingAlone,
  isStationAlone,
} from './readings/orders.ts';
import { asLearned, harmlessBy, inOwnWords, learnedWhy, type Phrasebook } from './phrasebook.ts';
import { clauseOf, happeningOf } from './readings/happenings.ts';
import { isBabble, isBrokenOff, isPlaceAlone } from './readings/hollow.ts';
import { isPlain, plainly } from './readings/plain.ts';
import { MOST_RIVALS, settledReading } from './readings/rivals.ts';
import { statementsOf } from './readings/statements.ts';
import { isPartlyWell, isStrange } from './readings/strange.ts';
import type { Roster } from './matches/roster.ts';
import type { Asked, Inputs } from './scores/around.ts';
import { MOST_WORDS, type InputMaker } from './scores/inputs.ts';
import type { Net } from './scores/net.ts';
import type { Scores } from './scores/scored.ts';
import { tokensOf, type Token } from './tokens.ts';

/** What a reader is made of, for one catalogue. */
export interface Parts {
  readonly roster: Roster;
  readonly maker: InputMaker;
  /** null: nothing was learned that could be used; only orders and answers are taken. */
  readonly net: Net | null;
  readonly labels: readonly string[];
  knows(word: string): boolean;
  /** What the speaker's own words mean on this aircraft. */
  readonly phrases: Phrasebook;
}

/**
 * One utterance in the conversation so far: words, matches, candidates, scores, readings,
 * decision. Pure: the same words in the same scene read the same.
 */
export function readUtterance(heard: Heard, before: Scene, parts: Parts): Reading {
  const scene = unheard(before, heard.id);
  const best = readText(heard, scene, parts);
  if (heard.alternatives.length === 0) return best;
  const rivals = heard.alternatives.slice(0, MOST_RIVALS).map(({ text }) => ({
    text,
    statements: readText({ ...heard, text, words: [] }, scene, parts).statements,
  }));
  const statements = settledReading({ text: heard.text, statements: best.statements }, rivals);
  if (statements === best.statements) return best;
  const turned = turnOf(heard, scene, best);
  return {
    statements,
    scene: statements.reduce((now, s) => followed(now, s, parts.roster), turned),
  };
}

/** The scene once these words are in the log and nothing is made of them yet. */
export function hearUtterance(heard: Heard, scene: Scene, { maker }: Pick<Parts, 'maker'>): Scene {
  const { tokens, raw } = tokensOf(heard);
  const lead = dictatedTo(tokens);
  let now = scene;
  for (const piece of piecesOf(lead < tokens.length ? tokens.slice(lead) : tokens, { maker })) {
    if (piece.length === 0) continue;
    const text = wordsText({ tokens: piece, raw });
    now = heardIn(now, heard.id, text, maker.believe(now.talk.belief, text, piece));
  }
  return now;
}

/** The scene with the words in it and nothing made of them yet. */
function turnOf(heard: Heard, scene: Scene, read: Reading): Scene {
  const turn = read.scene.talk.turns.at(-1);
  if (turn === undefined) return scene;
  return heardIn(scene, heard.id, turn.text, read.scene.talk.belief);
}

/** One reading of the sound. */
function readText(heard: Heard, scene: Scene, parts: Parts): Reading {
  const { tokens: said, raw } = tokensOf(heard);
  const { tokens, used } = inOwnWords(said, parts.phrases, parts.maker);
  if (tokens.length === 0) return { statements: [], scene };
  let count = 0;
  const nextId = (): string => {
    count += 1;
    return `${heard.id}.${String(count)}`;
  };
  const taught = new Set(used.flatMap(({ means }) => (means.is === 'good' ? [means.check] : [])));
  if (isBabble(tokens)) {
    const whole = { heard, words: { tokens, raw }, scene, squawk: false, taught, nextId };
    const none = chatter(whole, 'the same few words over and over');
    return { statements: [{ ...none, chatter: false }], scene };
  }
  let now = scene;
  const statements: Statement[] = [];
  // "Squawk, left skid tube cracked": what is dictated begins behind the word that says so.
  const lead = dictatedTo(tokens);
  for (const piece of piecesOf(lead < tokens.length ? tokens.slice(lead) : tokens, parts)) {
    const words = { tokens: piece, raw };
    const reading = readPiece(
      { heard, words, scene: now, squawk: lead > 0, taught, nextId },
      parts,
    );
    statements.push(...reading.statements);
    now = reading.scene;
  }
  const real = statements.filter((s) => s.kind !== 'not-understood' || !s.chatter);
  const kept = real.length > 0 ? real : statements.slice(0, 1);
  if (used.length === 0) return { statements: kept, scene: now };
  const why = used.map((line) => learnedWhy(line, parts.roster));
  return { statements: kept.map((s) => ({ ...s, why: [...s.why, ...why] })), scene: now };
}

interface Piece {
  readonly heard: Heard;
  readonly words: Words;
  readonly scene: Scene;
  /** It is dictated as a squawk. */
  readonly squawk: boolean;
  /** Checks of which this speaker has taught that words of it mean good. */
  readonly taught: ReadonlySet<string>;
  nextId(): string;
}

function readPiece(piece: Piece, parts: Parts): Reading {
  const { heard, words, squawk, nextId } = piece;
  const { roster, phrases } = parts;
  const spoken = wordsText(words);
  const { inputs, scores, scene } = look(heard.id, spoken, words.tokens, piece.scene, parts);
  let now: Scene = scene;
  const out: Statement[] = [];
  const tell = (made: readonly Statement[]): void => {
    for (const said of made) {
      const told = isTaught(said, piece.taught) ? { ...said, doubtful: null, waits: false } : said;
      const statement =
        told.kind === 'observation' ? asLearned(told, words.tokens, phrases, roster) : told;
      out.push(statement);
      now = followed(now, statement, roster);
    }
  };
  const common = { heard, words, scene, roster, nextId };
  if (scene.question !== null) {
    const { question } = scene;
    if (isUnknown(words.tokens.map((t) => t.word))) {
      tell([chatter(piece, `leaves "${question.text}" open`)]);
      return { statements: out, scene: now };
    }
    const answering = { ...common, question, catalogue: roster.catalogue };
    const cut = answerEnds(words.tokens, inputs);
    const first = { ...words, tokens: words.tokens.slice(0, cut) };
    const answer =
      answerOf({ ...answering, words: first }) ??
      (cut < words.tokens.length ? moveOf({ ...common, words: first, inputs }) : null);
    if (answer !== null) {
      tell(answer);
      if (cut >= words.tokens.length) return { statements: out, scene: now };
      // "Left, the right's fine": what comes behind the answer is read by itself.
      const rest = readPiece(
        { ...piece, words: { ...words, tokens: words.tokens.slice(cut) }, scene: now },
        parts,
      );
      return { statements: [...out, ...rest.statements], scene: rest.scene };
    }
    // "Master switch is off, the left one": what comes before the answer is read by itself.
    const begin = answerBegins(words.tokens);
    const late =
      begin === null
        ? null
        : answerOf({ ...answering, words: { ...words, tokens: words.tokens.slice(begin) } });
    if (begin !== null && late !== null) {
      tell(late);
      const own = { ...words, tokens: words.tokens.slice(0, begin) };
      const head = readPiece({ ...piece, words: own, scene: now }, parts);
      const said = head.statements.filter((s) => s.kind !== 'not-understood' || !s.chatter);
      return { statements: [...out, ...said], scene: head.scene };
    }
  }
  const harmless = harmlessBy(words.tokens, phrases);
  if (harmless !== null) {
    tell([chatter(piece, learnedWhy(harmless, roster))]);
    return { statements: out, scene: now };
  }
  // "Neither.": meant for the question, and it picks nothing (R5): no good and no fault of anything.
  const text = words.tokens.map((t) => t.word).join(' ');
  if (scene.question !== null && words.tokens.length < 3 && OPEN.test(text)) {
    tell([{ ...chatter(piece, 'it answers, and does not say which (R5)'), chatter: false }]);
    return { statements: out, scene: now };
  }
  const ordering = { heard: heard.id, words, scene, roster, inputs, scores, nextId };
  const moved = moveOf({ ...common, inputs });
  if (moved !== null) {
    tell(moved);
    return { statements: out, scene: now };
  }
  const commands = commandsIn(ordering);
  tell(commands.statements);
  if (commands.whole) return { statements: out, scene: now };
  const scoring = {
    ...common,
    inputs,
    scores,
    labels: parts.labels,
    knows: parts.knows,
    squawk,
  };
  const event = happeningOf(scoring);
  const { before, clause, behind } =
    event === null
      ? { before: [], clause: words.tokens, behind: [] }
      : clauseOf(words.tokens, event);
  if (clause.length < words.tokens.length) {
    // "We had a hard landing, and the left skid tube is cracked": each is read by itself.
    const made: Statement[] = [];
    for (const part of [before, clause, behind]) {
      if (part.length < 2) continue;
      const own = { ...words, tokens: part };
      const read = readPiece({ ...piece, words: own, scene: now }, parts);
      made.push(...read.statements.filter((s) => s.kind !== 'not-understood' || !s.chatter));
      now = read.scene;
    }
    return { statements: [...out, ...made], scene: now };
  }
  // "Okay, tail boom" says where one is, and nothing of what was talked about before (R1, R4).
  const said =
    isPlaceAlone(inputs) ||
    isBrokenOff(inputs) ||
    isStationAlone(ordering) ||
    isRatingAlone(ordering)
      ? []
      : statementsOf(scoring);
  const finding = said.some(
    (s) => s.kind === 'observation' && s.force === 'result' && s.conditions.some((c) => c.present),
  );
  const others = othersIn(ordering, finding);
  tell(others);
  const absent = saysNotFitted(words.tokens);
  tell(said.filter((o) => !(absent && isOnlyAside(o, others))));
  const told = out.some((s) => s.kind !== 'observation' || s.force === 'result');
  if (out.length === 0 && isPartlyWell(inputs))
    tell([{ ...chatter(piece, 'of a part only it is said to be well (R4)'), chatter: false }]);
  else if (out.length === 0 || (!told && isStrange(inputs, words.tokens, parts.knows)))
    tell([
      isStrange(inputs, words.tokens, parts.knows)
        ? { ...chatter(piece, 'a word that is not known is said of a check (R5)'), chatter: false }
        : chatter(piece, 'nothing of it is about a check'),
    ]);
  return { statements: out, scene: now };
}

/** What only waits because the scores were not sure enough is sure where the speaker has said yes to it. */
const isTaught = (s: Statement, taught: ReadonlySet<string>): s is Observation =>
  s.kind === 'observation' &&
  s.waits === true &&
  s.about.kind === 'check' &&
  taught.has(s.about.check);

/** "Skip the propeller control, it isn't fitted": what is not there is no fault, unless a fault is named (R4). */
function isOnlyAside(said: Statement, others: readonly Statement[]): boolean {
  if (said.kind !== 'observation' || said.about.kind !== 'check') return false;
  const { check } = said.about;
  const words = said.span.words.length;
  return (
    others.some((o) => o.kind === 'set-aside' && o.check === check) &&
    said.conditions.every((c) => !c.present || c.span.words.length === words)
  );
}

/** The words with what they may mean and the scores; the scene with the new turn in it. */
export function look(
  heard: string,
  text: string,
  tokens: readonly Token[],
  scene: Scene,
  { maker, net }: Pick<Parts, 'maker' | 'net'>,
): { inputs: Inputs; scores: Scores; scene: Scene } {
  const { talk, question } = scene;
  const belief = maker.believe(talk.belief, text, tokens);
  const asked: Asked | null =
    question === null
      ? null
      : {
          kind: question.kind,
          checks: new Set(question.options.flatMap((o) => o.candidate?.check ?? [])),
        };
  const inputs = maker.make(
    text,
    tokens,
    { ...talk, belief },
    talk.belief.length === 0 ? belief : talk.belief,
    scene.said,
    asked,
  );
  return {
    inputs,
    scores: net === null ? NOTHING : plainly(inputs, net.score(inputs)),
    scene: heardIn(scene, heard, text, belief),
  };
}

/** What is scored without weights: nothing is held for anything. */
const NOTHING: Scores = { candidates: [], orders: [1, 0, 0, 0, 0, 0] };

/** A name is said whole from here. */
const WHOLE = 0.97;

/** Where an answer ends that something else comes behind: at the first pause, unless a name opens it. */
function answerEnds(tokens: readonly Token[], inputs: Inputs): number {
  // "Um, the left one": a hesitation is no answer yet.
  const starts = tokens.findIndex(
    (t) => !/^(um|uh|er|erm|well|so|oh|okay|ok|hm|hmm)$/.test(t.word),
  );
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
  const courtesy = /^(right|ok|okay|good|fine|yes|no|yeah|alright|thanks|one|all)$/;
  return tail.length === 1 && courtesy.test(tail[0]?.word ?? '') ? null : pause;
}
/** More words than this behind a pause are no short answer. */
const LONGEST_TAIL = 5;

function chatter(
  { heard, words, nextId }: Piece,
  why: string,
): Extract<Statement, { kind: 'not-understood' }> {
  return {
    v: 1,
    id: nextId(),
    heard: heard.id,
    kind: 'not-understood',
    chatter: true,
    span: spanIn(words, 0, words.tokens.length),
    why: [why],
  };
}

const wordsText = ({ tokens, raw }: Words): string =>
  spanIn({ tokens, raw }, 0, tokens.length).words;

/**
 * A breath is read at once, but for sentences that are plain by themselves, and for one of so
 * many words that it is parted where it pauses.
 */
function piecesOf(tokens: readonly Token[], { maker }: Pick<Parts, 'maker'>): (readonly Token[])[] {
  const starts = [0, ...tokens.flatMap((t, i) => (i > 0 && t.gap === 2 ? [i] : []))];
  const sentences = starts.map((from, k) => tokens.slice(from, starts[k + 1] ?? tokens.length));
  if (sentences.length < 2 || sentences.length > MOST_SENTENCES) return parted(tokens);
  const out: (readonly Token[])[] = [];
  let open: Token[] = [];
  for (const sentence of sentences) {
    if (isPlain(maker.alone(sentence))) {
      if (open.length > 0) out.push(...parted(open));
      out.push(sentence);
      open = [];
    } else open = [...open, ...sentence];
  }
  if (open.length > 0) out.push(...parted(open));
  return out;
}
/** More sentences than this in one breath are a speech, and no row of results. */
const MOST_SENTENCES = 12;

function parted(tokens: readonly Token[]): (readonly Token[])[] {
  if (tokens.length <= MOST_WORDS) return [tokens];
  const out: (readonly Token[])[] = [];
  let from = 0;
  while (from < tokens.length) {
    let to = Math.min(tokens.length, from + MOST_WORDS);
    if (to < tokens.length) {
      let cut = to;
      while (cut > from + MOST_WORDS / 2 && (tokens[cut]?.gap ?? 0) === 0) cut -= 1;
      if (cut > from + MOST_WORDS / 2) to = cut;
    }
    out.push(tokens.slice(from, to));
    from = to;
  }
  return out;
}
