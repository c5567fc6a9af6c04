import type { MicrophoneState } from '../sound/microphone.ts';

/**
 * What takes the walk away from the pilot without being asked, and gives it
 * back: a call, another app, a locked screen, a pulled plug.
 */
export type Interruption = 'hidden' | 'interrupted' | 'sound-lost';

export interface InterruptionParts {
  visible(): boolean;
  onVisibility(take: () => void): () => void;
  /** Changes of the microphone, where one is held by us. */
  onMicrophone?(take: (state: MicrophoneState) => void): () => void;
  /** Whether sound still comes although the page is hidden, as it does on a desk. Left out: it does not. */
  flowing?(): boolean;
  wait(seconds: number, then: () => void): () => void;
  /** The walk has to be held; the sentence is shown now and spoken when it can be. */
  readonly onBegin: (why: Interruption, sentence: string) => void;
  /** It is over: offer to go on. */
  readonly onEnd: (why: Interruption, sentence: string) => void;
}

/** Seconds for which a page may be hidden or a microphone silent without a word: a glance at a message. */
export const GLANCE = 1.5;

const BEGIN: Readonly<Record<Interruption, string>> = {
  hidden: 'The page is not in front; nothing is being heard.',
  interrupted: 'A call or another app has the microphone; the walk is held.',
  'sound-lost': 'The microphone is gone; the walk is held. Plug it in or allow it again.',
};
const END: Readonly<Record<Interruption, string>> = {
  hidden: 'Back again. Say resume to go on.',
  interrupted: 'The microphone is free again. Say resume to go on.',
  'sound-lost': 'The microphone is back. Say resume to go on.',
};

/** Watches for interruptions; gives the way to end it. Each is told once at its begin and once at its end. */
export function watchInterruptions(parts: InterruptionParts): () => void {
  const on = new Set<Interruption>();
  const pending = new Map<Interruption, () => void>();

  function begin(why: Interruption, after: number): void {
    if (on.has(why) || pending.has(why)) return;
    pending.set(
      why,
      parts.wait(after, () => {
        pending.delete(why);
        if (why === 'hidden' && parts.flowing?.() === true) return;
        on.add(why);
        parts.onBegin(why, BEGIN[why]);
      }),
    );
  }

  function end(why: Interruption): void {
    pending.get(why)?.();
    pending.delete(why);
    if (!on.delete(why)) return;
    parts.onEnd(why, END[why]);
  }

  const offVisibility = parts.onVisibility(() => {
    if (parts.visible()) end('hidden');
    else begin('hidden', GLANCE);
  });
  const offMicrophone = parts.onMicrophone?.((state) => {
    if (state === 'muted') begin('interrupted', GLANCE);
    else if (state === 'lost') begin('sound-lost', 0);
    else {
      end('interrupted');
      end('sound-lost');
    }
  });
  return () => {
    offVisibility();
    offMicrophone?.();
    for (const cancel of pending.values()) cancel();
    pending.clear();
  };
}
