import type { Heard } from '#shared/heard';

/**
 * Several utterances of one dictation as the one utterance that the squawk is
 * filed from: a breath between part and condition does not make two faults.
 * Nothing of them is lost: words keep their times, each alternative stands in
 * the words of the whole, the confidence is that of the weakest. Null for none.
 */
export function joined(heard: readonly Heard[], id: () => string): Heard | null {
  const [first, ...more] = heard;
  const last = more.at(-1);
  if (first === undefined) return null;
  if (last === undefined) return first;
  const texts = heard.map((h) => h.text);
  const confidences = heard.flatMap((h) => (h.confidence === null ? [] : [h.confidence]));
  return {
    ...first,
    id: id(),
    text: texts.join(' '),
    // Times of some words only would be taken for times of all.
    words: heard.every((h) => h.words.length > 0) ? heard.flatMap((h) => h.words) : [],
    alternatives: heard.flatMap((h, at) =>
      h.alternatives.map((other) => ({ ...other, text: texts.with(at, other.text).join(' ') })),
    ),
    to: last.to,
    // One that is not known is not made up from the others.
    confidence: confidences.length === heard.length ? Math.min(...confidences) : null,
    sound: soundOf(heard),
    sentAway: heard.some((h) => h.sentAway),
  };
}

/** From the first to the last, where all of it lies in one recording. */
function soundOf(heard: readonly Heard[]): Heard['sound'] {
  const places = heard.flatMap(({ sound }) => (sound === null ? [] : [sound]));
  const [first] = places;
  if (first === undefined) return null;
  const same = places.filter((p) => p.recording === first.recording);
  return { ...first, to: Math.max(...same.map((p) => p.to)) };
}
