import { isStationAlone } from './readings/arrivals.ts';
import type { Heard } from '#shared/heard';
import type { Reading } from '#shared/reader';
import type { Scene } from '#shared/scene';
import type { Observation, Statement } from '#shared/statement';
import { answeredIn, asAnswer, inOneBreath, picksNone, saysNothing } from './answering.ts';
import { followed, heardIn, unheard } from './conversation/follow.ts';
import { moveOf } from './conversation/moves.ts';
import { asLearned, harmlessBy, inOwnWords, learnedWhy } from './phrasebook.ts';
import { chatter, look, wordsText, type Parts, type Piece } from './piece.ts';
import { plainlyAside } from './readings/absent.ts';
import { withoutEchoes } from './readings/echo.ts';
import { settledByEars } from './readings/ears.ts';
import { clauseOf, happeningOf } from './readings/happenings.ts';
import { isBabble, isBrokenOff, isPlaceAlone } from './readings/hollow.ts';
import { isTag } from './readings/vetoes.ts';
import {
  asideApart,
  asideIn,
  commandsIn,
  othersIn,
  saysNotFitted,
  isRatingAlone,
} from './readings/orders.ts';
import { isPlain, rowApart } from './readings/plain.ts';
import { commentOn } from './readings/rated.ts';
import { rebuttedApart } from './readings/rebutted.ts';
import { MOST_RIVALS, settledReading } from './readings/rivals.ts';
import { dictatedTo } from './readings/said.ts';
import type { Scoring } from './readings/scoring.ts';
import { statementsOf } from './readings/statements.ts';
import {
  isComplaintUnread,
  isFaultUnread,
  isPartlyWell,
  isStrange,
  isValueUnread,
} from './readings/strange.ts';
import { bothApart, otherApart, twinsApart } from './readings/twins.ts';
import { unknownFault } from './readings/unplaced.ts';
import { MOST_WORDS } from './scores/inputs.ts';
import { tokensOf, type Token } from './tokens.ts';

/**
 * One utterance in the conversation so far: words, matches, candidates, scores, readings,
 * decision. Pure: the same words in the same scene read the same.
 */
