import type { Catalogue } from '#shared/catalogue';
import type { Happening } from '#shared/event';
import type { Question } from '#shared/question';
import type { Reading } from '#shared/reader';
import type { Statement } from '#shared/statement';
import type { Book } from './book.ts';
import {
  calledElse,
  correctedTo,
  harmless,
  learnedFrom,
  placed,
  ratedAs,
  type Taught,
} from './learning.ts';

/** What a reading tells of the words that it is about, for the phrasebook; each once. */
export function taughtBy(
  { statements }: Reading,
  book: Book,
  catalogue: Catalogue,
): readonly Happening[] {
  const own = new Map(statements.map((s) => [s.id, s]));
  const said = (id: string): Statement | undefined => own.get(id) ?? book.statements.get(id);
  let latest = book.lastFinding;
  return statements.flatMap((s): Happening[] => {
    switch (s.kind) {
      case 'observation': {
        if (s.force === 'result' && s.conditions.some((c) => c.present)) latest = s.id;
        const question = s.answers === null ? undefined : book.questions.get(s.answers);
        const before = book.statements.get(s.amends ?? question?.about ?? '');
        const made =
          learnedFrom(s, question, before, wordsOf(before, book)) ??
          correctedTo(s, before, catalogue);
        // A severity that an amendment repeats was learned when it was said.
        const fresh = before?.kind !== 'observation' || before.severity !== s.severity;
        const rated =
          s.severity === null || s.doubtful !== null || !fresh
            ? []
            : ratedAs(s.severity, s, wordsOf(s, book), catalogue);
        return [...learned(made, s, 'learned', book), ...all(rated, s, book)];
      }
      case 'rating': {
        const of = s.of ?? latest;
        const fault = of === null ? undefined : asItStands(of, said, book);
        return all(ratedAs(s.severity, fault, wordsOf(fault, book), catalogue), s, book);
      }
      case 'retraction':
        return learned(harmlessIn(s, book, catalogue), s, 'nothing', book);
      default:
        return [];
    }
  });
}

/** What a part is called, told by placing its finding, or by putting it on another check. */
export function calledBy(
  statement: string,
  check: string,
  book: Book,
  catalogue: Catalogue,
): readonly Happening[] {
  const said = book.statements.get(statement);
  if (said?.kind !== 'observation') return [];
  if (said.about.kind === 'unplaced')
    return learned(placed(said.about.part, check), said, 'learned', book);
  if (said.about.kind !== 'check' || said.about.span === null) return [];
  const made = calledElse(said.about.span, said.span, check, catalogue);
  return learned(made, said, 'learned', book);
}

/** A finding after everything that amends it. */
function asItStands(
  id: string,
  said: (id: string) => Statement | undefined,
  book: Book,
): Statement | undefined {
  const amending = [...book.statements.values()].findLast(
    (s) => s.kind === 'observation' && s.amends === id && s.force === 'result',
  );
  return amending === undefined ? said(id) : asItStands(amending.id, said, book);
}

/** Taken back in answer to a question, and the whole of what was said: it was about nothing. */
function harmlessIn(
  taken: Extract<Statement, { kind: 'retraction' }>,
  book: Book,
  catalogue: Catalogue,
): Taught | null {
  if (taken.nothing === undefined) return null;
  const of = book.statements.get(taken.of);
  const said = of?.kind === 'two-candidates' ? of.said : of;
  if (said?.kind !== 'observation') return null;
  // What was asked about in one go was said in one go, and taken back so.
  const asked = (book.questions.get(taken.nothing)?.items ?? []).map((i) => i.statement);
  const alone =
    [...book.statements.values()].filter(
      (s) => s.heard === of?.heard && !isChatter(s) && (s.id === of.id || !asked.includes(s.id)),
    ).length < 2;
  return alone ? harmless(said, wordsOf(of, book), catalogue) : null;
}

const isChatter = (s: Statement): boolean => s.kind === 'not-understood' && s.chatter;

/** The whole utterance that a statement came of; of an answer, the one that was asked about. */
function wordsOf(said: Statement | undefined, book: Book): string {
  const before =
    said?.kind === 'observation' && said.answers !== null
      ? book.statements.get(said.amends ?? '')
      : undefined;
  return before === undefined ? (book.words.get(said?.heard ?? '') ?? '') : wordsOf(before, book);
}

function all(taught: readonly Taught[], from: Statement, book: Book): Happening[] {
  return taught.flatMap((t, i) => learned(t, from, i === 0 ? 'rated' : `rated${i}`, book));
}

/** The question that a statement answers; undefined where it was said unasked. */
function questionOf(said: Statement, book: Book): Question | undefined {
  if (said.kind === 'rating') {
    const asked = [...book.questions.values()].filter((q) => q.kind === 'severity');
    return asked.find((q) => q.about === said.of);
  }
  const answers =
    said.kind === 'observation' ? said.answers : said.kind === 'retraction' ? said.nothing : null;
  return book.questions.get(answers ?? '');
}

function learned(taught: Taught | null, from: Statement, what: string, book: Book): Happening[] {
  if (taught === null) return [];
  const asked = questionOf(from, book)?.text;
  return [
    {
      kind: 'learned',
      learned: {
        id: `${from.id}/${what}`,
        ...taught,
        speaker: book.pilot,
        from: from.id,
        told: from.span.words,
        ...(asked === undefined ? {} : { asked }),
      },
    },
  ];
}
