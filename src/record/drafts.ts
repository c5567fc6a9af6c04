import { isFinding } from '#shared/abnormal';
import { isMore } from '#shared/phrasebook';
import { proposedSeverity } from '#shared/sign';
import type { Happening } from '#shared/event';
import type { Question } from '#shared/question';
import type { Reading } from '#shared/reader';
import type { Observation, Statement } from '#shared/statement';
import type { Catalogue } from '#shared/catalogue';
import { checkAbout, type Book } from './book.ts';
import { carriedMeant } from './carried.ts';
import { contradicted, samePlace } from './contradictions.ts';
import {
  QUESTIONS,
  questionsOf,
  recheck,
  tieWaits,
  whichCheck,
  whichFault,
  type Row,
} from './questions.ts';
import { RECAP_FROM, recaps, thingsIn } from './recaps.ts';
import { stationOf } from './wording.ts';

/**
 * What one utterance makes happen: its statements, the questions they close,
 * what they order, and the questions they raise, in that order. Pure. "finish"
 * is left to the session, which first has to know what is open.
 */
export function happeningsOf(
  reading: Reading,
  book: Book,
  catalogue: Catalogue,
  rows: readonly Row[] = QUESTIONS,
): readonly Happening[] {
  const { statements, scene } = reading;
  // What is ordered comes right after the order, so that "resume, belts good" counts.
  let held = book.held;
  let aside = book.aside;
  let moment = book.moment;
  const done: Happening[] = [];
  const counting: Statement[] = [];
  for (const statement of statements) {
    if (held && moment && goesOn(statement)) {
      done.push({ kind: 'resumed', how: 'went-on' });
      held = false;
      aside = false;
    }
    done.push({ kind: 'stated', statement }, ...ordered(statement, book, held));
    const before = held;
    held = heldAfter(statement, held);
    moment = momentAfter(statement, before, moment);
    aside = held && (aside || !before);
    if (!aside || isKept(statement, catalogue) || isRating(statement, book))
      counting.push(statement);
  }
  const closed = closedBy(counting, book, catalogue, scene.talk.waiting);
  const raised = [
    ...raisedBy(counting, book, catalogue, rows),
    ...(held ? [] : recheckHere(book, catalogue, scene.station, statements)),
    ...(held ? [] : whatWaited(reading, book, catalogue)),
  ];
  // The pilot went on to something else that now wants asking: the older
  // question keeps its place on the list and is not pressed.
  const passedOver: Happening[] =
    book.current !== null && raised.length > 0 && !closed.some((c) => c.question === book.current)
      ? [{ kind: 'question-closed', question: book.current, how: 'unanswered' }]
      : [];
  return [
    ...done,
    ...closed,
    ...passedOver,
    ...raised.map((question): Happening => ({ kind: 'asked', question })),
  ];
}

function heldAfter(statement: Statement, held: boolean): boolean {
  if (statement.kind !== 'command') return held;
  return statement.command === 'hold' || (held && statement.command !== 'resume');
}

/** "Hang on", and then "hold": the longer one stands. */
function momentAfter(statement: Statement, held: boolean, moment: boolean): boolean {
  if (statement.kind !== 'command' || statement.command !== 'hold') return moment;
  return statement.moment === true && (moment || !held);
}

/**
 * Whether a statement ends a hold that was asked for as a moment: a plain result at a check of this
 * aircraft, or a walk to a station. Most who say "hang on" say no "resume", and a walk that stays held
 * counts nothing of what follows; the other mistake is a verdict told to somebody else on the telephone
 * with this aircraft's names, in the present, with nothing that marks it as talk.
 */
function goesOn(statement: Statement): boolean {
  if (statement.kind === 'arrival') return true;
  return (
    statement.kind === 'observation' &&
    statement.force === 'result' &&
    statement.doubtful === null &&
    (statement.about.kind === 'check' || statement.about.kind === 'station')
  );
}

/**
 * What is said while the walk is held is talk with somebody else: it counts for
 * nothing and is not asked about. A fault is kept all the same (R4).
 */
