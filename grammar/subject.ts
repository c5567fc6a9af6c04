import { instancesOf } from '#shared/catalogue';
import type { Scene } from '#shared/scene';
import type { Candidate } from '#shared/statement';
import { joint } from './joints.ts';
import { SIDE_WORDS, stems, type CheckEntry, type Names, type NameTarget } from './names.ts';
import type { ItemPiece } from './pieces.ts';
import { sideFit, type WhichWords } from './which.ts';

/**
 * Two names as near as this are not told apart: Talkround asks (R5). Wider asks
 * more often; narrower may speak for the wrong check, which can kill.
 */
export const NEAR_TIE = 0.06;
/** What standing at the station is worth. Never enough to beat a name said in full. */
export const STATION_PRIOR = 0.03;
/** What a matching side word is worth; a contradicted side rules a check out. */
const SIDE = 0.05;

/** Beyond this, no prior lifts a name over the best one. */
const REACH = 0.25;

export interface Subject {
  /** Best first; the second and further only where they are near. */
  readonly near: readonly { entry: CheckEntry; score: number; how: string }[];
  readonly candidates: readonly Candidate[];
  readonly why: string;
  /** Sides that the heard name says itself. */
  readonly sides: readonly string[];
}

/** Why a name fits, in words. */
function howHeard(
  target: NameTarget,
  item: ItemPiece,
  sides: readonly string[],
  here: boolean,
): string {
  return [
    target.score === 1 ? `"${target.full}"` : `part of "${target.full}"`,
    item.match === 1 ? 'heard to the letter' : item.how,
    sides.length > 0 ? `on the ${sides.join(' ')} side` : '',
    here ? 'at this station' : '',
  ]
    .filter((s) => s !== '')
    .join(', ');
}

/** A name that lacks one word of a check's own at this station is worth at least this. */
const SHORTENED = 0.86;
/** Of a check at this station that has the side that was said, one word of its name is enough to ask ("the right belt", in the cabin). */
const LOCAL = 0.6;
/** How far behind a whole name a check on a side that was said is still looked at. */
const LOCAL_REACH = 0.4;

/**
 * At the tail rotor "pitch links" may be its own, though "pitch links" is the whole
 * name of others elsewhere. The name beats the place (R1), so it is not taken for
 * the near ones; where both fit it is asked (R5).
 */
function localTwin<T extends { here: boolean; score: number; fit: number }>(
  scored: readonly T[],
  scene: Scene,
): T | null {
  if (scene.station === null || scene.check === null) return null;
  const fits = scored.filter(
    (s) =>
      s.here && s.score - STATION_PRIOR >= (s.fit > 0 && scored[0]?.fit === 0 ? LOCAL : SHORTENED),
  );
  return fits.length === 1 ? (fits[0] ?? null) : null;
}

/** "The pitch links of the tail": words beside the name that belong to another one's longer name. */
function toldBy<T extends { entry: CheckEntry; score: number; here: boolean }>(
  scored: readonly T[],
  best: CheckEntry | undefined,
  beside: readonly string[],
): T | null {
  if (best === undefined) return null;
  const telling = beside.filter(
    (w) => !best.words.has(w) && !SIDE_WORDS.has(w) && !joint('link').has(w),
  );
  if (telling.length === 0) return null;
  const fits = scored.filter(
    (s) =>
      s.entry !== best &&
      s.score - (s.here ? STATION_PRIOR : 0) >= SHORTENED &&
      s.entry.names.some((n) => {
        const own = stems(n);
        return telling.some((w) => own.includes(w));
      }),
  );
  return fits.length === 1 ? (fits[0] ?? null) : null;
}

interface Scored {
  readonly entry: CheckEntry;
  /** How much of its name was said. */
  readonly likeness: number;
  readonly score: number;
  readonly how: string;
  readonly here: boolean;
  readonly fit: number;
}

/**
 * "Belt four" is one of four belts, though "belt" alone is another one. "Belt one" may
 * be the only one of its kind: both are as near, and are asked about unless more is said (R5).
 */
function byNumber(scored: readonly Scored[], counted: readonly number[], floor: number): Scored[] {
  const near = scored.filter((s) => s.likeness >= floor);
  const numbered = scored.filter((s) => hasNumber(s.entry, counted));
  if (numbered.length === 0 || near.some((s) => numbered.includes(s))) return near;
  if (counted.some((n) => n > 0)) return numbered;
  const best = Math.max(...near.map((s) => s.score));
  return [
    ...near,
    ...numbered.map(({ entry, likeness, how, here, fit }) => ({
      entry,
      likeness,
      how,
      here,
      fit,
      score: best,
    })),
  ];
}

