import type { Heard } from '#shared/heard';
import type { Scene } from '#shared/scene';
import type { Statement } from '#shared/statement';
import { heardIn } from './conversation/follow.ts';
import type { Roster } from './matches/roster.ts';
import type { Phrasebook } from './phrasebook.ts';
import { atPlace } from './readings/beside.ts';
import { enumerated } from './readings/enumerated.ts';
import { plainly } from './readings/plain.ts';
import { spanIn, type Words } from './readings/said.ts';
import { saidPlaces } from './readings/saidplaces.ts';
import { swept } from './readings/swept.ts';
import { inTurn } from './readings/takenturn.ts';
import type { Asked, Inputs } from './scores/around.ts';
import type { InputMaker } from './scores/inputs.ts';
import type { Net } from './scores/net.ts';
import type { Scores } from './scores/scored.ts';
import { wordsIn, type Token } from './tokens.ts';

/** A sentence of an utterance, and what reading it takes. */

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

export interface Piece {
  readonly heard: Heard;
  readonly words: Words;
  readonly scene: Scene;
  /** It is dictated as a squawk. */
  readonly squawk: boolean;
  /** Checks of which this speaker has taught that words of it mean good. */
  readonly taught: ReadonlySet<string>;
  nextId(): string;
}

/** The words with what they may mean and the scores; the scene with the new turn in it. */
export function look(
  heard: string,
  text: string,
  tokens: readonly Token[],
  scene: Scene,
  { maker, net, roster }: Pick<Parts, 'maker' | 'net' | 'roster'>,
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
    scores:
      net === null
        ? NOTHING
        : settledBy({ inputs, words: wordsIn(tokens), talk, roster }, net.score(inputs)),
    scene: heardIn(scene, heard, text, belief),
  };
}

/** The scores, with what the words or the walk so far settle for certain. */
function settledBy(turned: Parameters<typeof inTurn>[0], scores: Scores): Scores {
  const { inputs, talk } = turned;
  const said = saidPlaces(inputs, plainly(inputs, scores));
  const known = atPlace(inputs, said, talk.turns, turned.roster);
  return inTurn(turned, swept(inputs, enumerated(inputs, known), talk.turns));
}

/** What is scored without weights: nothing is held for anything. */
const NOTHING: Scores = { candidates: [], orders: [1, 0, 0, 0, 0, 0], ratings: [] };

export function chatter(
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

export const wordsText = ({ tokens, raw }: Words): string =>
  spanIn({ tokens, raw }, 0, tokens.length).words;
