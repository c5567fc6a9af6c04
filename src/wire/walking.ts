import { heardOf, LONGEST_TYPED, realWait, type Ear, type MadePicture, type Wait } from '#capture';
import { createSession, type Happened, type Session } from '#record';
import { coverageOf, start, step } from '#reconcile';
import type {
  BeginRequest,
  EarKind,
  LastHeard,
  Listening,
  Outcome,
  Pulse,
  WalkView,
} from '#screens';
import { replyTo, type Talk, type Voice } from '#speak';
import type { Store } from '#store';
import type { Catalogue } from '#shared/catalogue';
import type { Coverage } from '#shared/coverage';
import type { Event, Happening } from '#shared/event';
import type { Heard } from '#shared/heard';
import type { World } from '#shared/log';
import type { Line } from '#shared/phrasebook';
import type { PictureOf } from '#shared/picture';
import type { Reader } from '#shared/reader';
import type { Replied } from '#shared/replied';
import type { Statement } from '#shared/statement';
import { byHand, putOn, takenBack, type Made } from './by-hand.ts';
import { latelyOf, type Uttered } from './lately.ts';
import { hearingOf, type EarHooks } from './hearing.ts';
import { unkeptSentence } from './unkept.ts';
import type { LastEar } from './last-ear.ts';
import { lastHeard } from './made.ts';
import type { Value } from './live-value.ts';
import { attempt, bad, good } from './outcome.ts';
import { keepPicture } from './pictures.ts';
import { begunIn } from './records.ts';
import { taughtReader } from './taught.ts';
import { unheardOn } from './unheard.ts';
import { openChecks } from './whole-walk.ts';

export interface WalkingParts {
  readonly store: Store;
  readonly world: World;
  readonly catalogue: Catalogue;
  readonly edition: string;
  readonly reader: Reader;
  /** The same reader with a phrasebook, and what was learned before this walk. Left out: nothing is learned. */
  readonly learning?: {
    taught(lines: readonly Line[]): Reader;
    readonly known: readonly Event[];
  };
  readonly walk?: string;
  readonly view: Value<WalkView | null>;
  readonly listening: Value<Listening>;
  readonly pulse: Value<Pulse>;
  talk(): Talk;
  openEar(kind: EarKind, hooks: EarHooks): Promise<Ear>;
  openVoice(walking: VoiceNeeds): Voice;
  readonly wait?: Wait;
  /** How much of what was said gave words, once the walk is left. */
  earWas?(counts: LastEar): void;
  /** The walk was discarded by voice, and the sentence that says so has had its time. */
  over?(): void;
  /** Steps in the life of a squawk that a statement demands. */
  steps(statement: Statement, heard: Heard, carried: Squawks): readonly Happening[];
  /** Findings to be written up when the walk is finished. */
  atFinish(coverage: Coverage, events: readonly Event[], carried: Squawks): readonly Happening[];
}

/** What the voice has to be told, and what it tells. */
export interface VoiceNeeds {
  seconds(): number;
  onSpoken(text: string, from: number, to: number | null): void;
  onReplied(replied: Replied): void;
  onUnanswered(question: string): void;
  onShown(text: string): void;
}

/** One walk in progress, joined to an ear, a voice, the record and the screen. */
export interface Walking {
  readonly session: Session;
  /** How many of its events are of another device than this. */
  foreign(device: string): number;
  begin(request: BeginRequest, edition: string, squawks: Squawks): Promise<Outcome<string>>;
  takeUp(events: readonly Event[], ear: EarKind): Promise<Outcome<string>>;
  /** Words from the keyboard. */
  type(words: string): Promise<Outcome>;
  /** A touch that means a statement, in words that say what was done. */
  touch(words: string, make: (heard: Heard) => Made): Promise<Outcome>;
  /** Takes back an utterance, given by its `heard` event; the last that changed anything where none is given. */
  takeBack(event: string | null): Promise<Outcome>;
  /** Puts what an utterance said on another check. */
  putOn(event: string, check: string): Promise<Outcome>;
  /** Keeps a picture beside the words. Rejects with the sentence of the store. */
  picture(of: PictureOf, made: MadePicture): Promise<void>;
  /** Anything else the session can do; answered like what was said. */
  act(work: () => Promise<Happened>): Promise<Outcome>;
  /** Another source, without losing what is being heard. */
  listenWith(kind: EarKind): Promise<void>;
  /** After a refusal or a loss that the platform tells nobody about. */
  listenAgain(): Promise<void>;
  hush(): void;
  stop(): Promise<void>;
}