function isKept(statement: Statement, catalogue: Catalogue): boolean {
  const said = statement.kind === 'two-candidates' ? statement.said : statement;
  return said.kind === 'observation' && isFinding(catalogue, checkAbout(catalogue, said), said);
}

/**
 * How bad a fault is that was kept in a hold was asked, so its answer is for us. A good, or a
 * "nothing", may be said to somebody else, and clears no fault before the walk goes on.
 */
function isRating(statement: Statement, book: Book): boolean {
  const asked = book.questions.get(book.current ?? '');
  return statement.kind === 'rating' && statement.of === asked?.about;
}

/** What a statement orders or sets, beside having been said. */
function ordered(statement: Statement, book: Book, held: boolean): readonly Happening[] {
  if (statement.kind === 'circumstance') {
    const { circumstance, holds } = statement;
    return [{ kind: 'circumstance-set', circumstance, holds }];
  }
  if (statement.kind === 'retraction') {
    const of = book.statements.get(statement.of);
    if (of?.kind !== 'circumstance') return [];
    return [{ kind: 'circumstance-set', circumstance: of.circumstance, holds: !of.holds }];
  }
  if (statement.kind !== 'command') return [];
  if (statement.command === 'hold' && (!held || (book.moment && statement.moment !== true)))
    return [{ kind: 'held', why: 'said', ...(statement.moment === true ? { moment: true } : {}) }];
  if (statement.command === 'resume' && held) return [{ kind: 'resumed' }];
  return [];
}

type Closed = Extract<Happening, { kind: 'question-closed' }>;

function closedBy(
  statements: readonly Statement[],
  book: Book,
  catalogue: Catalogue,
  waiting: readonly Observation[],
): readonly Closed[] {
  return [...book.questions.values()].flatMap((question): Closed[] => {
    const items = question.kind === 'recap' ? question.items : undefined;
    if (items !== undefined && !items.some((i) => waiting.some((o) => o.id === i.statement))) {
      const told = statements.some((s) => s.kind === 'observation' && s.answers === question.id);
      return [
        { kind: 'question-closed', question: question.id, how: told ? 'answered' : 'withdrawn' },
      ];
    }
    let latest = book.lastFinding;
    for (const statement of statements) {
      // "Left skid tube is dented. Note it.": of the fault that was told just before it.
      if (isKept(statement, catalogue)) latest = statement.id;
      const how = closes(statement, question, book, catalogue, latest);
      if (how !== null) return [{ kind: 'question-closed', question: question.id, how }];
    }
    return [];
  });
}

/** Whether a statement answers an open question or makes it idle. */
function closes(
  statement: Statement,
  question: Question,
  book: Book,
  catalogue: Catalogue,
  latest: string | null,
): 'answered' | 'withdrawn' | null {
  switch (statement.kind) {
    case 'retraction':
      return statement.of === question.about ? 'withdrawn' : null;
    case 'rating':
      return question.kind === 'severity' && (statement.of ?? latest) === question.about
        ? 'answered'
        : null;
    case 'observation':
      if (statement.force !== 'result' || statement.doubtful !== null) return null;
      if (statement.answers === question.id) return 'answered';
      // Told more of, a fault is still to be rated.
      if (
        statement.amends === question.about &&
        isUnratedStill(statement, question, book, catalogue)
      )
        return null;
      if (statement.amends === question.about) return 'answered';
      if (question.kind === 'recheck' && statement.compared !== null) {
        return carriedMeant(statement, book.squawks)?.squawk === question.about ? 'answered' : null;
      }
      return overtakes(statement, question, book, catalogue) ? 'withdrawn' : null;
    default:
      return null;
  }
}

/** Whether a fault was told anew, and how bad it is is open as before. */
function isUnratedStill(
  said: Observation,
  question: Question,
  book: Book,
  catalogue: Catalogue,
): boolean {
  const check = checkAbout(catalogue, said);
  const before = book.statements.get(question.about);
  // Said to be another fault, or at another check, it is asked about by its new name.
  return (
    question.kind === 'severity' &&
    before?.kind === 'observation' &&
    isSameFault(said, before) &&
    said.severity === null &&
    said.usual === undefined &&
    isFinding(catalogue, check, said) &&
    proposedSeverity(catalogue, check, said) === null
  );
}

