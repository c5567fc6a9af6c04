import type { Heard } from '#shared/heard';

/** A typed utterance with nothing known but its words. */
export function heard(
  id: string,
  text: string,
  recording: string | null = null,
  speaker: string | null = null,
): Heard {
  return {
    v: 1,
    id,
    by: 'scripted',
    text,
    words: [],
    alternatives: [],
    from: 1,
    to: 2,
    confidence: null,
    sound: recording === null ? null : { recording, from: 1, to: 2 },
    speaker,
    sentAway: false,
  };
}
