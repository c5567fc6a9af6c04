import type { Catalogue } from '#shared/catalogue';
import type { Circumstance } from '#shared/circumstance';
import type { Event, ReadBy } from '#shared/event';
import type { Heard } from '#shared/heard';
import type { Question } from '#shared/question';
import { FIRST_SCENE, type Scene } from '#shared/scene';
import type { Observation, Statement } from '#shared/statement';
import { isFinding } from '#shared/abnormal';
import { isHappening } from '#shared/sign';
import { checkOf } from './wording.ts';
import type { Window } from './gate.ts';

/**
 * What a session has to remember of its walk. Everything in it follows from the
 * events alone, so that a walk opened again goes on as if it had never stopped.
 */
export interface Book {
  begun: boolean;
  /** Device that began it; what another one that was let in does is not done here. */
  device: string | null;
  /** Who walks; what is learned is learned of them. */
  pilot: string | null;
  held: boolean;
  /** Held because the speaker turned to somebody else: what is said then is not for us. */
  aside: boolean;
  /** Held for a moment only: the next plain result goes on. */
  moment: boolean;
  /** "Finish" was said and is not yet recorded as done. */
  finishing: boolean;
  finished: boolean;
  /** "Discard this walk" was said once, and is done when it is said again or answered with yes. */
  discardAsked: boolean;
  discarding: boolean;
  discarded: boolean;
  decided: boolean;
  signed: boolean;
  /** Latest time in the walk, seconds, and the device's clock then. */
  t: number;
  at: number;
  /** Utterances that are in the log, and those of them that have not been read. */
  readonly heard: Set<string>;
  readonly unread: Map<string, Heard>;
  /** What was said, by utterance. */
  readonly words: Map<string, string>;
  readonly statements: Map<string, Statement>;
  /** Statements that a later one amends or takes back (R6). */
  readonly amended: Set<string>;
  readonly retracted: Set<string>;
  /** Statements whose finding has been rated, and findings placed by hand. */
  readonly rated: Set<string>;
  readonly placed: Set<string>;
  lastFinding: string | null;
  /** Questions that are open, oldest first, and which of them the pilot was asked last. */
  readonly questions: Map<string, Question>;
  current: string | null;
  /** Questions whose answer did not come while they were asked: not asked again by themselves. */
  readonly lapsed: Set<string>;
  readonly windows: Window[];
  readonly circumstances: Map<Circumstance, boolean>;
  /** Carried squawks that have a check, and those already asked about. */
  readonly squawks: { squawk: string; check: string; text: string }[];
  readonly rechecked: Set<string>;
  /** Which reader read it last; null while nobody said. */
  reader: ReadBy | null;
  /** Statements that waited and have been asked about. */
  readonly recapped: Set<string>;
  scene: Scene;
}

export function emptyBook(): Book {
  return {
    begun: false,
    device: null,
    pilot: null,
    held: false,
    aside: false,
    moment: false,
    finishing: false,
    finished: false,
    discardAsked: false,
    discarding: false,
    discarded: false,
    decided: false,
    signed: false,
    t: 0,
    at: 0,
    heard: new Set(),
    unread: new Map(),
    words: new Map(),
    statements: new Map(),
    amended: new Set(),
    retracted: new Set(),
    rated: new Set(),
    placed: new Set(),
    lastFinding: null,
    questions: new Map(),
    current: null,
    lapsed: new Set(),
    windows: [],
    circumstances: new Map(),
    squawks: [],
    rechecked: new Set(),
    reader: null,
    recapped: new Set(),
    scene: FIRST_SCENE,
  };
}

/** What concerns only the device that wrote it. */
const ITS_OWN: ReadonlySet<string> = new Set(['held', 'resumed', 'station-set', 'spoken']);

/** What the book needs beside the event: the catalogue, and how the scene follows a statement. */
export interface Means {
  readonly catalogue: Catalogue;
  follow(scene: Scene, statement: Statement): Scene;
  /** The scene once an utterance is in the log. */
  hear?(scene: Scene, heard: Heard): Scene;
}

/**
 * Enters one event. The same events in the same order always make the same book.
 *
 * @param own this device: of another one's events what it said is entered, and
 *   neither its hold, its station, its voice nor its orders
 */