/** Said again and in full without waiting to be asked: "both brake lines good", "six quarts". */
function overtakes(
  statement: Extract<Statement, { kind: 'observation' }>,
  question: Question,
  book: Book,
  catalogue: Catalogue,
): boolean {
  const asked = book.statements.get(question.about);
  if (asked?.kind !== 'observation' || asked.about.kind !== 'check') return false;
  const about = statement.about;
  if (about.kind !== 'check' || about.check !== asked.about.check) return false;
  if (question.kind === 'which-instance') {
    const check = checkAbout(catalogue, statement);
    const full =
      about.which.how === 'all' || (about.which.how === 'plural' && check?.repeat?.plural);
    return full === true && !asked.conditions.some((c) => c.present);
  }
  if (question.kind === 'polarity') {
    // A contradiction is settled when the fault is said again.
    const check = checkAbout(catalogue, asked);
    if (asked.doubtful === null) return isFinding(catalogue, check, statement);
    // A doubt that spoke of no fault is settled by saying it clearly.
    return asked.verdict?.good !== false && !asked.conditions.some((c) => c.present);
  }
  if (question.kind === 'unit' || question.kind === 'value') {
    return statement.values.some((v) => v.trouble === null);
  }
  return false;
}

/** Questions that these statements raise and that are not open already. */
function raisedBy(
  statements: readonly Statement[],
  book: Book,
  catalogue: Catalogue,
  rows: readonly Row[],
): readonly Question[] {
  const rated = new Set(book.rated);
  let latest = book.lastFinding;
  for (const s of statements) {
    if (s.kind === 'observation') latest = s.id;
    if (s.kind === 'rating') {
      const of = s.of ?? latest;
      if (of !== null) rated.add(of);
    }
  }
  // Corrected or taken back in the same breath: nothing is left to ask.
  const idle = new Set(
    statements.flatMap((s) =>
      s.kind === 'retraction'
        ? [s.of]
        : s.kind === 'observation' && s.amends !== null
          ? [s.amends]
          : [],
    ),
  );
  const known = [...book.statements.values()];
  const raised = statements
    .flatMap((s, i) =>
      idle.has(s.id)
        ? []
        : [
            ...questionsOf(s, { catalogue, rated, rows }),
            ...contradicted(s, [...known, ...statements.slice(0, i)], book, catalogue),
          ],
    )
    .filter((q) => !book.questions.has(q.id) && !isAskedAlready(q, statements, book));
  return inOneGo(raised, statements, catalogue);
}

/** Doubts about several checks out of the same words are one question: at which of them. */
function inOneGo(
  raised: readonly Question[],
  statements: readonly Statement[],
  catalogue: Catalogue,
): readonly Question[] {
  const doubts = new Map(
    statements.flatMap((s) =>
      s.kind === 'observation' && s.doubtful !== null && isIll(s) ? [[s.id, s] as const] : [],
    ),
  );
  const rivals = raised.flatMap((q) => (q.kind === 'polarity' ? (doubts.get(q.about) ?? []) : []));
  const checks = new Set(rivals.map((s) => (s.about.kind === 'check' ? s.about.check : '')));
  const asked =
    checks.size < 2 || checks.size < rivals.length ? null : whichFault(catalogue, rivals);
  if (asked === null) return raised;
  const gone = new Set(rivals.map((s) => s.id));
  return [asked, ...raised.filter((q) => q.kind !== 'polarity' || !gone.has(q.about))];
}

const isIll = (s: Observation): boolean =>
  s.conditions.some((c) => c.present) || s.verdict?.good === false;

/**
 * Whether the same is open already: a doubt about a check that was asked about and not
 * answered is on the list, and asking again at every mention would only interrupt.
 */
function isAskedAlready(
  { kind, about }: Question,
  statements: readonly Statement[],
  book: Book,
): boolean {
  if (kind === 'severity') return isRatedAlready(about, statements, book);
  if (kind !== 'polarity') return false;
  const checkOf = (s: Statement | undefined): string | null =>
    s?.kind === 'observation' && s.doubtful !== null && s.about.kind === 'check'
      ? s.about.check
      : null;
  const own = checkOf(statements.find((s) => s.id === about));
  return (
    own !== null &&
    [...book.questions.values()].some(
      (q) => q.kind === 'polarity' && checkOf(book.statements.get(q.about)) === own,
    )
  );
}

