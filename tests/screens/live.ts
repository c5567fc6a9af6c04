import type { Live } from '#screens';

/** A value that can be set, as the wire keeps them. */
export interface Settable<T> extends Live<T> {
  set(value: T): void;
}

export function live<T>(first: T): Settable<T> {
  let now = first;
  const runs = new Set<() => void>();
  return {
    get: () => now,
    set: (value) => {
      now = value;
      for (const run of [...runs]) run();
    },
    subscribe: (run) => {
      runs.add(run);
      return () => runs.delete(run);
    },
  };
}
