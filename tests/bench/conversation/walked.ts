import { createSession } from '#record';
import { coverageOf, openAtFinish, start, step } from '#reconcile';
import { createVoice, replyTo } from '#speak';
import type { Catalogue } from '#shared/catalogue';
import type { Coverage } from '#shared/coverage';
import type { Draft, Event } from '#shared/event';
import type { Line } from '#shared/phrasebook';
import type { Question } from '#shared/question';
import { secondsToSay } from '#shared/speech';
import type { Reader } from '#shared/reader';
import type { Statement } from '#shared/statement';
import { taughtReader } from '../../../src/wire/taught.ts';
import { fakeTime } from '../../capture/time.ts';
import { heardOf } from '../grammar/ours.ts';
import type { Label } from '../../corpus/format.ts';
import type { Conversation } from '../reader/conversation.ts';
import { answerTo, type Answer } from './truth.ts';

/**
 * How a simulated pilot answers: at once, never, after the next thing, with the next thing
 * behind the answer, or first with something that picks nothing.
 */
export const PILOTS = ['eager', 'silent', 'late', 'behind', 'contrary'] as const;
export type PilotKind = (typeof PILOTS)[number];

/** What came of one walk. */
export interface Walked {
  readonly coverage: Coverage;
  readonly events: readonly Event[];
  /** Statements of each utterance of the walk; answers count to the utterance that they are about. */
  readonly statements: readonly (readonly Statement[])[];
  /** Questions that got the floor, in order. */
  readonly questions: readonly Question['kind'][];
  readonly notHeard: number;
  readonly answered: number;
  readonly taken: number;
  /** Utterances whose doubt the pilot has settled, so that their labels do not leave it open. */
  readonly settled: ReadonlySet<number>;
}

/** An answer, and the utterance that it is about. */
type Owed = Answer & { readonly of: number };

/** Seconds between two utterances of a walk, when nobody asks anything. */
const PACE = 6;
/** Seconds that a pilot takes to answer. */
const THINKING = 2;

