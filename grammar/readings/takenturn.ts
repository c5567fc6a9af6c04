import { SAID, type Talk } from '#shared/talk';
import type { Member, Roster } from '../matches/roster.ts';
import { SIDE_WORDS, stem } from '../names.ts';
import type { Inputs } from '../scores/around.ts';
import type { Scored, Scores } from '../scores/scored.ts';

/**
 * "Oil here is nine quarts", said when the left engine's oil was reported long ago and the walk has gone on
 * past that engine: of two that differ in their side only, each at a station of its own, the one that is
 * still due is meant. A walk comes to each of them once; what comes back to the first says so (R6).
 */

/** From here the scores hold a check to be reported on, or to be corrected. */
const MEANT = 0.5;
/** What was reported on so lately may still be talked about. */
const LATELY = 6;

interface Turned {
  readonly inputs: Inputs;
  readonly words: readonly string[];
  readonly talk: Talk;
  readonly roster: Roster;
}

/** The scores, with those of the first of two such twins given to the second where its turn has come. */
export function inTurn(turned: Turned, scores: Scores): Scores {
  const { words } = turned;
  const naval = words.find((w, i) => NAVAL.test(w) && i + 1 < words.length);
  if (naval !== undefined) return given(turned, scores, (m) => namedBy(turned, m, naval));
  // Whoever says a side means it.
  if (words.some((w) => SIDE_WORDS.has(stem(w)))) return scores;
  return given(turned, scores, (m) => dueInstead(turned, m));
}

/** The scores of each check that is meant, given to the twin that is found for it. */
function given(
  { inputs }: Turned,
  scores: Scores,
  twinOf: (member: Member) => Member | undefined,
): Scores {
  const at = new Map(inputs.candidates.map((c, i) => [c.member?.index ?? -1, i]));
  const candidates = [...scores.candidates];
  inputs.candidates.forEach(({ member }, i) => {
    const scored = scores.candidates[i];
    if (member === null || scored === undefined || !isMeant(scored)) return;
    const other = at.get(twinOf(member)?.index ?? -2);
    if (other === undefined || !isAlike(scored, scores.candidates[other])) return;
    candidates[i] = { ...scored, result: 0, good: 0, finding: 0, ask: 0, talk: 0 };
    candidates[other] = { ...scored, ask: 0 };
  });
  return { ...scores, candidates };
}

/** "Port oil", where the port one has that word in its name and the one that the scores hold it for has the other. */
function namedBy({ roster, words }: Turned, member: Member, side: string): Member | undefined {
  const has = (m: Member, w: string): boolean => m.names[0]?.includes(w) === true;
  const said = words.filter((w) => NAVAL.test(w));
  if (new Set(said).size > 1 || !has(member, side === 'port' ? 'starboard' : 'port'))
    return undefined;
  return twinsIn(roster, member).find((m) => has(m, side));
}
const NAVAL = /^(port|starboard)$/;

/** The twin whose turn it is: this one was reported on long ago, and that one not yet. */
function dueInstead({ talk, roster }: Turned, member: Member): Member | undefined {
  const here = lastStation(talk, roster);
  if (here === null || talk.at === member.station.id) return undefined;
  // While one is still at the first one, a second word on it is of it, and a fault least of all its twin's (R4).
  if (member.stationIndex >= here || !reported(talk, member) || isLate(talk, member))
    return undefined;
  const due = twinsIn(roster, member).filter((m) => m.stationIndex >= here && !reported(talk, m));
  return due.find((m) => m.stationIndex === here) ?? (due.length === 1 ? due[0] : undefined);
}

const twinsIn = (roster: Roster, { twins }: Member): readonly Member[] =>
  twins.flatMap((t) => roster.members[t] ?? []);

const isMeant = (s: Scored): boolean => Math.max(s.result, s.finding) >= MEANT && s.amends < MEANT;

/** Alike in aspects and places, so that the shares of one are shares of the other. */
const isAlike = (one: Scored, two: Scored | undefined): boolean =>
  one.aspects.length === two?.aspects.length && one.places.length === two.places.length;

const reported = (talk: Talk, { key }: Member): boolean =>
  ((talk.ever[key] ?? 0) & SAID.result) !== 0;

const isLate = ({ turns }: Talk, { key }: Member): boolean =>
  turns.slice(-LATELY).some((t) => t.said[key] !== undefined);

/** Index of the station of what was reported on last; null where nothing was. */
export function lastStation({ turns }: Talk, roster: Roster): number | null {
  for (const turn of [...turns].reverse()) {
    const results = Object.entries(turn.said).flatMap(([key, row]) => {
      const member = roster.byKey.get(key);
      return member !== undefined && (row.what & SAID.result) !== 0 ? [member.stationIndex] : [];
    });
    const last = results.at(-1);
    if (last !== undefined) return last;
  }
  return null;
}
