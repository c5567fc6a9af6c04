import { parseArgs } from 'node:util';
import { CorpusError } from '../corpus/format.ts';
import { TURN_PARTS, type TurnPart } from '../corpus/turns.ts';

/** What a bench over ways of saying is asked for. */
export interface SayingOptions {
  readonly part: TurnPart;
  readonly writers: readonly string[];
  readonly times: number;
}

/** What it answers: figures, their text, and what was misread. */
export interface SayingResult {
  readonly json: object;
  readonly text: string;
  readonly misread: readonly string[];
}

const TIMES = 3;
const USAGE = `[--part learn|tune|sealed] [--writers A,B] [--times N] [--errors] [--json]
  --part    whose (default: sealed)
  --writers only these writers of the part
  --times   how often each is said, of other parts each time (default: ${String(TIMES)})
  --errors  list what was misread; not for sealed ones`;

/**
 * Runs a bench over ways of saying: 0 when it ran, 2 when its options are wrong, with one sentence.
 *
 * @param name how it is called: "turns"
 * @param writersOf the writers of a part
 */
export function runSaying(
  name: string,
  words: string[],
  writersOf: (part: TurnPart) => string[],
  judged: (options: SayingOptions) => SayingResult,
): number {
  const wrong = (message: string): number => {
    console.error(`${message}\nUsage: npm run bench:${name} -- ${USAGE}`);
    return 2;
  };
  try {
    const o = parseArgs({
      args: words,
      options: {
        part: { type: 'string', default: 'sealed' },
        writers: { type: 'string' },
        times: { type: 'string', default: String(TIMES) },
        errors: { type: 'boolean', default: false },
        json: { type: 'boolean', default: false },
      },
    }).values;
    const part = TURN_PARTS.find((p) => p === o.part);
    if (part === undefined) return wrong(`There is no part "${o.part}" of turns.`);
    if (o.errors && part === 'sealed')
      return wrong(
        'Nobody reads an error of a sealed part: leave out --errors or take --part tune.',
      );
    const times = Number(o.times);
    if (!Number.isInteger(times) || times < 1) return wrong('--times wants a whole number from 1.');
    const own = writersOf(part);
    const writers = o.writers?.split(',') ?? own;
    const strange = writers.find((w) => !own.includes(w));
    if (strange !== undefined) return wrong(`"${strange}" wrote no ${name} of the part "${part}".`);
    const { json, text, misread } = judged({ part, writers, times });
    console.log(o.json ? JSON.stringify({ part, times, ...json }) : text);
    if (o.errors) for (const line of misread) console.log(line);
    return 0;
  } catch (error) {
    const own = error instanceof CorpusError || (error instanceof TypeError && 'code' in error);
    if (!own) throw error;
    return wrong(error.message);
  }
}
