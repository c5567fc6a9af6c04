import type { Hearing, Heed } from '#screens';
import type { Asked, Begin, Told } from './protocol.ts';

type Method = Asked['what'];

/** The hearing in a worker that is begun when it is first asked. Of texts that are typed faster than they are heard, only the latest is. */
export function hearingInWorker(
  modelBase: string,
  scoresAt: string,
  say: (words: string) => Promise<boolean>,
): Hearing {
  let worker: Worker | null = null;
  let asked = 0;
  const open = new Map<number, { done(value: unknown): void; failed(error: Error): void }>();

  function begun(): Worker {
    if (worker !== null) return worker;
    const made = new Worker(new URL('./hearing-worker.ts', import.meta.url), { type: 'module' });
    made.onmessage = (event: MessageEvent<Told>) => {
      const { data } = event;
      const waits = open.get(data.id);
      open.delete(data.id);
      if (data.ok) waits?.done(data.value);
      else waits?.failed(new Error(data.error));
    };
    made.onerror = () => {
      // A new one is begun at the next question.
      worker = null;
      for (const waits of open.values())
        waits.failed(new Error('The names could not be heard on this device; reload the page.'));
      open.clear();
    };
    made.postMessage({ modelBase, scoresAt } satisfies Begin);
    worker = made;
    return made;
  }

  function ask<K extends Method>(
    what: K,
    ...words: Parameters<Hearing[K]>
  ): ReturnType<Hearing[K]> {
    asked += 1;
    const id = asked;
    const answer = new Promise((done, failed) => open.set(id, { done, failed }));
    begun().postMessage({ id, what, with: words });
    // The worker answers each question with what its method gives; see hearing-worker.ts.
    return answer as ReturnType<Hearing[K]>;
  }

  let heeding = false;
  let next: { readonly text: string; done(heeds: readonly Heed[]): void } | null = null;
  async function heed(text: string): Promise<readonly Heed[]> {
    if (heeding) {
      // Overtaken: nobody looks at it any more.
      next?.done([]);
      return new Promise((done) => {
        next = { text, done };
      });
    }
    heeding = true;
    try {
      return await ask('heed', text);
    } finally {
      heeding = false;
      const waits = next;
      next = null;
      if (waits !== null) void heed(waits.text).then(waits.done, () => waits.done([]));
    }
  }

  return {
    heed,
    tryOut: (...words) => ask('tryOut', ...words),
    proof: (...words) => ask('proof', ...words),
    sounds: (...words) => ask('sounds', ...words),
    say,
  };
}
