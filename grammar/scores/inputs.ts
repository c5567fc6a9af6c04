import type { Question } from '#shared/question';
import { FIRST_TALK, SAID, type Talk } from '#shared/talk';
import { aspectsOf } from '../aspects.ts';
import {
  against,
  oppositeOf,
  placeWordsOf,
  unitsIn,
  type ConditionMatch,
  type PlaceWords,
  type Signs,
} from '../matches/heardas.ts';
import type { Matcher, Matches } from '../matches/matches.ts';
import type { Member, Roster } from '../matches/roster.ts';
import { senses } from '../matches/senses.ts';
import { lexicon } from '../lexicon.ts';
import { SIDE_WORDS, stem } from '../names.ts';
import { tokensOf, type Token } from '../tokens.ts';
import { convert } from '../units.ts';
import { moved } from './belief.ts';

/**
 * Everything that the scores look at, as numbers: the words of the utterance and of the
 * last few, and for each thing that may be meant what speaks for it. The learned net
 * sees nothing else, and the same code makes what it learns from.
 */

export interface TokenInput {
  /** The word, or `<name>` where it stands in a name of the catalogue and is nothing else. */
  readonly word: string;
  readonly gap: number;
  readonly asks: boolean;
  readonly senses: readonly number[];
  readonly best: number;
  readonly second: number;
  readonly station: number;
  readonly side: boolean;
}

/** What a token is to a candidate. */
export interface TokenMark {
  /** 0 the utterance itself, 1 the one before, … */
  readonly lag: number;
  readonly token: number;
  readonly name: number;
  readonly meaning: number;
  /** A sum of `FLAG`. */
  readonly flags: number;
}
export const FLAG = { side: 1, against: 2, aspect: 4, sign: 8, place: 16, unit: 32 } as const;

export interface CandidateInput {
  /** Null for "nothing that is on the list". */
  readonly member: Member | null;
  /** Features in the order of `FEATURES`. */
  readonly features: readonly number[];
  readonly marks: readonly TokenMark[];
  /** A row of features for each condition match, aspect and place. */
  readonly conditions: readonly (readonly number[])[];
  readonly aspects: readonly (readonly number[])[];
  readonly places: readonly (readonly number[])[];
  /** Where each aspect and each place is spoken of in the utterance. */
  readonly aspectAt: readonly (readonly number[])[];
  readonly placeAt: readonly (readonly number[])[];
}

export interface Inputs {
  readonly tokens: readonly TokenInput[];
  /** The utterances before, nearest first. */
  readonly before: readonly (readonly TokenInput[])[];
  readonly conditions: readonly ConditionMatch[];
  readonly candidates: readonly CandidateInput[];
}

/** What is asked, reduced to what the scores look at. */
export interface Asked {
  readonly kind: Question['kind'];
  readonly checks: ReadonlySet<string>;
}

/** Utterances before this one that are read with it, and words of them in all. */
export const BEFORE = 3;
const BEFORE_WORDS = 60;
/** Words of one utterance that are read at once; a longer one is read in pieces. */
export const MOST_WORDS = 96;
/** A name match below this share, or far below the best at all its words, is no candidate. */
const LEAST_NAME = 0.25;
const LEAST_OF_BEST = 0.6;
/** Likeness in meaning that makes a candidate by itself. */
const LEAST_MEANING = 0.55;
/** A word at least this much of a name is masked, so that no aircraft is learned by heart. */
const MASKED = 0.8;
/** Name share from which something counts as named in an earlier utterance. */
const NAMED = 0.5;
/** Belief from which all checks of a station are candidates. */
const BELIEVED = 0.25;
/** More candidates than this are cut, the least named first. */
export const MOST_CANDIDATES = 28;
/** Conditions looked at in one utterance. */
const MOST_CONDITIONS = 12;

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

/** What `InputMaker` needs to know of one earlier utterance. */
interface Earlier {
  readonly tokens: readonly Token[];
  readonly inputs: readonly TokenInput[];
  readonly matches: Matches;
  readonly places: PlaceWords;
}

/** Makes the inputs of one catalogue's utterances. */
export class InputMaker {
  private readonly roster: Roster;
  private readonly matcher: Matcher;
  private readonly signs: Signs;
  private readonly memo = new Map<string, Earlier>();

