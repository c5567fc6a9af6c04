import { heardOf, type Ear } from '#capture';
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
import type { Reader } from '#shared/reader';
import type { Statement } from '#shared/statement';
import { byHand } from './by-hand.ts';
import { lastHeard } from './made.ts';
import type { Value } from './live-value.ts';
import { attempt, bad, good } from './outcome.ts';
import { begunIn } from './records.ts';
import { openChecks } from './whole-walk.ts';

export interface WalkingParts {
  readonly store: Store;
  readonly world: World;
  readonly catalogue: Catalogue;
  readonly edition: string;
  readonly reader: Reader;
  readonly walk?: string;
  readonly view: Value<WalkView | null>;
  readonly listening: Value<Listening>;
  readonly pulse: Value<Pulse>;
  talk(): Talk;
  openEar(kind: EarKind, hooks: EarHooks): Promise<Ear>;
  openVoice(walking: VoiceNeeds): Voice;
  /** Steps in the life of a squawk that a statement demands. */
  steps(statement: Statement, heard: Heard, carried: Squawks): readonly Happening[];
  /** Findings to be written up when the walk is finished. */
  atFinish(coverage: Coverage, events: readonly Event[], carried: Squawks): readonly Happening[];
}

/** What an ear is told of the walk, and what it tells beside words. */
export interface EarHooks {
  /** Seconds since the walk began. */
  seconds(): number;
  /** Another source listens now. */
  onChanged(listening: string, why: string): void;
  /** The platform took the walk away (`over` false) or gave it back (`over` true). */
  onInterruption(
    why: 'hidden' | 'interrupted' | 'sound-lost',
    sentence: string,
    over: boolean,
  ): void;
}

/** What the voice has to be told, and what it tells. */
export interface VoiceNeeds {
  seconds(): number;
  onSpoken(text: string, from: number, to: number | null): void;
  onUnanswered(question: string): void;
  onShown(text: string): void;
}

/** One walk in progress, joined to an ear, a voice, the record and the screen. */
export interface Walking {
  readonly session: Session;
  begin(request: BeginRequest, edition: string, squawks: Squawks): Promise<Outcome<string>>;
  takeUp(events: readonly Event[], ear: EarKind): Promise<Outcome<string>>;
  /** Words from the keyboard. */
  type(words: string): Promise<Outcome>;
  /** A touch that means a statement, in words that say what was done. */
  touch(words: string, make: (heard: Heard) => Statement): Promise<Outcome>;
  /** Anything else the session can do; answered like what was said. */
  act(work: () => Promise<Happened>): Promise<Outcome>;
  listenWith(kind: EarKind): Promise<void>;
  hush(): void;
  stop(): Promise<void>;
}

export type Squawks = Extract<Happening, { kind: 'walk-begun' }>['squawks'];

