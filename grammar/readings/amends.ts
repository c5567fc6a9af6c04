import type { Observation, Which } from '#shared/statement';
import { saysCorrecting } from '../conversation/parted.ts';
import { lexicon } from '../lexicon.ts';
import { phrasesIn } from './phrases.ts';
import type { Scoring } from './scoring.ts';

/** What a report says, as far as it bears on an earlier one. */
interface Told {
  readonly check: string | null;
  readonly which: Which;
  /** The scores hold that it amends what was told last. */
  readonly amends: boolean;
  /** It is good, sure or not, and names no fault. */
  readonly well: boolean;
  /** It is plainly good, or a value, with no fault and no doubt. */
  readonly sure: boolean;
}

/** Id of the earlier statement that a report amends; null where it stands beside it (R6). */
export function amendsOf(s: Scoring, told: Told): string | null {
  const { last } = s.scene;
  const same = last?.about.kind === 'check' && last.about.check === told.check;
  // A good takes no fault back that was told before it, unless it is said to correct that.
  const erases = last !== null && isFault(last) && told.well;
  if (told.amends && same && !(erases && !saysCorrecting(s.words.tokens))) return last.id;
  if (told.check === null || !told.sure) return null;
  return mendedOf(s, told.check, told.which) ?? refutedOf(s, told.check, told.which);
}

const isFault = (o: Observation): boolean =>
  o.conditions.some((c) => c.present) || o.verdict?.good === false;

/**
 * "The aux cap lifts straight off. – I've given it the half turn, it's on there now": a fault that was put
 * right on the spot. The words say so, and the later report stands for the earlier one (R6); without such
 * words a good behind a fault is a contradiction, and the worse reading stands.
 */
function mendedOf(s: Scoring, check: string, which: Which): string | null {
  if (!saysMended(s)) return null;
  const before = faultBefore(s, check, which, LATELY);
  return before !== null && isMendable(s, before) && covers(which, before) ? before.id : null;
}

/**
 * "It's cracked at the weld. – No, that's a casting line, not a crack, the exhaust is good": no fault was there,
 * and the speaker denies the very fault and says what was taken for it. "It's only a short one, it's good"
 * denies nothing: that is a contradiction, and the worse reading stands (R6).
 */
function refutedOf(s: Scoring, check: string, which: Which): string | null {
  const before = faultBefore(s, check, which, AT_ONCE);
  if (before === null || !covers(which, before) || isDemanding(s, before)) return null;
  if (s.words.tokens.some((t) => t.asks)) return null;
  const { refuted, instead } = lexicon().hedges;
  const says = (list: readonly string[]): boolean => phrasesIn(s.words.tokens, list).length > 0;
  const named = before.conditions.filter((c) => c.present).map((c) => c.condition);
  const denied = s.inputs.conditions.filter((c) => c.denials === 1).map((c) => c.id);
  const same = named.length > 0 && named.every((id) => denied.includes(id));
  return says(refuted) || (same && says(instead)) ? before.id : null;
}

/** The fault, or the value, that was told last of a check at places that may be these; null where it is long ago. */
function faultBefore(s: Scoring, check: string, which: Which, lately: number): Observation | null {
  const turns = new Set(s.scene.talk.turns.slice(-lately).map((t) => t.heard));
  const before = s.scene.talk.told.findLast(
    (o) =>
      o.force === 'result' &&
      o.about.kind === 'check' &&
      o.about.check === check &&
      meets(o.about.which, which),
  );
  return before !== undefined && turns.has(before.heard) && isIll(before) ? before : null;
}

const isIll = (o: Observation): boolean => isFault(o) || o.values.length > 0;

/** Utterances back in which the fault was told: who mends on the spot says so at once, or after a word with others. */
const LATELY = 7;
/** The same for what turns out to be none: one looks again at once. */
const AT_ONCE = 4;

/**
 * What no hand puts right beside the aircraft. "Cracked … now it's good" stays a contradiction and is asked
 * about. Common practice, no source; a condition that is left out here is cleared by the pilot's own words,
 * one too many costs a question.
 */
const LASTING: ReadonlySet<string> = new Set(
  'crack dent nick gouge scratch chafing fretting corrosion pitting erosion galling wear groove play seepage leak wrinkle bent droop delamination blister broken damage hole frayed kinked cut torn split burnt overheated out-of-date unsafe unserviceable water contaminated'.split(
    ' ',
  ),
);

function isMendable(s: Scoring, o: Observation): boolean {
  const faults = o.conditions.filter((c) => c.present);
  return !faults.some((c) => LASTING.has(c.condition)) && !isDemanding(s, o);
}

/** What demands a look of its own is answered by that look. */
function isDemanding({ roster }: Scoring, o: Observation): boolean {
  const { signs } = roster.catalogue;
  return o.conditions.some(
    (c) => c.present && (signs.find((sign) => sign.id === c.sign)?.followUps ?? []).length > 0,
  );
}

function saysMended({ words }: Scoring): boolean {
  const { mended, nownot } = lexicon().hedges;
  if (words.tokens.some((t) => t.asks)) return false;
  return phrasesIn(words.tokens, mended, nownot).some(({ from, to }) => {
    const said = words.tokens.slice(from, to).map((t) => t.word);
    return mended.includes(said.join(' '));
  });
}

/** Whether two sets of places can be of the same. */
function meets(a: Which, b: Which): boolean {
  if (a.instances.length === 0 || b.instances.length === 0) return true;
  return a.instances.some((i) => b.instances.includes(i));
}

/** Two tyres were low, and one is pumped: the other is as it was. */
function covers(which: Which, { about }: Observation): boolean {
  if (about.kind !== 'check' || about.which.instances.length === 0) return true;
  return about.which.instances.every((i) => which.instances.includes(i));
}