  constructor(roster: Roster, matcher: Matcher, signs: Signs) {
    this.roster = roster;
    this.matcher = matcher;
    this.signs = signs;
  }

  /** The utterance's own words, matched. */
  private look(text: string, tokens?: readonly Token[]): Earlier {
    const known = tokens === undefined ? this.memo.get(text) : undefined;
    if (known !== undefined) return known;
    const own = (tokens ?? tokensOf({ text, words: [] }).tokens).slice(0, MOST_WORDS);
    const matches = this.matcher.match(own);
    const kinds = senses().of(own);
    const inputs = own.map((t, i): TokenInput => {
      const named = Math.max(matches.best[i] ?? 0, matches.station[i] ?? 0);
      const sense = kinds[i] ?? [];
      return {
        word: named < MASKED || sense.length > 0 ? t.word : '<name>',
        gap: t.gap,
        asks: t.asks,
        senses: sense,
        best: matches.best[i] ?? 0,
        second: matches.second[i] ?? 0,
        station: matches.station[i] ?? 0,
        side: SIDE_WORDS.has(stem(t.word)),
      };
    });
    const made = { tokens: own, inputs, matches, places: placeWordsOf(own) };
    if (this.memo.size >= KEPT) this.memo.clear();
    this.memo.set(text, made);
    return made;
  }

  /** A sentence by itself: what it names, without any conversation. */
  alone(tokens: readonly Token[]): Inputs {
    const text = tokens.map((t) => t.word).join(' ');
    return this.make(text, tokens, FIRST_TALK, [], {}, null);
  }

  /** The belief about the station once these words are said. */
  believe(belief: readonly number[], text: string, tokens?: readonly Token[]): number[] {
    return moved(belief, this.roster, this.look(text, tokens).matches);
  }

  /**
   * @param talk the conversation before this utterance; its belief already moved by the words
   * @param before the belief before they were said
   * @param said places of each check that have a result
   */
  make(
    text: string,
    tokens: readonly Token[],
    talk: Talk,
    before: readonly number[],
    said: Readonly<Record<string, readonly string[]>>,
    asked: Asked | null,
  ): Inputs {
    const now = this.look(text, tokens);
    const turns = talk.turns.slice().reverse();
    const earlier = turns.map((t) => this.look(t.text));
    const recents = this.recents(earlier);
    const conditions = this.signs.conditionsIn(now.tokens).slice(0, MOST_CONDITIONS);
    const scene: Around = {
      now,
      earlier,
      talk,
      turns,
      said,
      asked,
      before,
      recents,
      conditions,
      kinds: this.signs.kindsIn(now.tokens),
      units: unitsIn(now.tokens),
      words: new Set(now.tokens.map((t) => stem(t.word))),
      named: new Set(
        this.roster.members
          .filter((m) => m.check === null && (now.matches.of[m.index]?.best ?? 0) >= 0.9)
          .map((m) => m.stationIndex),
      ),
      numbers: now.inputs.some((t) => t.senses.some((s) => NUMBER().has(s))),
      last: lastNamed(recents),
    };
    const pool = this.pool(scene);
    const candidates = [
      ...pool.map((member) => this.candidate(member, scene)),
      this.candidate(null, scene),
    ];
    return {
      tokens: now.inputs,
      before: cut(earlier.slice(0, BEFORE).map((e) => e.inputs)),
      conditions,
      candidates,
    };
  }

  /** Which members were named in the last utterances: how long ago, and how well. */
  private recents(earlier: readonly Earlier[]): Map<number, { lag: number; share: number }> {
    const out = new Map<number, { lag: number; share: number }>();
    earlier.forEach(({ matches }, lag) => {
      for (const member of this.roster.members) {
        const match = matches.of[member.index];
        if (match === undefined || match.best < NAMED || out.has(member.index)) continue;
        const top = [...match.name].some(([token, share]) => {
          const best = Math.max(matches.best[token] ?? 0, matches.station[token] ?? 0);
          return share >= best - 1e-6;
        });
        if (top) out.set(member.index, { lag, share: match.best });
      }
    });
    return out;
  }

