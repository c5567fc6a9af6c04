import { SAID } from '#shared/talk';
import { against } from '../matches/heardas.ts';
import type { Member, Roster } from '../matches/roster.ts';
import { stem } from '../names.ts';
import { convert } from '../units.ts';
import { argmax, FLAG, flagOf, type Around } from './around.ts';
import { sideRow } from './trail.ts';

/** What speaks for a candidate as a whole, and what each word is to it, as numbers. */

const KINDS = [
  'which-check',
  'which-instance',
  'unit',
  'value',
  'severity',
  'polarity',
  'place',
  'recheck',
] as const;

export function flagsOf(member: Member, word: string, token: number, scene: Around): number {
  const side = scene.now.places.sides[token] ?? null;
  const s = stem(word);
  let flags = 0;
  if (side !== null) {
    if (member.sides.has(side) || member.stationSides.has(side)) flags |= FLAG.side;
    if (against(side, member.sides) || against(side, member.stationSides)) flags |= FLAG.against;
  }
  if (member.aspectWords.has(s)) flags |= FLAG.aspect;
  if (member.signWords.has(s)) flags |= FLAG.sign;
  if (member.instanceWords.some((words) => words.includes(side ?? s))) flags |= FLAG.place;
  return flags;
}

export function featuresOf(
  roster: Roster,
  member: Member | null,
  own: readonly number[],
  scene: Around,
): number[] {
  const { now, talk, turns, recents, asked, before } = scene;
  const { matches } = now;
  const match = member === null ? undefined : matches.of[member.index];
  const rivals = rivalsOf(roster, member, own, scene);
  const recent = member === null ? undefined : recents.get(member.index);
  const sides = now.places.sides;
  const near = own.flatMap((i) => [-3, -2, -1, 0, 1, 2, 3].flatMap((d) => sides[i + d] ?? []));
  const anywhere = sides.flatMap((s) => s ?? []);
  const all = new Set([...(member?.sides ?? []), ...(member?.stationSides ?? [])]);
  const agrees = (list: readonly string[]): boolean => list.some((s) => all.has(s));
  const clashes = (list: readonly string[]): boolean =>
    member !== null &&
    list.some((s) => against(s, member.sides) || against(s, member.stationSides));
  const belief = talk.belief;
  const top = argmax(belief);
  const jump = member === null ? 0 : member.stationIndex - argmax(before);
  const off = member === null || scene.last === null ? null : member.index - scene.last;
  const what = (lag: number): number =>
    (member === null ? undefined : turns[lag]?.said[member.key]?.what) ?? 0;
  const bits = (sum: number): number[] => [
    bit(sum, SAID.result),
    bit(sum, SAID.good),
    bit(sum, SAID.finding),
    bit(sum, SAID.asked),
    bit(sum, SAID.talk),
  ];
  const ever = (member === null ? undefined : talk.ever[member.key]) ?? 0;
  const units =
    member?.check?.measures.some((m) => {
      const unit = m.unit;
      return (
        unit !== undefined &&
        [...scene.units].some((u) => u === unit || convert(1, u, unit) !== null)
      );
    }) ?? false;
  const share = match?.best ?? 0;
  return [
    share,
    flagOf(share >= 0.97),
    Math.min(rivals.better, 3) / 3,
    rivals.beaten,
    flagOf(rivals.ties === 0),
    flagOf(rivals.ties === 1),
    flagOf(rivals.ties > 1),
    Math.min(rivals.believed, 2) / 2,
    match?.bestMeaning ?? 0,
    flagOf((match?.bestMeaning ?? 0) > 0 && (match?.bestMeaning ?? 0) >= rivals.meaning - 1e-6),
    flagOf(member === null),
    flagOf(member !== null && member.check === null),
    ...[0, 1, 2].map((lag) => flagOf(recent?.lag === lag)),
    flagOf(recent !== undefined && recent.lag > 2),
    recent?.share ?? 0,
    flagOf(turns.length > 0),
    flagOf(member !== null && asked?.checks.has(member.key) === true),
    flagOf(asked !== null),
    ...KINDS.map((kind) => flagOf(asked?.kind === kind)),
    flagOf(agrees(near)),
    flagOf(clashes(near)),
    flagOf(agrees(anywhere)),
    flagOf(clashes(anywhere)),
    flagOf(all.size > 0),
    flagOf(member !== null && scene.named.has(member.stationIndex)),
    flagOf(scene.named.size > 0),
    flagOf(member?.measured === true),
    flagOf(units),
    flagOf((member?.instances.length ?? 0) > 0),
    flagOf(member !== null && [...member.aspectWords].some((w) => scene.words.has(w))),
    Math.min(
      matches.of.filter((m, i) => m.best > 0 && roster.members[i]?.check !== null).length,
      8,
    ) / 8,
    Math.log(1 + now.tokens.length) / 4,
    flagOf(member?.blanket === true),
    flagOf(share === 0),
    flagOf(scene.numbers),
    member === null ? 0 : (before[member.stationIndex] ?? 0),
    member === null ? 0 : (belief[member.stationIndex] ?? 0),
    flagOf(member !== null && member.stationIndex === top),
    flagOf(member !== null && jump === 0),
    flagOf(jump === 1),
    flagOf(jump > 1),
    flagOf(jump < 0),
    Math.min(Math.abs(jump), 5) / 5,
    belief[top] ?? 0,
    flagOf(off === 0),
    flagOf(off === 1),
    flagOf(off === 2 || off === 3),
    flagOf(off === -1 || off === -2),
    flagOf(off === null),
    ...trailed(roster, member, all, scene),
    ...bits(what(0)),
    ...bits(what(1)),
    ...bits(what(2)),
    bit(ever, SAID.result),
    bit(ever, SAID.talk),
    bit(ever, SAID.finding),
    // The last three are hidden while learning half of the time: nobody says where they stand.
    flagOf(member !== null && talk.at === member.station.id),
    flagOf(talk.at !== null),
    Math.min(rivals.here, 2) / 2,
  ];
}

