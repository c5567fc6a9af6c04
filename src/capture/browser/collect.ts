/*
 * Makes single utterances out of what a browser's recogniser delivers.
 *
 * By the specification a result is final once, at its own index. What platforms
 * do beside that (each has a test): finals delivered twice; `resultIndex` back
 * at 0 with every event; one result whose text grows, final every time; a list
 * of results each of which repeats all before it; interim results marked final
 * with confidence 0; a list that begins anew within the session.
 *
 * The two errors are not equal. An utterance taken twice may count a second
 * rivet line that nobody looked at; a repeat taken for an echo is asked for
 * again. So in doubt a repeat is an echo, but words that were not there before
 * are never dropped.
 */

export interface Alternative {
  readonly text: string;
  /** 0 to 1; null where the platform gives none. */
  readonly confidence: number | null;
}

/** One result as delivered. */
export interface Delivered {
  readonly final: boolean;
  /** Best first; never empty. */
  readonly alternatives: readonly Alternative[];
}

/** One utterance, ready to go out. Times in seconds. */
export interface Collected {
  readonly alternatives: readonly Alternative[];
  /** When its first words were delivered. */
  readonly first: number;
  readonly to: number;
  /** true: the platform broke off before it called this final. */
  readonly cutOff: boolean;
}

/**
 * Seconds that a final without confidence waits for a longer one. Android marks
 * growing interims final with confidence 0, a few tenths apart; Safari gives
 * finals no confidence at all, and for those this is a delay.
 */
export const SETTLE = 0.6;
/** Seconds after which the very same words may have been said again. Echoes of finals come within tenths. */
export const SAID_AGAIN = 1;

/**
 * Words in common from which on a result in a new place is taken to repeat the
 * one before it. "No" / "no cracks" are two utterances; where results are known
 * to grow two words are enough, elsewhere three.
 */
const REPEATED = { growing: 2, other: 3 } as const;
/**
 * Words that hold on to what follows or comes before. What is new is never cut
 * off at one of these: "not" / "secure" would turn a finding into its opposite.
 * Then the whole goes out, and its begin is heard twice.
 */
const CLINGS = new Set(
  (
    'no not nor never without neither cannot nothing is are was were be been has have had does do ' +
    'the a an of on in at to for by from with and or but if than that this these when where its'
  ).split(' '),
);

function clings(word: string | undefined): boolean {
  return word !== undefined && (CLINGS.has(word) || word.endsWith("n't"));
}

/** Whether the words can be parted after `count` of them without changing what they mean. */
function parts(words: readonly string[], count: number): boolean {
  return words.length === count || !(clings(words[count - 1]) || clings(words[count]));
}

interface Slot {
  /** The words already gone out from this place. */
  taken: string;
  takenAt: number;
  /** Words that went on in the next place and go out from there. */
  passedOn: string;
  /** A final that is not trusted yet. */
  waiting: { alternatives: readonly Alternative[]; due: number } | null;
  /** Words delivered and not final. */
  interim: string;
  first: number;
  /** Shortest interim since the place was opened: shows that something was said anew. */
  shortest: string | null;
}

export interface Collector {
  /** Takes the whole list of results of one event. */
  take(results: readonly Delivered[], now: number): Collected[];
  /** Gives out what has waited long enough. */
  settle(now: number): Collected[];
  /** When to call `settle`; null when nothing waits. */
  readonly due: number | null;
  /** What is heard and not final, for the screen. */
  readonly partial: string;
  /** The session is over: everything that was heard and not given out. */
  end(now: number): Collected[];
}

