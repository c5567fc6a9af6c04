import type { Heard } from '#shared/heard';
import type { Reading } from '#shared/reader';
import type { Scene } from '#shared/scene';
import type { Statement } from '#shared/statement';
import { answerOf } from './conversation/answers.ts';
import { followed, heardIn, unheard } from './conversation/follow.ts';
import { isUnknown } from './conversation/polarity.ts';
import { dictatedTo, spanIn, type Words } from './readings/said.ts';
import { commandsIn, othersIn } from './readings/orders.ts';
import { plainly } from './readings/plain.ts';
import { MOST_RIVALS, settledReading } from './readings/rivals.ts';
import { statementsOf } from './readings/statements.ts';
import type { Roster } from './matches/roster.ts';
import { MOST_WORDS, type Asked, type InputMaker, type Inputs } from './scores/inputs.ts';
import type { Net, Scores } from './scores/net.ts';
import { tokensOf, type Token } from './tokens.ts';

/** What a reader is made of, for one catalogue. */
export interface Parts {
  readonly roster: Roster;
  readonly maker: InputMaker;
  /** null: nothing was learned that could be used; only orders and answers are taken. */
  readonly net: Net | null;
  readonly labels: readonly string[];
  knows(word: string): boolean;
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
  for (const piece of piecesOf(lead < tokens.length ? tokens.slice(lead) : tokens)) {
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
  const { tokens, raw } = tokensOf(heard);
  if (tokens.length === 0) return { statements: [], scene };
  let count = 0;
  const nextId = (): string => {
    count += 1;
    return `${heard.id}.${String(count)}`;
  };
  let now = scene;
  const statements: Statement[] = [];
  // "Squawk, left skid tube cracked": what is dictated begins behind the word that says so.
  const lead = dictatedTo(tokens);
  for (const piece of piecesOf(lead < tokens.length ? tokens.slice(lead) : tokens)) {
    const words = { tokens: piece, raw };
    const reading = readPiece({ heard, words, scene: now, squawk: lead > 0, nextId }, parts);
    statements.push(...reading.statements);
    now = reading.scene;
  }
  const real = statements.filter((s) => s.kind !== 'not-understood' || !s.chatter);
  return { statements: real.length > 0 ? real : statements.slice(0, 1), scene: now };
}

interface Piece {
  readonly heard: Heard;
  readonly words: Words;
  readonly scene: Scene;
  /** It is dictated as a squawk. */
  readonly squawk: boolean;
  nextId(): string;
}

function readPiece(piece: Piece, parts: Parts): Reading {
  const { heard, words, squawk, nextId } = piece;
  const { roster } = parts;
  const text = wordsText(words);
  const { inputs, scores, scene } = look(heard.id, text, words.tokens, piece.scene, parts);
  let now: Scene = scene;
  const out: Statement[] = [];
  const tell = (made: readonly Statement[]): void => {
    for (const statement of made) {
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
    const answer = answerOf({ ...common, question, catalogue: roster.catalogue });
    if (answer !== null) {
      tell([answer]);
      return { statements: out, scene: now };
    }
  }
  const ordering = { heard: heard.id, words, scene, roster, inputs, scores, nextId };
  const commands = commandsIn(ordering);
  tell(commands.statements);
  if (commands.whole) return { statements: out, scene: now };
  const said = statementsOf({
    ...common,
    inputs,
    scores,
    labels: parts.labels,
    knows: parts.knows,
    squawk,
  });
  const finding = said.some(
    (s) => s.kind === 'observation' && s.force === 'result' && s.conditions.some((c) => c.present),
  );
  tell(othersIn(ordering, finding));
  tell(said);
  if (out.length === 0) tell([chatter(piece, 'nothing of it is about a check')]);
  return { statements: out, scene: now };
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

function chatter({ heard, words, nextId }: Piece, why: string): Statement {
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

/** A breath of many words is read in pieces, parted where it pauses. */
function piecesOf(tokens: readonly Token[]): (readonly Token[])[] {
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
