import type { World } from '#shared/log';
import type { Wait } from '#capture';

/** Time that moves only when told: a world, seconds since the walk began, and timers. */
export interface FakeTime {
  readonly world: World;
  readonly wait: Wait;
  seconds(): number;
  /** Moves on, running what falls due in order; promises get their turn between. */
  pass(seconds: number): Promise<void>;
}

export function fakeTime(): FakeTime {
  let now = 0;
  let ids = 0;
  const due = new Set<{ at: number; then: () => void }>();
  const settle = async () => {
    for (let i = 0; i < 200; i += 1) await Promise.resolve();
  };
  return {
    world: {
      id: () => `id-${(ids += 1)}`,
      now: () => 1_700_000_000_000 + now * 1000,
      steady: () => now,
    },
    wait(seconds, then) {
      const entry = { at: now + seconds, then };
      due.add(entry);
      return () => void due.delete(entry);
    },
    seconds: () => now,
    async pass(seconds) {
      await settle();
      const until = now + seconds;
      for (;;) {
        const next = [...due].filter((e) => e.at <= until + 1e-9).sort((a, b) => a.at - b.at)[0];
        if (next === undefined) break;
        due.delete(next);
        now = Math.max(now, next.at);
        next.then();
        await settle();
      }
      now = until;
      await settle();
    },
  };
}