/** The words of a text without case and punctuation, for comparing. */
function wordsOf(text: string): string[] {
  return text
    .toLowerCase()
    .replace(/[^\p{L}\p{N}\s']+/gu, ' ')
    .split(/\s+/)
    .filter((word) => word !== '');
}

function begins(text: readonly string[], before: readonly string[]): boolean {
  return before.length <= text.length && before.every((word, i) => text[i] === word);
}

/** `text` without its first `count` words. */
function without(text: string, count: number): string {
  const parts = text.trim().split(/\s+/);
  let left = count;
  let at = 0;
  while (left > 0 && at < parts.length) {
    left -= wordsOf(parts[at] ?? '').length;
    at += 1;
  }
  return parts.slice(at).join(' ');
}

/**
 * One collector serves one session of the recogniser.
 *
 * @param patient every final waits for a longer one, not only those without
 *   confidence: for platforms whose results are known to grow.
 */
export function collector(patient = false): Collector {
  let slots: Slot[] = [];

  function slotAt(index: number, now: number): Slot {
    return (slots[index] ??= {
      taken: '',
      takenAt: -Infinity,
      passedOn: '',
      waiting: null,
      interim: '',
      first: now,
      shortest: null,
    });
  }

  /** How many words at the front of a result at `index` went out before. */
  function echoed(index: number, text: string, now: number): number {
    const words = wordsOf(text);
    const own = wordsOf(slots[index]?.taken ?? '');
    if (own.length > 0 && begins(words, own)) return parts(words, own.length) ? own.length : 0;
    const shortest = slots[index]?.shortest ?? null;
    for (let i = index - 1; i >= 0; i -= 1) {
      const slot = slots[i];
      if (slot === undefined || slot.taken === '') continue;
      const before = wordsOf(slot.taken);
      if (!begins(words, before)) return 0;
      // Said anew: its interims began from the first word again.
      if (shortest !== null && wordsOf(shortest).length < before.length) return 0;
      if (words.length === before.length)
        return now - slot.takenAt >= SAID_AGAIN ? 0 : before.length;
      if (before.length < (patient ? REPEATED.growing : REPEATED.other)) return 0;
      return parts(words, before.length) ? before.length : 0;
    }
    return 0;
  }

  function out(
    index: number,
    alternatives: readonly Alternative[],
    now: number,
    cutOff = false,
  ): Collected[] {
    const slot = slotAt(index, now);
    const best = alternatives[0]?.text ?? '';
    const echo = echoed(index, best, now);
    const prefix = wordsOf(best).slice(0, echo);
    const first = slot.first;
    const kept = alternatives
      .filter(({ text }) => begins(wordsOf(text), prefix))
      .map((a) => ({ ...a, text: without(a.text, echo) }))
      .filter(({ text }) => wordsOf(text).length > 0);
    const only = kept.filter((a, i) => kept.findIndex((b) => b.text === a.text) === i);
    slot.taken = best;
    slot.takenAt = now;
    slot.waiting = null;
    slot.interim = '';
    slot.first = now;
    slot.shortest = null;
    return only.length === 0 ? [] : [{ alternatives: only, first, to: now, cutOff }];
  }

  /** Gives out what waits in the places [from, to). */
  function flush(from: number, to: number, now: number): Collected[] {
    return slots.flatMap((slot, i) =>
      i >= from && i < to && slot.waiting !== null ? out(i, slot.waiting.alternatives, now) : [],
    );
  }

  /** What waits and is repeated, and gone on with, in the next place: only the longer one stays. */
  function supersede(): void {
    slots.forEach((slot, i) => {
      const next = slots[i + 1];
      if (slot.waiting === null || next === undefined) return;
      const longer = wordsOf(next.waiting?.alternatives[0]?.text ?? next.interim);
      const own = wordsOf(slot.waiting.alternatives[0]?.text ?? '');
      if (longer.length <= own.length || !begins(longer, own)) return;
      next.first = Math.min(next.first, slot.first);
      slot.passedOn = slot.waiting.alternatives[0]?.text ?? '';
      slot.waiting = null;
      slot.interim = '';
    });
  }

  return {
    take(results, now) {
      const given: Collected[] = [];
      if (results.length < slots.length) {
        // The list began anew; what waited in the places that are gone goes out.
        given.push(...flush(results.length, Infinity, now));
        slots = slots.slice(0, results.length);
      }
      results.forEach((result, i) => {
        const best = result.alternatives[0]?.text ?? '';
        if (wordsOf(best).length === 0) return;
        const slot = slotAt(i, now);
        const own = wordsOf(slot.taken);
        if (!result.final) {
          const grows = own.length > 0 && begins(wordsOf(best), own);
          if (own.length > 0 && !grows) {
            // The place is used for a new utterance.
            slot.taken = '';
            slot.first = now;
            slot.shortest = null;
          }
          if (slot.interim === '' && slot.waiting === null) slot.first = now;
          slot.interim = best;
          if (slot.shortest === null || best.length < slot.shortest.length) slot.shortest = best;
          return;
        }
        const trusted = result.alternatives.some((a) => (a.confidence ?? 0) > 0);
        const words = wordsOf(best);
        // The list is delivered whole each time: what went out stays out.
        if (own.length > 0 && slot.interim === '' && sameWords(words, own)) return;
        if (slot.passedOn !== '' && sameWords(words, wordsOf(slot.passedOn))) return;
        if (trusted && !patient) {
          given.push(...flush(0, i, now), ...out(i, result.alternatives, now));
        } else {
          const waits = slot.waiting?.alternatives[0]?.text;
          const due = waits === best ? (slot.waiting?.due ?? now + SETTLE) : now + SETTLE;
          slot.waiting = { alternatives: result.alternatives, due };
        }
      });
      supersede();
      return given;
    },
    settle(now) {
      return slots.flatMap((slot, i) =>
        slot.waiting !== null && slot.waiting.due <= now
          ? out(i, slot.waiting.alternatives, now)
          : [],
      );
    },
    get due() {
      const due = slots.flatMap((slot) => (slot.waiting === null ? [] : [slot.waiting.due]));
      return due.length === 0 ? null : Math.min(...due);
    },
    get partial() {
      return slots
        .map((slot, i) => {
          const text = slot.waiting?.alternatives[0]?.text ?? slot.interim;
          return text === '' ? '' : without(text, echoed(i, text, Infinity));
        })
        .filter((text) => text !== '')
        .join(' ');
    },
    end(now) {
      // The places stay: a final that comes after the end must not go out twice.
      return slots.flatMap((slot, i) => {
        if (slot.waiting !== null) return out(i, slot.waiting.alternatives, now);
        if (slot.interim === '') return [];
        return out(i, [{ text: slot.interim, confidence: null }], now, true);
      });
    },
  };
}

function sameWords(a: readonly string[], b: readonly string[]): boolean {
  return a.length === b.length && begins(a, b);
}
