import type { CopyFiles } from './files.ts';
import type { Answer, Ask, Asked } from './worker.ts';

/**
 * How long one step may take. Words are acknowledged when both copies are on
 * the disk; a second copy that hangs must not silence the walk. Too short: a
 * slow disk ends the second copy for this visit, and the first one is still
 * written. Too long: the pilot waits for an acknowledgment that long, once.
 */
export const STEP_MS = 5000;

/**
 * The files of the second copy in the origin private file system. Null where
 * the browser has no such thing or does not let it be used.
 */
export async function privateFiles(folder: string): Promise<CopyFiles | null> {
  if (typeof Worker === 'undefined' || typeof navigator === 'undefined') return null;
  const platform: Partial<Navigator> = navigator;
  if (platform.locks === undefined || platform.storage === undefined) return null;
  if (!('getDirectory' in platform.storage)) return null;
  let worker: Worker;
  try {
    worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
  } catch {
    return null;
  }
  const waiting = new Map<number, { done(value: unknown): void; fail(why: string): void }>();
  let count = 0;
  let ended: string | null = null;
  worker.onmessage = ({ data }: MessageEvent<Answer>) => {
    const waiter = waiting.get(data.n);
    waiting.delete(data.n);
    if (data.wrong === undefined) waiter?.done(data.value);
    else waiter?.fail(data.wrong);
  };
  worker.onerror = () => end('The writer of the second copy ended.');
  function end(why: string): void {
    ended = why;
    worker.terminate();
    for (const { fail } of waiting.values()) fail(why);
    waiting.clear();
  }

  function ask(what: Ask): Promise<unknown> {
    if (ended !== null) return Promise.reject(new Error(ended));
    count += 1;
    const n = count;
    return new Promise((resolve, reject) => {
      const timer = setTimeout(() => {
        waiting.delete(n);
        reject(new Error(`The second copy did not answer in ${STEP_MS / 1000} seconds.`));
      }, STEP_MS);
      waiting.set(n, {
        done(value) {
          clearTimeout(timer);
          resolve(value);
        },
        fail(why) {
          clearTimeout(timer);
          reject(new Error(why));
        },
      });
      const message: Asked = { ...what, n };
      worker.postMessage(message);
    });
  }

  try {
    await ask({ do: 'open', folder });
  } catch {
    end('There are no private files here.');
    return null;
  }
  return {
    append: async (file, data) => (await ask({ do: 'append', file, data })) as number,
    list: async () => (await ask({ do: 'list' })) as string[],
    size: async (file) => (await ask({ do: 'size', file })) as number,
    read: async (file, from = 0, to = Number.MAX_SAFE_INTEGER) =>
      (await ask({ do: 'read', file, from, to })) as Uint8Array,
    remove: async (file) => void (await ask({ do: 'remove', file })),
    close: () => end('The record is closed.'),
  };
}
