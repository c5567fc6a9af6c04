import type { Catalogue } from '#shared/catalogue';
import type { Circumstance } from '#shared/circumstance';
import type { Decision, Draft, Event, Happening } from '#shared/event';
import type { Heard } from '#shared/heard';
import type { Log, World } from '#shared/log';
import type { Question } from '#shared/question';
import type { Reader, Reading } from '#shared/reader';
import type { Scene } from '#shared/scene';
import type { Statement } from '#shared/statement';
import { askedIn, emptyBook, enter, unplacedIn, type Means } from './book.ts';
import { happeningsOf, recheckHere } from './drafts.ts';
import { isOwnVoice } from './gate.ts';
import type { Row } from './questions.ts';
import { calledBy, taughtBy } from './taught.ts';
import { unreadable } from './unreadable.ts';

/** What a session is made of. */
export interface Parts {
  readonly catalogue: Catalogue;
  readonly reader: Reader;
  readonly log: Log;
  readonly world: World;
  /** Id of the walk; a new one when left out. */
  readonly walk?: string;
  /** Told of every event as soon as it is durable, before the call that made it resolves. */
  readonly onEvents?: (events: readonly Event[]) => void;
  /** Checks that are open now, for `finished`; called after onEvents. */
  readonly open?: () => readonly string[];
  /** This device. Where another one began the walk and let this one in, it adds, and does not end the walk. Left out: all of it is of one device. */
  readonly device?: string;
  /** What asks about a statement; left out: `QUESTIONS`. */
  readonly asks?: readonly Row[];
  /** Further events that a statement demands, such as a squawk that was dictated. */
  readonly also?: (statement: Statement, heard: Heard) => readonly Happening[];
}

export type Beginning = Omit<Extract<Happening, { kind: 'walk-begun' }>, 'kind' | 'catalogue'>;

/** Who called the walk finished; 'end-of-file' when nobody did and its file ended. */
export type FinishedHow = NonNullable<Extract<Happening, { kind: 'finished' }>['how']>;

/** What came of one call. */
export interface Happened {
  readonly events: readonly Event[];
  readonly statements: readonly Statement[];
  readonly scene: Scene;
  /** The question that has the floor now; null when there is none. */
  readonly question: Question | null;
  /** The question that got the floor by this call, to be spoken once; null when none did. */
  readonly asked: Question | null;
  /** Kept in the log and not read: our own voice (R11), or delivered twice. */
  readonly dropped: 'own-voice' | 'repeated' | null;
  /** One sentence when it was not done. */
  readonly refused: string | null;
}

export interface Session {
  readonly walk: string;
  scene(): Scene;
  question(): Question | null;
  /** Words that could not be written yet, such as with a full disk; they go first next time. */
  unkept(): readonly Heard[];
  begin(how: Beginning): Promise<Happened>;
  hear(heard: Heard): Promise<Happened>;
  /** Our own voice sounded, seconds since the walk began (R11). */
  spoke(text: string, from: number, to: number | null): Promise<Happened>;
  /** Nobody answered; the question stays on the list of what is open. */
  unanswered(question: string): Promise<Happened>;
  hold(why: Extract<Happening, { kind: 'held' }>['why']): Promise<Happened>;
  resume(): Promise<Happened>;
  finish(how?: { how: FinishedHow }): Promise<Happened>;
  /** Throws the walk away, unfinished; its words stay in the log. */
  discard(how: 'said' | 'touched', why: string | null): Promise<Happened>;
  decide(
    decision: Decision,
    by: string,
    authority?: string | null,
    note?: string | null,
  ): Promise<Happened>;
  sign(name: string, certificate?: string | null): Promise<Happened>;
  place(
    statement: string,
    check: string,
    instances: readonly string[],
    by: string,
  ): Promise<Happened>;
  setCircumstance(circumstance: Circumstance, holds: boolean): Promise<Happened>;
  setStation(station: string): Promise<Happened>;
  review(
    by: string,
    note: string,
    of: Extract<Happening, { kind: 'reviewed' }>['of'],
  ): Promise<Happened>;
  /** Any other event of this walk, such as sound that was kept. */
  note(happening: Happening): Promise<Happened>;
  /** Takes a walk up again from its events, and reads what had been kept but not read. */
  reopen(events: readonly Event[]): Promise<Happened>;
  /** Seconds since the walk began. */
  time(): number;
}

