import { basename } from 'node:path';
import { draftFrom, draftYaml, freeId, isAuthored } from '#catalogue';
import { CATALOGUES } from '#seeds';
import { Refusal, wordsOf, type Command } from './command.ts';
import { textOf } from './files.ts';

export const draft: Command = {
  name: 'draft',
  summary: 'a draft catalogue out of a printed checklist’s text, or a table (CSV, TSV)',
  usage: 'FILE',
  async run(words, print) {
    const { positionals } = wordsOf(this, words, {}, 1, 1);
    const [path = ''] = positionals;
    const file = basename(path);
    const text = textOf(path);
    if (text.startsWith('%PDF') || text.includes('\u0000'))
      throw new Refusal(`${file} is not text. Copy the checklist out of it into a text file.`);
    if (isAuthored(text))
      throw new Refusal(`${file} is a catalogue already; "talkround lint" says how it sounds.`);
    const made = draftFrom(text);
    if (!made.ok) throw new Refusal(`${file}: ${made.error}`);
    const { draft: drafted } = made;
    print(
      draftYaml(
        drafted,
        freeId(drafted.name, new Set(CATALOGUES.map((c) => c.name))),
        text,
      ).trimEnd(),
    );
    if (drafted.left.length > 0)
      process.stderr.write(
        [
          'Lines that became nothing:',
          ...drafted.left.map((l) => `${file}:${l.line}: ${l.text}`),
          '',
        ].join('\n'),
      );
    return 0;
  },
};
