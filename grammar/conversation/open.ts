import type { Catalogue } from '#shared/catalogue';
import type { Heard } from '#shared/heard';
import type { Question } from '#shared/question';
import type { Scene } from '#shared/scene';
import type { Observation, Span, Statement } from '#shared/statement';
import type { Roster } from '../matches/roster.ts';
import type { Inputs } from '../scores/around.ts';
import type { Words } from '../readings/said.ts';
import { spanIn } from '../readings/said.ts';
import { isWord } from './answerwords.ts';

/** What reading an answer needs: the words, what is open, and what was said before. */
export interface Answering {
  readonly heard: Heard;
  readonly words: Words;
  /** What all the words of the sentence may mean, those beside the answer too. */
  readonly inputs: Inputs;
  readonly question: Question;
  readonly scene: Scene;
  readonly roster: Roster;
  readonly catalogue: Catalogue;
  nextId(): string;
}

/** Reads the answer to one kind of question; null where the words are none. */
export type AnswerReader = (a: Answering) => Statement | readonly Statement[] | null;

/** More words than this are no short answer: they are read as any other sentence. */
export const SHORT = 7;

/** The words of an answer that tell something. */
export function content(words: Words): string[] {
  return words.tokens.map((t) => t.word).filter((w) => !isWord('empty', w));
}

export const whole = (words: Words): Span => spanIn(words, 0, words.tokens.length);

/** The statement that the question is about, where the scene still has it. */
export function askedAbout({ scene, question }: Answering): Observation | null {
  if (scene.last !== null && scene.last.id === question.about) return scene.last;
  // Something else was said since: the answer comes late, and is one all the same.
  return scene.talk.told.findLast((o) => o.id === question.about) ?? null;
}

/** What was said before, said again as it stands with this answer (R6). */
export function amended(a: Answering, more: Partial<Observation>, why: string): Observation | null {
  const before = askedAbout(a);
  if (before === null) return null;
  return {
    ...before,
    id: a.nextId(),
    heard: a.heard.id,
    span: whole(a.words),
    why: [why],
    amends: a.question.about,
    answers: a.question.id,
    doubtful: null,
    waits: false,
    ...more,
  };
}
