import {
  isAlias,
  isCollection,
  isMap,
  isSeq,
  parseDocument,
  type Document,
  type Node,
  type YAMLSeq,
} from 'yaml';
import type { Path } from '../problem.ts';
import { tooMuch } from '../guard.ts';
import { TO_CONFIRM } from './write.ts';

/** One change of an author's file. `undefined` takes a field away. */
export type Edit =
  | { readonly do: 'set'; readonly path: Path; readonly value: unknown }
  | { readonly do: 'insert'; readonly list: Path; readonly at: number; readonly value: unknown }
  | { readonly do: 'remove'; readonly list: Path; readonly at: number }
  /** Within a list, or from one list to another (`to.list`), with everything that is written beside it. */
  | {
      readonly do: 'move';
      readonly list: Path;
      readonly at: number;
      readonly to: { readonly list: Path; readonly at: number };
    }
  /** The author has looked at what was guessed. */
  | { readonly do: 'confirm'; readonly list: Path; readonly at: number };

export type Edited =
  { readonly ok: true; readonly text: string } | { readonly ok: false; readonly error: string };

const LAYOUT = { lineWidth: 100 } as const;

/** The file after a change: comments and order are kept. Refuses, in a sentence, where the file cannot be read. */
export function edited(text: string, edits: readonly Edit[]): Edited {
  const doc = documentOf(text);
  if (doc === null)
    return {
      ok: false,
      error:
        'The file cannot be read as it stands; mend it in the text first, then change it here.',
    };
  for (const edit of edits) {
    const error = apply(doc, edit);
    if (error !== null) return { ok: false, error };
  }
  return { ok: true, text: written(doc) };
}

function documentOf(text: string): Document.Parsed | null {
  if (tooMuch(text) !== null) return null;
  try {
    const doc = parseDocument(text, { uniqueKeys: false, stringKeys: true });
    return doc.errors.length === 0 && isMap(doc.contents) ? doc : null;
  } catch {
    return null;
  }
}

function apply(doc: Document.Parsed, edit: Edit): string | null {
  if (edit.do === 'set') {
    // A field in something that `*name` repeats would be changed in all its places.
    if (edit.value === undefined) doc.deleteIn(edit.path);
    else if (!reachable(doc, edit.path))
      return 'This is repeated from elsewhere in the file; change it in the text.';
    else doc.setIn(edit.path, fresh(doc, edit.value));
    return null;
  }
  const list = listAt(doc, edit.list, edit.do === 'insert');
  if (list === null) return 'There is no such list in the file any more.';
  ownRemark(list);
  if (edit.do === 'insert') {
    list.items.splice(edit.at, 0, fresh(doc, edit.value));
    return null;
  }
  const item = list.items[edit.at];
  if (item === undefined) return 'That entry is not in the file any more.';
  if (edit.do === 'confirm') {
    const node = item as Node;
    node.commentBefore = left(node.commentBefore);
    return null;
  }
  list.items.splice(edit.at, 1);
  if (edit.do === 'move') {
    const to = listAt(doc, edit.to.list, true);
    if (to === null) return 'There is no such list in the file any more.';
    ownRemark(to);
    to.items.splice(Math.min(edit.to.at, to.items.length), 0, item);
  }
  return null;
}

/** Whether a path runs through the file itself and not through an alias. */
function reachable(doc: Document.Parsed, path: Path): boolean {
  return path.slice(0, -1).every((_, i) => {
    const node: unknown = doc.getIn(path.slice(0, i + 1), true);
    return node === undefined || (!isAlias(node) && isCollection(node));
  });
}

function listAt(doc: Document.Parsed, path: Path, make: boolean): YAMLSeq | null {
  const node: unknown = doc.getIn(path, true);
  if (isSeq(node)) return node;
  if (!make || node !== undefined) return null;
  doc.setIn(path, doc.createNode([]));
  const made: unknown = doc.getIn(path, true);
  return isSeq(made) ? made : null;
}

function fresh(doc: Document.Parsed, value: unknown): unknown {
  if (typeof value !== 'object' || value === null) return value;
  const node = doc.createNode(value);
  // Short lists of words stand on one line, as an author writes them.
  if (
    isSeq(node) &&
    node.items.length > 0 &&
    Array.isArray(value) &&
    value.every((v) => typeof v !== 'object')
  )
    node.flow = true;
  return node;
}

