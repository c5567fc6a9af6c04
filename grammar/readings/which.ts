import { instancesOf } from '#shared/catalogue';
import type { Scene } from '#shared/scene';
import type { Which } from '#shared/statement';
import { DECIDE, type Decision } from '../decide.ts';
import { lexicon } from '../lexicon.ts';
import type { Member, Roster } from '../matches/roster.ts';
import type { CandidateInput } from '../scores/around.ts';
import type { Scored } from '../scores/scored.ts';
import { HERE } from './beside.ts';
import { ownWords } from './said.ts';

/** What is said of some places of one check: good of these, a fault at those. */
export interface Group {
  readonly good: Decision['good'];
  readonly finding: Decision['finding'];
  readonly which: Which;
  /** How sure the good is where it is said of these places and not of others; else the check's own share is meant. */
  readonly share?: number;
}

/** What is said of a check, place by place: "front within tension, rear slack" is two. */
export function groupsOf(
  member: Member,
  input: CandidateInput,
  scored: Scored,
  d: Decision,
  scene: Scene,
  roster: Pick<Roster, 'byKey'>,
  left: readonly string[] = [],
): Group[] {
  const { good, finding } = d;
  if (left.length > 0) {
    const others = member.instances.filter((p) => !left.includes(p));
    // The fault at one of them is what the scores see; that the rest is well is asked about later.
    const well = good === 'no' && finding === 'counts' ? ('waits' as const) : good;
    const rest = { good: well, finding: 'no' as const, which: named(member, others) };
    const ill = { good: 'no' as const, finding, which: named(member, left) };
    return finding === 'counts' ? [ill, rest] : [rest];
  }
  const which = whichOf(member, input, scored, scene, finding !== 'no', roster);
  const whole = { good, finding, which };
  if (member.instances.length < 2 || finding === 'no') return [whole];
  const found = member.instances.filter((_, i) => (scored.places[i]?.finding ?? 0) >= DECIDE.place);
  const well = member.instances.filter(
    (p, i) => (scored.places[i]?.good ?? 0) >= DECIDE.place && !found.includes(p),
  );
  const shareOf = (p: string): number => scored.places[member.instances.indexOf(p)]?.good ?? 0;
  // Faults at places that nobody named are where `whichOf` says: asked about (R5).
  const spoken = member.instances.some(
    (p, i) => found.includes(p) && (input.placeAt[i]?.length ?? 0) > 0,
  );
  if (found.length === 0 || (!spoken && !says(input, ALL_SAID))) return [whole];
  const ill = { good: 'no' as const, finding, which: named(member, found) };
  return well.length === 0 || good === 'no'
    ? [{ ...ill, good: well.length === 0 ? good : 'no' }]
    : [
        ill,
        { good, finding: 'no', which: named(member, well), share: Math.min(...well.map(shareOf)) },
      ];
}

/**
 * What is said of these places alone. A fault is where the scores see it most among all that
 * were said in the same breath, so that it is never lost between them (R4).
 */
export function groupAt(
  member: Member,
  scored: Scored,
  d: Decision,
  places: readonly string[],
  among: readonly string[],
): Group {
  const share = (p: string): number => scored.places[member.instances.indexOf(p)]?.finding ?? 0;
  const most = Math.max(0, ...among.map(share));
  const ill = d.finding !== 'no' && places.some((p) => share(p) === most);
  return {
    good: ill ? 'no' : d.good,
    finding: ill ? d.finding : 'no',
    which: named(member, places),
  };
}

function named(member: Member, places: readonly string[]): Which {
  return places.length === member.instances.length
    ? { how: 'all', instances: [...places] }
    : { how: 'named', instances: [...places] };
}

/** Which places of a check are meant. */
export function whichOf(
  member: Member,
  input: CandidateInput,
  scored: Scored,
  scene: Scene,
  finding: boolean,
  roster: Pick<Roster, 'byKey'>,
): Which {
  const check = member.check;
  const all = check === null ? [] : [...instancesOf(check)];
  if (check?.repeat === undefined || all.length < 2) return { how: 'all', instances: all };
  const [one = 0, single = 0, plural = 0] = scored.which;
  const meant = member.instances.filter((_, i) => (scored.places[i]?.meant ?? 0) >= DECIDE.place);
  // "Compartments one, two, three": places that the words say are those, plural or not.
  const spoken = member.instances.some(
    (p, i) => (input.placeAt[i]?.length ?? 0) > 0 && meant.includes(p),
  );
  if (spoken && meant.length < all.length) return named(member, meant);
  // "Legs, no cracks": how many is not said, and where the catalogue does not take that for all, nor do we.
  const bare = says(input, [PLURAL]) && !says(input, ALL_SAID) && !says(input, SPOKEN_PLACE);
  if (bare && !finding) {
    if (check.repeat.plural) return { how: 'all', instances: all };
    if (meant.length === all.length) return { how: 'plural', instances: all };
  }
  // "All good" says of how many; a bare plural does not (R5).
  const every = check.repeat.plural || (!finding && says(input, ALL_SAID));
  if (plural > one && plural > single)
    return every ? { how: 'all', instances: all } : { how: 'plural', instances: all };
  // "The damper's got oil on it": one fault, and nobody said where; asked about, never guessed (R5).
  if (finding && !spoken && !says(input, ALL_SAID)) {
    if (says(input, [PLURAL]))
      return check.repeat.plural
        ? { how: 'all', instances: all }
        : { how: 'plural', instances: all };
    const last = lastPlaces(check.id, scene);
    const before = isElsewhere(member, scene, roster)
      ? []
      : member.instances.filter((_, i) => (input.places[i]?.[SAID_BEFORE] ?? 0) > 0);
    const here = member.instances.filter((_, i) => (scored.places[i]?.meant ?? 0) >= HERE);
    const known = [here, last, before].find((places) => places.length === 1) ?? [];
    return known.length === 1 ? named(member, known) : { how: 'one', instances: [] };
  }
  if (single > one || meant.length === 0) {
    // Not said which: a finding is asked about (R5), a good one is one more, counted.
    const open = all.filter((i) => !(scene.said[check.id] ?? []).includes(i));
    return { how: 'one', instances: finding ? [] : open.slice(0, 1) };
  }
  return named(member, meant);
}

