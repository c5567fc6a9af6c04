import type { Check } from '#shared/catalogue';
import type { Which } from '#shared/statement';
import { aspectsOf } from '../aspects.ts';
import { DECIDE } from '../decide.ts';
import type { Member } from '../matches/roster.ts';
import type { CandidateInput } from '../scores/around.ts';
import type { Scored } from '../scores/scored.ts';

/**
 * What a good speaks for. That it is good, of this aspect and at these places has to be right
 * together, so the three shares are multiplied: a plain "good" of which the place is a guess
 * counts as little as a place that is plain and a verdict that is one (R1).
 *
 * On the tune part, at equally many aspects and places spoken for that nobody had reported,
 * this credits 7 of 100 more than a threshold for each of the three did.
 */
export interface Credit {
  /** Ids of the aspects that are spoken for; empty where the check has none, or none is sure enough. */
  readonly aspects: readonly string[];
  /** Whether anything is sure enough to count. */
  readonly counts: boolean;
}

/**
 * @param good share that it was said to be good
 * @param only indexes of the aspects that the words may speak for; null where any
 * @param general whether the words say plainly that it is good: the general aspect's own word
 */
export function creditOf(
  { member, features }: Pick<CandidateInput, 'features'> & { readonly member: Member },
  check: Check,
  scored: Scored,
  good: number,
  which: Which,
  only: ReadonlySet<number> | null,
  general: boolean,
): Credit {
  const here = good * placeShare(member, scored, which);
  const from = isGuessed(features) ? DECIDE.creditGuessed : DECIDE.credit;
  if (check.aspects.length === 0) return { aspects: [], counts: here >= from };
  const plain = general ? aspectsOf(check).general : null;
  const aspects = check.aspects.filter((a, i) => {
    const said = scored.aspects[i] ?? 0;
    const share = a.id === plain && said >= DECIDE.general ? 1 : said;
    const worded = only?.has(i) ?? true;
    return here * share >= from && (worded || share >= DECIDE.aspectUnworded);
  });
  return { aspects: aspects.map((a) => a.id), counts: aspects.length > 0 };
}

/**
 * Whether the check is one of several that fit the words as well, or is named by less than most
 * of a name and not just before either: which of them is meant is then a guess (R5).
 */
function isGuessed(features: readonly number[]): boolean {
  const any = (list: readonly number[]): boolean => list.some((k) => (features[k] ?? 0) > 0);
  const tied = any(TIED) && !any(SIDES_TELL);
  const before = any(JUST_NAMED);
  return tied || (!before && (features[SHARE] ?? 0) < MOST_OF_A_NAME);
}
/** Where they stand among the features of a candidate (scores/features.ts). */
const SHARE = 0;
const TIED = [5, 6] as const;
const JUST_NAMED = [12, 13, 14] as const;
/** Its side is said, or was said or reported on last. */
const SIDES_TELL = [30, 58, 60] as const;
/** "The column" sounds like the cowling by about this much of its name, "the cowl" is more. */
const MOST_OF_A_NAME = 0.7;

/** How sure the places are: those that are named, or that one without a name is meant. */
function placeShare(member: Member, scored: Scored, which: Which): number {
  if (which.how === 'one') return scored.which[ONE] ?? 0;
  const shares = which.instances.flatMap((place) => {
    const i = member.instances.indexOf(place);
    return i < 0 ? [] : [scored.places[i]?.meant ?? 0];
  });
  const least = Math.min(1, ...shares);
  // That all are meant is seldom said of each: a plural in the words or the catalogue says it.
  return which.how === 'all' ? Math.max(DECIDE.allPlaces, least) : least;
}
/** Place of "one, without saying which" in `Scored.which`. */
const ONE = 1;