/** What is written before the first entry belongs to it; the library hangs it on the list. */
function ownRemark(list: YAMLSeq): void {
  const first = list.items[0] as Node | undefined;
  if (first === undefined || typeof list.commentBefore !== 'string' || !isCollection(first)) return;
  first.commentBefore = [list.commentBefore, first.commentBefore]
    .filter((c) => typeof c === 'string')
    .join('\n');
  list.commentBefore = null;
}

function left(comment: string | null | undefined): string | null {
  const rest = (comment ?? '').split('\n').filter((l) => !l.trim().startsWith(TO_CONFIRM));
  return rest.join('\n').trim() === '' ? null : rest.join('\n');
}

/** The library pads brackets as it pads braces; authors write `[a, b]`. Left padded wherever that would change a value. */
function written(doc: Document.Parsed): string {
  const text = doc.toString(LAYOUT);
  const tight = text.replace(/(: |- )\[ ([^[\]#'"\n]*) \](?=$|,| \})/gm, '$1[$2]');
  if (tight === text) return text;
  const again = documentOf(tight);
  return again !== null && JSON.stringify(again.toJS()) === JSON.stringify(doc.toJS())
    ? tight
    : text;
}

/** The text that was read last: every view of a draft asks for the same one. Never changed by a reader. */
let lastRead: { readonly text: string; readonly doc: Document.Parsed | null } | null = null;

function readingOf(text: string): Document.Parsed | null {
  if (lastRead?.text !== text) lastRead = { text, doc: documentOf(text) };
  return lastRead.doc;
}

/** What is still to be confirmed at each check, by the places of its station and itself: "0.3". */
export function toConfirm(text: string): ReadonlyMap<string, readonly string[]> {
  const out = new Map<string, readonly string[]>();
  const doc = readingOf(text);
  const stations: unknown = doc?.get('stations');
  if (!isSeq(stations)) return out;
  stations.items.forEach((station, s) => {
    const checks: unknown = isMap(station) ? station.get('checks') : null;
    if (!isSeq(checks)) return;
    checks.items.forEach((check, c) => {
      const own = isMap(check) ? (check.commentBefore ?? '') : '';
      const remark = c === 0 ? `${checks.commentBefore ?? ''}\n${own}` : own;
      const open = remark
        .split('\n')
        .map((l) => l.trim())
        .filter((l) => l.startsWith(TO_CONFIRM))
        .map((l) => l.slice(TO_CONFIRM.length).trim());
      if (open.length > 0) out.set(`${s}.${c}`, open);
    });
  });
  return out;
}

/** A check's or a station's fields as the author wrote them, short forms and all; null when it is not there. */
export function fieldsAt(text: string, path: Path): Readonly<Record<string, unknown>> | null {
  const doc = readingOf(text);
  const node: unknown = doc?.getIn(path, true);
  if (doc === null || !isMap(node)) return null;
  const value: unknown = node.toJS(doc, { maxAliasCount: 200 });
  return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : null;
}

/** The stations and checks of a file as far as they can be read, also while it has mistakes. */
export interface Outline {
  readonly id: string;
  readonly name: string;
  readonly kind: string;
  readonly version: number;
  readonly stations: readonly {
    readonly id: string;
    readonly name: string;
    readonly x: number;
    readonly y: number;
    readonly checks: readonly { readonly id: string; readonly name: string }[];
  }[];
}

export function outlineOf(text: string): Outline | null {
  const doc = readingOf(text);
  if (doc === null) return null;
  const value: unknown = doc.toJS({ maxAliasCount: 200 });
  const words = (from: unknown, key: string): string => {
    const v = field(from, key);
    return typeof v === 'string' || typeof v === 'number' ? String(v) : '';
  };
  const number = (from: unknown, key: string, otherwise: number): number => {
    const v = field(from, key);
    return typeof v === 'number' ? v : otherwise;
  };
  const list = (from: unknown, key: string): readonly unknown[] => {
    const v = field(from, key);
    return Array.isArray(v) ? v : [];
  };
  return {
    id: words(value, 'id'),
    name: words(value, 'name'),
    kind: words(value, 'kind'),
    version: number(value, 'version', 0),
    stations: list(value, 'stations').map((s) => ({
      id: words(s, 'id'),
      name: words(s, 'name'),
      x: number(field(s, 'place'), 'x', 50),
      y: number(field(s, 'place'), 'y', 50),
      checks: list(s, 'checks').map((c) => ({ id: words(c, 'id'), name: words(c, 'name') })),
    })),
  };
}

function field(from: unknown, key: string): unknown {
  return typeof from === 'object' && from !== null && Object.hasOwn(from, key)
    ? (from as Record<string, unknown>)[key]
    : undefined;
}
