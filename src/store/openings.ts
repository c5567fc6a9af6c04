import type { Event } from '#shared/event';
import { canonical } from './canonical.ts';
import { VERSION_AT } from './chain.ts';

/** Hex digits of the hash that name a second telling. */
const MARK = 8;

/**
 * R4: two devices that open a squawk under one id tell of two faults, and neither
 * takes the place of the other: the first keeps the id, and every other one that
 * says something else is a squawk of its own. First is what this device wrote;
 * then what lies in the log; then what was set aside or came without its walk.
 *
 * @param groups steps of squawks, those of the log in front
 */
export function openingsApart(
  groups: readonly (readonly Event[])[],
  device: string,
): readonly Event[] {
  const all = groups.flat();
  const own = all.filter((e) => e.device === device);
  /** Of each squawk, what was told first, and by which event. */
  const first = new Map<string, { readonly hash: string; readonly told: string }>();
  for (const event of [...own, ...all]) {
    const opened = openingIn(event);
    if (opened !== null && !first.has(opened.squawk))
      first.set(opened.squawk, { hash: event.hash, told: opened.told });
  }
  const gone = new Set<string>();
  return all.flatMap((event) => {
    const opened = openingIn(event);
    if (opened === null || gone.has(event.hash)) return opened === null ? [event] : [];
    gone.add(event.hash);
    const { what } = event;
    const told = first.get(opened.squawk);
    if (told?.hash === event.hash || what.kind !== 'squawk') return [event];
    // The same in another version of its walk.
    if (told?.told === opened.told) return [];
    const squawk = `${opened.squawk}${VERSION_AT}${event.hash.slice(0, MARK)}`;
    return [{ ...event, what: { ...what, squawk } }];
  });
}

/** Which squawk it is about; empty for everything else. */
export function squawkIn(what: Event['what']): string {
  return what.kind === 'squawk' ? what.squawk : '';
}

function openingIn({ what }: Event): { readonly squawk: string; readonly told: string } | null {
  if (what.kind !== 'squawk' || what.step.step !== 'opened') return null;
  return { squawk: what.squawk, told: canonical(what.step) };
}
