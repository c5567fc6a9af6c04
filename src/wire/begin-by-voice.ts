import type { Headset } from '#capture';
import type { BeginByVoice } from '#screens';
import { FIRST_SCENE } from '#shared/scene';
import type { Reader } from '#shared/reader';
import type { OpenedEar } from './hearing.ts';
import { liveValue } from './live-value.ts';

export interface BeginByVoiceParts {
  /**
   * Whether the microphone may be opened unasked: allowed before, nothing sent
   * away, nobody else recording, the page in front.
   */
  allowed(): Promise<boolean>;
  openEar(catalogue: string): Promise<OpenedEar>;
  readerFor(catalogue: string): Promise<Reader>;
  visible(): boolean;
  readonly headset: Headset;
}

/**
 * Listens on the first screen for one word, "begin", and for the headset's
 * button. Nothing that is heard is kept. Where it cannot listen it says
 * nothing: there is a button.
 */
export function beginByVoice(parts: BeginByVoiceParts): BeginByVoice & {
  /** Gives the microphone and the headset back, before a walk takes them. */
  stop(): Promise<void>;
} {
  const on = liveValue(false);
  /** One after the other: a page has one microphone. */
  let turn: Promise<void> = Promise.resolve();
  let stopLast: () => Promise<void> = () => turn;

  return {
    on,
    listen(catalogue, begin) {
      let over = false;
      let ear: OpenedEar | null = null;

      async function open(): Promise<void> {
        if (over || !(await parts.allowed())) return;
        const reader = await parts.readerFor(catalogue);
        const opened = await parts.openEar(catalogue);
        // Left while it was being opened.
        if (isOver()) return;
        ear = opened;
        opened.onState((state) => on.set(state === 'listening' || state === 'hearing'));
        opened.onHeard((heard) => {
          const { statements } = reader.read(heard, FIRST_SCENE);
          const said = statements.some((s) => s.kind === 'command' && s.command === 'begin');
          if (said && !over && parts.visible()) take();
        });
        void parts.headset.on({ toggle: take, next: take });
        await opened.start();
      }

      function isOver(): boolean {
        return over;
      }

      /** The walk opens the microphone for itself; first it is given back. */
      function take(): void {
        if (over) return;
        void stop().then(begin);
      }

      function stop(): Promise<void> {
        over = true;
        turn = turn.then(async () => {
          if (ear === null) return;
          const open = ear;
          ear = null;
          parts.headset.off();
          await open.stop();
          on.set(false);
        });
        return turn;
      }

      stopLast = stop;
      turn = turn.then(open).catch(() => on.set(false));
      return () => void stop();
    },
    /** Resolves when the microphone is free. */
    closed: () => turn,
    stop: () => stopLast(),
  };
}
