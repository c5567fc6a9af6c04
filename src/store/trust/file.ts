import { PICTURE_CHUNK } from '#shared/kept';
import { inOrder, linkOf, type Raw } from '../chain.ts';
import { MAX_REFUSALS_SHOWN } from '../limits.ts';
import { MANIFEST } from '../manifest.ts';
import { bytesEntry, type OpenBackup, type Refused } from '../read-backup.ts';
import { verifyEvents } from '../verify.ts';
import { wordsOfKey } from './fingerprint.ts';
import { held, sealFields, textIn, type Held } from './held.ts';
import type { Known } from './keys.ts';
import { deviceWords, idWords } from './plain-words.ts';

/** What a backup's own list says against what is in it. Restore and `verify` go by the same. */
export interface FileJudged {
  /** Walks that are not as whoever made the file left them, with the reason. */
  readonly spoiled: ReadonlyMap<string, string>;
  /** Only walks whose own seal proves them may be taken, because … Null: no such doubt. */
  readonly sealedOnly: string | null;
  readonly refused: readonly Refused[];
  readonly notes: readonly string[];
}

export function heldOfFile(events: readonly unknown[]): readonly Held[] {
  return events.flatMap((raw) => {
    const link = linkOf(raw);
    return link === null ? [] : [held(link, () => raw as Raw, 'new')];
  });
}

export function judgeFile(backup: OpenBackup): FileJudged {
  const events = heldOfFile(backup.events);
  const spoiled = new Map<string, string>();
  const refused: Refused[] = [];
  const notes: string[] = [];
  const sealedOnly = signIn(backup, refused, notes);
  cutWalks(backup, events, spoiled, refused);
  cutChains(backup, events, spoiled, refused);
  goneSound(backup, events, refused, notes);
  goneCatalogues(backup, events, notes);
  return { spoiled, sealedOnly, refused, notes };
}

function signIn(backup: OpenBackup, refused: Refused[], notes: string[]): string | null {
  const { sign } = backup;
  switch (sign.kind) {
    case 'broken':
      refused.push({
        entry: MANIFEST,
        why: 'It was changed after the device that made this file had signed it.',
      });
      return 'the list of what is in this file was changed after it was signed, and no seal proves this walk.';
    case 'none':
      notes.push(
        `No device has signed this file as a whole (older backups are not signed; this one says that it was made ${madeAt(backup)} by device ${idWords(backup.manifest.device)}): whether something was left out after what is in it cannot be told.`,
      );
      return null;
    case 'holds':
      notes.push(
        `Signed as a whole, ${madeAt(backup)}, by ${deviceWords(sign.name, backup.manifest.device)} with the key “${wordsOfKey(sign.publicKey)}”.`,
      );
      return null;
  }
}

function madeAt({ manifest }: OpenBackup): string {
  const made = new Date(manifest.made);
  return Number.isNaN(made.getTime()) ? 'at no time that can be read' : made.toISOString();
}

/** Walks with fewer or more events than the file should have of them. */
function cutWalks(
  { manifest, damaged }: OpenBackup,
  events: readonly Held[],
  spoiled: Map<string, string>,
  refused: Refused[],
): void {
  const hashes = new Map<string, Set<string>>();
  for (const e of events) {
    const key = `${e.walk ?? ''} ${e.device}`;
    hashes.set(key, (hashes.get(key) ?? new Set()).add(e.hash));
  }
  for (const { walk, device, events: should } of manifest.walks ?? []) {
    const has = hashes.get(`${walk} ${device}`)?.size ?? 0;
    // A line that cannot be read is named already.
    if (has === should || damaged.some((d) => d.walk === walk)) continue;
    const why = `this file should have ${should} events of it by device ${idWords(device)}, and has ${has}.`;
    spoiled.set(walk, why);
    refused.push({ entry: `walk ${idWords(walk)}`, why: why.replace(/^t/, 'T') });
  }
}

/** The manifest says where each chain ends: a cut end leaves no hole that a link could show. */
function cutChains(
  { manifest, damaged, events }: OpenBackup,
  all: readonly Held[],
  spoiled: Map<string, string>,
  refused: Refused[],
): void {
  const verdict = verifyEvents(events);
  for (const chain of manifest.chains) {
    const found = verdict.chains.find((c) => c.device === chain.device);
    if (found?.head !== chain.head && !damaged.some((d) => d.id === chain.last)) {
      refused.push({
        entry: chain.last,
        why: `The log of device ${idWords(chain.device)} should end with this event, and does not.`,
      });
      // An older file does not say which walk was cut: it is the one that is last.
      const last = inOrder(all.filter((e) => e.device === chain.device)).at(-1);
      const walk = last?.walk ?? null;
      if (manifest.walks === undefined && walk !== null)
        spoiled.set(walk, 'the end of the log that it belongs to was cut off.');
    } else if (
      found !== undefined &&
      (found.events !== chain.events ||
        found.first !== chain.first ||
        found.last !== chain.last ||
        chain.whole !== found.whole)
    )
      refused.push({
        entry: `device ${idWords(chain.device)}`,
        why: `Its log should have ${chain.events} events here, the first of them ${chain.first}, and has ${found.events}, from ${found.first} on.`,
      });
  }
}

