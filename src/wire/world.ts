import { v7 } from 'uuid';
import type { World } from '#shared/log';

/** The real clock and real ids. */
export function realWorld(): World {
  return { id: () => v7(), now: () => Date.now(), steady: () => performance.now() / 1000 };
}