/**
 * Whether the same fault at the same place has its severity, or is being asked for it: said
 * twice it is one finding, and a second answer would change nothing. More of it is asked anew.
 */
function isRatedAlready(about: string, statements: readonly Statement[], book: Book): boolean {
  const said = statements.find((s) => s.id === about);
  if (said?.kind !== 'observation') return false;
  return [...book.statements.values()].some(
    (s) =>
      s.kind === 'observation' &&
      s.force === 'result' &&
      s.doubtful === null &&
      !book.retracted.has(s.id) &&
      !book.amended.has(s.id) &&
      (book.rated.has(s.id) || book.questions.has(`${s.id}/severity`)) &&
      isSameFault(said, s),
  );
}

function isSameFault(now: Observation, before: Observation): boolean {
  if (now.about.kind !== 'check' || before.about.kind !== 'check') return false;
  if (now.about.check !== before.about.check || !samePlace(now, before)) return false;
  if (now.values.length + before.values.length > 0 || now.compared !== null) return false;
  const known = before.conditions.filter((c) => c.present);
  const present = now.conditions.filter((c) => c.present);
  // A fault that no word names is no other one than what stands there.
  if (present.length === 0) return known.length > 0 || before.verdict?.good === false;
  return present.every((c) => known.some((k) => k.condition === c.condition && !isMore(c, k)));
}

/** Orders at which what waits is asked about, wherever it stands. */
const ASKING: ReadonlySet<string> = new Set(['left', 'left-here', 'next', 'finish']);

/**
 * What was said and is not sure enough to count, and is no finding: asked about in one go
 * when its station is left, or at "what's left". Each once.
 */
function whatWaited(
  { scene, statements }: Reading,
  book: Book,
  catalogue: Catalogue,
): readonly Question[] {
  const before = book.scene.station;
  const ordered = statements.some((s) => s.kind === 'command' && ASKING.has(s.command));
  const gone = before !== null && scene.station !== before;
  if (!ordered && !gone) return [];
  const fresh = new Set(statements.map((s) => s.id));
  const at = (check: string): string | null => stationOf(catalogue, check);
  const due = scene.talk.waiting.filter(
    (o) =>
      !book.recapped.has(o.id) &&
      !fresh.has(o.id) &&
      o.about.kind === 'check' &&
      (ordered || at(o.about.check) === before),
  );
  const worth = ordered || thingsIn(catalogue, due) >= RECAP_FROM;
  const recapped = worth ? recaps(catalogue, due) : [];
  const ties = [...book.statements.values()].flatMap((s) =>
    s.kind === 'two-candidates' &&
    tieWaits(s) &&
    !book.amended.has(s.id) &&
    !book.retracted.has(s.id) &&
    !book.recapped.has(s.id) &&
    !statements.some((x) => x.kind === 'observation' && x.amends === s.id) &&
    (ordered || s.candidates.some((c) => at(c.check) === before))
      ? [whichCheck(s, catalogue)]
      : [],
  );
  return [...recapped, ...ties];
}

/**
 * Squawks carried into the walk whose station has been reached and that nobody
 * has spoken about, in these statements or earlier.
 */
export function recheckHere(
  book: Book,
  catalogue: Catalogue,
  station: string | null,
  statements: readonly Statement[],
): readonly Question[] {
  if (station === null) return [];
  const waiting = book.squawks.filter(
    (s) => !book.rechecked.has(s.squawk) && stationOf(catalogue, s.check) === station,
  );
  if (waiting.length === 0) return [];
  const spoken = new Set(
    [...book.statements.values(), ...statements].flatMap((s) =>
      s.kind === 'observation' ? (carriedMeant(s, book.squawks)?.squawk ?? []) : [],
    ),
  );
  return waiting.filter((s) => !spoken.has(s.squawk)).map((s) => recheck(catalogue, s));
}