/** Whether the check has places by number, and those that were said. */
function hasNumber(entry: CheckEntry, ordinals: readonly number[]): boolean {
  const places = instancesOf(entry.check);
  return places.length > 1 && ordinals.every((n) => n < places.length);
}

/** Which check a name means, given sides beside it and where the speaker is. */
export function subjectOf(
  item: ItemPiece,
  names: Names,
  words: WhichWords,
  scene: Scene,
): Subject | null {
  const scored: Scored[] = [];
  // Sorted best first: what lies far behind the best can win by no side and no station.
  // A number beside it may belong to a thing of which there are several, however it is called.
  const reach = scene.station === null || words.sides.length === 0 ? REACH : LOCAL_REACH;
  const floor = words.ordinals.length > 0 ? 0 : (item.entry.targets[0]?.score ?? 0) - reach;
  const said = [...new Set(words.sides)];
  const counted = words.ordinals.filter((n) => n >= 0);
  for (const target of item.entry.targets) {
    if (target.score < floor && counted.length === 0) break;
    const entry = names.checks[target.check];
    if (entry === undefined) continue;
    const fit = sideFit(
      entry,
      target.sides === undefined ? said : [...new Set([...said, ...target.sides])],
    );
    if (fit < 0) continue;
    const here = scene.station !== null && entry.station.id === scene.station;
    const base = target.score * item.match;
    scored.push({
      entry,
      likeness: target.score,
      score: base + fit * SIDE + (here ? STATION_PRIOR : 0),
      // Worded only where it is told: a word that many names share has hundreds of targets.
      get how() {
        return howHeard(target, item, fit > 0 ? words.sides : [], here);
      },
      here,
      fit,
    });
  }
  // "Belt four": of several, and no thing that there is once.
  if (counted.length > 0) scored.splice(0, scored.length, ...byNumber(scored, counted, floor));
  if (scored.length === 0) return null;
  scored.sort((a, b) => b.score - a.score);
  const best = scored[0]?.score ?? 0;
  let near = scored.filter((s) => best - s.score < NEAR_TIE);
  if (near.length > 1) {
    const named = near.filter((s) => s.fit > 0);
    if (named.length > 0) near = named;
  }
  if (near.length > 1) {
    // "pitch link of the tail": words beside the name that only one of them has.
    const all = near;
    const telling = words.near.filter((w) => !all.every((n) => n.entry.words.has(w)));
    const told = near.map((s) => telling.filter((w) => s.entry.words.has(w)).length);
    const most = Math.max(...told);
    if (most > 0) near = near.filter((_, i) => told[i] === most);
  }
  if (near.length > 1) {
    const here = near.filter((s) => s.here);
    if (here.length > 0) near = here;
  }
  if (near.length > 1) {
    // A full name beats a part of another name, whatever the station.
    const whole = new Set(item.entry.targets.filter((t) => t.score === 1).map((t) => t.check));
    const full = near.filter((s) => whole.has(s.entry.index));
    if (full.length > 0) near = full;
  }
  const many = Math.max(1, ...words.ordinals);
  if (words.ordinals.length > 0) {
    // "Belt four": of the belts of which there are so many.
    const enough = scored.filter((s) => instancesOf(s.entry.check).length > many);
    const fits = near.filter((n) => enough.includes(n));
    if (fits.length > 0) near = fits;
    else if (enough.length > 0) near = enough;
  }
  const told = near.length === 1 ? toldBy(scored, near[0]?.entry, words.near) : null;
  if (told !== null) near = [told];
  const local = near.length === 1 && near[0]?.here === false ? localTwin(scored, scene) : null;
  if (local !== null && near[0] !== undefined) near = [near[0], local];
  const candidates = scored.slice(0, 8).map((s) => ({
    check: s.entry.check.id,
    instances: [],
    score: Math.min(1, Math.round(s.score * 1000) / 1000),
    how: s.how,
  }));
  const first = near[0]?.entry.index;
  return {
    sides: item.entry.targets.find((t) => t.check === first)?.sides ?? [],
    near,
    candidates,
    why:
      near.length > 1
        ? `${String(near.length)} checks fit about as well: ${near.map((s) => s.entry.check.id).join(', ')} (R5)`
        : `${near[0]?.entry.check.id ?? ''}: ${near[0]?.how ?? ''}`,
  };
}
