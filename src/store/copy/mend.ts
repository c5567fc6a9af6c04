import { ERASED, erasedIn, KEPT, keptIn } from '#shared/kept';
import { canonical } from '../canonical.ts';
import { editionOf, readFull } from '../catalogues.ts';
import { hashFits, inOrder, type Raw } from '../chain.ts';
import { eventsOf, isAside, rawOf } from '../reading.ts';
import { fromBase64Url, type KeptKey } from '../seal.ts';
import type { Row, Shelf, SoundRow } from '../shelf.ts';
import { namesOnShelf, recordingOf } from '../sound.ts';
import { keepable } from './copied-shelf.ts';
import { segmentsOf, soundName, type Copy } from './copy.ts';
import { framesOf, linesFor, readLines, type Line } from './lines.ts';

/** What the copy gave back to a database that had lost it. */
export interface BroughtBack {
  readonly events: number;
  readonly chunks: number;
  readonly pictures: number;
  /** Events in the copy that do not have their hash, and lines that do not read. */
  readonly damaged: number;
  /** kept: the seal key is here. new: it went with the database, and a new one is made. none: there was none. */
  readonly key: 'kept' | 'new' | 'none';
}

/** Set when the copy could not be written: then everything is compared at the next opening. */
export const BEHIND = 'setting:copy-behind';

/** A crash takes the last writes, if not everything: so many of the last events are looked for. */
const LAST_EVENTS = 50;
/** Rows written in one transaction. */
const ROWS_AT_ONCE = 500;
/** Chunks written in one transaction: about half a minute of sound. */
const CHUNKS_AT_ONCE = 16;

interface Told {
  /** By hash. */
  readonly rows: ReadonlyMap<string, Row>;
  readonly catalogues: ReadonlyMap<string, unknown>;
  readonly notes: ReadonlyMap<string, unknown>;
  readonly unreadable: number;
}

/**
 * Makes both copies agree, before anything else is read or written: the
 * database gets back what only the copy has, the copy what only the database
 * has. Only for a page that is alone with them.
 *
 * @param made the database was not there before this opening
 */
export async function mend(shelf: Shelf, copy: Copy, made: boolean): Promise<BroughtBack | null> {
  const names = (await segmentsOf(copy.files)).map(({ name }) => name);
  if (!made && (await agreeAtTheEnd(shelf, copy, names.slice(-2)))) {
    await sweep(shelf, copy);
    return null;
  }
  const told = await readLog(copy, names);
  await takeNotes(shelf, told);
  const back = await takeRows(shelf, told);
  const bytes = back.events === 0 ? { chunks: 0, pictures: 0 } : await takeSound(shelf, copy);
  const editions = new Set(await shelf.editions());
  for (const [edition, value] of told.catalogues) {
    const read = readFull(value);
    if (!editions.has(edition) && read.ok && editionOf(read.value) === edition)
      await shelf.putCatalogue(edition, read.value);
  }
  await fillUp(shelf, copy, told);
  await sweep(shelf, copy);
  if (copy.whole()) await shelf.setNote(BEHIND, false);
  if (back.events === 0) return null;
  return { ...back, ...bytes, key: await keyLeft(shelf) };
}

async function agreeAtTheEnd(shelf: Shelf, copy: Copy, names: readonly string[]): Promise<boolean> {
  if ((await shelf.note(BEHIND)) === true) return false;
  if ((await shelf.note('device')) === undefined) return false;
  // Only ids and hashes are looked at: the text need not be made.
  const { rows } = await readLog(copy, names, () => '');
  const newest = await shelf.newest();
  if (newest !== undefined && !rows.has(newest.hash)) return false;
  // Asked for all at once: this stands before the first screen.
  const last = [...rows.values()].slice(-LAST_EVENTS);
  const there = await Promise.all(last.map(({ id }) => shelf.row(id)));
  if (there.some((row) => row === undefined)) return false;
  // An empty log is soon compared, and its device may not be in the copy yet.
  return newest !== undefined;
}

