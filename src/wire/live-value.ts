import type { Live } from '#screens';

/** A value that changes, with the means to change it. */
export interface Value<T> extends Live<T> {
  set(next: T): void;
  /** Sets some fields of an object value. */
  patch(part: Partial<T>): void;
}

export function liveValue<T>(first: T): Value<T> {
  let value = first;
  const runs = new Set<() => void>();
  function set(next: T): void {
    if (Object.is(next, value)) return;
    value = next;
    for (const run of [...runs]) run();
  }
  return {
    get: () => value,
    subscribe(run) {
      runs.add(run);
      return () => void runs.delete(run);
    },
    set,
    patch: (part) => set({ ...value, ...part }),
  };
}
