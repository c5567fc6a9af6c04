import { walkGrammar, type GrammarParts } from '#capture';
import { lexicon, spellOut, type Pronunciations } from '#grammar';
import type { Catalogue } from '#shared/catalogue';

/** What the recogniser on the device listens for on one aircraft: compiled from catalogue and lexicon. */
export function listeningParts(catalogue: Catalogue, pronunciations: Pronunciations): GrammarParts {
  return walkGrammar(catalogue, lexicon(), pronunciations, spellOut);
}
