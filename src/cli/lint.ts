import { lint as lintByEar } from '#grammar';
import { catalogueNamed } from './catalogues.ts';
import { EXIT_GAPS, wordsOf, type Command } from './command.ts';
import { pronunciations } from './pronunciations.ts';

export const lint: Command = {
  name: 'lint',
  summary: 'names in a catalogue that steal each other’s sentences or sound alike',
  usage: 'NAME|FILE',
  async run(words, print) {
    const { positionals } = wordsOf(this, words, {}, 1, 1);
    const problems = lintByEar(catalogueNamed(positionals[0] ?? ''), pronunciations());
    for (const problem of problems) print(problem.text);
    if (problems.length === 0) print('Nothing to mend.');
    return problems.length === 0 ? 0 : EXIT_GAPS;
  },
};
