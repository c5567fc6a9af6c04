import type { Catalogue } from '#shared/catalogue';
import { sha256Hex } from '../canonical.ts';
import { linkOf } from '../chain.ts';
import { asideRow, isAside } from '../reading.ts';
import type { Row, SoundRow } from '../shelf.ts';

/**
 * What the lines of the copy's log say. One line is one write: it is there or
 * it is not, so that what belongs together (a statement and the question about
 * it) is never cut apart.
 *
 *   ["rows",[event,event,…]]       written together; the events as they are hashed
 *   ["aside",[event,event,…]]      the same, of events that count nowhere
 *   ["void",["hash",…]]            those were refused by the database after all
 *   ["catalogue","edition",{…}]
 *   ["note","name",value]          device, settings, a key that is bytes
 */
export type Line =
  | { readonly kind: 'rows'; readonly rows: readonly Row[] }
  | { readonly kind: 'aside'; readonly rows: readonly Row[] }
  | { readonly kind: 'void'; readonly hashes: readonly string[] }
  | { readonly kind: 'catalogue'; readonly edition: string; readonly catalogue: Catalogue }
  | { readonly kind: 'note'; readonly name: string; readonly value: unknown };

const encode = (text: string) => new TextEncoder().encode(text);

/** The line of a write. The text of each event stands in it to the letter: it is what was hashed. */
export function lineOf(line: Line): Uint8Array {
  switch (line.kind) {
    case 'rows':
    case 'aside':
      return encode(`["${line.kind}",[${line.rows.map((r) => r.text).join(',')}]]\n`);
    case 'void':
      return encode(`${JSON.stringify(['void', line.hashes])}\n`);
    case 'catalogue':
      return encode(`${JSON.stringify(['catalogue', line.edition, line.catalogue])}\n`);
    case 'note':
      return encode(`${JSON.stringify(['note', line.name, line.value])}\n`);
  }
}

/**
 * Reads lines. One that does not read was cut off while it was written, and so
 * never acknowledged, or the disk gave back other bytes; it is counted.
 *
 * @param textOf the RFC 8785 text of an event, as it is kept
 */
export function readLines(
  data: Uint8Array,
  textOf: (event: unknown) => string,
): { readonly lines: readonly Line[]; readonly unreadable: number } {
  const lines: Line[] = [];
  let unreadable = 0;
  for (const text of new TextDecoder().decode(data).split('\n')) {
    if (text === '') continue;
    const line = readLine(text, textOf);
    if (line === null) unreadable += 1;
    else lines.push(line);
  }
  return { lines, unreadable };
}

function readLine(text: string, textOf: (event: unknown) => string): Line | null {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch {
    return null;
  }
  if (!Array.isArray(json)) return null;
  const [kind, first, second] = json as unknown[];
  if ((kind === 'rows' || kind === 'aside') && Array.isArray(first)) {
    const rows = first.map((event) => rowFrom(event, textOf, kind));
    return rows.every((row) => row !== null) ? { kind, rows } : null;
  }
  if (kind === 'void' && Array.isArray(first)) return { kind, hashes: first.map(String) };
  if (kind === 'catalogue' && typeof first === 'string')
    return { kind, edition: first, catalogue: second as Catalogue };
  if (kind === 'note' && typeof first === 'string') return { kind, name: first, value: second };
  return null;
}

/** Rows by how they are kept: what counts nowhere must not count after a crash either. */
export function linesFor(rows: readonly Row[]): readonly Line[] {
  const main = rows.filter((row) => !isAside(row));
  const aside = rows.filter(isAside);
  return [
    ...(main.length === 0 ? [] : [{ kind: 'rows' as const, rows: main }]),
    ...(aside.length === 0 ? [] : [{ kind: 'aside' as const, rows: aside }]),
  ];
}

function rowFrom(
  event: unknown,
  textOf: (event: unknown) => string,
  kind: 'rows' | 'aside',
): Row | null {
  const link = linkOf(event);
  if (link === null) return null;
  try {
    const text = textOf(event);
    return kind === 'aside' ? asideRow(link, text) : { ...link, text };
  } catch {
    return null;
  }
}

/** Begins a chunk in a file of sound. Found again by itself after a chunk that was cut off. */
const MARK = '{"chunk":';
/** The longest head: two ids, a MIME type and figures. */
const HEAD_BYTES = 2048;

/** A chunk of sound in the file of its recording: a line that describes it, the data, a line's end. */
export function frameOf({ data, ...head }: SoundRow): Uint8Array {
  const { chunk, ...rest } = head;
  const line = encode(`${JSON.stringify({ chunk, bytes: data.byteLength, ...rest })}\n`);
  const frame = new Uint8Array(line.length + data.byteLength + 1);
  frame.set(line);
  frame.set(new Uint8Array(data), line.length);
  frame[frame.length - 1] = 10;
  return frame;
}

/**
 * The chunks of a file of sound, one after the other. A chunk that was cut off
 * or does not have its hash is left out, and the next one is looked for.
 *
 * @param read bytes from … to of the file
 */
export async function* framesOf(
  read: (from: number, to: number) => Promise<Uint8Array>,
  bytes: number,
): AsyncGenerator<SoundRow> {
  for (let at = 0; at < bytes;) {
    const start = await read(at, at + HEAD_BYTES);
    const frame = headOf(start);
    const data = frame === null ? null : await read(at + frame.from, at + frame.from + frame.bytes);
    if (frame !== null && data !== null && sha256Hex(data) === frame.row.hash) {
      yield { ...frame.row, data: Uint8Array.from(data).buffer };
      at += frame.from + frame.bytes + 1;
    } else at = await nextMark(read, at + 1, bytes);
  }
}

function headOf(start: Uint8Array) {
  const end = start.indexOf(10);
  if (end < 0) return null;
  let json: unknown;
  try {
    json = JSON.parse(new TextDecoder().decode(start.subarray(0, end)));
  } catch {
    return null;
  }
  if (typeof json !== 'object' || json === null) return null;
  const { chunk, bytes, recording, place, mime, hash } = json as Record<string, unknown>;
  if (typeof chunk !== 'number' || typeof bytes !== 'number' || bytes < 0) return null;
  if (typeof recording !== 'string' || typeof mime !== 'string' || typeof hash !== 'string')
    return null;
  const row = { recording, chunk, place: place as SoundRow['place'], mime, hash };
  return { row, bytes, from: end + 1 };
}

/** Where the next chunk begins at or after `from`; the end of the file when none does. */
async function nextMark(
  read: (from: number, to: number) => Promise<Uint8Array>,
  from: number,
  bytes: number,
): Promise<number> {
  const WINDOW = 1024 * 1024;
  const mark = `\n${MARK}`;
  // From one byte before: the line's end belongs to the mark.
  for (let at = from - 1; at < bytes; at += WINDOW) {
    // Latin-1: one letter for each byte, so that places are places.
    const text = new TextDecoder('latin1').decode(await read(at, at + WINDOW + mark.length));
    const found = text.indexOf(mark);
    if (found >= 0) return at + found + 1;
  }
  return bytes;
}
