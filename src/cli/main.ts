import { type Command, EXIT_REFUSED, Refusal } from './command.ts';
import { cover } from './cover.ts';
import { draft } from './draft.ts';
import { explain } from './explain.ts';
import { lint } from './lint.ts';
import { sample } from './sample.ts';
import { schema } from './schema.ts';
import { verify } from './verify.ts';

const COMMANDS: readonly Command[] = [cover, draft, explain, lint, sample, schema, verify];

function overview(): string {
  const width = Math.max(...COMMANDS.map((c) => c.name.length));
  return [
    'talkround: a spoken pre-flight walk against the catalogue of required checks',
    '',
    ...COMMANDS.map((c) => `  talkround ${c.name.padEnd(width)}  ${c.summary}`),
    '',
    ...COMMANDS.map((c) => `  ${c.name} ${c.usage}`),
  ].join('\n');
}

/** Runs one subcommand; returns the exit code. Bad input is one sentence on standard error. */
export async function main(words: readonly string[]): Promise<number> {
  const [name, ...rest] = words;
  const print = (text: string) => void process.stdout.write(`${text}\n`);
  if (name === undefined || name === '--help' || name === 'help') {
    print(overview());
    return name === undefined ? EXIT_REFUSED : 0;
  }
  try {
    const command = COMMANDS.find((c) => c.name === name);
    if (command === undefined) {
      throw new Refusal(
        `There is no "talkround ${name}". There are: ${COMMANDS.map((c) => c.name).join(', ')}.`,
      );
    }
    if (rest.length === 1 && rest[0] === '--help') {
      print(`${command.summary}\nUsage: talkround ${command.name} ${command.usage}`);
      return 0;
    }
    return await command.run(rest, print);
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    process.stderr.write(`${error.message}\n`);
    return EXIT_REFUSED;
  }
}