  /** Everything that may be meant here and now. */
  private pool(scene: Around): Member[] {
    const { now, talk, asked, recents, numbers } = scene;
    const { matches } = now;
    const weight = new Map<number, number>();
    const put = (index: number, w: number): void => {
      weight.set(index, Math.max(weight.get(index) ?? 0, w));
    };
    const top = argmax(talk.belief);
    for (const member of this.roster.members) {
      const match = matches.of[member.index];
      if (match !== undefined && match.best >= LEAST_NAME) {
        let most = 0;
        for (const [token, share] of match.name) {
          const best = Math.max(matches.best[token] ?? 0, matches.station[token] ?? 0);
          most = Math.max(most, share / Math.max(best, 1e-6));
        }
        if (most >= LEAST_OF_BEST) put(member.index, 2 + match.best);
      }
      if (match !== undefined && match.bestMeaning >= LEAST_MEANING)
        put(member.index, 1 + match.bestMeaning / 2);
      const recent = recents.get(member.index);
      if (recent !== undefined) put(member.index, 1.9 - recent.lag / 10);
      if (asked?.checks.has(member.key) === true) put(member.index, 4);
      const here =
        member.stationIndex === top ||
        (talk.belief[member.stationIndex] ?? 0) > BELIEVED ||
        talk.at === member.station.id;
      if (here) {
        const fits = member.check === null || (numbers && member.measured);
        put(member.index, fits ? 1.2 : (talk.belief[member.stationIndex] ?? 0));
      }
    }
    for (const turn of scene.turns.slice(0, BEFORE))
      for (const key of Object.keys(turn.said)) {
        const member = this.roster.byKey.get(key);
        if (member !== undefined) put(member.index, 1.8);
      }
    return [...weight]
      .sort((a, b) => b[1] - a[1] || a[0] - b[0])
      .slice(0, MOST_CANDIDATES)
      .map(([index]) => index)
      .sort((a, b) => a - b)
      .flatMap((index) => this.roster.members[index] ?? []);
  }

  private candidate(member: Member | null, scene: Around): CandidateInput {
    const { now, earlier } = scene;
    const match = member === null ? undefined : now.matches.of[member.index];
    const marks: TokenMark[] = [];
    const own: number[] = [];
    now.tokens.forEach(({ word }, token) => {
      const name = match?.name.get(token) ?? 0;
      const meaning = match?.meaning.get(token) ?? 0;
      const flags = member === null ? 0 : this.flags(member, word, token, scene);
      if (name > 0) own.push(token);
      if (name > 0 || meaning > 0 || flags > 0) marks.push({ lag: 0, token, name, meaning, flags });
    });
    if (member !== null)
      earlier.slice(0, BEFORE).forEach((e, i) => {
        const old = e.matches.of[member.index];
        for (const [token, name] of old?.name ?? [])
          marks.push({ lag: i + 1, token, name, meaning: old?.meaning.get(token) ?? 0, flags: 0 });
      });
    return {
      member,
      features: this.features(member, own, scene),
      marks,
      conditions: scene.conditions.map((c) => conditionRow(c, member, own, scene)),
      aspects: member?.check?.aspects.map((a) => aspectRow(a.id, member, scene)) ?? [],
      places:
        member === null ? [] : member.instances.map((_, i) => placeRow(i, member, own, scene)),
      aspectAt: member?.check?.aspects.map((a) => aspectAt(a.id, member, scene)) ?? [],
      placeAt: member === null ? [] : member.instances.map((_, i) => placeAt(i, member, scene)),
    };
  }