export type Squawks = Extract<Happening, { kind: 'walk-begun' }>['squawks'];

/** Seconds that the screen of the walk waits for its ear: a microphone opens in less, a model to be loaded does not. */
const EAR_PATIENCE = 0.4;

/** Seconds for the sentence that a walk was discarded, before its screen goes. */
const LAST_WORDS = 5;

/** After these nothing more is found on the walk: what was is written up (R4). */
const WRITES_UP: ReadonlySet<string> = new Set(['finished', 'discarded']);

/** Seconds between two trials to write what could not be kept: room is made by hand, which takes longer. */
export const TRY_AGAIN = 5;

export function createWalking(parts: WalkingParts): Walking {
  const { catalogue, store, world, view, listening, pulse } = parts;
  let state = start(catalogue, parts.edition);
  let coverage = coverageOf(state);
  let last: LastHeard | null = null;
  /** The last utterances and their statements, oldest first. */
  let uttered: readonly Uttered[] = [];
  let trouble: string | null = null;
  let shown = '';
  /** Told in this hold that nothing counts. */
  let toldHeld = false;
  let aircraft = '';
  /** Left for good: what still comes in is kept, and no longer shown. */
  let stopped = false;
  let begun = world.now();
  let squawks: Squawks = [];
  let retry: (() => void) | null = null;
  const seen: Event[] = [];
  let speaker: string | null = null;
  const taught =
    parts.learning === undefined
      ? null
      : taughtReader(
          (lines) => parts.learning?.taught(lines) ?? parts.reader,
          parts.learning.known,
          {
            aircraft: () => aircraft,
            speaker: () => speaker,
          },
        );
  const hand = byHand(taught?.reader ?? parts.reader);
  const session = createSession({
    catalogue,
    reader: hand.reader,
    log: store,
    world,
    device: store.device,
    ...(parts.walk === undefined ? {} : { walk: parts.walk }),
    onEvents: taken,
    open: () => openChecks(coverage),
    also: (statement, heard) => parts.steps(statement, heard, squawks),
  });
  function taken(events: readonly Event[]): void {
    for (const event of events) state = step(state, event).state;
    seen.push(...events);
    taught?.take(events);
    coverage = coverageOf(state);
  }

  const voice = parts.openVoice({
    seconds: () => session.time(),
    onSpoken(text, from, to) {
      hearing.speaking(to === null);
      void session.spoke(text, from, to).catch(ownNotKept);
    },
    onReplied: (replied) => void session.note({ kind: 'replied', ...replied }).catch(ownNotKept),
    onUnanswered: (question) => void session.unanswered(question).then(show, notKept),
    onShown(text) {
      shown = text;
      show();
    },
  });

  function notKept(error: unknown): void {
    const waiting = troubled(error);
    voice.announce('stopped', trouble ?? '');
    if (waiting) tryLater();
  }

  /**
   * Words of our own that could not be written. Said only when it is news: each
   * alarm is itself words of our own, and would raise two more.
   */
  function ownNotKept(error: unknown): void {
    const known = trouble !== null;
    troubled(error);
    if (!known) voice.announce('stopped', trouble ?? '');
  }

  /** Shows what is wrong; whether words of the pilot wait to be written. */
  function troubled(error: unknown): boolean {
    const why = error instanceof Error ? error.message : String(error);
    const waiting = unkeptSentence(session.unkept().length);
    trouble = waiting === null ? why : `${why} ${waiting}`;
    show();
    return waiting !== null;
  }

  /** Tries to write what waits, until it is written; the pilot is told when it is (R10). */
  function tryLater(): void {
    retry?.();
    retry = (parts.wait ?? realWait)(TRY_AGAIN, () => {
      retry = null;
      const first = session.unkept()[0];
      if (first === undefined) return;
      void act(() => session.hear(first)).then((outcome) => {
        if (session.unkept().length > 0) tryLater();
        else if (outcome.ok) voice.announce('understood', 'What waited is written.');
      });
    });
  }

  function show(): void {
    if (stopped) return;
    view.set({
      id: session.walk,
      aircraft,
      catalogue,
      coverage,
      station: coverage.station,
      begun,
      last,
      lately: uttered.map((u) => u.last),
      question: session.question(),
      squawks,
      trouble,
      shown: shown === '' ? null : shown,
      unkept: session.unkept().map((h) => h.text),
      ...unheard.view(),
      ...(isElsewhere(seen, store.device) ? { guest: true } : {}),
    });
  }

  async function act(work: () => Promise<Happened>): Promise<Outcome> {
    const before = coverage;
    return attempt(async () => {
      const happened = await work();
      if (happened.events.some((e) => e.what.kind === 'discarded' && e.what.how === 'said'))
        (parts.wait ?? realWait)(LAST_WORDS, () => parts.over?.());
      if (happened.events.some((e) => WRITES_UP.has(e.what.kind))) await writeUp();
      trouble = unkeptSentence(session.unkept().length);
      const heard = lastHeard(happened, catalogue, before, coverage);
      last = heard ?? last;
      if (heard !== null) unheard.over();
      uttered = latelyOf(uttered, heard, happened.statements);
      const reply = replyTo(
        happened,
        { before, after: coverage, toldHeld },
        { catalogue, talk: parts.talk() },
      );
      toldHeld = coverage.held && (toldHeld || reply.toldHeld === true);
      voice.reply(reply, heardIn(happened));
      voice.attend(happened.question);
      hearing.expect();
      show();
      return happened.refused === null ? good(null) : bad(happened.refused);
    });
  }

  /** What was found is written up against the aircraft, and looked at again on the next walk. */
  async function writeUp(): Promise<void> {
    for (const squawk of parts.atFinish(coverage, seen, squawks)) await session.note(squawk);
  }

  function take(heard: Heard): void {
    const { take: taken } = voice.admit(heard);
    if (taken !== null) unheard.heard();
    // What is not taken is kept all the same, and dropped by the session (R11).
    void act(() => session.hear(taken ?? heard)).then((outcome) => {
      if (!outcome.ok) notKept(new Error(outcome.error));
    });
  }

  function noted(happening: Happening): void {
    void act(() => session.note(happening));
  }

  /** A call, a locked screen, a pulled plug: the walk is held, and the pilot says when it goes on. */
  function interrupted(
    why: 'hidden' | 'interrupted' | 'sound-lost',
    sentence: string,
    over: boolean,
  ): void {
    if (!over && !coverage.held) void act(() => session.hold(why));
    voice.announce(over ? 'question' : 'stopped', sentence);
  }

  const unheard = unheardOn({
    voice,
    held: () => coverage.held,
    browser: () => {
      const shown = listening.get();
      return shown.ear === 'browser' && !(shown.state === 'listening' && shown.here !== undefined);
    },
    show,
  });

  const hearing = hearingOf({
    seconds: () => session.time(),
    listening,
    pulse,
    held: () => coverage.held,
    scene: () => session.scene(),
    openEar: parts.openEar,
    onHeard: take,
    onNoted: noted,
    onInterruption: interrupted,
    onLost: (notice) => {
      if (!stopped) unheard.lost(notice);
    },
    onTrouble(sentence) {
      trouble = sentence;
      show();
    },
    voice,
  });

  async function opened(kind: EarKind): Promise<Outcome<string>> {
    show();
    const opening = hearing.listenWith(kind);
    const late = await Promise.race([
      opening.then(() => false),
      new Promise<true>((done) => (parts.wait ?? realWait)(EAR_PATIENCE, () => done(true))),
    ]);
    // The walk has begun: touch and typing count while the ear is still being loaded.
    if (late) {
      void opening.catch((error: unknown) => {
        const why = error instanceof Error ? error.message : String(error);
        listening.set({ state: 'deaf', ear: kind, why });
        voice.announce('stopped', why);
      });
    }
    return good(session.walk);
  }

  return {
    session,
    foreign: (device) => seen.filter((e) => e.device !== device).length,
    begin: (request, edition, carried) =>
      attempt(async () => {
        await store.keepCatalogue(edition, catalogue);
        aircraft = request.aircraft;
        speaker = request.pilot;
        begun = world.now();
        squawks = carried;
        const done = await act(() =>
          session.begin({
            aircraft,
            edition,
            circumstances: [...request.circumstances],
            pilot: request.pilot,
            instructor: request.instructor,
            hours: request.hours,
            listening: request.ear,
            squawks: [...carried],
          }),
        );
        return done.ok ? opened(request.ear) : done;
      }),
    takeUp: (events, kind) =>
      attempt(async () => {
        for (const event of events) state = step(state, event).state;
        seen.push(...events);
        coverage = coverageOf(state);
        const what = begunIn(events);
        aircraft = what?.aircraft ?? '';
        speaker = what?.pilot ?? null;
        taught?.take(events);
        squawks = what?.squawks ?? [];
        begun = events[0]?.at ?? begun;
        const done = await act(() => session.reopen(events));
        return done.ok ? opened(kind) : done;
      }),
    type(words) {
      const text = words.replace(/\s+/g, ' ').trim();
      if (text === '') return Promise.resolve(bad('Type what you would say.'));
      if (text.length > LONGEST_TYPED)
        return Promise.resolve(
          bad(
            `That is ${text.length} characters at once; type at most ${LONGEST_TYPED}, or open it as a transcript.`,
          ),
        );
      return act(() => session.hear(typed(text)));
    },
    touch(words, make) {
      const heard = typed(words);
      hand.prepare(heard.id, make);
      return act(() => session.hear(heard));
    },
    takeBack(event) {
      const found =
        event === null ? uttered.findLast(isStanding) : uttered.find((u) => u.last.event === event);
      const done = event === null ? session.scene().talk.done.at(-1) : undefined;
      const of = done?.statements.map((s) => s.id) ?? found?.statements.map((s) => s.id) ?? [];
      const words = done?.words ?? found?.last.words ?? '';
      if (of.length === 0) return Promise.resolve(bad('There is nothing to take back.'));
      return this.touch('take that back, by touch', (heard) => takenBack(heard, of, words));
    },
    putOn(event, id) {
      const found = uttered.find((u) => u.last.event === event);
      const check = catalogue.stations.flatMap((s) => s.checks).find((c) => c.id === id);
      const said = found?.statements.flatMap((s) =>
        s.kind === 'observation'
          ? [s]
          : s.kind === 'two-candidates'
            ? [{ ...s.said, id: s.id }]
            : [],
      )[0];
      if (check === undefined || said === undefined)
        return Promise.resolve(bad('Nothing was said there that could be put on another check.'));
      return this.touch(`${check.name}, by touch`, (heard) => putOn(heard, said, check));
    },
    async picture(of, made) {
      const where = { walk: session.walk, aircraft, t: session.time() };
      taken([await keepPicture(store, world, where, of, made)]);
      show();
    },
    act,
    listenWith: (kind) => hearing.listenWith(kind),
    listenAgain: () => hearing.again(),
    hush: () => voice.hush(),
    async stop() {
      stopped = true;
      retry?.();
      voice.stop();
      await hearing.stop();
      const counts = unheard.counts();
      if (counts.heard + counts.lost > 0) parts.earWas?.(counts);
    },
  };

  function typed(text: string): Heard {
    const now = session.time();
    return heardOf({ id: world.id(), by: 'typed', text, from: now, to: now, confidence: 1 });
  }
}

function isElsewhere(events: readonly Event[], device: string): boolean {
  const begun = events.find((e) => e.what.kind === 'walk-begun');
  return begun !== undefined && begun.device !== device;
}

const isStanding = (u: Uttered): boolean => u.statements.length > 0 && u.last.taken !== true;

/** The utterance that this came of; null where nothing was said, such as a touch on "hold". */
function heardIn(happened: Happened): string | null {
  const last = happened.events.findLast((e) => e.what.kind === 'heard');
  return last?.what.kind === 'heard' ? last.what.heard.id : null;
}
