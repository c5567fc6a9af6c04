import { catalogueJsonSchema } from '#catalogue';
import { wordsOf, type Command } from './command.ts';

export const schema: Command = {
  name: 'schema',
  summary: 'the JSON Schema of a catalogue, for an editor',
  usage: '',
  async run(words, print) {
    wordsOf(this, words, {}, 0, 0);
    print(JSON.stringify(catalogueJsonSchema(), null, 2));
    return 0;
  },
};