  private flags(member: Member, word: string, token: number, scene: Around): number {
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

  private features(member: Member | null, own: readonly number[], scene: Around): number[] {
    const { now, talk, turns, recents, asked, before } = scene;
    const { matches } = now;
    const match = member === null ? undefined : matches.of[member.index];
    const rivals = this.rivals(member, own, scene);
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
    const flag = (x: boolean): number => (x ? 1 : 0);
    const share = match?.best ?? 0;
    return [
      share,
      flag(share >= 0.97),
      Math.min(rivals.better, 3) / 3,
      rivals.beaten,
      flag(rivals.ties === 0),
      flag(rivals.ties === 1),
      flag(rivals.ties > 1),
      Math.min(rivals.believed, 2) / 2,
      match?.bestMeaning ?? 0,
      flag((match?.bestMeaning ?? 0) > 0 && (match?.bestMeaning ?? 0) >= rivals.meaning - 1e-6),
      flag(member === null),
      flag(member !== null && member.check === null),
      ...[0, 1, 2].map((lag) => flag(recent?.lag === lag)),
      flag(recent !== undefined && recent.lag > 2),
      recent?.share ?? 0,
      flag(turns.length > 0),
      flag(member !== null && asked?.checks.has(member.key) === true),
      flag(asked !== null),
      ...KINDS.map((kind) => flag(asked?.kind === kind)),
      flag(agrees(near)),
      flag(clashes(near)),
      flag(agrees(anywhere)),
      flag(clashes(anywhere)),
      flag(all.size > 0),
      flag(member !== null && scene.named.has(member.stationIndex)),
      flag(scene.named.size > 0),
      flag(member?.measured === true),
      flag(units),
      flag((member?.instances.length ?? 0) > 0),
      flag(member !== null && [...member.aspectWords].some((w) => scene.words.has(w))),
      Math.min(
        matches.of.filter((m, i) => m.best > 0 && this.roster.members[i]?.check !== null).length,
        8,
      ) / 8,
      Math.log(1 + now.tokens.length) / 4,
      flag(member?.blanket === true),
      flag(share === 0),
      flag(scene.numbers),
      member === null ? 0 : (before[member.stationIndex] ?? 0),
      member === null ? 0 : (belief[member.stationIndex] ?? 0),
      flag(member !== null && member.stationIndex === top),
      flag(member !== null && jump === 0),
      flag(jump === 1),
      flag(jump > 1),
      flag(jump < 0),
      Math.min(Math.abs(jump), 5) / 5,
      belief[top] ?? 0,
      flag(off === 0),
      flag(off === 1),
      flag(off === 2 || off === 3),
      flag(off === -1 || off === -2),
      flag(off === null),
      ...bits(what(0)),
      ...bits(what(1)),
      ...bits(what(2)),
      bit(ever, SAID.result),
      bit(ever, SAID.talk),
      bit(ever, SAID.finding),
      // The last three are hidden while learning half of the time: nobody says where they stand.
      flag(member !== null && talk.at === member.station.id),
      flag(talk.at !== null),
      Math.min(rivals.here, 2) / 2,
    ];
  }

  /** How the best word of a name is contested. */
  private rivals(member: Member | null, own: readonly number[], scene: Around): Rivals {
    const out = { better: 0, ties: 0, believed: 0, here: 0, beaten: 0, meaning: 0 };
    if (member === null) return out;
    const { matches } = scene.now;
    const { belief, at } = scene.talk;
    const mine = matches.of[member.index];
    let spot = -1;
    for (const token of own)
      if (spot < 0 || (mine?.name.get(token) ?? 0) > (mine?.name.get(spot) ?? 0)) spot = token;
    const share = mine?.name.get(spot) ?? 0;
    for (const other of this.roster.members) {
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
}

interface Rivals {
  better: number;
  ties: number;
  believed: number;
  here: number;
  beaten: number;
  meaning: number;
}

/** What all candidates of one utterance share. */
interface Around {
  readonly now: Earlier;
  readonly earlier: readonly Earlier[];
  readonly talk: Talk;
  /** Nearest first. */
  readonly turns: Talk['turns'];
  readonly said: Readonly<Record<string, readonly string[]>>;
  readonly asked: Asked | null;
  readonly before: readonly number[];
  readonly recents: ReadonlyMap<number, { lag: number; share: number }>;
  readonly conditions: readonly ConditionMatch[];
  readonly kinds: readonly { kind: string; from: number; to: number }[];
  readonly units: ReadonlySet<string>;
  readonly words: ReadonlySet<string>;
  readonly named: ReadonlySet<number>;
  readonly numbers: boolean;
  readonly last: number | null;
}

function lastNamed(recents: ReadonlyMap<number, { lag: number; share: number }>): number | null {
  let best: { index: number; lag: number; share: number } | null = null;
  for (const [index, { lag, share }] of recents)
    if (best === null || lag < best.lag || (lag === best.lag && share > best.share))
      best = { index, lag, share };
  return best?.index ?? null;
}

/** Distance from the candidate's own words, in words; null where none was named. */
function apart(own: readonly number[], from: number, to: number): number | null {
  let best: number | null = null;
  for (const token of own) {
    const d = token < from ? from - token : token >= to ? to - 1 - token : 0;
    if (best === null || Math.abs(d) < Math.abs(best)) best = d;
  }
  return best;
}

function conditionRow(
  c: ConditionMatch,
  member: Member | null,
  own: readonly number[],
  scene: Around,
): number[] {
  const check = member?.check ?? null;
  const fit = check === null ? 0 : aspectsOf(check).fit(c.id);
  const far = apart(own, c.from, c.to);
  const parted =
    far !== null &&
    scene.now.tokens
      .slice(...(far > 0 ? [c.from - far + 1, c.from + 1] : [c.to, c.to - far]))
      .some((t) => t.gap > 0);
  const here = check !== null && c.checks?.includes(check.id) === true;
  return [
    flagOf(fit === 2),
    flagOf(fit === 1),
    flagOf(c.weak),
    flagOf(c.either),
    flagOf(c.sign !== null && (here || c.checks === null)),
    flagOf(c.sign !== null && c.checks !== null && !here),
    flagOf(c.denials > 0),
    flagOf(c.denials > 1),
    flagOf(own.some((t) => t >= c.from && t < c.to)),
    far === null ? 1 : Math.min(Math.abs(far), 12) / 12,
    flagOf(far !== null && far > 0),
    flagOf(far === null),
    flagOf(parted),
    (c.to - c.from) / 4,
  ];
}

function aspectRow(id: string, member: Member, scene: Around): number[] {
  const check = member.check;
  if (check === null) return [];
  const map = aspectsOf(check);
  const kinds = map.kinds(id);
  const words = scene.now.tokens.map((t) => stem(t.word));
  const named = (aspect: string): boolean =>
    map.phrases.some(
      (p) =>
        p.aspect === aspect && words.some((_, i) => p.words.every((w, k) => words[i + k] === w)),
    );
  const others = map.ids.some((a) => a !== id && named(a));
  return [
    flagOf(named(id)),
    flagOf(others),
    flagOf(scene.kinds.some((k) => kinds.has(k.kind))),
    flagOf(map.ids.some((a) => a !== id && scene.kinds.some((k) => map.kinds(a).has(k.kind)))),
    flagOf(scene.conditions.some((c) => map.about(c.id).includes(id))),
    flagOf(map.general === id),
    flagOf(map.ids.length === 1),
    map.ids.length / 6,
    flagOf(kinds.size === 0),
    ...aspectKinds().map((k) => flagOf(kinds.has(k))),
  ];
}

/** The words that name an aspect, or a verdict or condition of its kind. */
function aspectAt(id: string, member: Member, scene: Around): number[] {
  const { check } = member;
  if (check === null) return [];
  const map = aspectsOf(check);
  const kinds = map.kinds(id);
  const words = scene.now.tokens.map((t) => stem(t.word));
  const out = new Set<number>();
  const put = (from: number, to: number): void => {
    for (let i = from; i < to; i += 1) out.add(i);
  };
  for (const p of map.phrases)
    if (p.aspect === id)
      words.forEach((_, i) => {
        if (p.words.every((w, k) => words[i + k] === w)) put(i, i + p.words.length);
      });
  for (const k of scene.kinds) if (kinds.has(k.kind)) put(k.from, k.to);
  for (const c of scene.conditions) if (map.about(c.id).includes(id)) put(c.from, c.to);
  return [...out].sort((a, b) => a - b);
}

/** The words that say a place: its own, its number, or its order. */
function placeAt(i: number, member: Member, scene: Around): number[] {
  const words = member.instanceWords[i] ?? [];
  const { tokens, places } = scene.now;
  const number = words.length === 1 && /^\d+$/.test(words[0] ?? '') ? Number(words[0]) : null;
  const last = i === member.instances.length - 1;
  // A place of two words ("upper left") is where both are near; one alone is one of several.
  const shared = (w: string): boolean =>
    words.length > 1 && member.instanceWords.filter((ws) => ws.includes(w)).length > 1;
  const spoken = tokens.map((t, k) => places.sides[k] ?? stem(t.word));
  return tokens.flatMap((_, k) => {
    const word = spoken[k] ?? '';
    const order = places.orders[k] ?? null;
    const named =
      words.includes(word) &&
      (!shared(word) || words.every((w) => [-2, -1, 0, 1, 2].some((d) => spoken[k + d] === w)));
    const counted = number !== null && places.counts[k] === number;
    return named || counted || order === i || (order === -1 && last) ? [k] : [];
  });
}

function placeRow(i: number, member: Member, own: readonly number[], scene: Around): number[] {
  const words = member.instanceWords[i] ?? [];
  const place = member.instances[i] ?? '';
  const { tokens, places } = scene.now;
  const spoken = tokens.map((t, k) => places.sides[k] ?? stem(t.word));
  const plainNumber = words.length === 1 && /^\d+$/.test(words[0] ?? '');
  const at = (k: number): boolean =>
    plainNumber ? places.counts[k] === Number(words[0]) : words.includes(spoken[k] ?? '');
  const all =
    words.every((w) => spoken.includes(w)) || (plainNumber && spoken.some((_, k) => at(k)));
  const near = own.some((t) => [-3, -2, -1, 0, 1, 2, 3].some((d) => at(t + d)));
  const set = new Set(words);
  const clash = spoken.some((w) => against(w, set));
  const order = places.orders.some(
    (n) => n === i || (n === -1 && i === member.instances.length - 1),
  );
  const ordered = places.orders.some((n) => n !== null);
  const done = scene.said[member.key] ?? [];
  const last = scene.turns.slice(0, BEFORE).map((t) => t.said[member.key]?.places ?? []);
  const lastSame = last.find((l) => l.length > 0) ?? [];
  const anyPlace = Object.values(scene.turns[0]?.said ?? {}).flatMap((s) => s.places);
  const first = member.instances.find((p) => !done.includes(p));
  const before = scene.earlier[0]?.places.sides ?? [];
  const mirrored = words.some((w) => {
    const o = oppositeOf(w);
    return o !== null && lastSame.some((p) => stemsOf(p).includes(o));
  });
  return [
    flagOf(all),
    flagOf(near),
    flagOf(words.some((w) => spoken.includes(w))),
    flagOf(clash),
    flagOf(order),
    flagOf(ordered),
    flagOf(places.all.some(Boolean)),
    flagOf(places.other.some(Boolean)),
    flagOf(own.some((t) => places.plural[t] === true)),
    flagOf(done.includes(place)),
    flagOf(lastSame.includes(place)),
    flagOf(lastSame.length > 0),
    flagOf(anyPlace.includes(place)),
    flagOf(before.some((s) => s !== null && words.includes(s))),
    member.instances.length / 8,
    flagOf(places.counts.some((n) => n === member.instances.length)),
    flagOf(first === place),
    flagOf(mirrored),
    flagOf(plainNumber),
    flagOf(done.length === 0),
    flagOf(member.check?.repeat?.plural === true),
    flagOf(spoken.some((w) => member.instanceWords.some((ws) => ws.includes(w)))),
  ];
}

const stemsOf = (place: string): string[] => place.toLowerCase().split(/\s+/).map(stem);
const flagOf = (x: boolean): number => (x ? 1 : 0);
const bit = (sum: number, one: number): number => ((sum & one) !== 0 ? 1 : 0);

function argmax(list: readonly number[]): number {
  let best = 0;
  list.forEach((x, i) => {
    if (x > (list[best] ?? 0)) best = i;
  });
  return best;
}

/** Keeps the utterances nearest to now, the first in any case, as long as they stay few words. */
function cut(rows: readonly (readonly TokenInput[])[]): (readonly TokenInput[])[] {
  let sum = 0;
  const end = rows.findIndex((row, i) => {
    sum += row.length;
    return i > 0 && sum > BEFORE_WORDS;
  });
  return end < 0 ? [...rows] : rows.slice(0, end);
}

let numberKinds: ReadonlySet<number> | null = null;
function NUMBER(): ReadonlySet<number> {
  const { names } = senses();
  numberKinds ??= new Set(['number', 'part'].map((n) => names.indexOf(n)));
  return numberKinds;
}

let kindsOfAspect: readonly string[] | null = null;
function aspectKinds(): readonly string[] {
  kindsOfAspect ??= lexicon().aspects.map((a) => a.id);
  return kindsOfAspect;
}

/** Utterances whose words stay looked up; above this the memo starts afresh. */
const KEPT = 400;