async function readLog(
  copy: Copy,
  names: readonly string[],
  textOf: (event: unknown) => string = canonical,
): Promise<Told> {
  const rows = new Map<string, Row>();
  const catalogues = new Map<string, unknown>();
  const notes = new Map<string, unknown>();
  let unreadable = 0;
  const take = (line: Line) => {
    if (line.kind === 'rows') for (const row of line.rows) rows.set(row.hash, row);
    // What was taken after all, after it had been set aside, stays taken.
    else if (line.kind === 'aside')
      line.rows.forEach((row) => rows.set(row.hash, rows.get(row.hash) ?? row));
    else if (line.kind === 'void') for (const hash of line.hashes) rows.delete(hash);
    else if (line.kind === 'catalogue') catalogues.set(line.edition, line.catalogue);
    else notes.set(line.name, line.value);
  };
  for (const name of names) {
    const read = readLines(await copy.files.read(name), textOf);
    unreadable += read.unreadable;
    read.lines.forEach(take);
  }
  return { rows, catalogues, notes, unreadable };
}

async function takeNotes(shelf: Shelf, { notes }: Told): Promise<void> {
  const device = notes.get('device');
  if (typeof device === 'string') await shelf.noteOnce('device', device);
  const key = keyFrom(notes.get('key'));
  if (key !== null) await shelf.noteOnce('key', key);
  for (const [name, value] of notes)
    if (isSetting(name) && name !== BEHIND) await shelf.noteOnce(name, value);
}

function isSetting(name: string): name is `setting:${string}` {
  return name.startsWith('setting:');
}

function keyFrom(value: unknown): KeptKey | null {
  if (typeof value !== 'object' || value === null) return null;
  const { publicKey, secret } = value as Record<string, unknown>;
  const bytes = typeof secret === 'string' ? fromBase64Url(secret) : null;
  if (typeof publicKey !== 'string' || bytes?.length !== 32) return null;
  return { kind: 'bytes', publicKey, secret: bytes };
}

async function takeRows(shelf: Shelf, told: Told) {
  const device = await shelf.note('device');
  const here = await shelf.rows();
  const ids = new Set(here.map((r) => r.id));
  const missing = [...told.rows.values()].filter((row) => !ids.has(row.id));
  const sound = missing.filter((row) => hashFits(rawOf(row) as Raw, row.hash));
  // What the database refused and the copy could not take back any more: the
  // chain went on without it.
  const followed = new Set(here.map(follows));
  const aside = sound.filter(isAside);
  const main = sound.filter((row) => !isAside(row) && !followed.has(follows(row)));
  // Forks are what is kept aside for: all of them come back, aside.
  const lost = [...unforked(main), ...aside];
  const own = inOrder([...here, ...lost].filter((r) => r.device === device));
  const end = own.at(-1);
  const isLost = new Set(lost);
  const ownLost = own.filter((r) => isLost.has(r));
  const others = lost.filter((r) => r.device !== device);
  for (const batch of batches(others, ROWS_AT_ONCE)) await shelf.take(batch);
  for (const batch of batches(ownLost, ROWS_AT_ONCE)) {
    // The chain's head goes along, so that a crash in the middle leaves no fork.
    const last = batch.at(-1);
    const grows =
      device !== undefined && last !== undefined && end !== undefined && isLost.has(end);
    await shelf.take(batch, grows ? { device, hash: last.hash } : undefined);
  }
  return { events: lost.length, damaged: missing.length - sound.length + told.unreadable };
}

const follows = (row: Row) => `${row.device} ${row.prev ?? ''}`;

/** Of two that follow the same event, the one that the chain went on with; else the later. */
function unforked(rows: readonly Row[]): readonly Row[] {
  const used = new Set(rows.map((r) => r.prev));
  const chosen = new Map<string, Row>();
  for (const row of rows) {
    const other = chosen.get(follows(row));
    if (other === undefined || used.has(row.hash) || !used.has(other.hash))
      chosen.set(follows(row), row);
  }
  return rows.filter((row) => chosen.get(follows(row)) === row);
}

