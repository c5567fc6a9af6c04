import {
  TextReader,
  Uint8ArrayReader,
  ZipWriter,
  BlobWriter,
} from '@zip.js/zip.js/index-native.js';
import { isErasure, KEPT, keptIn } from '#shared/kept';
import { PICTURE_MIME } from '#shared/picture';
import { canonical, sha256Hex } from './canonical.ts';
import { inOrder } from './chain.ts';
import { verifyEvents } from './verify.ts';
import { MAX_JSON_BYTES } from './limits.ts';
import { MANIFEST, signManifest, type Manifest, type ManifestEntry } from './manifest.ts';
import { heldRow, linkIn, rawOf, readRows } from './reading.ts';
import type { SealKey } from './seal.ts';
import { BESIDE, sealFields } from './trust/held.ts';
import type { Row, Shelf, SoundRow } from './shelf.ts';
import { namesOnShelf } from './sound.ts';

export interface BackupOptions {
  /** Only these walks; left out: everything. */
  readonly walks?: readonly string[];
  /** Editions that are taken along though no walk was made with them. */
  readonly editions?: readonly string[];
  /** false: words only. */
  readonly sound?: boolean;
}

export interface Backup {
  /** application/zip */
  readonly file: Blob;
  /** A name for it, such as "talkround-2026-01-05.zip". */
  readonly name: string;
  readonly events: number;
  readonly chunks: number;
  readonly pictures: number;
  /** What had to be left out, one sentence each. */
  readonly notes: readonly string[];
}

/** Who makes the file, and when. */
export interface BackupBy {
  readonly device: string;
  readonly made: number;
  readonly key: SealKey;
  readonly name: string | null;
}

/** A new file of events is begun at a quarter of what may be read back. */
const EVENTS_PER_FILE_BYTES = MAX_JSON_BYTES / 4;

const HOW_TO_READ = `A backup of Talkround, to be read without Talkround.

talkround.json   what is in this file, with the SHA-256 of every entry
events/          what happened, one JSON object a line, oldest first, one set of files per device
catalogues/      the catalogues of the walks and of the device, as JSON, named by their SHA-256
sound/           what was recorded, in chunks of a few seconds
pictures/        pictures of findings, as JPEG, named by what the log calls them

WAV chunks play by themselves. WebM and Ogg chunks play when they are joined in
the order of their names:  cat sound/RECORDING/* > walk.webm

Each event carries "prev", the hash of the one before it, and "hash", the
SHA-256 of its own RFC 8785 text without the field "hash". An event of kind
"sealed" carries an Ed25519 signature over the 32 bytes of "prev".
`;

/**
 * Everything in one zip. Nothing in it is compressed: JSON is small beside the
 * sound, sound is compressed already, and a byte that rots on a disk then
 * spoils one event and not the rest of the file.
 */
