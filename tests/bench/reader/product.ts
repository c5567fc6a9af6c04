import { fold } from '#reconcile';
import { happeningsOf } from '#record';
import type { Catalogue } from '#shared/catalogue';
import type { Coverage } from '#shared/coverage';
import { canWait } from '#shared/doubt';
import { placeOf } from '#shared/names';
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
  const recaps = recapsOf(catalogue);
  const asks = utterances.map((statements, line): Asks => {
    const recapped = recaps.heard(statements);
    // Said while the walk is held, words are for somebody else and get no answer.
    const unclear = book.held && book.aside ? 0 : statements.filter(isUnclear).length;
    const made = happeningsOf({ statements, scene: FIRST_SCENE }, book, catalogue);
    for (const what of made) add(what, line);
    const asked = made.flatMap((h): Question[] => (h.kind === 'asked' ? [h.question] : []));
    const severity = asked.filter((q) => q.kind === 'severity').length;
    return { severity, other: asked.length - severity + unclear + recapped };
  });
  const last = asks.pop();
  if (last !== undefined) asks.push({ ...last, other: last.other + recaps.left() });
  add({ kind: 'finished', open: [], how: 'said' }, utterances.length);
  return { asks, sheet: fold(catalogue, events) };
}

/**
 * What waits is asked about in one go when its station is left, and at the end of the walk: one
 * question for each station (src/record/drafts.ts, over the scene, which labels have not).
 */
function recapsOf(catalogue: Catalogue) {
  const waiting = new Map<string, string>();
  let here: string | null = null;
  return {
    heard(statements: readonly Statement[]): number {
      let asked = 0;
      for (const s of statements) {
        if (s.kind !== 'observation' || s.force !== 'result' || s.about.kind !== 'check') continue;
        const { check } = s.about;
        const station = placeOf(catalogue, check)?.station.id ?? null;
        if (here !== null && station !== here) asked += leave(here);
        here = station;
        if (canWait(catalogue, s) && station !== null) waiting.set(check, station);
        else waiting.delete(check);
      }
      return asked;
    },
    left: (): number => [...new Set(waiting.values())].reduce((n, s) => n + leave(s), 0),
  };
  function leave(station: string): number {
    const due = [...waiting].filter(([, at]) => at === station);
    for (const [check] of due) waiting.delete(check);
    return due.length > 0 ? 1 : 0;
  }
}

function isUnclear(statement: Statement): boolean {
  return statement.kind === 'not-understood' && !statement.chatter;
}
