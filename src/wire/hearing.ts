import type { Ear, EarNotice, LiveEar } from '#capture';
import type { EarKind, Listening, Pulse } from '#screens';
import type { Voice } from '#speak';
import type { Happening } from '#shared/event';
import type { Heard } from '#shared/heard';
import type { Scene } from '#shared/scene';
import type { Value } from './live-value.ts';

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

/** An ear that may be told that the setting was changed; typed words cannot. */
export type OpenedEar = Ear & Partial<Pick<LiveEar, 'reconsider'>>;

export interface HearingParts {
  seconds(): number;
  readonly listening: Value<Listening>;
  readonly pulse: Value<Pulse>;
  held(): boolean;
  scene(): Scene;
  openEar(kind: EarKind, hooks: EarHooks): Promise<OpenedEar>;
  onHeard(heard: Heard): void;
  onNoted(happening: Happening): void;
  onInterruption: EarHooks['onInterruption'];
  onTrouble(sentence: string): void;
  /** Something was said, and no words came of it. */
  onLost(notice: EarNotice): void;
  readonly voice: Pick<Voice, 'announce' | 'hearing'>;
}

/** The ear of one walk: opened, changed, lost and found again, and what the screen shows of it. */
export interface Hearing {
  listenWith(kind: EarKind): Promise<void>;
  again(): Promise<void>;
  /** The walk went on: what may be said next, and whether it is held. */
  expect(): void;
  /** Our own voice began or ended (R11). */
  speaking(now: boolean): void;
  stop(): Promise<void>;
}

export function hearingOf(parts: HearingParts): Hearing {
  const { listening, pulse, voice } = parts;
  let ear: OpenedEar | null = null;
  let opened: EarKind | null = null;
  let changing: Promise<void> = Promise.resolve();

  function now(): Listening {
    const byHand = ear === null || ear.kind === 'typed';
    const kind = byHand ? 'typed' : ear?.kind === 'browser' ? 'browser' : 'embedded';
    if (parts.held()) return { state: 'held', ear: kind };
    if (byHand || kind === 'typed') return { state: 'typed', ear: 'typed' };
    const sentAway = ear?.sendsAway ?? false;
    // The browser's by itself, or ours beside it: said, because two ears make the difference.
    const here = (ear?.beside ?? null) === null ? ('browser' as const) : ('both' as const);
    return {
      state: 'listening',
      ear: kind,
      sentAway,
      ...(kind === 'browser' && !sentAway ? { here } : {}),
    };
  }

  /** Held is the walk's state, whoever said so: the ear stays open, to hear "resume". */
  function showHeld(): void {
    const shown = listening.get();
    if (shown.state === 'deaf' || shown.state === 'starting') return;
    if (parts.held() !== (shown.state === 'held')) listening.set(now());
  }

  function connect(to: OpenedEar): void {
    to.onHeard(parts.onHeard);
    to.onPartial((partial) => pulse.patch({ partial }));
    to.onLevel((level) => pulse.patch({ level }));
    to.onLoading((loaded) => {
      const shown = listening.get();
      if (ear === to && shown.state === 'starting') listening.set({ ...shown, loaded });
    });
    to.onNotice((notice) => {
      if (notice.kind === 'sound-missing') {
        parts.onNoted({ kind: 'sound-missing', why: notice.sentence });
      }
      if (notice.kind === 'lost') parts.onLost(notice);
      else parts.onTrouble(notice.sentence);
    });
    to.onState((state, sentence) => {
      if (ear !== to) return;
      voice.hearing(state === 'hearing');
      const kind = opened === 'browser' ? 'browser' : 'embedded';
      if (state === 'starting') listening.set({ state: 'starting', ear: kind });
      else if (state === 'trouble') {
        listening.set({ state: 'deaf', ear: kind, why: sentence });
        voice.announce('stopped', sentence);
      } else listening.set(now());
    });
  }

  async function open(kind: EarKind): Promise<void> {
    const old = ear;
    ear = null;
    // The old ear gives out what it was hearing before the new one opens.
    await old?.stop();
    listening.set({ state: 'starting', ear: kind });
    const next = await parts.openEar(kind, {
      seconds: () => parts.seconds(),
      onChanged(listens, why) {
        parts.onNoted({ kind: 'listening-changed', listening: listens, why });
        voice.announce(null, why);
      },
      onInterruption: parts.onInterruption,
    });
    ear = next;
    opened = kind;
    connect(next);
    await next.start();
    next.expect(parts.scene());
    if (next.sendsAway) voice.announce(null, 'The sound of your voice leaves this device.');
  }

  /** Between two microphones the open ear changes by itself, with no gap between them. */
  async function change(kind: EarKind): Promise<void> {
    const same = ear;
    const spoken = (k: EarKind | null) => k === 'embedded' || k === 'browser';
    if (same?.reconsider !== undefined && spoken(opened) && spoken(kind)) {
      opened = kind;
      await same.reconsider();
      if (listening.get().state !== 'deaf') listening.set(now());
      return;
    }
    await open(kind);
  }

  function inTurn(work: () => Promise<void>): Promise<void> {
    const next = changing.then(work);
    changing = next.catch(() => undefined);
    return next;
  }

  return {
    listenWith: (kind) => inTurn(() => (kind === opened ? Promise.resolve() : change(kind))),
    again: () =>
      inTurn(async () => {
        await ear?.start();
        ear?.expect(parts.scene());
      }),
    expect() {
      ear?.expect(parts.scene());
      showHeld();
    },
    speaking(on) {
      const shown = listening.get();
      if (on && shown.state === 'listening') listening.set({ state: 'speaking', ear: shown.ear });
      else if (!on && shown.state === 'speaking') listening.set(now());
    },
    stop: () => inTurn(async () => ear?.stop()),
  };
}
