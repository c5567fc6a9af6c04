import { spawn, type ChildProcess } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import type { Readable } from 'node:stream';
import { mutate } from './mutate.ts';
import { targets, type Target } from './parsers.ts';
import { seeded } from './random.ts';

/**
 * Seeded fuzzing of every parser: honest input, changed; does anything throw,
 * break its promise, or hang?
 *
 *   npm run fuzz -- MINUTES [--seed N] [--only PARSER] [--json]
 *
 * The parsers run in a process of their own, which says before each input which
 * one it is; so a hang is seen from outside and ended. What is found is written
 * to .cache/fuzz/PARSER-SEED-NUMBER and, once it is mended, moved to
 * tests/ordeal/finds/, where a test keeps it mended.
 */
export interface FuzzResult {
  inputs: number;
  crashes: number;
  hangs: number;
  seconds: number;
  seed: number;
  perParser: Record<string, { inputs: number; crashes: number; hangs: number }>;
  finds: string[];
}

/** The slowest honest input takes some 50 ms; a machine under load ten times that. */
const HANG_MS = 10_000;
/** Inputs of one parser before the next has its turn. */
const TURN = 25;
const FINDS = '.cache/fuzz';

/** Input number `n` of a target: follows from the seed alone. */
export function inputOf(target: Target, seed: number, n: number): Uint8Array {
  const random = seeded(seed * 1_000_003 + n * 7_919 + target.name.length);
  const pick = () => target.samples[Math.floor(random() * target.samples.length)];
  const none = new Uint8Array();
  return mutate(pick() ?? none, pick() ?? none, random);
}

/** In the child: runs inputs until it is ended, and says so line by line on descriptor 3. */
async function work(seed: number, from: number, only: string | null): Promise<never> {
  const all = targets().filter((t) => only === null || t.name === only);
  for (let n = from; ; n += TURN)
    for (const target of all)
      for (let i = n; i < n + TURN; i += 1) {
        writeSync(3, `${target.name} ${i}\n`);
        const input = inputOf(target, seed, i);
        try {
          await target.run(input);
        } catch (error) {
          const why = error instanceof Error ? (error.stack ?? error.message) : String(error);
          writeSync(3, `! ${target.name} ${i} ${JSON.stringify(why.slice(0, 800))}\n`);
        }
      }
}

export async function fuzz(
  minutes: number,
  seed: number,
  only: string | null = null,
  progress: (line: string) => void = () => undefined,
): Promise<FuzzResult> {
  const until = Date.now() + minutes * 60_000;
  const started = Date.now();
  const result: FuzzResult = {
    inputs: 0,
    crashes: 0,
    hangs: 0,
    seconds: 0,
    seed,
    perParser: {},
    finds: [],
  };
  const byName = new Map(targets().map((t) => [t.name, t]));
  const seen = new Set<string>();
  const counts = (name: string) => (result.perParser[name] ??= { inputs: 0, crashes: 0, hangs: 0 });

  function found(kind: 'crashes' | 'hangs', name: string, n: number, why: string): void {
    // The same place once: a hundred inputs that stumble over one stone are one find.
    const place = `${kind} ${name} ${why.split('\n').slice(0, 2).join(' ')}`;
    if (seen.has(place)) return;
    seen.add(place);
    result[kind] += 1;
    counts(name)[kind] += 1;
    const target = byName.get(name);
    if (target === undefined) return;
    mkdirSync(FINDS, { recursive: true });
    const file = join(FINDS, `${name}-${seed}-${n}`);
    writeFileSync(file, inputOf(target, seed, n));
    result.finds.push(file);
    progress(`${kind === 'hangs' ? 'hang' : 'crash'}: ${file}\n${why}`);
  }

  let from = 0;
  while (Date.now() < until) {
    const last = await oneLife(from);
    from = last + TURN;
  }
  result.seconds = Math.round((Date.now() - started) / 1000);
  return result;

  /** Until the time is up or the child hangs; gives the number of its last input. */
  function oneLife(first: number): Promise<number> {
    return new Promise((resolve, reject) => {
      const words = ['--worker', String(seed), String(first), ...(only === null ? [] : [only])];
      const child: ChildProcess = spawn(
        process.execPath,
        ['tests/load.mjs', 'tests/ordeal/fuzz.ts', ...words],
        { stdio: ['ignore', 'ignore', 'pipe', 'pipe'] },
      );
      let current = { name: '', n: first, at: Date.now() };
      let rest = '';
      let said = '';
      child.stderr?.setEncoding('utf8').on('data', (data: string) => {
        said = (said + data).slice(-1000);
      });
      // Loading the stages takes a while; the clock of a hang runs from the first input.
      let begun = false;
      (child.stdio[3] as Readable).setEncoding('utf8').on('data', (data: string) => {
        const lines = (rest + data).split('\n');
        rest = lines.pop() ?? '';
        for (const line of lines) {
          const [name = '', n = '0', ...more] = line.split(' ');
          if (name === '!') {
            const why = JSON.parse(line.slice(line.indexOf('"'))) as string;
            found('crashes', n, Number(more[0]), why);
          } else {
            begun = true;
            result.inputs += 1;
            counts(name).inputs += 1;
            current = { name, n: Number(n), at: Date.now() };
          }
        }
      });
      const watch = setInterval(() => {
        if (begun && Date.now() - current.at > HANG_MS) {
          found('hangs', current.name, current.n, `No answer in ${HANG_MS / 1000} s`);
          end();
        } else if (Date.now() >= until) end();
      }, 200);
      function end(): void {
        clearInterval(watch);
        child.kill('SIGKILL');
        resolve(current.n);
      }
      child.once('error', reject);
      child.once('exit', (code) => {
        clearInterval(watch);
        // The parser took the whole process with it: out of memory, or out of stack in native code.
        if (code !== null && code !== 0 && begun)
          found('crashes', current.name, current.n, `The process ended with code ${code}: ${said}`);
        else if (code !== null && code !== 0)
          reject(new Error(`The fuzzer does not start: ${said}`));
        resolve(current.n);
      });
    });
  }
}

/** Runs what was found before; for the test that keeps it mended. */
export async function replay(file: string, parser: string): Promise<void> {
  const target = targets().find((t) => t.name === parser);
  if (target === undefined) throw new Error(`There is no parser "${parser}".`);
  await target.run(new Uint8Array(readFileSync(file)));
}

export async function main(words: string[]): Promise<number> {
  if (words[0] === '--worker') return work(Number(words[1]), Number(words[2]), words[3] ?? null);
  const after = (name: string) => {
    const at = words.indexOf(name);
    return at < 0 ? undefined : words[at + 1];
  };
  const seed = Number(after('--seed') ?? 20260105);
  const only = after('--only') ?? null;
  const taken = new Set([after('--seed'), only]);
  const minutes = Number(words.find((w) => /^\d+(\.\d+)?$/.test(w) && !taken.has(w)) ?? 1);
  const r = await fuzz(minutes, seed, only, (line) => console.error(line));
  if (words.includes('--json')) console.log(JSON.stringify(r));
  else {
    console.log('parser        inputs   crashes   hangs');
    for (const [name, c] of Object.entries(r.perParser))
      console.log(
        `${name.padEnd(12)} ${String(c.inputs).padStart(7)} ${String(c.crashes).padStart(9)} ${String(c.hangs).padStart(7)}`,
      );
    console.log(
      `${r.inputs} inputs, ${r.crashes} crashes, ${r.hangs} hangs (seed ${r.seed}, ${r.seconds} s)`,
    );
  }
  return r.crashes + r.hangs === 0 ? 0 : 1;
}