/** A walk through the real session, clock and voice gate, its questions answered from the labels. */
export async function walked(
  conversation: Conversation,
  texts: readonly string[],
  pilot: PilotKind,
  grammar: Reader & { taught(lines: readonly Line[]): Reader },
  learned: readonly Event[],
): Promise<Walked> {
  const { catalogue, lines } = conversation;
  /** No utterance of another walk has the same id. */
  const walk = learned.length;
  const time = fakeTime();
  let state = start(catalogue);
  const events: Event[] = [];
  const taught = taughtReader((own) => grammar.taught(own), learned, {
    aircraft: () => 'bench',
    speaker: () => 'voice',
  });
  const session = createSession({
    catalogue,
    reader: taught.reader,
    log: logOf(),
    world: time.world,
    onEvents(more) {
      for (const event of more) state = step(state, event).state;
      events.push(...more);
      taught.take(more);
    },
    open: () => openAtFinish(coverageOf(state)),
  });
  const voice = createVoice({
    synth: {
      able: true,
      say: (text) => new Promise((resolve) => time.wait(secondsToSay(text), () => resolve(true))),
      cancel: () => undefined,
    },
    sounder: { sound: () => Promise.resolve() },
    seconds: () => session.time(),
    wait: time.wait,
    talk: () => 'exceptions',
    onSpoken: (text, from, to) => void session.spoke(text, from, to),
    onReplied: () => undefined,
    onUnanswered: (id) => void session.unanswered(id),
    onShown: () => undefined,
  });
  const lineOf = new Map<string, number>();
  const statements: Statement[][] = lines.map(() => []);
  const byId = new Map<string, Statement>();
  let count = 0;
  let notHeard = 0;
  const questions: Question['kind'][] = [];
  let answered = 0;
  let taken = 0;
  const settled = new Set<number>();

  async function quiet(): Promise<void> {
    for (let i = 0; i < 40 && voice.closed(); i += 1) await time.pass(0.5);
  }

  async function say(text: string, line: number): Promise<string | null> {
    await quiet();
    count += 1;
    const from = session.time();
    const heard = { ...heardOf(text, `${walk}u${count}`), by: 'embedded' as const, from, to: from };
    const admitted = voice.admit(heard).take ?? heard;
    const before = coverageOf(state);
    const happened = await session.hear(admitted);
    for (const s of happened.statements) {
      byId.set(s.id, s);
      const about = s.kind === 'observation' ? s.amends : null;
      const at = (about === null ? undefined : lineOf.get(about)) ?? line;
      lineOf.set(s.id, at);
      statements[at]?.push(s);
      if (s.kind === 'not-understood' && !s.chatter) notHeard += 1;
    }
    voice.reply(
      replyTo(happened, { before, after: coverageOf(state) }, { catalogue, talk: 'exceptions' }),
    );
    voice.attend(happened.question);
    if (happened.asked !== null) questions.push(happened.asked.kind);
    await time.pass(THINKING);
    return happened.question?.id ?? null;
  }

  /** What is said in a line, and what the corpus has its own pilot answer to it. */
  function labelsOf(line: number): readonly Label[] {
    const own = lines[line]?.labels ?? [];
    return (lines[line + 1]?.asked ?? null) === null ? own : [...own, ...labelsOf(line + 1)];
  }

  function answer(line: number): Owed | null {
    const question = session.question();
    if (question === null) return null;
    const made = answerTo(question, {
      catalogue,
      statement: (id) => byId.get(id),
      labelsOf: (id) => labelsOf(lineOf.get(id) ?? -1),
      sofar: lines.slice(0, line + 1).map((l) => l.labels),
    });
    return made === null ? null : { ...made, of: lineOf.get(question.about) ?? line };
  }

  /** Says the answer, with something behind it or not, and sees whether the question is closed by it. */
  async function give(owed: Owed, line: number, behind = ''): Promise<void> {
    const asked = session.question()?.id;
    answered += 1;
    await say(behind === '' ? owed.words : `${owed.words}. ${behind}`, line);
    if (session.question()?.id === asked) return;
    taken += 1;
    if (owed.settles) settled.add(owed.of);
  }

  await session.begin({
    aircraft: 'bench',
    edition: 'x',
    circumstances: [],
    pilot: 'voice',
    instructor: null,
    hours: null,
    listening: 'scripted',
    squawks: [],
  });
  let owed: Owed | null = null;
  for (const [i] of lines.entries()) {
    // What the corpus itself says in answer to its own questions is said by our pilot instead.
    if ((lines[i]?.asked ?? null) !== null) continue;
    const text = texts[i] ?? '';
    if (owed !== null && pilot === 'behind') await give(owed, i, text);
    else {
      await say(text, i);
      if (owed !== null) await give(owed, i);
    }
    owed = null;
    for (let n = 0; n < 4; n += 1) {
      const made: Owed | null = answer(i);
      if (made === null || pilot === 'silent') break;
      if (pilot === 'late' || pilot === 'behind') {
        owed = made;
        break;
      }
      if (pilot === 'contrary' && n === 0 && !picksNone(session.question())) {
        await say('neither', i);
        if (session.question() === null) break;
      }
      const asked = session.question()?.id;
      await give(made, i);
      if (session.question()?.id === asked) break;
    }
    await time.pass(PACE);
  }
  const last = lines.length - 1;
  if (owed !== null) await give(owed, last);
  await say("what's left", last);
  for (let n = 0; n < 8; n += 1) {
    const made = pilot === 'silent' ? null : answer(last);
    if (made === null) break;
    const asked = session.question()?.id;
    await give(made, last);
    if (session.question()?.id === asked) break;
  }
  await session.finish();
  voice.stop();
  return {
    coverage: coverageOf(state),
    events,
    statements,
    questions,
    notHeard,
    answered,
    taken,
    settled,
  };
}

/** Of several things "neither" is an answer, and picks none of them. */
const picksNone = (question: Question | null): boolean =>
  question?.kind === 'recap' || question?.kind === 'which-fault';

function logOf(): { append(drafts: readonly Draft[]): Promise<Event[]>; walk(): Promise<Event[]> } {
  return {
    append: (drafts) =>
      Promise.resolve(drafts.map((d): Event => ({ ...d, device: 'd', prev: null, hash: '' }))),
    walk: () => Promise.resolve([]),
  };
}

export type { Catalogue };
