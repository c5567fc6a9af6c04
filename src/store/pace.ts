/** Milliseconds of work after which the page draws and hears a press: a press is answered within a tenth of a second. */
const TURN = 40;

/** How far a long piece of work is. */
export interface Step {
  /** What is being done, for the screen. */
  readonly text: string;
  /** 0 to 1. */
  readonly part: number;
}

export interface PaceOptions {
  readonly onProgress?: (step: Step) => void;
  /** Asks for the end: what is done by then stays. */
  readonly signal?: AbortSignal;
}

/** Long work in pieces: between two of them the page draws, is told how far it is, and may ask for the end. */
export interface Pace {
  /** false: stop. */
  turn(text: string, part: number): Promise<boolean>;
  readonly stopped: boolean;
}

export function paceOf({ onProgress, signal }: PaceOptions): Pace {
  let last = performance.now();
  return {
    get stopped() {
      return signal?.aborted === true;
    },
    async turn(text, part) {
      if (performance.now() - last >= TURN) {
        onProgress?.({ text, part: Math.min(1, part) });
        await new Promise((resolve) => setTimeout(resolve, 0));
        last = performance.now();
      }
      return signal?.aborted !== true;
    },
  };
}

/** Work that is not long enough for it. */
export const AT_ONCE: Pace = { turn: () => Promise.resolve(true), stopped: false };
