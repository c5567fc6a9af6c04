import { heardOf } from '#capture';
import { createGrammar } from '#grammar';
import { FIRST_SCENE } from '#shared/scene';
import { catalogueNamed } from './catalogues.ts';
import { wordsOf, type Command } from './command.ts';
import { pronunciations } from './pronunciations.ts';
import { scores } from './scores.ts';

const DEFAULT_CATALOGUE = 'training-helicopter';

export const explain: Command = {
  name: 'explain',
  summary: 'what a sentence means to Talkround, and why',
  usage: '"SENTENCE" … [--catalogue NAME|FILE] [--station STATION] [--json]',
  async run(words, print) {
    const { values, positionals } = wordsOf(
      this,
      words,
      {
        catalogue: { type: 'string', default: DEFAULT_CATALOGUE },
        station: { type: 'string' },
        json: { type: 'boolean', default: false },
      },
      1,
      1000,
    );
    const grammar = createGrammar(catalogueNamed(values.catalogue), {
      pronunciations: pronunciations(),
      weights: scores(),
    });
    let scene = { ...FIRST_SCENE, station: values.station ?? null };
    // One sentence after the other, each in the scene that the one before left.
    for (const [i, text] of positionals.entries()) {
      const heard = heardOf({ id: `said-${i + 1}`, by: 'typed', text });
      const reading = grammar.read(heard, scene);
      if (values.json) print(JSON.stringify(reading.statements, null, 2));
      else print(grammar.explain(heard, scene));
      scene = reading.scene;
    }
    return 0;
  },
};
