import type { Observation, Statement } from '#shared/statement';
import { aspectsOf } from './aspects.ts';
import { joint } from './joints.ts';
import type { Names } from './names.ts';

/**
 * "There's a crack. It's on the exhaust.": a finding whose thing was not clear, and
 * right behind it words that only say where. The finding is put there, and nothing is
 * left to be placed by hand. Null where the two do not belong together.
 *
 * @param words of the second statement, from its beginning
 */
export function placedBehind(
  finding: Statement | undefined,
  place: Statement,
  words: readonly string[],
  names: Names,
): Observation | null {
  if (finding?.kind !== 'observation' || finding.force !== 'result') return null;
  if (finding.about.kind !== 'unplaced' || !finding.conditions.some((c) => c.present)) return null;
  if (place.kind !== 'observation' || place.about.kind !== 'check') return null;
  if (place.force !== 'intention' || place.conditions.length > 0 || place.verdict !== null)
    return null;
  let i = 0;
  while (/^(it|that|and|is|was|right|just|there|here)$/.test(words[i] ?? '')) i += 1;
  if (!joint('link').has(words[i] ?? '')) return null;
  const entry = names.byId.get(place.about.check);
  if (entry === undefined) return null;
  const map = aspectsOf(entry.check);
  return {
    ...finding,
    about: place.about,
    candidates: place.candidates,
    doubtful: finding.doubtful ?? place.doubtful,
    conditions: finding.conditions.map((c) => ({
      ...c,
      aspects: [...map.about(c.condition)],
      sign: entry.signs.find((s) => s.conditions.includes(c.condition))?.id ?? null,
    })),
    why: [...finding.why, `put on ${entry.check.name} by "${place.span.words}" right behind it`],
  };
}
