import type { Catalogue } from '#shared/catalogue';
import type { Heard } from '#shared/heard';
import type { Line } from '#shared/phrasebook';
import type { Reader } from '#shared/reader';
import type { Scene } from '#shared/scene';
import { biasPhrases, type BiasPhrase } from './bias.ts';
import { followed } from './conversation/follow.ts';
import { explainStatements } from './explain.ts';
import { compileJsgf, grammarWords, type JsgfOptions } from './jsgf.ts';
import { Signs } from './matches/heardas.ts';
import { Matcher } from './matches/matches.ts';
import { rosterOf } from './matches/roster.ts';
import { NO_VECTORS } from './matches/vectors.ts';
import { senses } from './matches/senses.ts';
import { namesOf, stem } from './names.ts';
import { NO_PHRASES, phrasesOf } from './phrasebook.ts';
import type { Parts } from './piece.ts';
import { hearUtterance, readUtterance } from './reader.ts';
import { sampleSentences, type Sample } from './sample.ts';
import { InputMaker } from './scores/inputs.ts';
import { Net } from './scores/net.ts';
import type { Weights } from './scores/weights.ts';
import type { Pronunciations } from './sound/dictionary.ts';
import { earOf } from './sound/ear.ts';
import { ownPronunciations } from './sound/own.ts';

export interface Grammar extends Reader {
  /** Version of the learned scores that it reads with; null without any. */
  readonly version: string | null;
  /** The same reader with what the speaker's own words mean on this aircraft. */
  taught(lines: readonly Line[]): Reader;
  /** Why an utterance was read as it was, for a person. */
  explain(heard: Heard, scene: Scene): string;
  /** The grammar for a recogniser on the device. */
  jsgf(options?: JsgfOptions): string;
  /** Phrases that the browser's recogniser should expect. */
  phrases(): BiasPhrase[];
  /** Random sentences and what they were made from. */
  sample(seed: number, count: number): Sample[];
  /** Every word of `jsgf()`, with its phones in ARPABET. */
  vocabulary(): { word: string; phones: string[] }[];
}

/**
 * The reader of one catalogue. Compiles once; `read` is pure and synchronous. Without
 * weights it takes orders and answers to open questions, and everything else for talk.
 */
export function createGrammar(
  catalogue: Catalogue,
  options: { pronunciations: Pronunciations; weights: Weights | null },
): Grammar {
  const { pronunciations, weights } = options;
  const names = namesOf(catalogue);
  const ear = earOf(pronunciations, ownPronunciations(catalogue));
  const roster = rosterOf(catalogue);
  const matcher = new Matcher(roster, ear, weights?.vectors ?? NO_VECTORS);
  const parts: Parts = {
    roster,
    maker: new InputMaker(roster, matcher, new Signs(catalogue)),
    net: weights === null ? null : new Net(weights),
    labels: weights?.labels ?? [],
    knows: (word) =>
      /^[\d.,/%]+$/.test(word) ||
      roster.worth.has(stem(word)) ||
      senses().knows(word) ||
      weights?.words.has(word) === true ||
      (weights?.vectors.row(word) ?? -1) >= 0,
    phrases: NO_PHRASES,
  };
  return {
    version: weights?.version ?? null,
    read: (heard, scene) => readUtterance(heard, scene, parts),
    hear: (scene, heard) => hearUtterance(heard, scene, parts),
    follow: (scene, statement) => followed(scene, statement, roster),
    taught(lines) {
      const own: Parts = { ...parts, phrases: phrasesOf(lines, parts) };
      return {
        read: (heard, scene) => readUtterance(heard, scene, own),
        hear: (scene, heard) => hearUtterance(heard, scene, own),
        follow: (scene, statement) => followed(scene, statement, roster),
      };
    },
    explain: (heard, scene) =>
      explainStatements(
        heard.text,
        readUtterance(heard, scene, parts).statements,
        catalogue,
        scene,
        parts,
      ),
    jsgf: (wanted) => compileJsgf(names, wanted),
    phrases: () => biasPhrases(names),
    sample: (seed, count) => sampleSentences(names, seed, count),
    vocabulary: () =>
      grammarWords(names).map((word) => ({ word, phones: [...(ear.spoken(word)[0] ?? [])] })),
  };
}
