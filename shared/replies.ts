import type { Event } from './event.ts';
import type { Replied } from './replied.ts';

/**
 * All that Talkround gave back in a walk, in time. Walks from before replies
 * were kept have their spoken words alone. Told at its begin (no end yet) and at
 * its end; one that never sounded ends where it begins.
 */
export function repliesOf(events: readonly Event[]): readonly Replied[] {
  const kept = events.flatMap(({ what }): Replied[] => {
    if (what.kind !== 'replied') return [];
    const { tone, text, how, from, answers } = what;
    return [{ tone, text, how, from, answers }];
  });
  const told = new Set(kept.map((r) => r.from));
  const older = events.flatMap(({ what }): Replied[] =>
    what.kind === 'spoken' && what.to !== null && what.to !== what.from && !told.has(what.from)
      ? [{ tone: null, text: what.text, how: 'spoken', from: what.from, answers: null }]
      : [],
  );
  return [...kept, ...older].sort((a, b) => a.from - b.from);
}
