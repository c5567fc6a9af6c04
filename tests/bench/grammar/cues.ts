import type { Catalogue } from '#shared/catalogue';
import type { Claim, Label } from '../../corpus/format.ts';
import { plainWords } from '../channel.ts';
import { phoneDistance, sayWord } from '../phones.ts';
import { isFinding } from './spoken.ts';

/**
 * The words on which a label hangs: what says a finding, a denial, or that it
 * is only talk. Where damage has taken such a word, nobody could know the label
 * any more; it is counted all the same, and the table says how often.
 *
 * The lists are the bench's own, by what people commonly say; they take nothing
 * from the grammar. A label that hangs on a word outside them ("growling") is
 * not looked at, so the shares are of what can be looked at.
 */
const FINDING =
  /^(crack|hairline|fissure|dent|ding|nick|notch|chaf|fret|smok|powder|corro|rust|pit|leak|drip|seep|weep|wet|loose|slack|miss|lack|gone|broke|worn|wear|bald|fray|bent|bend|stiff|flat|soft|low|cut|torn|tear|tore|wrinkl|ripple|delam|void|play|wobbl|scratch|scrap|scor|goug|block|plug|dirt|dust|filth|inop|dead|blown|damage|kink|bulg|unlatch|open|groov|stain|burn|black|discolo|hole|droop|water|sediment|nois|rattl|growl|split|unsat|unserviceable|down|knackered|erosion|misalign)/;
const NUMBER =
  /^(zero|one|two|tree|three|four|fower|five|fife|six|seven|eight|nine|niner|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety|hundred|point|decimal|half|quarter|quarters|past|below|under|between|knuckle|fingertip|\d+)$/;
const DENIAL =
  /^(no|not|nothing|none|never|neither|nor|without|negative|nowt|free|isn't|aren't|wasn't|doesn't|don't|didn't|hasn't|haven't|can't|cannot|won't)$/;
const TALK =
  /^(if|when|whenever|would|should|could|want|looking|make|sure|suppose|imagine|going|i'll|last|week|month|year|yesterday|used|was|were|had|said|says|told|reckons|according|think|guess|maybe|perhaps|might|probably|what|which|how|why|is|do|does|never|always|you)$/;

/** Phone distance for each phone up to which a short word is still itself: "know" is "no", "dot" is not "not". */
const SAME = 0.12;

/** Cue words of an utterance that can no longer be known by sound. */
export interface Gone {
  readonly finding: boolean;
  readonly denial: boolean;
  readonly talk: boolean;
}

export function goneFrom(
  said: string,
  heard: string,
  labels: readonly Label[],
  catalogue: Catalogue,
): Gone {
  if (said === heard) return { finding: false, denial: false, talk: false };
  const claims = labels.filter((l): l is Claim => l.kind === 'claim');
  const lost = (cue: RegExp) => lostWord(plainWords(said), plainWords(heard), cue);
  const byValue = claims.some((c) => isFinding(c, catalogue) && c.amounts.length > 0);
  return {
    finding:
      claims.some((c) => isFinding(c, catalogue)) && (lost(FINDING) || (byValue && lost(NUMBER))),
    denial: claims.some((c) => c.signs.some((s) => !s.present)) && lost(DENIAL),
    talk: claims.some((c) => c.force !== 'result' || c.asked) && lost(TALK),
  };
}

/** Whether one of the words that match the cue is heard fewer times than it was said. */
function lostWord(said: readonly string[], heard: readonly string[], cue: RegExp): boolean {
  const free = [...heard];
  return said
    .filter((w) => cue.test(w))
    .some((word) => {
      const at = free.findIndex((other) => sameBySound(word, other));
      if (at < 0) return true;
      free.splice(at, 1);
      return false;
    });
}

function sameBySound(a: string, b: string): boolean {
  if (a === b) return true;
  const [x, y] = [sayWord(a), sayWord(b)];
  if (x === null || y === null) return false;
  return phoneDistance(x, y) / Math.max(x.length, y.length) <= SAME;
}