export function enter(book: Book, event: Event, means: Means, own: string | null = null): void {
  book.t = Math.max(book.t, event.t ?? 0);
  book.at = event.at;
  const what = event.what;
  if (own !== null && event.device !== own && ITS_OWN.has(what.kind)) return;
  if (own !== null && event.device !== own && what.kind === 'stated') {
    const { finishing, discardAsked, discarding } = book;
    enterStatement(book, what.statement, means);
    Object.assign(book, { finishing, discardAsked, discarding });
    return;
  }
  switch (what.kind) {
    case 'walk-begun':
      book.begun = true;
      book.device = event.device;
      book.reader = what.reader ?? null;
      book.pilot = what.pilot;
      for (const c of what.circumstances) book.circumstances.set(c, true);
      for (const s of what.squawks) {
        if (s.check !== null) book.squawks.push({ ...s, check: s.check });
      }
      book.scene = { ...book.scene, squawked: book.squawks.map((s) => s.check) };
      return;
    case 'heard':
      book.heard.add(what.heard.id);
      book.unread.set(what.heard.id, what.heard);
      book.words.set(what.heard.id, what.heard.text);
      book.scene = means.hear?.(book.scene, what.heard) ?? book.scene;
      return;
    case 'stated':
      enterStatement(book, what.statement, means);
      return;
    case 'asked':
      book.questions.set(what.question.id, what.question);
      if (what.question.kind === 'recheck') book.rechecked.add(what.question.about);
      for (const item of what.question.items ?? []) book.recapped.add(item.statement);
      if (what.question.kind === 'which-check') book.recapped.add(what.question.about);
      seat(book);
      return;
    case 'question-closed':
      if (what.how === 'unanswered') book.lapsed.add(what.question);
      else book.questions.delete(what.question);
      if (book.current === what.question) book.current = null;
      seat(book);
      return;
    case 'spoken':
      // Told when our voice begins (no end yet) and again when it ends: one window.
      book.windows.splice(
        0,
        book.windows.length,
        ...book.windows.filter((w) => w.from !== what.from),
        {
          from: what.from,
          to: what.to,
        },
      );
      return;
    case 'circumstance-set':
      book.circumstances.set(what.circumstance, what.holds);
      return;
    case 'station-set':
      book.scene = { ...book.scene, station: what.station };
      return;
    case 'held':
      book.held = true;
      book.aside = what.why !== 'hidden' && what.why !== 'sound-lost';
      book.moment = what.moment === true;
      return;
    case 'resumed':
      book.held = false;
      book.aside = false;
      book.moment = false;
      return;
    case 'reader-changed':
      book.reader = what.reader;
      return;
    case 'finding-placed':
      book.placed.add(what.statement);
      return;
    case 'finished':
      book.finished = true;
      book.finishing = false;
      return;
    case 'discarded':
      book.discarded = true;
      book.discarding = false;
      return;
    case 'decided':
      book.decided = true;
      return;
    case 'signed':
      book.signed = true;
      return;
    // The rest does not bear on how the walk goes on.
    case 'listening-changed':
    case 'sound-kept':
    case 'sound-missing':
    case 'sound-erased':
    case 'picture-kept':
    case 'picture-erased':
    case 'brought-back':
    case 'reviewed':
    case 'sealed':
    case 'squawk':
    case 'let-in':
    case 'learned':
    case 'unlearned':
    case 'amendment':
  }
}

function enterStatement(book: Book, statement: Statement, means: Means): void {
  book.unread.delete(statement.heard);
  book.statements.set(statement.id, statement);
  if (statement.kind === 'command' && statement.command === 'finish') book.finishing = true;
  enterDiscard(book, statement);
  if (statement.kind === 'retraction') book.retracted.add(statement.of);
  if (statement.kind === 'rating') {
    const of = statement.of ?? book.lastFinding;
    if (of !== null) book.rated.add(of);
  }
  if (statement.kind === 'observation') {
    const check = checkAbout(means.catalogue, statement);
    if (statement.amends !== null && statement.force === 'result' && statement.doubtful === null) {
      book.amended.add(statement.amends);
    }
    if (isFinding(means.catalogue, check, statement)) book.lastFinding = statement.id;
    if (statement.severity !== null) book.rated.add(statement.id);
  }
  book.scene = { ...means.follow(book.scene, statement), ...askedIn(book) };
}

/** Anything but a yes or the order again is a no. */
function enterDiscard(book: Book, statement: Statement): void {
  const order = statement.kind === 'command' ? statement.command : null;
  book.discarding = book.discardAsked && (order === 'discard' || order === 'yes');
  book.discardAsked = order === 'discard' && !book.discarding;
}

/** Gives the floor to the next question that has not lapsed, when nobody has it. */
function seat(book: Book): void {
  if (book.current === null) {
    for (const id of book.questions.keys()) {
      if (book.lapsed.has(id)) continue;
      book.current = id;
      break;
    }
  }
  book.scene = { ...book.scene, ...askedIn(book) };
}

/** The question that has the floor, and those that were put aside, for the scene. */
export function askedIn({ current, questions }: Book): Pick<Scene, 'question' | 'aside'> {
  return {
    question: current === null ? null : (questions.get(current) ?? null),
    aside: [...questions.values()].filter((q) => q.id !== current),
  };
}

export function checkAbout(catalogue: Catalogue, said: Observation) {
  return said.about.kind === 'check' ? checkOf(catalogue, said.about.check) : null;
}

/**
 * Findings whose check is unclear and that nobody has placed, oldest first: the
 * walk cannot be signed while there is one (R4).
 */
export function unplacedIn(book: Book, catalogue: Catalogue): readonly string[] {
  const gone = (id: string) =>
    book.retracted.has(id) || book.amended.has(id) || book.placed.has(id);
  return [...book.statements.values()].flatMap((s) => {
    if (s.kind === 'two-candidates') {
      return !gone(s.id) && isFinding(catalogue, null, s.said) ? [s.id] : [];
    }
    if (s.kind !== 'observation' || gone(s.id)) return [];
    const placed =
      (s.about.kind === 'check' && checkAbout(catalogue, s) !== null) ||
      isHappening(
        catalogue,
        s.conditions.filter((c) => c.present),
      );
    return !placed && isFinding(catalogue, null, s) ? [s.id] : [];
  });
}