/** How a candidate lies to the side and to the check that the last utterances left the speaker at. */
function trailed(
  roster: Roster,
  member: Member | null,
  sides: ReadonlySet<string>,
  scene: Around,
): number[] {
  const { trail, talk, turns } = scene;
  const reported = (m: Member | undefined): boolean =>
    m !== undefined && ((talk.ever[m.key] ?? 0) & SAID.result) !== 0;
  const twins = (member?.twins ?? []).flatMap((i) => roster.members[i] ?? []);
  const just = new Set(Object.keys(turns[0]?.said ?? {}));
  const step = member === null || trail.last === null ? null : member.index - trail.last;
  const next = roster.members.find(
    (m) => m.check !== null && m.stationIndex === member?.stationIndex && !reported(m),
  );
  return [
    ...sideRow(trail.said, sides),
    ...sideRow(trail.settled, sides),
    flagOf(twins.length > 0),
    flagOf(twins.some(reported)),
    flagOf(twins.some((m) => just.has(m.key))),
    flagOf(step === 0),
    flagOf(step === 1),
    flagOf(step === 2 || step === 3),
    flagOf(step === -1 || step === -2),
    flagOf(step === null),
    flagOf(member !== null && next === member),
  ];
}

/** How the best word of a name is contested. */
function rivalsOf(
  roster: Roster,
  member: Member | null,
  own: readonly number[],
  scene: Around,
): Rivals {
  const out = { better: 0, ties: 0, believed: 0, here: 0, beaten: 0, meaning: 0 };
  if (member === null) return out;
  const { matches } = scene.now;
  const { belief, at } = scene.talk;
  const mine = matches.of[member.index];
  let spot = -1;
  for (const token of own)
    if (spot < 0 || (mine?.name.get(token) ?? 0) > (mine?.name.get(spot) ?? 0)) spot = token;
  const share = mine?.name.get(spot) ?? 0;
  for (const other of roster.members) {
    if (other === member) continue;
    const theirs = matches.of[other.index];
    if (theirs === undefined) continue;
    out.meaning = Math.max(out.meaning, theirs.bestMeaning);
    if (spot < 0) continue;
    const x = theirs.name.get(spot) ?? 0;
    if (x > share + 1e-6) {
      out.better += 1;
      out.beaten = Math.max(out.beaten, x - share);
    } else if (x > share - 1e-6) {
      out.ties += 1;
      const p = belief[other.stationIndex] ?? 0;
      if (p > (belief[member.stationIndex] ?? 0) + 1e-9) out.believed += 1;
      if (other.station.id === at) out.here += 1;
    }
  }
  return out;
}

interface Rivals {
  better: number;
  ties: number;
  believed: number;
  here: number;
  beaten: number;
  meaning: number;
}

const bit = (sum: number, one: number): number => ((sum & one) !== 0 ? 1 : 0);
