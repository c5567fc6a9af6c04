import {
  createGrammar,
  parseDictionary,
  readWeights,
  type Grammar,
  type Pronunciations,
  type Weights,
} from '#grammar';
import { hashOfScores, withName } from './read-by.ts';
import type { Edition } from './shelf.ts';

/** Grammars by edition, made once; the dictionary is fetched from our own origin. */
export interface Readers {
  grammarFor(edition: Edition): Promise<Grammar>;
  pronunciations(): Promise<Pronunciations>;
  /** The learned scores; null where they cannot be used. */
  weights(): Promise<Weights | null>;
}

/**
 * @param modelBase folder of the recogniser's model, with the dictionary in it
 * @param scoresAt address of the learned scores
 * @param onWithout told in one sentence when the scores cannot be used: the walk goes on by hand
 */
export function readersFrom(
  modelBase: string,
  scoresAt: string,
  onWithout: (why: string) => void,
): Readers {
  let dictionary: Promise<Pronunciations> | null = null;
  let scores: Promise<Weights | null> | null = null;
  /** Of the file of scores; null while there is none. */
  let hash: string | null = null;
  const grammars = new Map<string, Promise<Grammar>>();

  async function fetchDictionary(): Promise<Pronunciations> {
    const answer = await fetch(`${modelBase}dict.txt`);
    if (!answer.ok) {
      dictionary = null;
      throw new Error(
        'The pronouncing dictionary could not be loaded; reload the page once with a network.',
      );
    }
    return parseDictionary(await answer.text());
  }

  function pronunciations(): Promise<Pronunciations> {
    dictionary ??= fetchDictionary();
    return dictionary;
  }

  async function fetchScores(): Promise<Weights | null> {
    try {
      const answer = await fetch(scoresAt);
      if (!answer.ok) throw new Error('The scores of the reader are not there.');
      const file = await answer.arrayBuffer();
      hash = hashOfScores(file);
      return readWeights(file);
    } catch (error) {
      scores = null;
      const why = error instanceof Error ? error.message : String(error);
      onWithout(
        `What is said cannot be understood now: ${why} Results can be given by touch; reload the page once with a network.`,
      );
      return null;
    }
  }

  function weights(): Promise<Weights | null> {
    scores ??= fetchScores();
    return scores;
  }

  return {
    pronunciations,
    weights,
    grammarFor({ edition, catalogue }) {
      const known = grammars.get(edition);
      if (known !== undefined) return known;
      const made = Promise.all([pronunciations(), weights()]).then(([words, learned]) => {
        // Without the scores it is made anew the next time: they may be there by then.
        if (learned === null) grammars.delete(edition);
        const grammar = createGrammar(catalogue, { pronunciations: words, weights: learned });
        return withName(grammar, learned === null ? null : hash);
      });
      grammars.set(edition, made);
      made.catch(() => grammars.delete(edition));
      return made;
    },
  };
}