/**
 * "Compression seventy six": one value, and that it is the first three of four, nobody said now or
 * before. Three values in a row of what is numbered are of the first three, as people count.
 *
 * @param values how many values were said of it
 * @param places what is held of each place
 */
export function placesOf(
  member: Member,
  input: CandidateInput,
  which: Which,
  scene: Scene,
  values: number,
  places: Scored['places'],
): Which {
  const all = member.instances;
  const [only, ...more] = which.instances;
  const at = only === undefined || more.length > 0 ? -1 : all.indexOf(only);
  if (which.how === 'named' && (places[at]?.meant ?? 0) >= HERE) return which;
  const told = says(input, SPOKEN_PLACE) || lastPlaces(member.check?.id ?? '', scene).length > 0;
  if (told || values === 0 || values > all.length) return which;
  // "Left wheel." "No cuts, fifty-five pounds": it was said just before.
  const before = all.filter((_, i) => (input.places[i]?.[SAID_BEFORE] ?? 0) > 0);
  if (values === 1 && before.length === 1 && which.how !== 'plural') return named(member, before);
  if (values === 1)
    return which.how === 'one' || which.how === 'named'
      ? { how: 'all', instances: [...all] }
      : which;
  return all.every((place) => /^\d+$/.test(place)) ? named(member, all.slice(0, values)) : which;
}

/**
 * "One of the blades has a nick", "one exhaust spring gone", "two latches are open": so many of them, and
 * nobody said which (R5). A number behind the name, or behind "number", is a place.
 */
export function countedOf(
  words: readonly string[],
  member: Member,
  input: CandidateInput,
  which: Which,
): Which {
  const { before } = lexicon().sides.pronoun_one;
  if (words.some((w, i) => w === 'one' && before.includes(words[i + 1] ?? '')))
    return which.how === 'named' && which.instances.join() !== '1'
      ? which
      : { how: 'one', instances: [] };
  const own = ownWords(input);
  const said = member.instances.flatMap((place, i) =>
    (input.placeAt[i] ?? []).map((token) => ({ place, token })),
  );
  const [only] = said;
  if (only === undefined || said.length > 1 || !/^\d+$/.test(only.place)) return which;
  const { place, token } = only;
  const counts =
    own.includes(token + 1) && !own.includes(token - 1) && words[token - 1] !== 'number';
  let last = token + 1;
  while (own.includes(last + 1)) last += 1;
  const plural = /s$/.test(words[last] ?? '');
  if (!counts || which.instances.join() !== place || (place !== '1') !== plural) return which;
  return place === '1'
    ? { how: 'one', instances: [] }
    : { how: 'plural', instances: [...member.instances] };
}

/** Whether a feature of the places (scores/inputs.ts, placeRow) is there. */
function says(input: CandidateInput, which: readonly number[]): boolean {
  return input.places.some((row) => which.some((k) => (row[k] ?? 0) > 0));
}
/** "All" or "both" said, or the number of all; and a plural beside the name. */
const ALL_SAID = [6, 15] as const;
const PLURAL = 8;
/** A word of this place, its order, or a word of any place of the check. */
const SPOKEN_PLACE = [2, 4, 21] as const;

/** Feature of a place: said in the utterance before. */
const SAID_BEFORE = 13;

/** What was last reported on is at another station: the side of the right aileron is not the elevator's (R5). */
function isElsewhere(member: Member, scene: Scene, { byKey }: Pick<Roster, 'byKey'>): boolean {
  const reported = Object.keys(scene.talk.turns.slice(0, -1).at(-1)?.said ?? {});
  const there = reported.flatMap((key) => byKey.get(key)?.station.id ?? []);
  return there.length > 0 && !there.includes(member.station.id);
}

/** The places of a check that were last spoken of. */
function lastPlaces(check: string, scene: Scene): readonly string[] {
  for (const turn of scene.talk.turns.slice(0, -1).reverse().slice(0, 3)) {
    const places = turn.said[check]?.places ?? [];
    if (places.length > 0) return places;
  }
  return [];
}
