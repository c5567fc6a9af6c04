import type { Catalogue } from '#shared/catalogue';
import type { Heard } from '#shared/heard';
import type { Reader } from '#shared/reader';
import type { Scene } from '#shared/scene';
import { biasPhrases, type BiasPhrase } from './bias.ts';
import { byEarOf, ownPronunciations } from './byear.ts';
import { explainStatements } from './explain.ts';
import { compileJsgf, grammarWords, type JsgfOptions } from './jsgf.ts';
import { namesOf } from './names.ts';
import { senseTrie } from './pieces.ts';
import { readHeard, type Compiled } from './read.ts';
import { sampleSentences, type Sample } from './sample.ts';
import { followed } from './conversation/follow.ts';
import { Matcher } from './matches/matches.ts';
import { rosterOf } from './matches/roster.ts';
import { Signs } from './matches/heardas.ts';
import { readUtterance, type Parts } from './reader.ts';
import { followScene, placesOf } from './scene.ts';
import { InputMaker } from './scores/inputs.ts';
import { Net } from './scores/net.ts';
import type { Weights } from './scores/weights.ts';
import type { Pronunciations } from './sound/dictionary.ts';
import { earOf } from './sound/ear.ts';

export interface Grammar extends Reader {
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

/** The phrase grammar of one catalogue. Compiles once; `read` is pure and synchronous. */
export function createGrammar(
  catalogue: Catalogue,
  options: { pronunciations: Pronunciations; weights?: Weights | null },
): Grammar {
  const names = namesOf(catalogue);
  const ear = earOf(options.pronunciations, ownPronunciations(catalogue));
  const compiled: Compiled = {
    catalogue,
    names,
    senses: senseTrie(catalogue),
    places: placesOf(catalogue),
    byEar: byEarOf(names, ear),
  };
  const roster = rosterOf(catalogue);
  const { weights } = options;
  const parts: Parts | null =
    weights == null
      ? null
      : {
          roster,
          maker: new InputMaker(
            roster,
            new Matcher(roster, ear, weights.vectors),
            new Signs(catalogue),
          ),
          net: new Net(weights),
          labels: weights.labels,
        };
  return {
    read: (heard, scene) =>
      parts === null ? readHeard(heard, scene, compiled) : readUtterance(heard, scene, parts),
    follow: (scene, statement) =>
      parts === null
        ? followScene(scene, statement, compiled.places)
        : followed(scene, statement, roster),
    explain: (heard, scene) =>
      explainStatements(heard.text, readHeard(heard, scene, compiled).statements, catalogue),
    jsgf: (wanted) => compileJsgf(names, wanted),
    phrases: () => biasPhrases(names),
    sample: (seed, count) => sampleSentences(names, seed, count),
    vocabulary: () =>
      grammarWords(names).map((word) => ({ word, phones: [...(ear.spoken(word)[0] ?? [])] })),
  };
}
