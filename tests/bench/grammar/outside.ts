import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import Papa from 'papaparse';
import { parse } from 'yaml';
import { z } from 'zod';
import * as grammar from '#grammar';

/**
 * Open data that stands beside the project and never in it. Each measurement is
 * null when its file is not there.
 */
const folder = fileURLToPath(new URL('../../../../shared/datasets/', import.meta.url));

export interface PRF {
  precision: number;
  recall: number;
  f1: number;
}

function prf(right: number, found: number, due: number): PRF {
  const precision = found === 0 ? 0 : right / found;
  const recall = due === 0 ? 0 : right / due;
  const sum = precision + recall;
  return { precision, recall, f1: sum === 0 ? 0 : (2 * precision * recall) / sum };
}

function textOf(name: string): string | null {
  const file = join(folder, name);
  return existsSync(file) ? readFileSync(file, 'utf8') : null;
}

/**
 * Where the marked phrase is in the words of the sentence: the one written in
 * capitals, else the first place with the same letters.
 */
function placeOf(words: readonly string[], phrase: string): { from: number; to: number } | null {
  const bare = (w: string) => w.toLowerCase().replace(/[^a-z0-9]/g, '');
  const goal = bare(phrase);
  let found: { from: number; to: number } | null = null;
  for (let from = 0; from < words.length; from += 1) {
    let joined = '';
    for (let to = from + 1; to <= words.length && joined.length < goal.length; to += 1) {
      joined += bare(words[to - 1] ?? '');
      if (joined !== goal) continue;
      const said = words.slice(from, to).join(' ');
      if (said === said.toUpperCase()) return { from, to };
      found ??= { from, to };
    }
  }
  return found;
}

export interface Negation extends PRF {
  sentences: number;
  unplaced: number;
  /** Historical against recent, by the same engine. */
  time: PRF;
}

/** Denied or affirmed, on sentences of another trade: the scope engine gets the span and no vocabulary. */
export function negation(errors: string[] | null): Negation | null {
  const text = textOf('negex-dev.tsv');
  if (text === null) return null;
  const count = { right: 0, found: 0, due: 0, sentences: 0, unplaced: 0 };
  const time = { right: 0, found: 0, due: 0 };
  for (const line of text.split(/\r?\n/).slice(1)) {
    const [number = '', phrase = '', sentence = '', status = '', when = ''] = line.split('\t');
    if (sentence === '') continue;
    count.sentences += 1;
    const words = sentence.trim().split(/\s+/);
    const span = placeOf(words, phrase);
    const denied = status.trim().toLowerCase() === 'negated';
    const past = when.trim().toLowerCase() === 'historical';
    if (denied) count.due += 1;
    if (past) time.due += 1;
    if (span === null) {
      count.unplaced += 1;
      continue;
    }
    const scope = grammar.scopeOf(words, span);
    if (scope.negated) count.found += 1;
    if (scope.negated && denied) count.right += 1;
    if (scope.time === 'historical') time.found += 1;
    if (scope.time === 'historical' && past) time.right += 1;
    if (scope.negated !== denied) {
      errors?.push(`negex ${number} | should be ${denied ? 'denied' : 'affirmed'}`);
    }
  }
  return {
    ...prf(count.right, count.found, count.due),
    sentences: count.sentences,
    unplaced: count.unplaced,
    time: prf(time.right, time.found, time.due),
  };
}

/** A condition read from free text: its place in the words, and the part it is on where one is named. */
const StateFound = z.array(
  z.object({
    from: z.number(),
    to: z.number(),
    condition: z.string(),
    part: z.string().nullish(),
  }),
);
type StateFound = z.infer<typeof StateFound>;

/** The grammar's reader of conditions in any text, if this grammar has one. */
function statesReader(): ((text: string) => StateFound) | null {
  const found: unknown = Reflect.get(grammar, 'statesIn');
  return typeof found === 'function'
    ? (text) => StateFound.parse(Reflect.apply(found, undefined, [text]))
    : null;
}

const Orders = z.array(
  z.object({
    text: z.string(),
    tokens: z.array(z.string()),
    entities: z.array(z.object({ start: z.number(), end: z.number(), type: z.string() })),
  }),
);

export interface Maintie extends PRF {
  exact: PRF;
  texts: number;
}

/**
 * Undesirable states in work orders. A span is found when the spans overlap;
 * `exact` asks for the same ends. A span on an undesirable process ("leaking")
 * or property is a true finding too, so it is neither due nor false.
 */
