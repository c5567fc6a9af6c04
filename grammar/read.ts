import type { Catalogue } from '#shared/catalogue';
import type { Heard } from '#shared/heard';
import type { Reading } from '#shared/reader';
import type { Scene } from '#shared/scene';
import type { Force, Observation, Statement } from '#shared/statement';
import { answerBefore, isUnknown } from './answers.ts';
import { placesApart } from './apart.ts';
import type { ByEar } from './byear.ts';
import { arrivedAt } from './arrivals.ts';
import { clausesOf, type Clause } from './clauses.ts';
import { cuesIn, talkWords } from './cues.ts';
import { contradicted } from './corrections.ts';
import { completed } from './ellipsis.ts';
import { sentencesOf } from './asked.ts';
import { answered } from './exchange.ts';
import { commandOf } from './commands.ts';
import { withExceptions } from './except.ts';
import { joint } from './joints.ts';
import { bestOf } from './nbest.ts';
import { leftovers } from './leftovers.ts';
import { SIDE_WORDS, stem, type Names } from './names.ts';
import { numberAt } from './numbers.ts';
import {
  choosePieces,
  exactItems,
  sensePieces,
  type ItemPiece,
  type Piece,
  type Sense,
  type StationPiece,
} from './pieces.ts';
import { placedBehind } from './placed.ts';
import { takenBack } from './repairs.ts';
import { followScene, type Places } from './scene.ts';
import { Speaker } from './speaker.ts';
import { phraseWords, spanOf, tokensOf, type Token } from './tokens.ts';
import type { Trie } from './trie.ts';
import { stepsIn } from './steps.ts';

/** What the grammar is made of, compiled from one catalogue. */
export interface Compiled {
  readonly catalogue: Catalogue;
  readonly names: Names;
  readonly senses: Trie<Sense>;
  readonly places: Places;
  /** Further pieces found by sound, where a recogniser mangled a word. */
  readonly byEar: ByEar;
}

/** Pieces of the words: names, stations and the lexicon's phrases, none overlapping. */
export function piecesOf(tokens: readonly Token[], compiled: Compiled): Piece[] {
  const exact: Piece[] = [
    ...exactItems(tokens, compiled.names),
    ...sensePieces(tokens, compiled.senses),
  ];
  const found = [...exact, ...compiled.byEar.find(tokens, exact)];
  const steps = stepsIn(compiled.catalogue, tokens);
  const free = found.filter((piece) => !steps.some((step) => cuts(piece, step)));
  const chosen = choosePieces(
    free.filter((p) =>
      p.kind === 'item'
        ? !isSideOnly(p) && !isFunction(p, tokens, compiled.names)
        : p.kind === 'station'
          ? !isValueSide(p, tokens, steps)
          : !swallows(p, tokens),
    ),
    tokens,
  );
  return completed(tokens, chosen, compiled.names);
}

/** One utterance, from the recogniser's best reading or, where that says nothing, from the others. */
export function readHeard(heard: Heard, scene: Scene, compiled: Compiled): Reading {
  return bestOf(readWords(heard, scene, compiled), heard, (text) =>
    readWords({ ...heard, text, words: [] }, scene, compiled),
  );
}

