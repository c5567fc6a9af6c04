import {
  BlobReader,
  Uint8ArrayReader,
  ZipReader,
  type Entry,
} from '@zip.js/zip.js/index-native.js';
import { readAs } from '#shared/format';
import { PICTURE_CHUNK } from '#shared/kept';
import { sha256Hex } from './canonical.ts';
import { readJson } from './json.ts';
import {
  inWords,
  MAX_EMPTY,
  MAX_ENTRIES,
  MAX_EVENT_BYTES,
  MAX_EVENTS,
  MAX_JSON_BYTES,
  MAX_JSON_TOTAL,
  MAX_RATIO,
  MAX_REFUSALS_SHOWN,
  MAX_SOUND_BYTES,
} from './limits.ts';
import { partOf, ratioLimit, TooMuch, type Part } from './part.ts';
import {
  BackupFormat,
  MANIFEST,
  manifestSign,
  type Manifest,
  type ManifestEntry,
  type ManifestSign,
} from './manifest.ts';

/** What was not taken of a file, and why, in one sentence. */
export interface Refused {
  /** Path in the zip, or id of an event. */
  readonly entry: string;
  readonly why: string;
}

/** An event line that is no event any more, as far as it can be told whose it was. */
export interface Damaged {
  readonly id: string | null;
  readonly walk: string | null;
}

/** A piece of sound or a picture; a picture as a recording of one piece. */
export type SoundEntry = Omit<Extract<ManifestEntry, { kind: 'sound' }>, 'kind'> & {
  readonly kind: 'sound' | 'picture';
};

/** A backup that was opened: its JSON is read, its sound is read on demand. */
export interface OpenBackup {
  readonly manifest: Manifest;
  /** Whether the device that made it has signed it as a whole. */
  readonly sign: ManifestSign;
  /** As written, unverified but for their form. */
  readonly events: readonly unknown[];
  readonly damaged: readonly Damaged[];
  readonly catalogues: readonly { readonly path: string; edition: string; value: unknown }[];
  readonly sounds: readonly SoundEntry[];
  /** The chunk, when it has the hash that the manifest names. */
  sound(entry: SoundEntry): Promise<Uint8Array | Refused>;
  readonly refused: readonly Refused[];
  close(): Promise<void>;
}

export type Opened =
  | { readonly ok: true; readonly backup: OpenBackup }
  | { readonly ok: false; readonly error: string };

/**
 * Opens a backup. Hostile until read: nothing in it is believed but what was checked.
 *
 * @param jsonTotal bytes of JSON that may be held in memory at once
 */
