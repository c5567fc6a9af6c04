import { createGrammar } from '#grammar';
import { catalogueNamed } from './catalogues.ts';
import { Refusal, wordsOf, type Command } from './command.ts';
import { pronunciations } from './pronunciations.ts';
import { scores } from './scores.ts';

export const sample: Command = {
  name: 'sample',
  summary: 'random sentences that the grammar understands',
  usage: '[--catalogue NAME|FILE] [--count N] [--seed N]',
  async run(words, print) {
    const { values } = wordsOf(
      this,
      words,
      {
        catalogue: { type: 'string', default: 'training-helicopter' },
        count: { type: 'string', default: '10' },
        seed: { type: 'string', default: '1' },
      },
      0,
      0,
    );
    const grammar = createGrammar(catalogueNamed(values.catalogue), {
      pronunciations: pronunciations(),
      weights: scores(),
    });
    const count = whole('--count', values.count);
    for (const { text } of grammar.sample(whole('--seed', values.seed), count)) print(text);
    return 0;
  },
};

function whole(name: string, text: string): number {
  const number = Number(text);
  if (Number.isInteger(number) && number >= 0) return number;
  throw new Refusal(`${name} takes a whole number, not "${text}".`);
}
