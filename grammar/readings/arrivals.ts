import type { Scene } from '#shared/scene';
import { lexicon } from '../lexicon.ts';
import type { Roster } from '../matches/roster.ts';
import { stem } from '../names.ts';
import type { CandidateInput, Inputs } from '../scores/around.ts';
import { phraseWords } from '../tokens.ts';
import { Trie } from '../trie.ts';
import { namedAlone } from './namedalone.ts';
import type { Words } from './said.ts';
import { lastStation } from './takenturn.ts';

/** Words that go to a station: by its name, or by the side of the aircraft that it lies on. */

interface Going {
  readonly words: Words;
  readonly scene: Scene;
  readonly roster: Roster;
  readonly inputs: Inputs;
}

/** "On to the tail", "over to the right-hand side": the station that is meant; null where none can be told. */
export function arrivedAt(o: Going): string | null {
  const side = sideGoneTo(o);
  if (side !== null) return stationOn(o, side);
  const alone = stationAlone(o);
  const said = new Set(o.words.tokens.flatMap((t) => sideOf(t.word) ?? []));
  let best: { id: string; share: number } | null = null;
  for (const { member, features } of o.inputs.candidates) {
    if (member?.check !== null) continue;
    const share = features[0] ?? 0;
    if (alone !== null && member.station.id !== alone) continue;
    // "The right-hand side" is not the port side, whose name has "side" in it.
    const own = sidesOf(member.station);
    if (said.size === 1 && own.size === 1 && ![...own].some((s) => said.has(s))) continue;
    if ((share >= NAMED || alone !== null) && (best === null || share > best.share))
      best = { id: member.station.id, share };
  }
  return best?.id ?? null;
}

type Side = 'left' | 'right';
const SIDES: Readonly<Record<string, Side>> = {
  left: 'left',
  port: 'left',
  right: 'right',
  starboard: 'right',
};
const sideOf = (word: string): Side | null => SIDES[stem(word)] ?? null;

/** "Over to the right-hand side then", "other wing": it goes there, whatever the scores hold. */
export const goesAcross = (o: Going): boolean => sideGoneTo(o) !== null;

/** Left or right, both or neither, by every name of a station. */
function sidesOf(station: Roster['stations'][number]): ReadonlySet<Side> {
  return new Set(
    [station.name, ...station.say].flatMap((name) => {
      const words = phraseWords(name);
      // A "static port" is no side.
      return words.flatMap((w, i) =>
        w === 'port' && i === words.length - 1 ? [] : (sideOf(w) ?? []),
      );
    }),
  );
}

/** "Over to the right-hand side then", "round the other side": words of going, a side, and nothing else. */
function sideGoneTo({ words, scene, roster }: Going): Side | null {
  const text = words.tokens.map((t) => t.word).join(' ');
  const found = GOES_TO.exec(text);
  if (found === null && !OTHER_HALF.test(text)) return null;
  const named = sideOf(found?.[1] ?? '');
  if (named !== null) return named;
  const here = lastStation(scene.talk, roster);
  const own = here === null ? undefined : roster.stations[here];
  const [side, ...more] = own === undefined ? [] : sidesOf(own);
  if (side === undefined || more.length > 0) return null;
  return side === 'left' ? 'right' : 'left';
}
const LEADS = '(?:(?:so|and|okay|ok|right|alright|well|now|then|um|uh|er) )*';
const GOING =
  '(?:(?:i am|we are|let us|i will|we will|i|we) )?(?:(?:go|going|come|coming|walk|walking|move|moving|step|cross|crossing|over|across|round|around|back|on|off|down|up) )+(?:to |on |onto |for )?';
const BEHIND =
  '(?: (?:then|now|please|next|of her|of it|of the (?:aircraft|aeroplane|machine|ship)|in the same order|backwards))*';