export async function openBackup(
  file: Blob | Uint8Array,
  jsonTotal = MAX_JSON_TOTAL,
): Promise<Opened> {
  const zip = new ZipReader(
    file instanceof Uint8Array ? new Uint8ArrayReader(file) : new BlobReader(file),
    // Names are looked at below, one by one: nothing is ever written under them.
    { useWebWorkers: false, filenameValidation: 'tolerant' },
  );
  const files = await list(zip, file);
  if (typeof files === 'string') return { ok: false, error: files };
  const budget = { json: jsonTotal, limit: jsonTotal };
  const refused: Refused[] = [...files.refused];

  const first = files.byPath.get(MANIFEST);
  if (first === undefined)
    return { ok: false, error: `This is not a backup of Talkround: it has no ${MANIFEST}.` };
  const text = await readText(first, budget);
  if (!text.ok) return { ok: false, error: `The ${MANIFEST} in this file: ${text.error}` };
  const json = readJson(text.value, MAX_JSON_BYTES);
  if (!json.ok) return { ok: false, error: `The ${MANIFEST} in this file: ${json.error}` };
  const manifest = readAs(BackupFormat, json.value);
  if (!manifest.ok) return { ok: false, error: manifest.error };

  const named = new Set(['README.txt', MANIFEST]);
  const events: unknown[] = [];
  const damaged: Damaged[] = [];
  const catalogues: { path: string; edition: string; value: unknown }[] = [];
  const sounds: SoundEntry[] = [];
  for (const entry of manifest.value.entries) {
    if (named.has(entry.path)) {
      refused.push({ entry: entry.path, why: 'The manifest names it twice.' });
      continue;
    }
    named.add(entry.path);
    const zipped = files.byPath.get(entry.path);
    if (zipped === undefined) {
      if (!files.tricked.has(entry.path))
        refused.push({ entry: entry.path, why: 'The manifest names it, and it is not there.' });
      continue;
    }
    const bytes = bytesEntry(entry);
    if (bytes !== null) {
      sounds.push(bytes);
      continue;
    }
    if (entry.kind !== 'events' && entry.kind !== 'catalogue') continue;
    const content = await readText(zipped, budget);
    if (!content.ok) {
      refused.push({ entry: entry.path, why: content.error });
      continue;
    }
    const intact =
      sha256Hex(content.value) === entry.sha256 &&
      new TextEncoder().encode(content.value).length === entry.bytes;
    if (entry.kind === 'catalogue') {
      const value = intact ? readJson(content.value, MAX_JSON_BYTES) : null;
      if (value?.ok === true)
        catalogues.push({ path: entry.path, edition: entry.edition, value: value.value });
      else refused.push({ entry: entry.path, why: value?.error ?? CHANGED });
      continue;
    }
    // Each event has its own hash. They are read even where the file's own does
    // not match, so that the one that was changed can be named.
    if (!intact) refused.push({ entry: entry.path, why: CHANGED });
    readLines(content.value, entry.path, { events, damaged, refused });
  }
  const unnamed = [...files.byPath.keys()].filter((path) => !named.has(path));
  if (unnamed.length <= MAX_REFUSALS_SHOWN)
    for (const path of unnamed)
      refused.push({ entry: path, why: 'The manifest does not name it. It was left alone.' });
  else
    refused.push({
      entry: `${unnamed.length} entries`,
      why: 'The manifest does not name them. They were left alone.',
    });

  return {
    ok: true,
    backup: {
      manifest: manifest.value,
      sign: manifestSign(json.value, manifest.value),
      events,
      damaged,
      catalogues,
      sounds,
      async sound(entry) {
        const zipped = files.byPath.get(entry.path);
        if (zipped === undefined) return { entry: entry.path, why: 'It is not there.' };
        const data = await readBytes(zipped, MAX_SOUND_BYTES);
        if (!data.ok) return { entry: entry.path, why: data.error };
        if (sha256Hex(data.value) !== entry.sha256 || data.value.length !== entry.bytes)
          return { entry: entry.path, why: CHANGED };
        return data.value;
      },
      refused,
      close: () => zip.close(),
    },
  };
}

/** An entry of bytes that the log names; null for JSON. */
export function bytesEntry(entry: ManifestEntry): SoundEntry | null {
  if (entry.kind === 'sound') return entry;
  if (entry.kind !== 'picture') return null;
  const { picture, ...rest } = entry;
  return { ...rest, recording: picture, chunk: PICTURE_CHUNK, from: 0, to: 0 };
}

const CHANGED = 'It was changed after the backup was made: its hash does not match.';

/** The entries by path; those with tricks in them are refused. */
async function list(
  zip: ZipReader<unknown>,
  file: Blob | Uint8Array,
): Promise<
  { byPath: Map<string, Part>; refused: Refused[]; tricked: ReadonlySet<string> } | string
> {
  const byPath = new Map<string, Part>();
  const refused: Refused[] = [];
  const lower = new Set<string>();
  const tricked = new Set<string>();
  const size = file instanceof Uint8Array ? file.length : file.size;
  let count = 0;
  let empty = 0;
  let packed = 0;
  try {
    for await (const entry of zip.getEntriesGenerator()) {
      count += 1;
      if (count > MAX_ENTRIES)
        return `This zip has more than ${MAX_ENTRIES} entries, which is the limit. Nothing was taken from it.`;
      const why = trick(entry, lower);
      if (why === null && !entry.directory) {
        byPath.set(entry.filename, partOf(file, entry));
        if (entry.uncompressedSize === 0) empty += 1;
        else packed += entry.compressedSize;
        if (empty > MAX_EMPTY)
          return `This zip has more than ${MAX_EMPTY} empty entries, and a backup has none. Nothing was taken from it.`;
        if (packed > size)
          return 'The entries of this zip lie over each other, so that it would unpack to more than it holds. Nothing was taken from it.';
      }
      if (why !== null) {
        refused.push({ entry: shown(entry.filename), why });
        tricked.add(entry.filename);
      }
      lower.add(entry.filename.toLowerCase());
    }
  } catch {
    return 'This is not a readable zip file. It may have been cut off while it was copied.';
  }
  return { byPath, refused, tricked };
}