/** Sound and pictures that the log names by their hash and that are not here. */
async function takeSound(
  shelf: Shelf,
  copy: Copy,
): Promise<{ readonly chunks: number; readonly pictures: number }> {
  const gone = await goneFrom(shelf);
  const here = new Set((await shelf.soundSizes()).map((s) => `${s.recording} ${s.chunk}`));
  const wanted = new Map<string, Map<number, SoundRow['hash']>>();
  const drawn = new Set<string>();
  const places = new Map<string, Pick<SoundRow, 'place' | 'mime'>>();
  for (const { what } of await eventsOf(shelf, KEPT)) {
    const named = keptIn(what);
    if (named === null || gone.has(named.recording)) continue;
    const { recording, chunk, hash, place, mime } = named;
    if (here.has(`${recording} ${chunk}`)) continue;
    if (what.kind === 'picture-kept') drawn.add(recording);
    const chunks = wanted.get(recording) ?? new Map<number, string>();
    wanted.set(recording, chunks.set(chunk, hash));
    places.set(`${recording} ${chunk}`, { place, mime });
  }
  let count = 0;
  let pictures = 0;
  for (const [recording, chunks] of wanted) {
    const name = soundName(recording);
    let batch: SoundRow[] = [];
    const read = (from: number, to: number) => copy.files.read(name, from, to);
    for await (const found of framesOf(read, await copy.files.size(name))) {
      const told = places.get(`${recording} ${found.chunk}`);
      if (told === undefined || chunks.get(found.chunk) !== found.hash) continue;
      chunks.delete(found.chunk);
      batch.push({ ...found, ...told, recording });
      if (drawn.has(recording)) pictures += 1;
      else count += 1;
      if (batch.length < CHUNKS_AT_ONCE) continue;
      await shelf.takeSound(batch);
      batch = [];
    }
    if (batch.length > 0) await shelf.takeSound(batch);
  }
  return { chunks: count, pictures };
}

/** Into the copy what only the database has: written before there was a copy, or while it was behind. */
async function fillUp(shelf: Shelf, copy: Copy, told: Told): Promise<void> {
  for (const name of ['device', 'key'] as const) {
    const value = keepable(name, await shelf.note(name));
    if (value !== undefined && !told.notes.has(name))
      await copy.line({ kind: 'note', name, value });
  }
  for (const edition of await shelf.editions()) {
    const catalogue = await shelf.catalogue(edition);
    if (catalogue !== undefined && !told.catalogues.has(edition))
      await copy.line({ kind: 'catalogue', edition, catalogue });
  }
  const missing = (await shelf.rows()).filter((row) => !told.rows.has(row.hash));
  for (const rows of batches(missing, ROWS_AT_ONCE))
    for (const line of linesFor(rows)) await copy.line(line);
}

async function goneFrom(shelf: Shelf): Promise<ReadonlySet<string>> {
  const erased = (await eventsOf(shelf, ERASED)).map(({ what }) => erasedIn(what));
  return new Set(erased.filter((id) => id !== null));
}

/** An erasure that was cut off between one copy and the other is carried to its end. */
async function sweep(shelf: Shelf, copy: Copy): Promise<void> {
  const gone = await goneFrom(shelf);
  if (gone.size === 0) return;
  const left = new Set((await shelf.soundSizes()).map((s) => s.recording));
  const erase = [...left].filter((name) => gone.has(recordingOf(name)));
  if (erase.length > 0) await shelf.write('', () => ({ rows: [], erase }));
  const files = new Set(await copy.files.list());
  for (const name of await namesOnShelf(shelf, [...gone]))
    if (files.has(soundName(name))) await copy.erase(name);
}

async function keyLeft(shelf: Shelf): Promise<BroughtBack['key']> {
  if ((await shelf.note('key')) !== undefined) return 'kept';
  const device = await shelf.note('device');
  const seals = await shelf.rows({ index: 'kind', value: 'sealed' });
  return seals.some((s) => s.device === device) ? 'new' : 'none';
}

function batches<T>(all: readonly T[], size: number): readonly (readonly T[])[] {
  return Array.from({ length: Math.ceil(all.length / size) }, (_, i) =>
    all.slice(i * size, (i + 1) * size),
  );
}

/** What was brought back, in one sentence for the screen. */
export function inSentence(back: BroughtBack): string {
  const count = (n: number, one: string, many: string) => `${n} ${n === 1 ? one : many}`;
  const bytes = [
    ...(back.chunks === 0 ? [] : [count(back.chunks, 'piece of sound', 'pieces of sound')]),
    ...(back.pictures === 0 ? [] : [count(back.pictures, 'picture', 'pictures')]),
  ];
  const sound = bytes.map((what) => ` and ${what}`).join('');
  const key =
    back.key === 'new' ? '; earlier seals hold, and new walks are sealed with a new key' : '';
  return `The browser had lost ${back.events === 1 ? 'a part' : 'parts'} of its record; ${count(back.events, 'event', 'events')}${sound} came back from the second copy on this device${key}.`;
}
