import type { Matches } from '../matches/matches.ts';
import type { Roster } from '../matches/roster.ts';

/**
 * Where on the walk the speaker is, as a probability over the stations. It moves with
 * the names that are said, mostly to the next station, and resists jumps: one word of a
 * far name carries nobody across the aircraft.
 *
 * The shares below are how often walks to learn from stayed, went on by one, or went
 * anywhere else from one utterance to the next (about 88, 7 and 5 of 100). A stiffer
 * belief hears the next station late, a looser one follows every stray word.
 */
const STAY = 0.88;
const NEXT = 0.07;
const JUMP = 0.05;
/** A walk begins at its first station or, three times in ten, anywhere. */
const BEGIN_FIRST = 0.7;
/** Weight of names heard, and of a result given; and the most that names can weigh. */
const NAMED = 1.6;
const MOST_NAMED = 2.5;
const DECIDED = 0.8;
/** Less of a name than this says nothing of where its speaker stands. */
const LEAST_NAME = 0.45;
/** A name that fits several stations speaks for each the less. */
const SHARED = 1.5;

export function firstBelief(roster: Roster): number[] {
  const n = roster.stations.length;
  return roster.stations.map((_, i) => (1 - BEGIN_FIRST) / n + (i === 0 ? BEGIN_FIRST : 0));
}

/** The belief after an utterance with these names in it. */
export function moved(belief: readonly number[], roster: Roster, matches: Matches): number[] {
  const n = roster.stations.length;
  const before = belief.length === n ? belief : firstBelief(roster);
  const next = new Array<number>(n).fill(0);
  for (let i = 0; i < n; i += 1) {
    const p = before[i] ?? 0;
    for (let j = 0; j < n; j += 1) next[j] = (next[j] ?? 0) + (p * JUMP) / n;
    const last = i + 1 >= n;
    next[i] = (next[i] ?? 0) + p * (STAY + (last ? NEXT : 0));
    if (!last) next[i + 1] = (next[i + 1] ?? 0) + p * NEXT;
  }
  const said = evidence(roster, matches);
  return even(next.map((p, i) => p * Math.exp(NAMED * Math.min(said[i] ?? 0, MOST_NAMED))));
}

/** The belief after a result was given at a station. */
export function settled(belief: readonly number[], station: number): number[] {
  return even(belief.map((p, i) => (i === station ? p * Math.exp(DECIDED) : p)));
}

/** How much is said of each station: every name once, shared among the stations that it fits. */
function evidence(roster: Roster, matches: Matches): number[] {
  const out = new Array<number>(roster.stations.length).fill(0);
  const seen = new Map<string, { station: number; value: number }>();
  for (let token = 0; token < matches.best.length; token += 1) {
    const top = Math.max(matches.best[token] ?? 0, matches.station[token] ?? 0);
    if (top < LEAST_NAME) continue;
    const holders = new Map<number, string[]>();
    for (const member of roster.members) {
      const share = matches.of[member.index]?.name.get(token) ?? 0;
      if (share < top - 1e-6) continue;
      holders.set(member.stationIndex, [...(holders.get(member.stationIndex) ?? []), member.key]);
    }
    for (const [station, keys] of holders) {
      const key = `${String(station)} ${keys.join(' ')}`;
      const value = top / holders.size ** SHARED;
      const old = seen.get(key);
      if (old === undefined || old.value < value) seen.set(key, { station, value });
    }
  }
  for (const { station, value } of seen.values()) out[station] = (out[station] ?? 0) + value;
  return out;
}

function even(weights: readonly number[]): number[] {
  const sum = weights.reduce((a, b) => a + b, 0);
  return sum === 0
    ? weights.map(() => 1 / weights.length)
    : weights.map((w) => Math.round((w / sum) * 1e6) / 1e6);
}
