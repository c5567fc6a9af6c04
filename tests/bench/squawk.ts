import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import Fuse from 'fuse.js';
import Papa from 'papaparse';
import { parse } from 'yaml';
import { z } from 'zod';
import { JASC, jascName } from '#catalogue';
import { statesIn } from '#grammar';
import { freeFault, placesIn } from '#record';
import { proposeJasc } from '#report';

/*
 * Squawks in free text, without a catalogue: part, condition, side or position
 * and JASC chapter, beside a fuse.js look-up of the same text in the same code
 * table. 200 maintenance log entries judged by hand (squawk/judged.yaml).
 *
 * Whoever wrote the trade words and the rules had read these entries; on
 * entries that nobody had read the figures are lower. squawk/fresh.yaml has 200
 * of those, with their words: judged by hand before the program read one.
 */

const TRUTH = {
  part: z.array(z.string()),
  conditions: z.array(z.string()),
  where: z.array(z.string()),
  chapter: z.array(z.string()),
};
const Judged = z.record(z.string(), z.strictObject(TRUTH));
const Fresh = z.record(z.string(), z.strictObject({ text: z.string(), ...TRUTH }));
type Entry = z.infer<typeof Judged>[string] & { id: string; text: string };

const Accept = z.record(z.string(), z.object({ accept: z.array(z.string()) }).loose());

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

/** The development data lies beside the project; without it there is nothing to measure. */
const DATA = here('../../../shared/datasets/maintnet-dev.csv');

/** Where the part, the condition, the side and the chapter of fresh entries are to stand. */
const STATION = { part: 0.85, condition: 0.9, side: 0.98, jascChapter: 0.9 } as const;

export interface SquawkFigures {
  entries: number;
  part: number;
  condition: number;
  side: number;
  jascChapter: number;
  fuseJascChapter: number;
}

export function main(words: string[]): Promise<number> {
  const entries = existsSync(DATA) ? judgedEntries() : [];
  const unread = freshEntries();
  const threshold = bestThreshold(entries.length > 0 ? entries : unread);
  const fresh = figures(unread, threshold);
  const all = entries.length === 0 ? null : figures(entries, threshold);
  if (words.includes('--json')) {
    console.log(JSON.stringify({ ...all, fresh }));
    return Promise.resolve(0);
  }
  if (all === null) console.log('The data of the older entries (maintnet-dev.csv) is not here.');
  const rows: readonly (readonly [string, SquawkFigures])[] = [
    ...(all === null ? [] : [['entries tuned to', all] as const]),
    ['fresh entries', fresh],
    ['to be reached', { entries: unread.length, ...STATION, fuseJascChapter: Number.NaN }],
  ];
  console.log(
    '                            n   part  condition  side  JASC chapter  fuse.js chapter',
  );
  for (const [name, f] of rows) {
    const numbers = [f.part, f.condition, f.side, f.jascChapter, f.fuseJascChapter];
    const [part, condition, side, ours, fuse] = numbers.map((n) =>
      Number.isNaN(n) ? '' : n.toFixed(3),
    );
    console.log(
      `${name.padEnd(26)}${String(f.entries).padStart(3)}  ${part}      ${condition} ${side}         ${ours}            ${fuse}`,
    );
  }
  console.log(`fuse.js at its best threshold on the first of these, ${threshold}.`);
  // Never of the fresh ones: what is read once is fresh no more.
  if (words.includes('--errors')) for (const line of errorsIn(entries)) console.log(line);
  return Promise.resolve(0);
}

function judgedEntries(): Entry[] {
  const judged = Judged.parse(parse(readFileSync(here('./squawk/judged.yaml'), 'utf8')));
  const Row = z.object({ IDENT: z.string(), PROBLEM: z.string() });
  const rows = Papa.parse<unknown>(readFileSync(DATA, 'utf8'), {
    header: true,
    skipEmptyLines: true,
  }).data;
  return rows.flatMap((row) => {
    const read = Row.safeParse(row);
    const truth = read.success ? judged[read.data.IDENT] : undefined;
    return read.success && truth !== undefined
      ? [{ ...truth, id: read.data.IDENT, text: read.data.PROBLEM.toLowerCase() }]
      : [];
  });
}