export async function makeBackup(
  shelf: Shelf,
  by: BackupBy,
  options: BackupOptions = {},
): Promise<Backup> {
  const { device, made } = by;
  const rows = chosen(inOrder(plainRows(await shelf.rows())), options.walks);
  const zip = new ZipWriter(new BlobWriter('application/zip'), {
    level: 0,
    useWebWorkers: false,
    // The clock of the zip is coarse and local; the manifest has the time.
    lastModDate: new Date(made),
  });
  const entries: ManifestEntry[] = [];
  const notes: string[] = [];
  const encoder = new TextEncoder();

  for (const { path, text } of eventFiles(rows)) {
    const data = encoder.encode(text);
    entries.push({ kind: 'events', path, bytes: data.length, sha256: sha256Hex(data) });
    await zip.add(path, new Uint8ArrayReader(data));
  }
  for (const edition of new Set([...editionsOf(rows), ...(options.editions ?? [])])) {
    const catalogue = await shelf.catalogue(edition);
    if (catalogue === undefined) {
      notes.push(`The catalogue of edition ${edition} is not on this device.`);
      continue;
    }
    const data = encoder.encode(canonical(catalogue));
    const path = `catalogues/${edition}.json`;
    entries.push({ kind: 'catalogue', path, bytes: data.length, sha256: sha256Hex(data), edition });
    await zip.add(path, new Uint8ArrayReader(data));
  }
  let chunks = 0;
  const packed = new Set<string>();
  let pictures = 0;
  const drawn = picturesIn(rows);
  if (options.sound !== false)
    for (const recording of recordingsIn(rows))
      for (const sound of await soundsOf(shelf, recording)) {
        // Of two that claim one place the second has its hash in its name.
        const also = packed.has(`${recording} ${sound.chunk}`) ? `-${sound.hash.slice(0, 16)}` : '';
        const data = new Uint8Array(sound.data);
        packed.add(`${recording} ${sound.chunk}`);
        if (drawn.has(recording)) {
          const entry = pictureEntry(recording, also, sound.mime, data, sound.hash);
          entries.push(entry);
          await zip.add(entry.path, new Uint8ArrayReader(data));
          pictures += 1;
          continue;
        }
        const path = `sound/${segment(recording)}/${String(sound.chunk).padStart(6, '0')}${also}.${ending(sound.mime)}`;
        entries.push({
          kind: 'sound',
          path,
          bytes: data.length,
          sha256: sound.hash,
          recording,
          chunk: sound.chunk,
          from: sound.place.from,
          to: sound.place.to,
          mime: sound.mime,
        });
        await zip.add(path, new Uint8ArrayReader(data));
        chunks += 1;
      }

  const verdict = verifyEvents(rows.map(rawOf));
  if (verdict.broken !== null)
    notes.push(`The log does not hold at event ${verdict.broken.event}: ${verdict.broken.why}`);
  const manifest = await signManifest(
    {
      format: 'talkround-backup',
      v: 1,
      made,
      device,
      entries,
      chains: [...verdict.chains],
      walks: walksIn(rows),
      without: withoutSound(rows, packed),
    },
    by.key,
    by.name,
  );
  await zip.add('README.txt', new TextReader(HOW_TO_READ));
  await zip.add(MANIFEST, new TextReader(`${JSON.stringify(manifest, null, 1)}\n`));
  return {
    file: await zip.close(),
    name: `talkround-${new Date(made).toISOString().slice(0, 10)}.zip`,
    events: rows.length,
    chunks,
    pictures,
    notes,
  };
}

function isLater(row: Row): boolean {
  if (row.kind !== 'sealed') return BESIDE.has(row.kind) || isErasure(row.kind);
  const { covers } = sealFields(heldRow(row));
  return covers !== null && covers !== 'bad' && covers.part === 'beside';
}

/**
 * The rows of some walks. Of the device that began a walk, the whole stretch of
 * its chain from the walk's first event to its last, so that nothing can be
 * taken out unseen.
 */
function chosen(rows: readonly Row[], walks: readonly string[] | undefined): readonly Row[] {
  if (walks === undefined) return rows;
  const wanted = new Set(walks);
  const taken = new Set<string>();
  for (const walk of wanted) {
    const begun = rows.find((r) => r.walk === walk && r.kind === 'walk-begun');
    const stretch = rows.filter((r) => r.device === begun?.device);
    const first = stretch.findIndex((r) => r.walk === walk);
    // What was said beside it comes along by itself, however much later it was.
    const last = stretch.findLastIndex((r) => r.walk === walk && !isLater(r));
    for (const row of stretch.slice(first, last + 1)) taken.add(row.id);
  }
  return rows.filter((r) => taken.has(r.id) || (r.walk !== null && wanted.has(r.walk)));
}

/** Each event once, looked up by its own names, also where it was set aside. */
function plainRows(rows: readonly Row[]): readonly Row[] {
  const once = new Map(rows.map((row) => [row.hash, row]));
  return [...once.values()].map((row) => ({ ...linkIn(row), text: row.text }));
}

function walksIn(rows: readonly Row[]): NonNullable<Manifest['walks']> {
  const counts = new Map<string, { walk: string; device: string; events: number }>();
  for (const { walk, device } of rows) {
    if (walk === null) continue;
    const key = `${walk} ${device}`;
    const there = counts.get(key);
    counts.set(key, { walk, device, events: (there?.events ?? 0) + 1 });
  }
  return [...counts.values()];
}