/** One reading, sentence by sentence; the scene goes along. */
function readWords(heard: Heard, scene: Scene, compiled: Compiled): Reading {
  const { tokens: all, raw } = tokensOf(heard);
  if (all.length === 0) return { statements: [], scene };
  let tokens: readonly Token[] = all;
  let pieces = piecesOf(tokens, compiled);
  const put = answered(tokens, pieces, stepsIn(compiled.catalogue, tokens));
  if (put !== null) {
    tokens = put;
    pieces = piecesOf(tokens, compiled);
  }
  const back = takenBack(tokens, pieces);
  if (back !== null) {
    tokens = tokens.filter((_, i) => !back.has(i));
    pieces = piecesOf(tokens, compiled);
  }
  const statements: Statement[] = [];
  let now = scene;
  const speaker = new Speaker(heard, tokens, raw, compiled);
  const tell = (made: readonly Statement[]): void => {
    for (const read of made) {
      const statement = answering(read, now);
      const before = statements[statements.length - 1];
      if (
        statement.kind === 'rating' &&
        before?.kind === 'observation' &&
        before.severity === null &&
        before.conditions.some((c) => c.present)
      ) {
        // "Strut's leaking, she's not going anywhere": the rating belongs to the finding in the same breath.
        statements[statements.length - 1] = {
          ...before,
          severity: statement.severity,
          why: [...before.why, ...statement.why],
        };
        continue;
      }
      const placed = placedBehind(
        before,
        statement,
        phraseWords(statement.span.words),
        compiled.names,
      );
      if (placed !== null) {
        statements[statements.length - 1] = placed;
        now = followScene(now, placed, compiled.places);
        continue;
      }
      statements.push(statement);
      now = followScene(now, statement, compiled.places);
    }
  };
  let p = 0;
  let squawk = false;
  let leftOpen = false;
  for (const { from: begin, to } of sentencesOf(tokens)) {
    let from = begin;
    const own: Piece[] = [];
    while (p < pieces.length && (pieces[p]?.from ?? 0) < to) {
      const piece = pieces[p];
      if (piece !== undefined && piece.from >= from) own.push(piece);
      p += 1;
    }
    const words = tokens.slice(from, to).map((t) => t.word);
    if (now.question !== null && isUnknown(words)) {
      tell([speaker.chatter({ from, to }, true, `leaves "${now.question.text}" open`)]);
      leftOpen = true;
      continue;
    }
    const answer = answerBefore(speaker, from, to, own, now, compiled);
    if (answer !== null) {
      tell([answer.statement]);
      from = answer.to;
      if (from >= to) continue;
    }
    /** The denial that what is said next in this sentence goes on from. */
    let denied: string | null = null;
    const denial = contradicted(speaker, from, to, now);
    if (denial !== null) {
      tell([denial.statement]);
      denied = denial.statement.id;
      from = denial.to;
      if (from >= to) continue;
    }
    const command =
      denial === null
        ? commandOf(words, now.question !== null, words.length === tokens.length)
        : null;
    if (command !== null) {
      tell([
        {
          v: 1,
          id: speaker.nextId(),
          heard: heard.id,
          kind: 'command',
          command,
          span: spanOf(tokens, raw, from, to),
          why: [`"${words.join(' ')}" stands alone: an order to Talkround`],
        },
      ]);
      continue;
    }
    const station = denial === null ? arrivedAt(words, compiled.names) : null;
    if (station !== null) {
      const why = [`"${words.join(' ')}" names the station: no result (R1)`];
      tell([{ ...speaker.common({ from, to }, why), kind: 'arrival', station }]);
      continue;
    }
    const cues = cuesIn(tokens, own, from, to);
    let force: Force | null = null;
    /** Words right before this clause that were not understood. */
    let unread: string | null = null;
    const clauses = clausesOf(tokens, own, cues, from, to);
    for (const clause of clauses.flatMap((c) => placesApart(c, tokens, compiled.catalogue))) {
      const spoken = speaker.speak(clause, now, force, squawk);
      const made = { ...spoken, statements: spoken.statements.map((s) => instead(s, denied, now)) };
      denied = null;
      const stranger =
        made.statements.every((s) => s.kind === 'not-understood') &&
        leftovers(clause, tokens, clause.from).length > 0;
      const before = statements.at(-1);
      // "Moves freely, I sink": an aside that was not heard well, and may have been "I think".
      const aside = tokens[clause.from]?.word === 'i' && clause.to - clause.from <= 2;
      if (
        aside &&
        before !== undefined &&
        made.statements.every((s) => s.kind === 'not-understood')
      )
        statements[statements.length - 1] = doubted(
          before,
          speaker.span(clause.from, clause.to).words,
          'behind',
        );
      if (
        stranger &&
        before?.kind === 'observation' &&
        isFormer(before) &&
        pointsBack(speaker, clause)
      )
        tell(made.statements.map(unanswered));
      else if (unread !== null && (tokens[clause.from]?.gap ?? 0) === 0)
        tell(made.statements.map((s) => doubted(s, unread ?? '')));
      else tell(made.statements);
      unread = stranger ? speaker.span(clause.from, clause.to).words : null;
      force = made.force;
      squawk = made.squawk;
    }
  }
  const told = tidy(withExceptions(statements, raw, compiled.catalogue));
  return {
    statements:
      scene.question !== null && !leftOpen && tokens.length <= SHORT_ANSWER
        ? told.map(unanswered)
        : told,
    scene: now,
  };
}

/** Told of the past or by others: what comes behind may say how it is now. */
function isFormer(o: Observation): boolean {
  return (o.force === 'past' || o.force === 'hearsay') && o.conditions.some((c) => c.present);
}
function pointsBack(speaker: Speaker, clause: Clause): boolean {
  return speaker.words(clause.from, clause.to).some((w) => joint('pronoun').has(w));
}
/** A result that words not understood run straight into may be part of them (R5). */
function doubted(s: Statement, unread: string, where = 'before'): Statement {
  if (s.kind !== 'observation' || s.force !== 'result' || s.doubtful !== null) return s;
  return { ...s, doubtful: `"${unread}" ${where} it was not understood` };
}

/** More words than this are no answer that was lost. */
const SHORT_ANSWER = 5;

/** A short sentence after a question that answers nothing was an answer that was not understood (R5). */
function unanswered(statement: Statement): Statement {
  if (statement.kind !== 'not-understood') return statement;
  return {
    ...statement,
    chatter: false,
    why: ['an answer or how it is now was expected here, and these words do not say it (R5)'],
  };
}

