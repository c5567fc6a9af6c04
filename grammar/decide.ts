import type { Scored } from './scores/scored.ts';

/**
 * What becomes of a reading: it counts, it is asked about, it waits, or it is let go as
 * talk. All thresholds stand here, each with what the two errors at it cost.
 *
 * A check called spoken for that was not, and a finding that is lost, can kill. A question
 * too many costs a breath; a good that waits costs the pilot one more look at what is left.
 * So good counts only from a high share and waits below it, while a finding counts from an
 * even share and is asked about from a small one. The shares are calibrated on the tune
 * part of the walks (grammar/MODEL.md): nobody's report part was looked at.
 */
export const DECIDE = {
  /** From here a check is held to be reported on. Lower names what was only talked about; higher loses results. */
  result: 0.5,
  /** From here a blanket's good may count (`blanket`); a check's counts by `credit`. */
  good: 0.92,
  /** Behind words of teaching, planning or supposing good counts from here, a fault from the second (R2). */
  goodInTalk: 0.97,
  findingInTalk: 0.9,
  /** Behind "last week" and the like a fault counts from here only; below it is asked about (R2). */
  findingInPast: 0.97,
  /** Beside a word that nobody knows good only waits, and a fault counts from here; below it is asked about (R5). */
  findingStrange: 0.8,
  /** From here to `good` a good waits until the station is left, and does not count. Below it is let go. */
  goodWaits: 0.7,
  /** From here a finding counts. Higher loses findings, lower invents them. */
  finding: 0.45,
  /**
   * From here to `finding` it is asked about (R4). On the tune part .12 lost 176 of 1,000 findings
   * where .2 lost 193, for 1.8 questions more in 100 utterances; .15 is between them.
   */
  findingAsked: 0.15,
  /** A fault in plain words at a check that is named in full counts where it is so sure to be reported on (R4). */
  reported: 0.9,
  /** A finding that fits nothing on the list: kept unplaced from here (R4), asked about from the second. */
  unplaced: 0.6,
  unclear: 0.6,
  /** From here the speaker's own doubt, a tie or a plural is asked about (R5). */
  ask: 0.8,
  /**
   * From here a mention in talk is kept with the check. On the tune part .5, .4 and .3 found mentions at F1 .65,
   * .66 and .64, and lost 166, 161 and 164 of 1,000 findings: what was brought up is what the next "it" means.
   */
  talk: 0.4,
  value: 0.5,
  done: 0.5,
  amends: 0.5,
  excepted: 0.5,
  /** A blanket speaks for many checks at once: it has to be plainly asserted (R7). */
  blanket: 0.9,
  /** At .5 both spoke for a third more aspects and places that nobody had reported. */
  aspect: 0.75,
  /** The same of the general aspect, where "good" is said. */
  general: 0.3,
  place: 0.7,
  /**
   * From here an aspect at a place counts as good: that it is good, of this aspect and here,
   * multiplied. On the tune part .82, .86 and .88 credited .702, .692 and .678 of what was
   * reported, and spoke falsely for 39, 38 and 36 of 1,000.
   */
  credit: 0.87,
  /**
   * The same where the check is one of several that the words fit, or is hardly named (R5): of
   * such goods fewer are right at the same share (74 of 100 for 86, measured with scores before).
   */
  creditGuessed: 0.95,
  /** An aspect without a word of its own beside others that have one counts from here only (R1). */
  aspectUnworded: 0.98,
  /** How sure it is at least that all places are meant, where words or catalogue say so. */
  allPlaces: 0.5,
  /** A condition that no word of the lexicon names is taken from here; else the finding has none. */
  named: 0.3,
  /** What the net must hold an order, a retraction and the like for, beside the words themselves. */
  order: 0.4,
  /** From here an utterance talks of something, and what it names to have happened is an example. */
  example: 0.3,
  /**
   * From here a fault is as bad as the scores hold it to be said. Lower rates what was only supposed; higher
   * asks how bad it is, which a breath settles.
   */
  rated: 0.5,
  /**
   * The same told in one breath with the fault: "needs a new one" is no decision, and a fault that is taken to
   * be rated is not asked about, nor rated as the catalogue proposes.
   */
  ratedInBreath: 0.75,
  /** The same amid words of talk, or in a lecture: hardly anything there is decided about this aircraft. */
  ratedInTalk: 0.8,
  /** A word of the list of severities is none below this share: "I won't ground it for that". */
  ratedInWords: 0.1,
  /** A fault that was just told is told again from here, where no word of it names a thing; below, nothing is said. */
  toldAgain: 0.9,
  /** An order that is none to the letter has to be this plain: a false one stops or ends a walk. */
  looseOrder: 0.7,
} as const;

/** What was decided about one candidate. */
export interface Decision {
  readonly index: number;
  readonly kind: 'result' | 'talk' | 'excepted';
  /** Counts; waits; or was not said. */
  readonly good: 'counts' | 'waits' | 'no';
  readonly finding: 'counts' | 'asked' | 'no';
  readonly value: boolean;
  readonly done: boolean;
  readonly amends: boolean;
  /** The speaker's own doubt: asked whatever else is sure. */
  readonly doubt: boolean;
  /** Something that happened demands this check, and a fault is told at it. */
  readonly demanded?: true;
  /** The share that the decision rests on. */
  readonly sure: number;
}

/** Decides about every candidate but the last, which is "nothing on the list". */
export function decide(
  scored: readonly Scored[],
  isStation: (index: number) => boolean,
  questioned: boolean,
): Decision[] {
  return scored.slice(0, -1).flatMap((s, index): Decision[] => {
    const station = isStation(index);
    const goodFrom = station ? DECIDE.blanket : DECIDE.good;
    // A fault that is seen where a report is not quite is asked about, never dropped (R4).
    const finding =
      s.finding >= DECIDE.finding && s.result >= DECIDE.result
        ? 'counts'
        : s.finding >= DECIDE.findingAsked
          ? 'asked'
          : 'no';
    const good =
      s.good >= goodFrom && finding !== 'asked'
        ? 'counts'
        : s.good >= DECIDE.goodWaits && !station
          ? 'waits'
          : 'no';
    const doubt = s.ask >= DECIDE.ask;
    const result = s.result >= DECIDE.result || finding === 'asked' || doubt;
    if (result && !(station && (questioned || good === 'no')))
      return [
        {
          index,
          kind: 'result',
          good,
          finding,
          value: s.value >= DECIDE.value,
          done: s.done >= DECIDE.done,
          amends: s.amends >= DECIDE.amends,
          doubt,
          sure: finding === 'counts' ? s.finding : good === 'no' ? s.result : s.good,
        },
      ];
    const kind = s.excepted >= DECIDE.excepted ? 'excepted' : s.talk >= DECIDE.talk ? 'talk' : null;
    if (kind === null) return [];
    return [
      {
        index,
        kind,
        good: 'no',
        finding: 'no',
        value: false,
        done: false,
        amends: false,
        doubt: false,
        sure: s.talk,
      },
    ];
  });
}
