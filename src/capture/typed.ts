import { heardOf, listeners, type Ear, type EarParts } from './ear.ts';

/** An ear for words that are typed or chosen by touch. */
export interface TypedEar extends Ear {
  /**
   * Takes one utterance; white space alone is nothing. Typed words are taken
   * also while held: whoever types means it.
   */
  type(text: string): void;
}

/** Longest text taken as one utterance, in characters: a breath of ten thousand words fits. */
export const LONGEST_TYPED = 100_000;

export function typedEar(parts: EarParts): TypedEar {
  const out = listeners();
  let open = false;
  return {
    kind: 'typed',
    name: 'The keyboard',
    sendsAway: false,
    start() {
      open = true;
      out.state('listening', 'Type what you would say.');
      return Promise.resolve();
    },
    stop() {
      open = false;
      out.state('stopped', 'Typing is closed.');
      return Promise.resolve();
    },
    pause() {
      if (open) out.state('held', 'The walk is held. What you type is still taken.');
    },
    resume() {
      if (open) out.state('listening', 'Type what you would say.');
    },
    expect() {
      // Whoever types is not misheard: there is nothing to prepare for.
    },
    type(text) {
      const words = text.replace(/\s+/g, ' ').trim();
      if (words === '') return;
      if (words.length > LONGEST_TYPED) {
        out.state(
          'trouble',
          `That is ${words.length} characters in one utterance; type at most ${LONGEST_TYPED}, or open it as a transcript.`,
        );
        return;
      }
      const now = parts.seconds();
      out.heard(
        heardOf({
          id: parts.world.id(),
          by: 'typed',
          text: words,
          from: now,
          to: now,
          confidence: 1,
        }),
      );
    },
    ...out.on,
  };
}
