import { verifyFile } from '#store';
import { EXIT_GAPS, wordsOf, type Command } from './command.ts';
import { bytesOf } from './files.ts';

export const verify: Command = {
  name: 'verify',
  summary: 'whether a backup’s chain of events and its seals are whole',
  usage: 'FILE',
  async run(words, print) {
    const { positionals } = wordsOf(this, words, {}, 1, 1);
    const verdict = await verifyFile(bytesOf(positionals[0] ?? ''));
    for (const line of verdict.lines) print(line);
    return verdict.ok ? 0 : EXIT_GAPS;
  },
};
