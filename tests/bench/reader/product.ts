import { fold } from '#reconcile';
import { happeningsOf } from '#record';
import type { Catalogue } from '#shared/catalogue';
import type { Coverage } from '#shared/coverage';
import type { Event, Happening } from '#shared/event';
import type { Question } from '#shared/question';
import { FIRST_SCENE } from '#shared/scene';
import type { Statement } from '#shared/statement';
import { emptyBook, enter, type Means } from '../../../src/record/book.ts';

/** What the product would ask after one utterance, counted. */
export interface Asks {
  /** How bad is it? */
  readonly severity: number;
  /** Every other kind, and what it says it did not understand. */
  readonly other: number;
}

/** What the product makes of the statements of a walk: what it asks, and the sheet. */
export interface Outcome {
  readonly asks: readonly Asks[];
  readonly sheet: Coverage;
}

/** Seconds between two utterances; standings do not depend on it. */
const PACE = 5;

/**
 * Puts the statements of each utterance through the same steps as a session
 * (src/record) and folds what happened (src/reconcile). A truth and a reading
 * go the same way, holds, corrections and contradictions included.
 */
export function outcomeOf(
  catalogue: Catalogue,
  utterances: readonly (readonly Statement[])[],
): Outcome {
  const book = emptyBook();
  const means: Means = { catalogue, follow: (scene) => scene };
  const events: Event[] = [];
  const add = (what: Happening, line: number) => {
    const event: Event = {
      v: 1,
      id: String(events.length).padStart(8, '0'),
      device: 'bench',
      walk: 'bench',
      aircraft: null,
      at: 0,
      t: line * PACE,
      what,
      prev: null,
      hash: '',
    };
    events.push(event);
    enter(book, event, means);
  };
  const asks = utterances.map((statements, line): Asks => {
    // Said while the walk is held, words are for somebody else and get no answer.
    const unclear = book.held && book.aside ? 0 : statements.filter(isUnclear).length;
    const made = happeningsOf({ statements, scene: FIRST_SCENE }, book, catalogue);
    for (const what of made) add(what, line);
    const asked = made.flatMap((h): Question[] => (h.kind === 'asked' ? [h.question] : []));
    const severity = asked.filter((q) => q.kind === 'severity').length;
    return { severity, other: asked.length - severity + unclear };
  });
  add({ kind: 'finished', open: [], how: 'said' }, utterances.length);
  return { asks, sheet: fold(catalogue, events) };
}

function isUnclear(statement: Statement): boolean {
  return statement.kind === 'not-understood' && !statement.chatter;
}
