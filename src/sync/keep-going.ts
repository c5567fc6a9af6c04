import { SchoolAway, SchoolSaidNo } from './api.ts';

/** How it stands between this device and its school. */
export type SyncState =
  | { readonly state: 'resting' }
  | { readonly state: 'busy' }
  /** Not reached; tried again by itself. */
  | { readonly state: 'away'; readonly why: string; readonly retries: number }
  /** The school will not have this device; tried again only when somebody asks. */
  | { readonly state: 'out'; readonly why: string };

/** First wait after a failure and the longest, milliseconds: doubled each time, and never quite the same for two phones. */
const FIRST_WAIT = 1_000;
const LONGEST_WAIT = 120_000;
/** Asked again although nothing seems new, milliseconds. */
const ANYWAY = 60_000;
/** After words were written; several are sent together. */
export const SOON = 400;

export interface GoingParts {
  round(): Promise<void>;
  onState(state: SyncState): void;
  /** Runs later; returns how to call it off. */
  wait(ms: number, then: () => void): () => void;
  /** 0 to 1. */
  chance(): number;
}

/** Runs rounds one after the other, for ever: soon when asked, later when nothing is asked, and with patience after a failure. */
export function keepGoing(parts: GoingParts): {
  soon(ms?: number): void;
  /** Resolves when a round that began after this call is over. */
  now(): Promise<void>;
  stop(): void;
} {
  let off: (() => void) | null = null;
  let running: Promise<void> | null = null;
  let again = false;
  let stopped = false;
  let failures = 0;
  let out = false;

  function later(ms: number): void {
    off?.();
    off = stopped ? null : parts.wait(ms, () => void run());
  }

  async function run(): Promise<void> {
    if (running !== null) {
      again = true;
      return running;
    }
    off?.();
    running = round();
    await running;
    running = null;
    if (again && !stopped) {
      again = false;
      later(0);
    }
  }

  async function round(): Promise<void> {
    parts.onState({ state: 'busy' });
    try {
      await parts.round();
      failures = 0;
      out = false;
      parts.onState({ state: 'resting' });
      later(ANYWAY);
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      if (error instanceof SchoolSaidNo && (error.status === 401 || error.status === 403)) {
        out = true;
        parts.onState({ state: 'out', why });
        return;
      }
      failures += 1;
      const longest = Math.min(LONGEST_WAIT, FIRST_WAIT * 2 ** Math.min(failures - 1, 10));
      later(longest * (0.5 + parts.chance() / 2));
      const known = error instanceof SchoolAway || error instanceof SchoolSaidNo;
      parts.onState({
        state: 'away',
        why: known ? why : `This device could not take what the school sent: ${why}`,
        retries: failures,
      });
    }
  }

  return {
    soon(ms = SOON) {
      // After a failure its own wait goes on: asking more often does not mend a network.
      if (!stopped && !out && failures === 0) {
        if (running !== null) again = true;
        else later(ms);
      }
    },
    async now() {
      if (running !== null) await running;
      await run();
    },
    stop() {
      stopped = true;
      off?.();
    },
  };
}
