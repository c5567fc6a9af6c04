import type { Scene } from '#shared/scene';
import type { About, Statement } from '#shared/statement';
import type { Clause } from './clauses.ts';
import { doubt } from './doubt.ts';
import type { ForceRead } from './forces.ts';
import { joint } from './joints.ts';
import { stems, type CheckEntry } from './names.ts';
import { saidOf, verdictEntry } from './said.ts';
import type { Speaker } from './speaker.ts';
import { whichOf, whichWords } from './which.ts';

/** A verdict over a station, an arrival at it, or a finding somewhere on it. */
export function blanketSaid(
  speaker: Speaker,
  clause: Clause,
  scene: Scene,
  read: ForceRead,
  squawk: boolean,
): Statement | null {
  const named = clause.stations[0]?.station ?? null;
  const everything = clause.preds.some((p) => p.senses.some((s) => s.kind === 'everything'));
  const station = named ?? (everything ? scene.station : null);
  if (station === null) return null;
  const said = saidOf(clause, null, speaker.tokens, speaker.raw, true);
  const found = said.conditions.some((c) => c.present);
  const place = clause.stations[0];
  const span =
    place === undefined ? speaker.span(clause.from, clause.to) : speaker.span(place.from, place.to);
  if (said.verdict === null && said.conditions.length === 0) {
    if (named === null) return null;
    if (read.force === 'result' || read.force === 'intention') {
      return {
        ...speaker.common(clause, [`"${span.words}" names the station: no result (R1)`]),
        kind: 'arrival',
        station: named,
      };
    }
    return null;
  }
  if (
    named !== null &&
    !everything &&
    (said.conditions.length > 0 || said.verdict?.actOnly === true)
  ) {
    const only = checkLike(speaker, named, span.words);
    if (only !== null) {
      const whole = saidOf(clause, only, speaker.tokens, speaker.raw, true);
      const words = whichWords(speaker.words(clause.from, clause.to), false);
      const { which } = whichOf(only, words, scene);
      return doubt(
        speaker,
        speaker.observation(
          clause,
          read,
          { kind: 'check', check: only.check.id, which, span },
          [],
          whole,
          only,
          squawk,
          scene,
          [
            `"${span.words}" is the station, and ${only.check.id} the only check that bears its name`,
          ],
        ),
        clause,
        null,
      );
    }
  }
  if (found) {
    const part = speaker.span(clause.from, clause.to).words;
    const about: About = { kind: 'unplaced', part: span.words === '' ? part : span.words, span };
    return speaker.observation(clause, read, about, [], said, null, squawk, scene, [
      `something at ${station}, but which check is not clear (R4)`,
    ]);
  }
  const about: About = { kind: 'station', station, except: [], span };
  const observation = speaker.observation(clause, read, about, [], said, null, squawk, scene, [
    `a blanket over ${station} (R7)`,
  ]);
  const specific =
    !everything &&
    clause.preds
      .flatMap((p) => p.senses)
      .filter((s) => s.kind === 'verdict')
      .every((s) => verdictEntry(s.id)?.aspect !== undefined);
  // "Engine bottom dry": of something there, and not of all that is there.
  if (specific && observation.force === 'result' && observation.doubtful === null)
    return { ...observation, doubtful: `of what at ${station} is not clear` };
  // "Prop's good", where the station and the propeller's blades are called so: of the blades, or of all that is there.
  const whole =
    everything ||
    speaker.words(clause.from, clause.to).some((w) => joint('whole').has(w)) ||
    named === null;
  if (!whole && observation.verdict?.good === true && observation.doubtful === null) {
    const thing = checksLike(speaker, station, span.words)[0];
    if (thing !== undefined && observation.force === 'result')
      return { ...observation, doubtful: `all that is there, or ${thing.check.name}` };
  }
  return doubt(speaker, observation, clause, null);
}

/**
 * The one check at a station that is called after it, by the word that was
 * said: "the boom is wrinkled" is the boom's skin. "Rotor" is no "main tyre",
 * though the station's whole name is "main rotor".
 */
function checkLike(speaker: Speaker, station: string, words: string): CheckEntry | null {
  const fits = checksLike(speaker, station, words);
  return fits.length === 1 ? (fits[0] ?? null) : null;
}
function checksLike(speaker: Speaker, station: string, words: string): CheckEntry[] {
  const said = new Set(stems(words));
  return speaker.compiled.names.checks.filter(
    (e) =>
      e.station.id === station &&
      e.names.some((n) => said.has(stems(n)[0] ?? '') && stems(n).length === 2),
  );
}
