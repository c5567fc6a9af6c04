import {
  isAlias,
  isMap,
  isPair,
  isScalar,
  isSeq,
  LineCounter,
  parseDocument,
  type Document,
  type Node,
  type YAMLError,
} from 'yaml';
import { reservedKey, tooMuch } from './guard.ts';
import { MAX_ALIASES, MAX_DEPTH, MAX_PROBLEMS, MAX_VALUES } from './limits.ts';
import { pathText, type Found, type Path, type Problem } from './problem.ts';

/** The author's text as plain data, and a way back from a path to its line. */
export interface Source {
  readonly value: unknown;
  problem(found: Found): Problem;
}

/** Reads YAML or JSON into plain data. Never throws; every refusal is a sentence with its line. */
export function readSource(
  text: string,
  file: string,
): { ok: true; source: Source } | { ok: false; problems: Problem[] } {
  const clean = text.startsWith('\uFEFF') ? text.slice(1) : text;
  const lines = new LineCounter();
  const at = (offset: number, path: Path, sentence: string): Problem => {
    const { line, col } =
      lines.lineStarts.length > 0 ? lines.linePos(offset) : linePos(clean, offset);
    return {
      file,
      line: Math.max(1, line),
      column: Math.max(1, col),
      path: pathText(path),
      text: sentence,
    };
  };
  const refused = tooMuch(clean);
  if (refused !== null) return { ok: false, problems: [at(refused.offset, [], refused.text)] };

  let doc: Document.Parsed;
  try {
    // Duplicate keys are found below: the library compares every pair of them.
    doc = parseDocument(clean, { lineCounter: lines, uniqueKeys: false, stringKeys: true });
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    return { ok: false, problems: [at(0, [], `This cannot be read as YAML: ${why}.`)] };
  }
  if (doc.errors.length > 0) {
    return {
      ok: false,
      problems: doc.errors
        .slice(0, MAX_PROBLEMS)
        .map((e) => at(e.pos[0], [], yamlSentence(e, clean))),
    };
  }
  if (doc.contents === null) {
    return { ok: false, problems: [at(0, [], 'The file is empty; expected a catalogue.')] };
  }
  const reading = new Reading(doc);
  const value = reading.plain(doc.contents, [], 0);
  const problem = (found: Found): Problem => at(offsetOf(doc, found), found.path, found.text);
  if (reading.found.length > 0) return { ok: false, problems: reading.found.map(problem) };
  return { ok: true, source: { value, problem } };
}

/** Turns nodes into plain data, with the limits kept while it goes. */
class Reading {
  readonly found: Found[] = [];
  private values = 0;
  private aliases = 0;
  private stopped = false;
  constructor(private readonly doc: Document.Parsed) {}

  plain(node: unknown, path: Path, depth: number): unknown {
    if (this.stopped) return null;
    this.values += 1;
    if (this.values > MAX_VALUES) {
      return this.stop(path, `More than ${MAX_VALUES} values, repeated ones included.`);
    }
    if (depth > MAX_DEPTH) {
      return this.stop(
        path,
        `Nested too deep here; a catalogue needs at most ${MAX_DEPTH} levels.`,
      );
    }
    if (isAlias(node)) {
      this.aliases += 1;
      if (this.aliases > MAX_ALIASES) {
        return this.stop(path, `More than ${MAX_ALIASES} repeats by "*name"; write them out.`);
      }
      const target = node.resolve(this.doc);
      if (target === undefined) {
        return this.stop(
          path,
          `"*${node.source}" repeats nothing; no "&${node.source}" stands before it.`,
        );
      }
      return this.plain(target, path, depth + 1);
    }
    if (isMap(node)) return this.map(node.items, path, depth);
    if (isSeq(node)) return node.items.map((item, i) => this.plain(item, [...path, i], depth + 1));
    if (isScalar(node)) return typeof node.value === 'bigint' ? Number(node.value) : node.value;
    return null;
  }

