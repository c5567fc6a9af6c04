import { createGrammar, parseDictionary, type Grammar, type Pronunciations } from '#grammar';
import type { Edition } from './shelf.ts';

/** Grammars by edition, made once; the dictionary is fetched from our own origin. */
export interface Readers {
  grammarFor(edition: Edition): Promise<Grammar>;
  pronunciations(): Promise<Pronunciations>;
}

export function readersFrom(modelBase: string): Readers {
  let dictionary: Promise<Pronunciations> | null = null;
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

  return {
    pronunciations,
    grammarFor({ edition, catalogue }) {
      const known = grammars.get(edition);
      if (known !== undefined) return known;
      const made = pronunciations().then((words) =>
        createGrammar(catalogue, { pronunciations: words }),
      );
      grammars.set(edition, made);
      made.catch(() => grammars.delete(edition));
      return made;
    },
  };
}
