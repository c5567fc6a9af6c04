import type { Heard } from '#shared/heard';

/* Which words of two recognisers are of the same sound, and what they are together. Pure. */

/**
 * Seconds by which a browser's words may seem to have begun later than they
 * ended: it tells the begin of the first ones only, of the others when it first
 * showed something, and of some nothing but that they are there. Too long: what
 * was said just before and only ours heard is taken for part of them, and asked
 * about; too short: the two are taken for two utterances, and count twice.
 */
const BEGUN_EARLIER = 1;

/** Whether what the second heard is part of what the first heard: its end lies in it, and its middle not behind it. */
export function belongsTo(second: Heard, first: Heard): boolean {
  if (second.from === null || second.to === null) return false;
  const middle = (second.from + second.to) / 2;
  return second.to >= (first.from ?? 0) - BEGUN_EARLIER && middle <= (first.to ?? Infinity);
}

/** The words of one with those of the other beside them, as the best of its other readings. */
export function withOther(heard: Heard, others: readonly Heard[], told = false): Heard {
  const [one, ...more] = [...others].sort((a, b) => (a.from ?? 0) - (b.from ?? 0));
  if (one === undefined) return heard;
  const other = {
    // What the other one took for two was one breath to the first.
    text: [one, ...more].map((h) => h.text).join(', '),
    confidence: more.length === 0 ? one.confidence : null,
    by: one.by,
    ...(told ? { told } : {}),
  };
  return { ...heard, alternatives: [other, ...heard.alternatives] };
}

/** Whether two recognisers heard it in the same words: said again, they would count twice. */
export function isSameWords(heard: Heard, withOther: Heard): boolean {
  return plain(heard.text) === plain(withOther.alternatives[0]?.text ?? '');
}

function plain(text: string): string {
  return text
    .toLowerCase()
    .replace(/[^\p{L}\p{N}' ]+/gu, ' ')
    .split(/\s+/)
    .filter((w) => w !== '')
    .join(' ');
}
