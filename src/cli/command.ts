import { parseArgs, type ParseArgsConfig } from 'node:util';

/** Bad input or wrong words on the command line: one sentence, exit code 2. */
export class Refusal extends Error {}

/** Everything required is spoken for. */
export const EXIT_COVERED = 0;
/** Some required checks are not spoken for. */
export const EXIT_GAPS = 1;
/** The input could not be used. */
export const EXIT_REFUSED = 2;

/** One subcommand of `talkround`. */
export interface Command {
  readonly name: string;
  /** One line for the overview. */
  readonly summary: string;
  /** The words it takes, such as "FILE [--json]". */
  readonly usage: string;
  run(words: readonly string[], print: (text: string) => void): Promise<number>;
}

type Options = NonNullable<ParseArgsConfig['options']>;

/**
 * Reads the words of a subcommand.
 *
 * @throws Refusal with the usage when an option is unknown or the number of
 *   plain words is not within `least` and `most`.
 */
export function wordsOf<O extends Options>(
  command: Pick<Command, 'name' | 'usage'>,
  words: readonly string[],
  options: O,
  least: number,
  most: number,
) {
  const usage = `Usage: talkround ${command.name} ${command.usage}`;
  const parsed = attempt(() => parseArgs({ args: [...words], options, allowPositionals: true }));
  if (parsed instanceof Error) throw new Refusal(`${parsed.message}. ${usage}`);
  const count = parsed.positionals.length;
  if (count < least || count > most) throw new Refusal(usage);
  return parsed;
}

function attempt<T>(make: () => T): T | Error {
  try {
    return make();
  } catch (error) {
    return error instanceof Error ? error : new Error(String(error));
  }
}