  private map(items: readonly unknown[], path: Path, depth: number): Record<string, unknown> {
    const out = new Map<string, unknown>();
    for (const pair of items) {
      if (!isPair(pair)) continue;
      const key = isScalar(pair.key) ? String(pair.key.value) : String(pair.key);
      const reserved = reservedKey(key, path);
      if (reserved !== null) this.report(reserved);
      else if (out.has(key)) {
        this.report({
          path: [...path, key],
          key,
          text: `"${key}" is given twice; keep one of the two.`,
        });
      } else out.set(key, this.plain(pair.value, [...path, key], depth + 1));
    }
    return Object.fromEntries(out);
  }

  private report(found: Found): void {
    if (this.found.length < MAX_PROBLEMS) this.found.push(found);
  }

  private stop(path: Path, text: string): null {
    this.stopped = true;
    this.found.push({ path, text });
    return null;
  }
}

/** Where in the text a path is, or the nearest thing above it that exists. */
function offsetOf(doc: Document.Parsed, found: Found): number {
  let node: unknown = doc.contents;
  let offset = rangeOf(node) ?? 0;
  const steps =
    found.key !== undefined && found.path.at(-1) === found.key
      ? found.path.slice(0, -1)
      : found.path;
  for (const step of steps) {
    node = isAlias(node) ? node.resolve(doc) : node;
    if (isSeq(node) && typeof step === 'number') node = node.items[step];
    else if (isMap(node)) {
      const pair = node.items.find((p) => isScalar(p.key) && String(p.key.value) === String(step));
      if (pair === undefined) return offset;
      offset = rangeOf(pair.key) ?? offset;
      node = pair.value;
      continue;
    } else return offset;
    offset = rangeOf(node) ?? offset;
  }
  if (found.key === undefined) return offset;
  node = isAlias(node) ? node.resolve(doc) : node;
  if (!isMap(node)) return offset;
  const same = node.items.filter((p) => isScalar(p.key) && String(p.key.value) === found.key);
  return rangeOf(same.at(-1)?.key) ?? offset;
}

function rangeOf(node: unknown): number | null {
  const range = (node as Node | null | undefined)?.range;
  return range === null || range === undefined ? null : range[0];
}

function linePos(text: string, offset: number): { line: number; col: number } {
  const before = text.slice(0, offset).split('\n');
  return { line: before.length, col: (before.at(-1)?.length ?? 0) + 1 };
}

/** The YAML library's codes in our own words, where an author would otherwise be at a loss. */
function yamlSentence(error: YAMLError, text: string): string {
  const around = text.slice(Math.max(0, error.pos[0] - 1), error.pos[1] + 1);
  if (error.code === 'TAB_AS_INDENT' || (around.includes('\t') && error.code !== 'MULTIPLE_DOCS')) {
    return 'A tab stands here; YAML is indented with spaces only.';
  }
  const known = SENTENCES[error.code];
  if (known !== undefined) return known;
  const said = error.message.split('\n')[0]?.replace(/ at line \d+, column \d+:?$/, '') ?? '';
  return `This is not YAML: ${said.replace(/[.:]$/, '')}.`;
}

const SENTENCES: Readonly<Partial<Record<YAMLError['code'], string>>> = {
  MULTIPLE_DOCS: 'A second document begins here ("---"); a file holds one catalogue.',
  BAD_INDENT:
    'The indentation does not fit the lines above; fields of one thing begin in one column.',
  MISSING_CHAR: 'Something that was opened is not closed: a quote, a bracket or a "," is missing.',
  NON_STRING_KEY: 'A field has to be a plain word followed by a colon.',
  MULTILINE_IMPLICIT_KEY: 'A field has to stand on one line with its colon.',
  BLOCK_AS_IMPLICIT_KEY:
    'Two colons in one line, or a field in the wrong column; put words with a colon in quotes.',
};