export function readUtterance(heard: Heard, before: Scene, parts: Parts): Reading {
  const scene = unheard(before, heard.id);
  const best = readText(heard, scene, parts);
  if (heard.alternatives.length === 0) return best;
  const read = (text: string) => ({
    text,
    statements: readText({ ...heard, text, words: [] }, scene, parts).statements,
  });
  const same = heard.alternatives.filter((a) => a.by === undefined || a.by === heard.by);
  const rivals = same.slice(0, MOST_RIVALS).map(({ text }) => read(text));
  const one = settledReading({ text: heard.text, statements: best.statements }, rivals);
  // Another recogniser heard the same sound by itself: that is more than another guess of one.
  const other = heard.alternatives.find((a) => !same.includes(a));
  const statements =
    other === undefined
      ? one
      : settledByEars(
          { text: heard.text, statements: one, by: heard.by },
          { ...read(other.text), told: other.told === true },
          scene,
          parts.roster,
        );
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

function readPiece(piece: Piece, parts: Parts): Reading {
  const { heard, words, squawk, nextId } = piece;
  const { roster, phrases } = parts;
  const spoken = wordsText(words);
  const { inputs, scores, scene } = look(heard.id, spoken, words.tokens, piece.scene, parts);
  let now: Scene = scene;
  const out: Statement[] = [];
  const enter = (made: readonly Statement[], from: Scene): Reading => {
    const statements = made.map((said) => {
      const told = isTaught(said, piece.taught) ? { ...said, doubtful: null, waits: false } : said;
      return told.kind === 'observation' ? asLearned(told, words.tokens, phrases, roster) : told;
    });
    return { statements, scene: statements.reduce((at, x) => followed(at, x, roster), from) };
  };
  const tell = (made: readonly Statement[]): void => {
    const entered = enter(made, now);
    out.push(...entered.statements);
    now = entered.scene;
  };
  const common = { heard, words, scene, roster, nextId };
  const answered = answeredIn({ ...common, piece, inputs, parts, enter, read: readPiece });
  if (answered !== null) return answered;
  const harmless = harmlessBy(words.tokens, phrases);
  if (harmless !== null) {
    tell([chatter(piece, learnedWhy(harmless, roster))]);
    return { statements: out, scene: now };
  }
  const corrected = inOneBreath(piece, parts, inputs, readPiece);
  if (corrected !== null) return corrected;
  if (scene.question !== null && picksNone({ ...common, inputs }, scene.question)) {
    tell([{ ...chatter(piece, 'it answers, and does not say which (R5)'), chatter: false }]);
    return { statements: out, scene: now };
  }
  const ordering = { heard: heard.id, words, scene, roster, inputs, scores, nextId };
  if (saysNothing(words.tokens.map((t) => t.word))) {
    tell([chatter(piece, 'an answer to nothing that is asked')]);
    return { statements: out, scene: now };
  }
  const moved = moveOf({ ...common, inputs });
  if (moved !== null) {
    tell(moved);
    return { statements: out, scene: now };
  }
  const scoring = {
    ...common,
    inputs,
    scores,
    labels: parts.labels,
    knows: parts.knows,
    squawk,
  };
  // "Overspeed on start this morning" orders nothing: what happened is never lost to an order (R4).
  if (happeningOf(scoring) === null) {
    const commands = commandsIn(ordering);
    tell(commands.statements);
    if (commands.whole) return { statements: out, scene: now };
    const comment = out.length === 0 ? commentOn(scoring) : null;
    if (comment !== null) {
      tell(comment);
      return { statements: out, scene: now };
    }
  }
  const apart =
    asideApart(words.tokens, inputs) ??
    eventApart(scoring) ??
    rebuttedApart(words.tokens, inputs) ??
    rowOf(scoring);
  if (apart !== null) {
    // "We had a hard landing, and the left skid tube is cracked": each is read by itself.
    const made: Statement[] = [];
    for (const part of apart) {
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
      : asAnswer(common, withoutEchoes(scoring, statementsOf(scoring)));
  const finding = said.some(
    (s) => s.kind === 'observation' && s.force === 'result' && s.conditions.some((c) => c.present),
  );
  const others = othersIn(ordering, finding);
  tell(others);
  const absent =
    saysNotFitted(words.tokens) ||
    asideIn(words.tokens) !== null ||
    plainlyAside(inputs, words) !== null;
  tell(said.filter((o) => !(absent && isOnlyAside(o, others))));
  const told = out.some((s) => s.kind !== 'observation' || s.force === 'result');
  if (out.length === 0 && isValueUnread(inputs, words.tokens))
    tell([
      { ...chatter(piece, 'a value is said of a check, and not understood (R8)'), chatter: false },
    ]);
  else if (out.length === 0 && isFaultUnread(inputs, words.tokens))
    tell([
      unknownFault(scoring) ?? {
        ...chatter(piece, 'a fault of something that nobody knows (R4)'),
        chatter: false,
      },
    ]);
  else if (out.length === 0 && isComplaintUnread(inputs))
    tell([
      { ...chatter(piece, 'something is wrong with it, and of what is open (R4)'), chatter: false },
    ]);
  else if (out.length === 0 && isPartlyWell(inputs))
    tell([{ ...chatter(piece, 'of a part only it is said to be well (R4)'), chatter: false }]);
  else if (out.length === 0 || (!told && isStrange(inputs, words.tokens, parts.knows)))
    tell([
      isStrange(inputs, words.tokens, parts.knows)
        ? { ...chatter(piece, 'a word that is not known is said of a check (R5)'), chatter: false }
        : chatter(piece, 'nothing of it is about a check'),
    ]);
  return { statements: out, scene: now };
}

/** The parts of a row of results that are read one by one; null where it is none. */
function rowOf(s: Scoring): readonly (readonly Token[])[] | null {
  const ranges = rowApart(s.inputs);
  return (
    ranges?.map(({ from, to }) => s.words.tokens.slice(from, to)) ??
    twinsApart(s) ??
    otherApart(s) ??
    bothApart(s)
  );
}

/** What happened, and what is said before and behind it; null where that is all one. */
function eventApart(s: Scoring): readonly (readonly Token[])[] | null {
  const event = happeningOf(s);
  if (event === null) return null;
  const { before, clause, behind } = clauseOf(s.words.tokens, event);
  return clause.length < s.words.tokens.length ? [before, clause, behind] : null;
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
    // "Is it?" asks back about what was said before it, and is read with that.
    if (isTag(sentence) && open.length + out.length > 0) {
      if (open.length === 0) open = [...(out.pop() ?? [])];
      open = [...open, ...sentence];
    } else if (isPlain(maker.alone(sentence))) {
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
