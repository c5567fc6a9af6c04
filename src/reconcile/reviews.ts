import type { Catalogue } from '#shared/catalogue';
import { STANDING_WORDS, type Review } from '#shared/coverage';
import type { Event, Happening } from '#shared/event';
import { nameAt, placeOf } from '#shared/names';
import type { Reviewed } from './state.ts';

/** What one review says, in words, and of which check or statement. */
export function reviewIn(
  event: string,
  { by, note, of }: Extract<Happening, { kind: 'reviewed' }>,
  catalogue: Catalogue | null,
): Reviewed {
  if (of.kind === 'standing') {
    const review = { by, note, event, says: STANDING_WORDS[of.standing] };
    return { review, check: of.check, statement: null };
  }
  const { instead, statement } = of;
  return { review: { by, note, event, says: saysOf(instead, catalogue) }, check: null, statement };
}

function saysOf(
  instead: Extract<Extract<Happening, { kind: 'reviewed' }>['of'], { kind: 'reading' }>['instead'],
  catalogue: Catalogue | null,
): string {
  if (instead === null) return 'about no check';
  if (instead.kind !== 'observation' || instead.about.kind !== 'check') return 'read otherwise';
  const { check, which } = instead.about;
  const place = catalogue === null ? null : placeOf(catalogue, check);
  return place === null ? 'about another check' : `about ${nameAt(place.check, which.instances)}`;
}

/** What reviewers said of statements, by the statement: a squawk keeps the id of the one it came from. */
export function reviewsIn(
  events: readonly Event[],
  catalogue: Catalogue | null,
): ReadonlyMap<string, readonly Review[]> {
  const found = new Map<string, Review[]>();
  for (const { id, what } of events) {
    if (what.kind !== 'reviewed') continue;
    const { review, statement } = reviewIn(id, what, catalogue);
    if (statement !== null) found.set(statement, [...(found.get(statement) ?? []), review]);
  }
  return found;
}
