import type { Event } from '#shared/event';
import { erasedIn } from '#shared/kept';
import type { SquawkStep } from '#shared/squawk';
import { idWords } from './plain-words.ts';

/** Steps that make less of a squawk, in words. */
const LESS: Readonly<Partial<Record<SquawkStep['step'], string>>> = {
  closed: 'closed',
  withdrawn: 'withdrawn',
  joined: 'joined to another',
  rectified: 'rectified',
  deferred: 'deferred',
  corrected: 'told otherwise',
};

/**
 * What a file that was brought in does to what was here before, in words: squawks
 * are shared by a fleet, and an erasure is obeyed from every device, so that
 * nothing proves either (R4: nobody takes a finding off the list unseen).
 *
 * @param squawks ids of squawks that were here before
 */
export function touchedText(
  news: readonly Event[],
  squawks: ReadonlySet<string>,
  device: string,
): readonly string[] {
  const told = new Map<string, Map<string, Set<string>>>();
  for (const { what, device: by } of news) {
    if (by === device) continue;
    const done = doneBy(what, squawks);
    if (done === null) continue;
    const [verb, id] = done;
    const theirs = told.get(by) ?? new Map<string, Set<string>>();
    told.set(by, theirs.set(verb, (theirs.get(verb) ?? new Set()).add(id)));
  }
  return [...told].map(([by, verbs]) => {
    const what = [...verbs].map(([verb, ids]) => `${verb}: ${ids.size}`).join(', ');
    return `By the word of device ${idWords(by)} alone, what was here has changed: ${what}. Ask whoever holds it; a squawk keeps its whole history.`;
  });
}

function doneBy(what: Event['what'], squawks: ReadonlySet<string>): [string, string] | null {
  const erased = erasedIn(what);
  if (erased !== null)
    return [what.kind === 'picture-erased' ? 'pictures erased' : 'recordings erased', erased];
  if (what.kind !== 'squawk' || !squawks.has(what.squawk)) return null;
  const gone = what.step.step === 'rechecked' && what.step.outcome === 'gone';
  const verb = gone ? 'found gone' : LESS[what.step.step];
  return verb === undefined ? null : [`squawks ${verb}`, what.squawk];
}