/** Nothing is ever written under a path of the zip; a path that tries something is refused all the same. */
function trick(entry: Entry, seen: ReadonlySet<string>): string | null {
  const path = entry.filename;
  if (seen.has(path.toLowerCase())) return 'There is another entry under the same path.';
  if (path.length > 300) return 'Its path is longer than 300 characters, which is the limit.';
  if (/^[/\\]|^[a-z]:|\\|(^|\/)\.\.?(\/|$)/i.test(path) || hasControls(path))
    return 'Its path tries to leave the backup.';
  if (entry.symlink) return 'It is a link to another file.';
  if (entry.encrypted) return 'It is encrypted.';
  if (
    entry.uncompressedSize > 1024 * 1024 &&
    entry.uncompressedSize > entry.compressedSize * MAX_RATIO
  )
    return `It would unpack to more than ${MAX_RATIO} times its size, which is the limit.`;
  return null;
}

function hasControls(text: string): boolean {
  for (let i = 0; i < text.length; i += 1) if (text.charCodeAt(i) < 32) return true;
  return false;
}

function shown(path: string): string {
  const plain = Array.from(path, (c) => (c.charCodeAt(0) < 32 ? '?' : c)).join('');
  return plain.length > 120 ? `${plain.slice(0, 120)}…` : plain;
}

type Got<T> = { ok: true; value: T } | { ok: false; error: string };

/** One entry's bytes, or why not, in one sentence. */
async function readBytes(part: Part, limit: number): Promise<Got<Uint8Array>> {
  const tooLarge = `It is larger than ${inWords(limit)}, which is the limit.`;
  if (part.size > limit) return { ok: false, error: tooLarge };
  try {
    return { ok: true, value: await part.read(limit) };
  } catch (error) {
    if (!(error instanceof TooMuch))
      return { ok: false, error: 'It cannot be unpacked: the zip is damaged here.' };
    if (ratioLimit(part.packed) > limit) return { ok: false, error: tooLarge };
    return {
      ok: false,
      error: `It would unpack to more than ${MAX_RATIO} times its size, which is the limit.`,
    };
  }
}

async function readText(
  entry: Part,
  budget: { json: number; readonly limit: number },
): Promise<Got<string>> {
  if (entry.size > budget.json)
    return {
      ok: false,
      error: `The JSON in this file comes to more than ${inWords(budget.limit)}, which is the limit.`,
    };
  const data = await readBytes(entry, MAX_JSON_BYTES);
  if (!data.ok) return data;
  budget.json -= data.value.length;
  // Bytes that are no UTF-8 become U+FFFD and fail the hash of their event.
  return { ok: true, value: new TextDecoder().decode(data.value) };
}

/** One JSON object a line. A line that cannot be read is named, the others are kept. */
export function readLines(
  text: string,
  path: string,
  into: { events: unknown[]; damaged: Damaged[]; refused: Refused[] },
): void {
  // No list of lines is made: 32 MB of nothing but line ends would be millions.
  let from = 0;
  for (let number = 1; from < text.length; number += 1) {
    const end = text.indexOf('\n', from);
    const line = text.slice(from, end < 0 ? text.length : end);
    from = end < 0 ? text.length : end + 1;
    if (line.trim() === '') continue;
    if (into.events.length + into.damaged.length >= MAX_EVENTS) {
      into.refused.push({
        entry: `${path} from line ${number} on`,
        why: `There are more than ${MAX_EVENTS} events, which is the limit.`,
      });
      return;
    }
    const json = readJson(line, MAX_EVENT_BYTES);
    if (json.ok) {
      into.events.push(json.value);
      continue;
    }
    // In RFC 8785 order the event's own "id" comes before everything nested
    // that could have such a field, and its "walk" before that too.
    const own = line.slice(0, MAX_EVENT_BYTES).split('"what":', 1)[0] ?? '';
    const id = /"id":"([\w-]{1,80})"/.exec(own)?.[1] ?? null;
    const walk = /"walk":"([\w-]{1,80})"/.exec(own)?.[1] ?? null;
    into.damaged.push({ id, walk });
    into.refused.push({ entry: id ?? `${path} line ${number}`, why: json.error });
  }
}