/** Sound and pictures that the log names, that nobody erased, and that is not in the file. */
function goneSound(
  { manifest, sounds }: OpenBackup,
  events: readonly Held[],
  refused: Refused[],
  notes: string[],
): void {
  const packed = new Set(sounds.map((s) => `${s.recording} ${s.chunk}`));
  // What cannot be read of it is refused where the entry is read.
  for (const entry of manifest.entries) {
    const bytes = bytesEntry(entry);
    if (bytes !== null) packed.add(`${bytes.recording} ${bytes.chunk}`);
  }
  const without = new Set(
    (manifest.without ?? []).flatMap((w) => w.chunks.map((chunk) => `${w.recording} ${chunk}`)),
  );
  const erased = new Set(
    events.flatMap((e) =>
      e.kind === 'sound-erased'
        ? [textIn(e, 'recording')]
        : e.kind === 'picture-erased'
          ? [textIn(e, 'picture')]
          : [],
    ),
  );
  const left = { sound: 0, picture: 0 };
  const named = new Map(sounds.map((s) => [`${s.recording} ${s.chunk} ${s.sha256}`, s]));
  for (const e of events) {
    if (e.kind !== 'sound-kept' && e.kind !== 'picture-kept') continue;
    const isPicture = e.kind === 'picture-kept';
    const recording = textIn(e, isPicture ? 'picture' : 'recording') ?? '';
    const chunk: unknown = isPicture
      ? PICTURE_CHUNK
      : Reflect.get(e.raw['what'] as object, 'chunk');
    const key = `${recording} ${String(chunk)}`;
    const entry = named.get(`${key} ${textIn(e, 'hash') ?? ''}`);
    if (entry !== undefined && !isAt(e, entry))
      refused.push({
        entry: entry.path,
        why: 'The list of this file says something else of it than the log.',
      });
    if (packed.has(key) || erased.has(recording)) continue;
    if (without.has(key)) left[isPicture ? 'picture' : 'sound'] += 1;
    else
      refused.push({
        entry: isPicture
          ? `picture ${idWords(recording)}`
          : `piece ${String(chunk)} of the sound ${recording}`,
        why: 'The log names it, and it is not in this file.',
      });
  }
  if (left.sound > 0)
    notes.push(
      `${left.sound} pieces of sound that the log names were left out by whoever made this file.`,
    );
  if (left.picture > 0)
    notes.push(
      `Pictures that the log names and that were left out by whoever made this file, or were not on their device any more: ${left.picture}.`,
    );
}

/** A walk is counted by the edition that it was begun with, and opens nowhere without it. */
function goneCatalogues(
  { catalogues }: OpenBackup,
  events: readonly Held[],
  notes: string[],
): void {
  const here = new Set(catalogues.map((c) => c.edition));
  const gone = new Map<string, number>();
  for (const e of events) {
    const edition = e.kind === 'walk-begun' ? (textIn(e, 'edition') ?? '') : null;
    if (edition !== null && !here.has(edition)) gone.set(edition, (gone.get(edition) ?? 0) + 1);
  }
  for (const [edition, n] of [...gone].slice(0, MAX_REFUSALS_SHOWN))
    notes.push(
      `The catalogue by which ${n === 1 ? 'a walk is' : `${n} walks are`} counted is not in this file (edition ${idWords(edition.slice(0, 12))}…): ${n === 1 ? 'it opens' : 'they open'} only where it is.`,
    );
}

/** Whether the list of a file says of a piece of sound, or of a picture, what the log says. */
function isAt(event: Held, { kind, from, to, mime }: OpenBackup['sounds'][number]): boolean {
  if (event.kind === 'picture-kept') return kind === 'picture' && textIn(event, 'mime') === mime;
  if (kind !== 'sound') return false;
  const place: unknown = Reflect.get(event.raw['what'] as object, 'place');
  if (typeof place !== 'object' || place === null) return false;
  return (
    Reflect.get(place, 'from') === from &&
    Reflect.get(place, 'to') === to &&
    textIn(event, 'mime') === mime
  );
}

/**
 * What a file says of keys by itself: where a device sealed with two, the first
 * one counts as the one that was met. A device that wrote down that it lost its
 * key has explained it.
 */
export function knownInFile(events: readonly Held[]): Known {
  const keys = new Map<string, string[]>();
  const explained = new Set<string>();
  for (const e of inOrder(events)) {
    if (e.kind === 'brought-back' && textIn(e, 'key') === 'new') explained.add(e.device);
    if (e.kind !== 'sealed') continue;
    const { publicKey } = sealFields(e);
    const there = keys.get(e.device) ?? [];
    if (!there.includes(publicKey)) keys.set(e.device, [...there, publicKey]);
  }
  for (const [device, list] of keys)
    if (list.length === 1 || explained.has(device)) keys.delete(device);
  return { own: null, keys, compared: new Set() };
}
