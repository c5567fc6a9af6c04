import type { Catalogue } from '#shared/catalogue';
import type { ConditionLabels, Label, Utterance } from '../../corpus/format.ts';
import { conditionLabels, ownCorpus, type CorpusSet } from '../../corpus/load.ts';
import { damageAll, plainWords } from '../channel.ts';
import { audible } from './audible.ts';
import { goneFrom } from './cues.ts';
import { labelsOf } from './claims.ts';
import { heardOf, ourReader, sceneOf } from './ours.ts';
import {
  chosen,
  matchesOf,
  peerLabels,
  PEERS,
  phrasesOf,
  remembering,
  type Matcher,
  type Peer,
} from './peers.ts';
import { emptyTally, figures, score, type Figures, type Tally } from './score.ts';

export const LEVELS = [0, 10, 20, 30] as const;

/** Reads one utterance, as damaged, into labels. */
export type Read = (text: string, utterance: Utterance) => readonly Label[];
export type BuildReader = (catalogue: Catalogue) => Read;

/** Our grammar. An utterance that makes it throw reads as nothing, and is named. */
export function ourRead(crashes: string[]): BuildReader {
  return (catalogue) => {
    const reader = ourReader(catalogue);
    return (text, utterance) => {
      try {
        const scene = sceneOf(reader, utterance, catalogue);
        // Other readings of the sound are given only where the words are as written.
        const heard = text === utterance.say ? utterance.heard : [];
        return labelsOf(reader.read(heardOf(text, 'h', heard), scene).statements, catalogue);
      } catch (error) {
        crashes.push(`${utterance.id} | ${text} | ${error instanceof Error ? error.message : ''}`);
        return [];
      }
    };
  };
}

export interface Level {
  readonly measured: number;
  /** Share of the names said that can still be known by sound. */
  readonly audible: number;
  /** What nobody could know any more, since damage took the words that say it; counted all the same. */
  readonly unknowable: Unknowable;
  readonly tally: Tally;
  readonly figures: Figures;
}

/** Utterances whose finding, denial or talk lost its words, and the two errors made in them. */
export interface Unknowable {
  finding: number;
  denial: number;
  talk: number;
  lostThere: number;
  falseThere: number;
}

/** Scores a reader at one word error rate, over some seeds of damage. */
export function scoreAt(
  sets: readonly CorpusSet[],
  build: BuildReader,
  percent: number,
  seeds: readonly number[],
  conditions: ConditionLabels = conditionLabels(),
): Level {
  const tally = emptyTally();
  let measured = 0;
  const total = sets.reduce((n, s) => n + s.utterances.length, 0);
  const names = { part: 0, whole: 0 };
  const unknowable: Unknowable = { finding: 0, denial: 0, talk: 0, lostThere: 0, falseThere: 0 };
  for (const set of sets) {
    const read = build(set.catalogue);
    for (const seed of percent === 0 ? [1] : seeds) {
      const damaged = damagedOf(set, percent, seed);
      measured +=
        (damaged.measured * set.utterances.length) / total / (percent === 0 ? 1 : seeds.length);
      const still = audible(set, damaged.texts);
      names.part += still.part;
      names.whole += still.whole;
      set.utterances.forEach((utterance, i) => {
        const text = damaged.texts[i] ?? utterance.say;
        const before = { lost: tally.lost, falseSpoken: tally.falseSpoken };
        score(
          {
            id: utterance.id,
            say: text,
            truth: utterance.labels,
            read: read(text, utterance),
            catalogue: set.catalogue,
            conditions,
          },
          tally,
        );
        const gone = goneFrom(utterance.say, text, utterance.labels, set.catalogue);
        if (gone.finding) unknowable.finding += 1;
        if (gone.denial) unknowable.denial += 1;
        if (gone.talk) unknowable.talk += 1;
        if (gone.finding || gone.denial || gone.talk) {
          unknowable.lostThere += tally.lost - before.lost;
          unknowable.falseThere += tally.falseSpoken - before.falseSpoken;
        }
      });
    }
  }
  const heard = names.whole === 0 ? 1 : names.part / names.whole;
  return { measured, audible: heard, unknowable, tally, figures: figures(tally) };
}

const kept = new Map<string, ReturnType<typeof damageAll>>();

function damagedOf(set: CorpusSet, percent: number, seed: number): ReturnType<typeof damageAll> {
  const key = `${set.name} ${set.utterances.length} ${percent} ${seed}`;
  const old = kept.get(key);
  if (old !== undefined) return old;
  const made = damageAll(
    set.utterances.map((u) => u.say),
    percent / 100,
    seed,
  );
  kept.set(key, made);
  return made;
}

/** Check F1 of a peer at each level, at the threshold that is best for it on the work part. */
export interface PeerFigures {
  readonly name: string;
  readonly threshold: number;
  readonly levels: Readonly<Record<number, Figures>>;
}

export function peersOf(sets: readonly CorpusSet[]): PeerFigures[] {
  return PEERS.map((peer) => {
    const threshold = bestThreshold(peer);
    const own = tallies(peer, sets, LEVELS, [threshold]);
    const levels = Object.fromEntries(
      LEVELS.map((level) => [level, own.get(`${level} ${threshold}`) ?? figures(emptyTally())]),
    );
    return { name: peer.name, threshold, levels };
  });
}

const tuned = new Map<string, number>();

/** By mean check F1 at 0 and 20 % on the whole work part. */
function bestThreshold(peer: Peer): number {
  const [first = 0] = peer.thresholds;
  const old = tuned.get(peer.name);
  if (old !== undefined || peer.thresholds.length < 2) return old ?? first;
  const scores = tallies(peer, ownCorpus('work'), [0, 20], peer.thresholds);
  const mean = (t: number) =>
    [0, 20].reduce((sum, level) => sum + (scores.get(`${level} ${t}`)?.checkF1 ?? 0), 0);
  const best = peer.thresholds.reduce((a, b) => (mean(b) > mean(a) ? b : a));
  tuned.set(peer.name, best);
  return best;
}

const built = new Map<string, Matcher>();

function matcherOf(peer: Peer, catalogue: Catalogue): Matcher {
  const key = `${peer.name} ${catalogue.id}`;
  const old = built.get(key);
  if (old !== undefined) return old;
  const matcher = remembering(peer.build(phrasesOf(catalogue, true)));
  built.set(key, matcher);
  return matcher;
}

function tallies(
  peer: Peer,
  sets: readonly CorpusSet[],
  levels: readonly number[],
  thresholds: readonly number[],
): Map<string, Figures> {
  const conditions = conditionLabels();
  const counts = new Map<string, Tally>();
  for (const set of sets) {
    const matcher = matcherOf(peer, set.catalogue);
    for (const level of levels) {
      const damaged = damagedOf(set, level, 1);
      set.utterances.forEach((utterance, i) => {
        const text = damaged.texts[i] ?? utterance.say;
        const words = plainWords(text);
        const hits = matchesOf(words, matcher);
        for (const threshold of thresholds) {
          const key = `${level} ${threshold}`;
          const tally = counts.get(key) ?? emptyTally();
          counts.set(key, tally);
          const picked = chosen(hits, threshold);
          score(
            {
              id: utterance.id,
              say: text,
              truth: utterance.labels,
              read: peerLabels(utterance, text, words, picked, set.catalogue),
              catalogue: set.catalogue,
              conditions,
            },
            tally,
          );
          tally.errors.length = 0;
        }
      });
    }
  }
  return new Map([...counts].map(([key, tally]) => [key, figures(tally)]));
}