/** "No, it's not, it's a scratch.": what is said behind the denial stands in its place (R6). */
function instead(s: Statement, denied: string | null, { last }: Scene): Statement {
  if (denied === null || s.kind !== 'observation' || s.force !== 'result' || s.amends !== null)
    return s;
  if (s.about.kind !== 'check' || last?.id !== denied || last.about.kind !== 'check') return s;
  return s.about.check === last.about.check ? { ...s, amends: denied } : s;
}

/** A plain result about the check that a question was about settles that question. */
function answering(statement: Statement, scene: Scene): Statement {
  const { question, last } = scene;
  if (
    statement.kind !== 'observation' ||
    statement.force !== 'result' ||
    statement.doubtful !== null
  )
    return statement;
  if (question === null || last === null || last.id !== question.about) return statement;
  if (statement.amends !== null && statement.amends !== question.about) return statement;
  if (
    !SETTLES.has(question.kind) ||
    last.about.kind !== 'check' ||
    statement.about.kind !== 'check'
  )
    return statement;
  if (last.about.check !== statement.about.check) return statement;
  // "Lovely" is no unit: what was asked stays open (R8).
  const measured = statement.values.some((v) => v.trouble === null);
  if (question.kind !== 'polarity' && !measured) return statement;
  return {
    ...statement,
    amends: last.id,
    answers: question.id,
    why: [...statement.why, `answers "${question.text}"`],
  };
}
const SETTLES: ReadonlySet<string> = new Set(['polarity', 'value', 'unit']);

/** Small talk is told once, not word by word. */
function tidy(statements: readonly Statement[]): Statement[] {
  const whole = statements.filter((s, i) => !isFalseStart(s, statements.slice(i + 1)));
  const real = whole.filter((s) => s.kind !== 'not-understood' || !s.chatter);
  const first = statements[0];
  return real.length > 0 || first === undefined ? real : [first];
}

/** "If the line's" is not "above the line": a word that turns a meaning never gives way to a sound. */
function swallows(piece: Piece, tokens: readonly Token[]): boolean {
  return (
    piece.kind === 'sense' &&
    piece.match < 1 &&
    tokens
      .slice(piece.from, piece.to)
      .some((t) => /^(if|unless|not|no|never|when|but)$/.test(t.word) || talkWords().has(t.word))
  );
}

/** "Because" is no beacon: a word that only joins others never gives way to a name by its sound. */
function isFunction(piece: ItemPiece, tokens: readonly Token[], names: Names): boolean {
  return (
    piece.match < 1 &&
    piece.to === piece.from + 1 &&
    (joint('joining').has(tokens[piece.from]?.word ?? '') ||
      // "Gearbox" is not heard as "air box": it is a word of names itself.
      names.words.has(stem(tokens[piece.from]?.word ?? '')))
  );
}

/** "Left" alone is part of many names and names none of them. */
function isSideOnly(piece: ItemPiece): boolean {
  return (
    piece.entry.words.every((w) => SIDE_WORDS.has(w)) && (piece.entry.targets[0]?.score ?? 1) < 1
  );
}

/** "Front first knuckle, rear second knuckle": the front belt, and no station of that name. */
function isValueSide(
  piece: StationPiece,
  tokens: readonly Token[],
  steps: readonly { from: number; to: number }[],
): boolean {
  const words = tokens.slice(piece.from, piece.to);
  return (
    words.every((t) => SIDE_WORDS.has(stem(t.word))) &&
    tokens[piece.to]?.gap !== 2 &&
    (steps.some((s) => s.from === piece.to) || numberAt([tokens[piece.to]?.word ?? ''], 0) !== null)
  );
}

/** A name that has only a part of a step's words in it ("second" of "second knuckle") is none. */
function cuts(piece: Piece, step: { from: number; to: number }): boolean {
  if (piece.to <= step.from || step.to <= piece.from) return false;
  const whole = piece.from <= step.from && step.to <= piece.to;
  if (piece.kind === 'sense') return !whole && piece.to - piece.from < step.to - step.from;
  return !whole || (piece.kind === 'item' && piece.match < 1);
}

/** "Documents are, let me see, documents are all there": begun, and said in full in the same breath. */
function isFalseStart(statement: Statement, later: readonly Statement[]): boolean {
  if (statement.kind !== 'observation' || statement.about.kind !== 'check') return false;
  const { check } = statement.about;
  if (statement.doubtful === null || statement.verdict !== null || statement.values.length > 0)
    return false;
  if (statement.conditions.length > 0) return false;
  return later.some(
    (s) =>
      s.kind === 'observation' &&
      s.force === 'result' &&
      s.doubtful === null &&
      s.about.kind === 'check' &&
      s.about.check === check &&
      s.verdict !== null,
  );
}