/** Entries that nobody had read, with their words. */
export function freshEntries(): Entry[] {
  const read = Fresh.parse(parse(readFileSync(here('./squawk/fresh.yaml'), 'utf8')));
  return Object.entries(read).map(([id, entry]) => ({ ...entry, id }));
}

const accepted = Accept.parse(parse(readFileSync(here('../corpus/conditions.yaml'), 'utf8')));

interface Judgement {
  part: boolean | null;
  condition: boolean;
  side: boolean;
  chapter: boolean;
}

/** The four answers for one entry; part is null where none is named. */
function judge(entry: Entry): Judgement {
  const fault = freeFault(entry.text, statesIn(entry.text), null);
  const said = (fault.part ?? '').split(/[^a-z0-9]+/).map(stem);
  const ids = entry.conditions.flatMap((label) => accepted[label]?.accept ?? [label]);
  return {
    part: entry.part.length === 0 ? null : entry.part.some((word) => said.includes(stem(word))),
    condition:
      ids.length === 0
        ? fault.conditions.length === 0
        : fault.conditions.some((c) => ids.includes(c.condition)),
    side: sameSet(placesIn(entry.text), entry.where),
    chapter: entry.chapter.includes(chapterOf(proposeJasc(fault, null, jascName)[0]?.code)),
  };
}

export function figures(entries: readonly Entry[], threshold: number): SquawkFigures {
  const judged = entries.map(judge);
  const parts = judged.filter((j) => j.part !== null);
  const fuse = fuseOver(threshold);
  const share = (n: number, of: number) => (of === 0 ? 0 : n / of);
  const count = (f: (j: Judgement) => boolean) => judged.filter(f).length;
  return {
    entries: entries.length,
    part: share(parts.filter((j) => j.part === true).length, parts.length),
    condition: share(
      count((j) => j.condition),
      judged.length,
    ),
    side: share(
      count((j) => j.side),
      judged.length,
    ),
    jascChapter: share(
      count((j) => j.chapter),
      judged.length,
    ),
    fuseJascChapter: share(
      entries.filter((e) => e.chapter.includes(fuse(e.text))).length,
      entries.length,
    ),
  };
}

/** Look-up of every word of the text in the names of the code table; the code with most of them wins. */
function fuseOver(threshold: number): (text: string) => string {
  const rows = [...JASC]
    .filter(([code]) => code.length === 4)
    .map(([code, name]) => ({ code, name }));
  const fuse = new Fuse(rows, {
    keys: ['name'],
    threshold,
    ignoreLocation: true,
    includeScore: true,
  });
  return (text) => {
    const votes = new Map<string, number>();
    for (const word of text.split(/[^a-z]+/).filter((w) => w.length > 2)) {
      for (const { item, score } of fuse.search(word)) {
        votes.set(item.code, (votes.get(item.code) ?? 0) + 1 - (score ?? 1));
      }
    }
    const best = [...votes].sort((a, b) => b[1] - a[1])[0];
    return chapterOf(best?.[0]);
  };
}

function bestThreshold(entries: readonly Entry[]): number {
  const right = (threshold: number) => {
    const fuse = fuseOver(threshold);
    return entries.filter((e) => e.chapter.includes(fuse(e.text))).length;
  };
  const tried = [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6].map((t) => ({ t, right: right(t) }));
  return tried.reduce((best, one) => (one.right > best.right ? one : best)).t;
}

function errorsIn(entries: readonly Entry[]): string[] {
  return entries.flatMap((entry) => {
    const j = judge(entry);
    const wrong = [
      j.part === false ? 'part' : '',
      j.condition ? '' : 'condition',
      j.side ? '' : 'side',
      j.chapter ? '' : 'chapter',
    ].filter((w) => w !== '');
    return wrong.length === 0 ? [] : [`${entry.id}: ${wrong.join(', ')}`];
  });
}

function chapterOf(code: string | undefined): string {
  return (code ?? '').slice(0, 2);
}

function sameSet(a: readonly string[], b: readonly string[]): boolean {
  return a.length === b.length && a.every((x) => b.includes(x));
}

function stem(word: string): string {
  return word.toLowerCase().replace(/s$/, '');
}
