import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { checksById, CorpusError, parseLabel, type Label } from '../corpus/format.ts';
import { conditionLabels } from '../corpus/load.ts';
import { ownWalks } from '../corpus/walks.ts';
import { conversationOf, type Conversation } from './reader/conversation.ts';
import { intervalsOf } from './reader/intervals.ts';
import { measuresOf } from './reader/measures.ts';
import { statedBy, summed, tallyOf } from './reader/tally.ts';

/**
 * How sure the labels are: a second labeller, who saw neither the first labels nor any
 * reading, is judged as if they were a reader. No reader can be right more often than this
 * without having learned the first writer's habits.
 */
const FOLDER = fileURLToPath(new URL('../corpus/second/', import.meta.url));

/** Label of each utterance by number, from 1. Throws CorpusError with one sentence. */
function labelsIn(file: string, conversation: Conversation): readonly (readonly Label[])[] {
  const { catalogue, lines } = conversation;
  const checks = checksById(catalogue);
  const conditions = conditionLabels();
  const rows = readFileSync(FOLDER + file, 'utf8')
    .trimEnd()
    .split('\n');
  if (rows.length !== lines.length)
    throw new CorpusError(
      `${file} has ${String(rows.length)} labels for ${String(lines.length)} utterances.`,
    );
  return rows.map((row, i) => {
    const [number, is = ''] = row.split('\t');
    if (Number(number) !== i + 1)
      throw new CorpusError(`${file}, line ${String(i + 1)}: its number is ${number ?? ''}.`);
    try {
      return is
        .split(';')
        .map((part) => part.trim())
        .filter((part) => part !== '')
        .map((part) => parseLabel(part, catalogue, checks, conditions));
    } catch (error) {
      const why = error instanceof Error ? error.message : '';
      throw new CorpusError(`${file}, line ${String(i + 1)}: ${why}`);
    }
  });
}

/** Prints how far the second labels agree with the first; `--json` for a program. */
export function main(words: string[]): number {
  const conditions = conditionLabels();
  const walks = new Map([...ownWalks('learn'), ...ownWalks('tune')].map((w) => [w.id, w]));
  const tallies = readdirSync(FOLDER)
    .filter((f) => f.endsWith('.tsv'))
    .sort()
    .map((file) => {
      const id = file.replace('.tsv', '').replace('--', '/');
      const walk = walks.get(id);
      if (walk === undefined) throw new CorpusError(`${file} belongs to no walk that is here.`);
      const conversation = conversationOf(walk);
      const labels = labelsIn(file, conversation);
      const statements = statedBy(conversation, labels, conditions);
      const said = labels.map((own, i) => ({ labels: own, statements: statements[i] ?? [] }));
      return tallyOf(
        conversation,
        conversation.lines.map((l) => l.say),
        said,
        conditions,
      );
    });
  const m = measuresOf(summed(tallies));
  const intervals = intervalsOf(tallies);
  if (words.includes('--json')) {
    console.log(JSON.stringify({ walks: tallies.length, second: m, intervals }, null, 2));
    return 0;
  }
  console.log(
    `${String(tallies.length)} walks, ${String(m.utterances)} utterances labelled twice.`,
  );
  console.log('The second labeller against the first:');
  for (const [name, x] of Object.entries(m))
    if (typeof x === 'number' && name !== 'utterances') console.log(`  ${name} ${x.toFixed(3)}`);
  console.log(`  sheet agreement ${(m.sheet?.agreement ?? 1).toFixed(3)}`);
  return 0;
}
