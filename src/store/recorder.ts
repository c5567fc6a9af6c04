import type { Off } from './contract.ts';

/** Who records: one page at a time. */
export interface Recorder {
  take(): Promise<Off | null>;
  wait(signal?: AbortSignal): Promise<Off>;
  taken(): Promise<boolean>;
}

/** By Web Locks: the browser gives the lock back when a page dies, however it dies. */
export function lockedRecorder(locks: LockManager, name: string): Recorder {
  const lock = `${name} recorder`;
  function hold(options: LockOptions): Promise<Off | null> {
    return new Promise((resolve, reject) => {
      locks
        .request(lock, options, (granted) => {
          if (granted === null) return resolve(null);
          return new Promise<void>((release) => resolve(() => release()));
        })
        .catch(reject);
    });
  }
  return {
    take: () => hold({ ifAvailable: true }),
    async wait(signal) {
      const off = await hold(signal === undefined ? {} : { signal });
      // Without ifAvailable the lock is always granted in the end.
      if (off === null) throw new Error('The right to record was not granted.');
      return off;
    },
    async taken() {
      const { held } = await locks.query();
      return held?.some((l) => l.name === lock) ?? false;
    },
  };
}

/** For one program without Web Locks: the command line, tests, old browsers. */
export function localRecorder(): Recorder {
  let held = false;
  const waiting: (() => void)[] = [];
  function grant(): Off {
    held = true;
    let done = false;
    return () => {
      if (done) return;
      done = true;
      held = false;
      waiting.shift()?.();
    };
  }
  return {
    take: async () => (held ? null : grant()),
    wait(signal) {
      if (!held) return Promise.resolve(grant());
      return new Promise((resolve, reject) => {
        const go = () => resolve(grant());
        waiting.push(go);
        signal?.addEventListener('abort', () => {
          const at = waiting.indexOf(go);
          if (at >= 0) waiting.splice(at, 1);
          reject(signal.reason instanceof Error ? signal.reason : new Error('Stopped waiting.'));
        });
      });
    },
    taken: async () => held,
  };
}
