import { useSyncExternalStore } from 'react';
import type { Live } from '../services.ts';

/** The value now; the component is drawn again when it changes. */
export function useLive<T>(live: Live<T>): T {
  return useSyncExternalStore(
    (run) => live.subscribe(run),
    () => live.get(),
  );
}

/** A value that is never there, for what the house may leave out. */
export const never: Live<null> = { get: () => null, subscribe: () => () => undefined };