export function maintie(errors: string[] | null): Maintie | null {
  const text = textOf('maintie-dev.json');
  const read = statesReader();
  if (text === null || read === null) return null;
  const orders = Orders.parse(JSON.parse(text));
  const loose = { right: 0, foundRight: 0, found: 0, due: 0 };
  const exact = { right: 0, found: 0, due: 0 };
  orders.forEach((order, index) => {
    const found = read(order.tokens.join(' '));
    const bad = order.entities.filter((e) => /Undesirable/.test(e.type));
    const due = bad.filter((e) => /UndesirableState/.test(e.type));
    const meets = (e: { start: number; end: number }, f: { from: number; to: number }) =>
      f.from < e.end && f.to > e.start;
    loose.due += due.length;
    exact.due += due.length;
    for (const e of due) {
      if (found.some((f) => meets(e, f))) loose.right += 1;
      else errors?.push(`maintie ${index} | missed words ${e.start} to ${e.end}`);
      if (found.some((f) => f.from === e.start && f.to === e.end)) exact.right += 1;
    }
    for (const f of found) {
      const on = bad.filter((e) => meets(e, f));
      if (on.length > 0 && !on.some((e) => /UndesirableState/.test(e.type))) continue;
      loose.found += 1;
      exact.found += 1;
      if (on.length > 0) loose.foundRight += 1;
      else errors?.push(`maintie ${index} | nothing undesirable at words ${f.from} to ${f.to}`);
    }
  });
  const recall = loose.due === 0 ? 0 : loose.right / loose.due;
  const precision = loose.found === 0 ? 0 : loose.foundRight / loose.found;
  const sum = precision + recall;
  return {
    precision,
    recall,
    f1: sum === 0 ? 0 : (2 * precision * recall) / sum,
    exact: prf(exact.right, exact.found, exact.due),
    texts: orders.length,
  };
}

const Judged = z.record(
  z.string(),
  z.strictObject({
    /** Condition labels any of which is right; empty: no condition is said. */
    conditions: z.array(z.string()),
    /** Head words of the part, any of which is right. */
    part: z.array(z.string()),
  }),
);

export interface Maintnet {
  entries: number;
  /** Share from which a condition and a part are read. */
  both: number;
  judged: number;
  condition: number;
  part: number;
  /** Of the judged entries without a condition, the share left without one. */
  silent: number;
}

/** Log entries: how many give a condition and a part, and of 200 judged by hand how many are right. */
export function maintnet(
  accept: Readonly<Record<string, { accept: readonly string[] }>>,
  errors: string[] | null,
): Maintnet | null {
  const text = textOf('maintnet-dev.csv');
  const read = statesReader();
  if (text === null || read === null) return null;
  const Row = z.object({ IDENT: z.string(), PROBLEM: z.string() });
  const rows = Papa.parse<unknown>(text, { header: true, skipEmptyLines: true }).data.flatMap(
    (row) => {
      const one = Row.safeParse(row);
      return one.success ? [one.data] : [];
    },
  );
  const judgedFile = fileURLToPath(new URL('../../corpus/maintnet-judged.yaml', import.meta.url));
  const judged = Judged.parse(parse(readFileSync(judgedFile, 'utf8')));
  const out = {
    both: 0,
    judged: 0,
    condition: 0,
    part: 0,
    with: 0,
    withPart: 0,
    without: 0,
    silent: 0,
  };
  for (const row of rows) {
    const found = read(row.PROBLEM.toLowerCase());
    if (found.some((f) => (f.part ?? '') !== '')) out.both += 1;
    const truth = judged[row.IDENT];
    if (truth === undefined) continue;
    out.judged += 1;
    if (truth.conditions.length === 0) {
      out.without += 1;
      if (found.length === 0) out.silent += 1;
      continue;
    }
    out.with += 1;
    const right = truth.conditions.some((label) =>
      found.some((f) => (accept[label]?.accept ?? [label]).includes(f.condition)),
    );
    const part = found.some((f) =>
      truth.part.some((word) =>
        (f.part ?? '')
          .toLowerCase()
          .split(/[^a-z0-9]+/)
          .some((w) => stem(w) === stem(word)),
      ),
    );
    if (right) out.condition += 1;
    else errors?.push(`maintnet ${row.IDENT} | condition should be ${truth.conditions.join('/')}`);
    if (truth.part.length === 0) continue;
    out.withPart += 1;
    if (part) out.part += 1;
    else errors?.push(`maintnet ${row.IDENT} | part should be ${truth.part.join('/')}`);
  }
  const share = (a: number, b: number) => (b === 0 ? 0 : a / b);
  return {
    entries: rows.length,
    both: share(out.both, rows.length),
    judged: out.judged,
    condition: share(out.condition, out.with),
    part: share(out.part, out.withPart),
    silent: share(out.silent, out.without),
  };
}

const stem = (word: string) => word.toLowerCase().replace(/s$/, '');