/** Chunks and pictures that the log names and that are not put in, by recording. */
function withoutSound(
  rows: readonly Row[],
  packed: ReadonlySet<string>,
): NonNullable<Manifest['without']> {
  const left = new Map<string, Set<number>>();
  for (const { recording, chunk } of namedIn(rows)) {
    if (packed.has(`${recording} ${chunk}`)) continue;
    left.set(recording, (left.get(recording) ?? new Set()).add(chunk));
  }
  return [...left].map(([recording, chunks]) => ({ recording, chunks: [...chunks] }));
}

function* eventFiles(rows: readonly Row[]): Generator<{ path: string; text: string }> {
  const devices = [...new Set(rows.map((r) => r.device))];
  for (const device of devices) {
    let lines: string[] = [];
    let bytes = 0;
    let part = 0;
    const file = () => {
      part += 1;
      const path = `events/${segment(device)}-${String(part).padStart(3, '0')}.jsonl`;
      return { path, text: `${lines.join('\n')}\n` };
    };
    for (const row of rows) {
      if (row.device !== device) continue;
      lines.push(row.text);
      bytes += row.text.length;
      if (bytes >= EVENTS_PER_FILE_BYTES) {
        yield file();
        lines = [];
        bytes = 0;
      }
    }
    if (lines.length > 0) yield file();
  }
}

function field(row: Row, name: string): string | null {
  const raw = rawOf(row);
  const what: unknown = typeof raw === 'object' && raw !== null ? Reflect.get(raw, 'what') : null;
  if (typeof what !== 'object' || what === null) return null;
  const value: unknown = Reflect.get(what, name);
  return typeof value === 'string' ? value : null;
}

function editionsOf(rows: readonly Row[]): readonly string[] {
  const begun = rows.filter((r) => r.kind === 'walk-begun');
  return [...new Set(begun.map((r) => field(r, 'edition')))].filter((e) => e !== null).sort();
}

/** The pieces of a recording, those as well that lie beside because two walks claim one place. */
async function soundsOf(shelf: Shelf, recording: string): Promise<readonly SoundRow[]> {
  const names = await namesOnShelf(shelf, [recording]);
  return (await Promise.all(names.map((name) => shelf.sounds(name)))).flat();
}

function recordingsIn(rows: readonly Row[]): readonly string[] {
  return [...new Set(namedIn(rows).map((named) => named.recording))];
}

/** Everything whose bytes lie beside the log. */
function namedIn(rows: readonly Row[]) {
  const kinds: ReadonlySet<string> = new Set(KEPT);
  return readRows(rows.filter((r) => kinds.has(r.kind)))
    .events.map(({ what }) => keptIn(what))
    .filter((named) => named !== null);
}

function picturesIn(rows: readonly Row[]): ReadonlySet<string> {
  const kept = rows.filter((r) => r.kind === 'picture-kept');
  return new Set(kept.map((r) => field(r, 'picture')).filter((id) => id !== null));
}

function pictureEntry(
  picture: string,
  also: string,
  mime: string,
  data: Uint8Array,
  sha256: string,
): Extract<ManifestEntry, { kind: 'picture' }> {
  const path = `pictures/${segment(picture)}${also}.${mime === PICTURE_MIME ? 'jpg' : 'bin'}`;
  return { kind: 'picture', path, bytes: data.length, sha256, picture, mime };
}

/** An id as a part of a path: as it is when that is safe, else a name made of its hash. */
function segment(id: string): string {
  return /^[\w-]{1,80}$/.test(id) ? id : `x${sha256Hex(id).slice(0, 32)}`;
}

const ENDINGS: Readonly<Record<string, string>> = {
  'audio/wav': 'wav',
  'audio/wave': 'wav',
  'audio/x-wav': 'wav',
  'audio/webm': 'webm',
  'audio/ogg': 'ogg',
  'audio/mp4': 'm4a',
};

function ending(mime: string): string {
  return ENDINGS[mime.split(';', 1)[0]?.trim().toLowerCase() ?? ''] ?? 'bin';
}
