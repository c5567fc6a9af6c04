import { senses } from '../matches/senses.ts';
import type { Inputs } from '../scores/around.ts';

/** Some word of it asks, teaches, plans, supposes, remembers or tells what others said (R2). */
export function isTalk({ tokens }: Pick<Inputs, 'tokens'>): boolean {
  const { names } = senses();
  return tokens.some((t) => t.asks || t.senses.some((k) => FORCE_OF_TALK.test(names[k] ?? '')));
}

const FORCE_OF_TALK = /^force-(teaching|hypothesis|intention|question|past|hearsay)$/;