const HALF = '(?:side|half|wing|engine|gear|flank|leg)';
const GOES_TO = new RegExp(
  `^${LEADS}(?:${GOING})(?:(?:the |her |its |our |my )?(left|right|port|starboard|other|far)(?: hand)? side|(?:the |its |her )?(other) ${HALF}|(?:its|the|her) (twin|mate|opposite|brother|sister|counterpart|opposite number))${BEHIND}$`,
);
/** "Other wing.": nothing but that. */
const OTHER_HALF = new RegExp(`^${LEADS}(?:the |and )*other ${HALF}${BEHIND}$`);

/** The next station on that side, in the order of the walk; else the first one there. */
function stationOn({ scene, roster }: Going, side: Side): string | null {
  const here = lastStation(scene.talk, roster) ?? -1;
  const there = roster.stations.flatMap((station, index) => {
    const own = sidesOf(station);
    return own.size === 1 && own.has(side) ? [{ station, index }] : [];
  });
  const next = there.find(({ index }) => index >= here) ?? there[0];
  return next?.station.id ?? null;
}

/** "Now the tail boom.", "on to the skids": words of going somewhere, and few behind them. */
export function goesThere(list: readonly string[]): boolean {
  const from = list.findIndex((w) => !/^(so|and|okay|ok|right|well|um|uh|er|alright)$/.test(w));
  if (from < 0 || list.length - from > 6) return false;
  const lead = arriveTrie().longest(list, from);
  return lead !== null && lead.to < list.length;
}

/** "At the skids.", "left gear" where one is called left main gear: a station and nothing else. */
export function isStationAlone(o: Pick<Going, 'inputs' | 'words'>): boolean {
  return stationAlone(o) !== null;
}

function stationAlone({ inputs, words }: Pick<Going, 'inputs' | 'words'>): string | null {
  // "Cowling okay": where a check is called so too it is a report of that; "okay, cowling" goes there.
  const { length } = words.tokens;
  if (words.tokens[length - 1]?.word === 'okay') {
    const index = namedAlone(inputs, { from: 0, to: length });
    if (index !== null && (inputs.candidates[index]?.member?.check ?? null) !== null) return null;
  }
  const rest = words.tokens.flatMap((t, i) =>
    /^(at|the|in|on|now|to|here|okay|so|and|we|are|i|am)$/.test(t.word) ? [] : [i],
  );
  const has = (c: CandidateInput, i: number): boolean =>
    c.marks.some((m) => m.lag === 0 && m.token === i && m.name > 0);
  const near = inputs.candidates.filter(
    (c) =>
      c.member !== null &&
      c.member.check === null &&
      rest.length > 0 &&
      rest.every((i) => has(c, i) || words.tokens[i]?.word === 'right'),
  );
  // "Right" is a word of hesitation, but where a station has it for its side it is that side.
  const sided = near.filter((c) => rest.every((i) => has(c, i)));
  const named = sided.length > 0 ? sided : near;
  const whole = named.find((c) => (c.features[0] ?? 0) >= WHOLE);
  if (whole !== undefined) return whole.member?.station.id ?? null;
  // Of part of a name every word is the station's, and no other station's and no check elsewhere.
  const [only] = named;
  if (only === undefined || named.length > 1 || rest.length < 2) return null;
  if (!rest.every((i) => has(only, i))) return null;
  const station = only.member?.station.id ?? null;
  const elsewhere = inputs.candidates.some(
    (c) =>
      c.member !== null &&
      c.member.check !== null &&
      c.member.station.id !== station &&
      rest.every((i) => has(c, i)),
  );
  return elsewhere ? null : station;
}
/** Share of a name from which it is said whole. */
const WHOLE = 0.97;

let leads: Trie<true> | null = null;
function arriveTrie(): Trie<true> {
  if (leads !== null) return leads;
  leads = new Trie();
  for (const phrase of lexicon().dialogue.arrive) leads.add(phraseWords(phrase), true);
  return leads;
}

/** Share of a station's name from which it is named. */
export const NAMED = 0.6;
