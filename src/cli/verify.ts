import { verifyFile } from '#store';
import { EXIT_GAPS, wordsOf, type Command } from './command.ts';
import { bytesOf } from './files.ts';

export const verify: Command = {
  name: 'verify',
  summary: 'whether a backup’s chain of events and its seals are whole',
  usage: 'FILE [--key "EIGHT WORDS"]…',
  async run(words, print) {
    const options = { key: { type: 'string', multiple: true } } as const;
    const { positionals, values } = wordsOf(this, words, options, 1, 1);
    const keys = (values.key ?? []).map((key) => key.trim().toLowerCase().replace(/\s+/g, ' '));
    const verdict = await verifyFile(bytesOf(positionals[0] ?? ''), keys);
    for (const line of verdict.lines) print(line);
    return verdict.ok ? 0 : EXIT_GAPS;
  },
};
