import { sameRegistration } from '#record';

/** One aircraft, however its registration is written. */
export function isSame(one: string, other: string): boolean {
  return one === other || sameRegistration(one, other);
}