export function createWalking(parts: WalkingParts): Walking {
  const { catalogue, store, world, view, listening, pulse } = parts;
  let state = start(catalogue, parts.edition);
  let coverage = coverageOf(state);
  let last: LastHeard | null = null;
  let trouble: string | null = null;
  let shown = '';
  let ear: Ear | null = null;
  let aircraft = '';
  /** Left for good: what still comes in is kept, and no longer shown. */
  let stopped = false;
  let begun = world.now();
  let squawks: Squawks = [];
  const seen: Event[] = [];
  const hand = byHand(parts.reader);
  const session = createSession({
    catalogue,
    reader: hand.reader,
    log: store,
    world,
    ...(parts.walk === undefined ? {} : { walk: parts.walk }),
    onEvents(events) {
      for (const event of events) state = step(state, event).state;
      seen.push(...events);
      coverage = coverageOf(state);
    },
    open: () => openChecks(coverage),
    also: (statement, heard) => parts.steps(statement, heard, squawks),
  });
  const voice = parts.openVoice({
    seconds: () => session.time(),
    onSpoken(text, from, to) {
      showSpeaking(to === null);
      void session.spoke(text, from, to).catch(notKept);
    },
    onUnanswered: (question) => void session.unanswered(question).then(show, notKept),
    onShown(text) {
      shown = text;
      show();
    },
  });

  function notKept(error: unknown): void {
    trouble = error instanceof Error ? error.message : String(error);
    show();
    voice.announce('stopped', trouble);
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
      question: session.question(),
      squawks,
      trouble,
      shown: shown === '' ? null : shown,
    });
  }

  async function act(work: () => Promise<Happened>): Promise<Outcome> {
    const before = coverage;
    return attempt(async () => {
      const happened = await work();
      if (happened.events.some((e) => e.what.kind === 'finished')) await writeUp();
      trouble = null;
      last = lastHeard(happened, catalogue, before, coverage) ?? last;
      voice.reply(
        replyTo(happened, { before, after: coverage }, { catalogue, talk: parts.talk() }),
      );
      voice.attend(happened.question);
      ear?.expect(session.scene());
      show();
      showHeld();
      return happened.refused === null ? good(null) : bad(happened.refused);
    });
  }

  /** What was found is written up against the aircraft, and looked at again on the next walk. */
  async function writeUp(): Promise<void> {
    for (const squawk of parts.atFinish(coverage, seen, squawks)) await session.note(squawk);
  }

  /** While we speak nothing is taken (R11), and the screen says so. */
  function showSpeaking(speaking: boolean): void {
    const now = listening.get();
    if (speaking && now.state === 'listening') listening.set({ state: 'speaking', ear: now.ear });
    else if (!speaking && now.state === 'speaking') {
      listening.set(coverage.held ? { state: 'held', ear: now.ear } : hearing(ear));
    }
  }

  /** Held is the walk's state, whoever said so: the ear stays open, to hear "resume". */
  function showHeld(): void {
    const now = listening.get();
    if (coverage.held && now.state !== 'held' && now.state !== 'deaf' && now.state !== 'starting') {
      listening.set({ state: 'held', ear: now.ear });
    } else if (!coverage.held && now.state === 'held') {
      listening.set(hearing(ear));
    }
  }

  function take(heard: Heard): void {
    const { take: taken } = voice.admit(heard);
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

  async function listenWith(kind: EarKind): Promise<void> {
    const old = ear;
    ear = null;
    // The old ear gives out what it was hearing before the new one opens.
    await old?.stop();
    listening.set({ state: 'starting', ear: kind });
    const next = await parts.openEar(kind, {
      seconds: () => session.time(),
      onChanged: (listens, why) => noted({ kind: 'listening-changed', listening: listens, why }),
      onInterruption: interrupted,
    });
    ear = next;
    next.onHeard(take);
    next.onPartial((partial) => pulse.patch({ partial }));
    next.onLevel((level) => pulse.patch({ level }));
    next.onNotice((notice) => {
      if (notice.kind === 'sound-missing') noted({ kind: 'sound-missing', why: notice.sentence });
      trouble = notice.sentence;
      show();
    });
    next.onState((now, sentence) => {
      if (ear !== next) return;
      voice.hearing(now === 'hearing');
      if (now === 'starting') listening.set({ state: 'starting', ear: kind });
      else if (now === 'trouble') {
        listening.set({ state: 'deaf', ear: kind, why: sentence });
        voice.announce('stopped', sentence);
      } else listening.set(coverage.held ? { state: 'held', ear: kind } : hearing(next));
    });
    await next.start();
    next.expect(session.scene());
  }

  async function opened(kind: EarKind): Promise<Outcome<string>> {
    show();
    await listenWith(kind);
    return good(session.walk);
  }

  return {
    session,
    begin: (request, edition, carried) =>
      attempt(async () => {
        await store.keepCatalogue(edition, catalogue);
        aircraft = request.aircraft;
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
        squawks = what?.squawks ?? [];
        begun = events[0]?.at ?? begun;
        const done = await act(() => session.reopen(events));
        return done.ok ? opened(kind) : done;
      }),
    type(words) {
      const text = words.replace(/\s+/g, ' ').trim();
      if (text === '') return Promise.resolve(bad('Type what you would say.'));
      return act(() => session.hear(typed(text)));
    },
    touch(words, make) {
      const heard = typed(words);
      hand.prepare(heard.id, make);
      return act(() => session.hear(heard));
    },
    act,
    listenWith,
    hush: () => voice.hush(),
    async stop() {
      stopped = true;
      voice.stop();
      await ear?.stop();
    },
  };

  function typed(text: string): Heard {
    const now = session.time();
    return heardOf({ id: world.id(), by: 'typed', text, from: now, to: now, confidence: 1 });
  }
}

function hearing(ear: Ear | null): Listening {
  if (ear === null || ear.kind === 'typed') return { state: 'typed', ear: 'typed' };
  const kind = ear.kind === 'browser' ? 'browser' : 'embedded';
  return { state: 'listening', ear: kind, sentAway: ear.sendsAway };
}
