import { FIRST_TALK, type Talk } from '#shared/talk';
import { placeWordsOf, unitsIn, type Signs } from '../matches/heardas.ts';
import type { Matcher } from '../matches/matches.ts';
import type { Member, Roster } from '../matches/roster.ts';
import { senses } from '../matches/senses.ts';
import { SIDE_WORDS, stem } from '../names.ts';
import { tokensOf, type Token } from '../tokens.ts';
import {
  argmax,
  BEFORE,
  type Around,
  type Asked,
  type CandidateInput,
  type Earlier,
  type Inputs,
  type TokenInput,
  type TokenMark,
} from './around.ts';
import { moved } from './belief.ts';
import { featuresOf, flagsOf } from './features.ts';
import { aspectAt, aspectRow, conditionRow, placeAt, placeRow } from './rows.ts';
import { trailOf } from './trail.ts';

/** Words of the utterances before that are read with it, in all. */
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
      trail: trailOf(this.roster, earlier, turns),
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
      const flags = member === null ? 0 : flagsOf(member, word, token, scene);
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
      features: featuresOf(this.roster, member, own, scene),
      marks,
      conditions: scene.conditions.map((c) => conditionRow(c, member, own, scene)),
      aspects: member?.check?.aspects.map((a) => aspectRow(a.id, member, scene)) ?? [],
      places:
        member === null ? [] : member.instances.map((_, i) => placeRow(i, member, own, scene)),
      aspectAt: member?.check?.aspects.map((a) => aspectAt(a.id, member, scene)) ?? [],
      placeAt: member === null ? [] : member.instances.map((_, i) => placeAt(i, member, scene)),
    };
  }
}

function lastNamed(recents: ReadonlyMap<number, { lag: number; share: number }>): number | null {
  let best: { index: number; lag: number; share: number } | null = null;
  for (const [index, { lag, share }] of recents)
    if (best === null || lag < best.lag || (lag === best.lag && share > best.share))
      best = { index, lag, share };
  return best?.index ?? null;
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
/** Utterances whose words stay looked up; above this the memo starts afresh. */
const KEPT = 400;