/** Recognisers that run at the pace of their file: its times are the walk's times. */
const TIMED_BY_FILE: ReadonlySet<Heard['by']> = new Set(['transcript', 'sound-file', 'scripted']);

const SIGNED =
  'This walk is signed: nothing changes it any more. Say what has to be added in its debrief, or begin a new walk.';
const DISCARDED = 'This walk was discarded: nothing is added to it any more. Begin a new walk.';
const FINISHED = 'This walk is finished: it is decided and signed, and not discarded any more.';
const GUEST =
  'This walk was begun on another device, which finishes, decides and signs it. Hand over what was said here, and it is counted there.';
const UNWRITTEN =
  'Words that were heard wait to be written; free some space on this device, then sign.';

/**
 * Runs one walk: everything heard is written and durable before it is read or
 * answered (R10). Calls are done one after the other, in the order they came.
 */
export function createSession(parts: Parts): Session {
  const { catalogue, reader, log, world } = parts;
  const walk = parts.walk ?? world.id();
  const book = emptyBook();
  const unkept: Heard[] = [];
  const own = parts.device ?? null;
  const isGuest = () => own !== null && book.device !== null && book.device !== own;
  /** In the utterance that is being read something was asked that is not for a guest. */
  let asked = false;
  let aircraft: string | null = null;
  /** What to add to the steady clock to get seconds since the walk began. */
  let offset: number | null = null;
  let last: Promise<unknown> = Promise.resolve();
  const means: Means = {
    catalogue,
    follow: (scene, said) => reader.follow(scene, said),
    hear: (scene, heard) => reader.hear?.(scene, heard) ?? scene,
  };

  function inTurn(work: () => Promise<Happened>): Promise<Happened> {
    const next = last.then(work);
    last = next.catch(() => undefined);
    return next;
  }

  function clock(): number {
    if (offset === null) return 0;
    return Math.max(book.t, Math.round((world.steady() + offset) * 1000) / 1000);
  }

  function draft(what: Happening, t: number): Draft {
    return { v: 1, id: world.id(), walk, aircraft, at: world.now(), t, what };
  }

  async function append(happenings: readonly Happening[], t = clock()): Promise<readonly Event[]> {
    if (happenings.length === 0) return [];
    const events = await log.append(happenings.map((what) => draft(what, t)));
    for (const event of events) enter(book, event, means, own);
    parts.onEvents?.(events);
    return events;
  }

  function happened(events: readonly Event[], before: string | null, more: Partial<Happened> = {}) {
    const question = current();
    return {
      events,
      statements: events.flatMap((e) => (e.what.kind === 'stated' ? [e.what.statement] : [])),
      scene: book.scene,
      question,
      asked: question !== null && question.id !== before ? question : null,
      dropped: null,
      refused: null,
      ...more,
    };
  }

  function current(): Question | null {
    return book.current === null ? null : (book.questions.get(book.current) ?? null);
  }

  /** What is signed is final: what comes after it is refused, in words. */
  function ifOpen(work: () => Promise<Happened>): Promise<Happened> {
    return inTurn(async () =>
      book.signed ? refuse(SIGNED) : book.discarded ? refuse(DISCARDED) : work(),
    );
  }

  /** What ends the walk is for the device that began it. */
  function ifOwn(work: () => Promise<Happened>): Promise<Happened> {
    return ifOpen(async () => (isGuest() ? refuse(GUEST) : work()));
  }

  /** "Finish" or "discard" said on a device that was let in: told, and not done. */
  function notByGuest(): boolean {
    if (!isGuest() || !(book.finishing || book.discarding)) return false;
    book.finishing = false;
    book.discarding = false;
    return true;
  }

  function simply(happenings: readonly Happening[]): Promise<Happened> {
    return inTurn(async () => {
      const before = book.current;
      return happened(await append(happenings), before);
    });
  }

  function refuse(sentence: string): Happened {
    return happened([], book.current, { refused: sentence });
  }

  /**
   * Time of an utterance in the walk: its begin as its source gives it. A live
   * source cannot have heard anything later than now.
   */
  function timeOf(heard: Heard): number {
    if (heard.from === null) return clock();
    const latest = TIMED_BY_FILE.has(heard.by) ? heard.from : Math.min(heard.from, clock());
    return Math.max(book.t, latest);
  }

  async function read(heard: Heard, t: number): Promise<readonly Event[]> {
    if (isOwnVoice(heard, book.windows)) {
      book.unread.delete(heard.id);
      return [];
    }
    let reading: Reading;
    try {
      reading = reader.read(heard, book.scene);
    } catch (error) {
      // The words are in the log already; the sheet has to show that they were not read.
      reading = { statements: [unreadable(heard, error)], scene: book.scene };
    }
    const happenings = happeningsOf(reading, book, catalogue, parts.asks);
    const also = reading.statements.flatMap((s) => parts.also?.(s, heard) ?? []);
    const taught = taughtBy(reading, book, catalogue);
    const events = [...(await append([...happenings, ...also, ...taught], t))];
    book.unread.delete(heard.id);
    book.scene = { ...reading.scene, ...askedIn(book), squawked: book.scene.squawked };
    asked ||= notByGuest();
    if (book.finishing) events.push(...(await append([finished('said')], t)));
    if (book.discarding) {
      // A finished walk is not thrown away by a sentence; the order is forgotten.
      if (book.finished) book.discarding = false;
      else events.push(...(await append([{ kind: 'discarded', how: 'said', why: null }], t)));
    }
    return events;
  }

  /** A newer version goes on with the walk: what is read from here on is read by another reader. */
  function readerChanged(): Happening[] {
    const { by } = reader;
    const was = book.reader;
    if (by === undefined || book.signed || !book.begun) return [];
    if (was !== null && was.version === by.version && was.weights === by.weights) return [];
    return [{ kind: 'reader-changed', reader: by }];
  }

  function finished(how: FinishedHow): Happening {
    return { kind: 'finished', open: [...(parts.open?.() ?? [])], how };
  }

  function hear(heard: Heard): Promise<Happened> {
    return ifOpen(async () => {
      const before = book.current;
      asked = false;
      if (book.heard.has(heard.id)) return happened([], before, { dropped: 'repeated' });
      if (!unkept.some((h) => h.id === heard.id)) unkept.push(heard);
      const events: Event[] = [];
      let own = false;
      while (unkept[0] !== undefined) {
        const next = unkept[0];
        const t = timeOf(next);
        // R10: throws when it cannot be written; the words then wait in `unkept`.
        events.push(...(await append([{ kind: 'heard', heard: next }], t)));
        unkept.shift();
        own = isOwnVoice(next, book.windows);
        events.push(...(await read(next, t)));
      }
      return happened(events, before, {
        dropped: own ? 'own-voice' : null,
        refused: asked ? GUEST : null,
      });
    });
  }

  function reopen(events: readonly Event[]): Promise<Happened> {
    return inTurn(async () => {
      for (const event of events) {
        aircraft = event.aircraft ?? aircraft;
        enter(book, event, means, own);
      }
      // The steady clock starts anew with the page; the device's clock says how
      // long the walk lay, unless it was set back.
      const lay = Math.max(0, (world.now() - book.at) / 1000);
      offset = book.t + lay - world.steady();
      const before = book.current;
      const added: Event[] = [...(await append(readerChanged(), book.t))];
      // Kept, and then the power went: read now what was not read.
      for (const heard of book.signed ? [] : [...book.unread.values()]) {
        const t = timeOf(heard);
        added.push(...(await read(heard, t)));
      }
      notByGuest();
      if (book.finishing && !book.signed) added.push(...(await append([finished('said')], book.t)));
      return happened(added, before);
    });
  }

  return {
    walk,
    scene: () => book.scene,
    question: current,
    unkept: () => [...unkept],
    time: clock,
    begin: (how) =>
      inTurn(async () => {
        if (book.begun) return refuse('This walk has begun already.');
        aircraft = how.aircraft;
        offset = -world.steady();
        return happened(
          await append([
            {
              kind: 'walk-begun',
              ...how,
              catalogue: catalogue.id,
              ...(reader.by === undefined ? {} : { reader: reader.by }),
            },
          ]),
          null,
        );
      }),
    hear,
    spoke: (text, from, to) => simply([{ kind: 'spoken', text, from, to }]),
    unanswered: (question) =>
      ifOpen(async () => {
        if (!book.questions.has(question)) return refuse('That question is not open any more.');
        const before = book.current;
        return happened(
          await append([{ kind: 'question-closed', question, how: 'unanswered' }]),
          before,
        );
      }),
    hold: (why) =>
      ifOpen(async () => {
        if (book.held) return refuse('The walk is held already.');
        return happened(await append([{ kind: 'held', why }]), book.current);
      }),
    resume: () =>
      ifOpen(async () => {
        if (!book.held) return refuse('The walk is not held.');
        return happened(await append([{ kind: 'resumed' }]), book.current);
      }),
    finish: ({ how } = { how: 'touched' }) =>
      ifOwn(async () => happened(await append([finished(how)]), book.current)),
    discard: (how, why) =>
      ifOwn(async () =>
        book.finished
          ? refuse(FINISHED)
          : happened(await append([{ kind: 'discarded', how, why }]), book.current),
      ),
    decide: (decision, by, authority = null, note = null) =>
      ifOwn(async () => {
        if (decision === 'defer' && (authority === null || authority.trim() === '')) {
          return refuse('A deferral needs the name of the authorised person who set its limits.');
        }
        return happened(
          await append([{ kind: 'decided', decision, by, authority, note }]),
          book.current,
        );
      }),
    sign: (name, certificate = null) =>
      ifOwn(async () => {
        const unplaced = unplacedIn(book, catalogue);
        if (name.trim() === '') return refuse('A signature needs a name.');
        if (unkept.length > 0) return refuse(UNWRITTEN);
        if (unplaced.length > 0) {
          return refuse(
            unplaced.length === 1
              ? 'One finding has no check yet; place it before signing.'
              : `${unplaced.length} findings have no check yet; place them before signing.`,
          );
        }
        if (!book.decided) return refuse('State the decision before signing.');
        return happened(await append([{ kind: 'signed', name, certificate }]), book.current);
      }),
    place: (statement, check, instances, by) =>
      ifOpen(async () => {
        if (!book.statements.has(statement)) return refuse('That finding is not in this walk.');
        const before = book.current;
        const closed = [...book.questions.values()].filter(
          (q) => q.about === statement && (q.kind === 'place' || q.kind === 'which-check'),
        );
        return happened(
          await append([
            { kind: 'finding-placed', statement, check, instances: [...instances], by },
            ...calledBy(statement, check, book, catalogue),
            ...closed.map((q): Happening => ({
              kind: 'question-closed',
              question: q.id,
              how: 'answered',
            })),
          ]),
          before,
        );
      }),
    setCircumstance: (circumstance, holds) =>
      ifOpen(async () => {
        const before = book.current;
        return happened(await append([{ kind: 'circumstance-set', circumstance, holds }]), before);
      }),
    setStation: (station) =>
      ifOpen(async () => {
        const before = book.current;
        const rechecks = recheckHere(book, catalogue, station, []);
        const events = await append([
          { kind: 'station-set', station },
          ...rechecks.map((question): Happening => ({ kind: 'asked', question })),
        ]);
        return happened(events, before);
      }),
    review: (by, note, of) => simply([{ kind: 'reviewed', by, note, of }]),
    note: (happening) => simply([happening]),
    reopen,
  };
}
