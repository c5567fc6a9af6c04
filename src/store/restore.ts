import { editionOf, readFull } from './catalogues.ts';
import type { Event } from '#shared/event';
import { ERASED, erasedIn, KEPT, keptIn, type KeptBytes } from '#shared/kept';
import { MAX_REFUSALS_SHOWN } from './limits.ts';
import { openBackup, type OpenBackup, type Refused, type SoundEntry } from './read-backup.ts';
import { eventsOf } from './reading.ts';
import { paceOf, type Pace, type PaceOptions } from './pace.ts';
import type { Shelf } from './shelf.ts';
import { takeIn, type TakeInOptions } from './take-in.ts';
import { judgeFile } from './trust/file.ts';
import { held, sealFields, type Held } from './trust/held.ts';
import { sealTrouble } from './trust/seal-form.ts';
import { hashOnce, linkOf, type Raw } from './chain.ts';
import { besideName } from './sound.ts';
import { idWords, oneLine } from './trust/plain-words.ts';
import { keyStanding, type Known } from './trust/keys.ts';
import type { Merged } from './merge.ts';

export interface RestoreOptions extends PaceOptions {
  /** Keep what holds of a walk that does not hold as a whole. */
  readonly salvage?: boolean;
}

export interface Restored {
  /** Everything in the file was taken or was here already. */
  readonly ok: boolean;
  readonly events: { readonly added: number; readonly known: number };
  readonly catalogues: { readonly added: number; readonly known: number };
  readonly sound: { readonly added: number; readonly known: number };
  readonly pictures: { readonly added: number; readonly known: number };
  /** What was not taken, by name, with the reason. */
  readonly refused: readonly Refused[];
  /** Whose key signed the file as a whole: own or compared with somebody, or not. */
  readonly trusted: boolean;
  /** Kept aside: it counts nowhere, because it may not write what it claims to. */
  readonly aside: Merged['aside'];
  /** What whoever holds this device has to know, such as a known device with a new key. */
  readonly announced: readonly string[];
  /** The same in words, for the screen or the terminal. */
  readonly text: readonly string[];
}

/** Chunks written in one transaction: about half a minute of sound. */
const CHUNKS_AT_ONCE = 16;

/** Restores entry by entry: the good is kept, the rest refused and named. */
export async function restoreBackup(
  shelf: Shelf,
  device: string,
  known: Known,
  file: Blob | Uint8Array,
  options: RestoreOptions = {},
): Promise<{
  readonly restored: Restored;
  readonly news: readonly Event[];
  readonly seals: readonly Held[];
}> {
  const opened = await openBackup(file);
  if (!opened.ok) return nothingOf(opened.error);
  const { backup } = opened;
  const pace = paceOf(options);
  try {
    if (!(await checked(backup.events, pace))) return nothingOf('Stopped.');
    // Before the walks, so that each of them can be opened, also when this is stopped.
    const catalogues = await restoreCatalogues(shelf, backup);
    const judged = judgeFile(backup);
    const spoiled = new Map(judged.spoiled);
    for (const { id, walk } of backup.damaged)
      if (walk !== null)
        spoiled.set(walk, `its event ${id ?? 'that cannot be read'} does not hold.`);
    const given: TakeInOptions = {
      spoiled,
      salvage: options.salvage === true,
      pace,
      ...(judged.sealedOnly === null ? {} : { sealedOnly: judged.sealedOnly }),
    };
    const { merged, news, seals, left } = await takeIn(shelf, device, known, backup.events, given);
    const bytes = await restoreSound(shelf, backup, pace);
    const refused = [
      ...backup.refused,
      ...judged.refused,
      ...merged.refused.map(({ event, why }) => ({ entry: event, why })),
      ...catalogues.refused,
      ...bytes.refused,
    ];
    const restored = {
      ok: refused.length === 0 && merged.aside.length === 0 && !pace.stopped,
      events: { added: merged.added, known: merged.known },
      catalogues: { added: catalogues.added, known: catalogues.known },
      sound: bytes.sound,
      pictures: bytes.pictures,
      refused,
      trusted: isTrusted(backup, known),
      aside: merged.aside,
      announced: [],
    };
    const notes = pace.stopped ? [stoppedText(left), ...judged.notes] : judged.notes;
    return { restored: { ...restored, text: inText(restored, notes).map(oneLine) }, news, seals };
  } finally {
    await backup.close();
  }
}

/** Part of the restoring that is done when every event was looked at by itself. */
const CHECKED = 0.4;

/** Hashes and signatures, in pieces: whoever judges them afterwards finds them done. */
async function checked(events: readonly unknown[], pace: Pace): Promise<boolean> {
  for (const [i, raw] of events.entries()) {
    hashOnce(raw);
    const link = linkOf(raw);
    if (link?.kind === 'sealed')
      sealTrouble(sealFields(held(link, () => raw as Raw, 'new')), link.prev);
    if (!(await pace.turn('Checking …', (CHECKED * i) / events.length))) return false;
  }
  return true;
}

function nothingOf(why: string) {
  const none = { added: 0, known: 0 };
  return {
    restored: {
      ok: false,
      events: none,
      catalogues: none,
      sound: none,
      pictures: none,
      refused: [{ entry: 'file', why }],
      trusted: false,
      aside: [],
      announced: [],
      text: [oneLine(why), 'Nothing was restored.'],
    },
    news: [],
    seals: [],
  };
}

/** Signed by this device, under any key that it had, or by one whose words two people compared. */
function isTrusted({ sign, manifest }: OpenBackup, known: Known): boolean {
  if (sign.kind !== 'holds') return false;
  const standing = keyStanding(manifest.device, sign.publicKey, known);
  return standing === 'own' || standing === 'compared';
}

function stoppedText(left: number): string {
  const missing = left === 0 ? '' : ` ${left} ${left === 1 ? 'walk is' : 'walks are'} left.`;
  return `Stopped before the end.${missing} What was restored stays; choose the same file again to go on.`;
}

async function restoreCatalogues(shelf: Shelf, backup: OpenBackup) {
  const here = new Set(await shelf.editions());
  const refused: Refused[] = [];
  let added = 0;
  let known = 0;
  for (const { path, edition, value } of backup.catalogues) {
    const read = readFull(value);
    if (!read.ok) refused.push({ entry: path, why: read.error });
    else if (editionOf(read.value) !== edition)
      refused.push({ entry: path, why: 'It is another edition than its name says.' });
    else if (here.has(edition)) known += 1;
    else {
      await shelf.putCatalogue(edition, read.value);
      added += 1;
    }
  }
  return { added, known, refused };
}

/** A chunk or a picture belongs in the record when the log names it by its hash, and was not erased. */
async function restoreSound(shelf: Shelf, backup: OpenBackup, pace: Pace) {
  const [kept, erased, sizes] = await Promise.all([
    eventsOf(shelf, KEPT),
    eventsOf(shelf, ERASED),
    shelf.soundSizes(),
  ]);
  const here = new Set(sizes.map((s) => `${s.recording} ${s.chunk}`));
  const gone = new Set(erased.map(({ what }) => erasedIn(what)));
  /** Two walks may claim one piece: each is told by its own hash. */
  const told = new Map<string, KeptBytes[]>();
  const drawn = new Set<string>();
  for (const { what } of kept) {
    const named = keptIn(what);
    if (what.kind === 'picture-kept') drawn.add(what.picture);
    if (named === null) continue;
    const key = `${named.recording} ${named.chunk}`;
    told.set(key, [...(told.get(key) ?? []), named]);
  }

  const refused: Refused[] = [];
  const sum = {
    sound: { added: 0, known: 0 },
    pictures: { added: 0, known: 0 },
  };
  const sumOf = (recording: string) => (drawn.has(recording) ? sum.pictures : sum.sound);
  let batch: Parameters<Shelf['takeSound']>[0][number][] = [];
  async function flush() {
    if (batch.length > 0) await shelf.takeSound(batch);
    for (const { recording } of batch) sumOf(recording).added += 1;
    batch = [];
  }
  const namedBy = (entry: SoundEntry) =>
    told.get(`${entry.recording} ${entry.chunk}`)?.find((what) => what.hash === entry.sha256);
  function refusal(entry: SoundEntry): string | null {
    const noun = entry.kind;
    if (gone.has(entry.recording))
      return `This ${noun} was erased on request. It was not restored.`;
    if (!told.has(`${entry.recording} ${entry.chunk}`))
      return `No event that was taken names this ${noun}.`;
    if (namedBy(entry) === undefined) return `It is not the ${noun} that the log names.`;
    return null;
  }
  /** Another sound lies in its place, which another walk claims as well. */
  async function isTaken({ recording, chunk, sha256 }: SoundEntry): Promise<boolean> {
    const claims = told.get(`${recording} ${chunk}`) ?? [];
    if (claims.every((what) => what.hash === sha256)) return false;
    // What is to be written yet has a place as well.
    await flush();
    const [there] = (await shelf.sounds(recording)).filter((s) => s.chunk === chunk);
    return there !== undefined && there.hash !== sha256;
  }
  for (const [i, entry] of backup.sounds.entries()) {
    if (!(await pace.turn('Restoring sound and pictures …', i / backup.sounds.length))) break;
    const why = refusal(entry);
    const event = namedBy(entry);
    if (why !== null || event === undefined) {
      refused.push({ entry: entry.path, why: why ?? '' });
      continue;
    }
    const name = (await isTaken(entry))
      ? besideName(entry.recording, entry.sha256)
      : entry.recording;
    const key = `${name} ${entry.chunk}`;
    if (here.has(key)) {
      sumOf(entry.recording).known += 1;
      continue;
    }
    const data = await backup.sound(entry);
    if (!(data instanceof Uint8Array)) {
      refused.push(data);
      continue;
    }
    here.add(key);
    batch.push({
      recording: name,
      chunk: event.chunk,
      place: event.place,
      mime: event.mime,
      hash: event.hash,
      data: Uint8Array.from(data).buffer,
    });
    if (batch.length >= CHUNKS_AT_ONCE) await flush();
  }
  await flush();
  return { ...sum, refused };
}

/** What was set aside, once for each walk and reason. */
function asideText(aside: Restored['aside']): readonly string[] {
  const groups = new Map<string, number>();
  for (const { walk, why } of aside) {
    const key = `${walk === null ? 'outside walks' : `of walk ${idWords(walk)}`}. ${why}`;
    groups.set(key, (groups.get(key) ?? 0) + 1);
  }
  return [...groups].map(
    ([key, n]) => `Kept aside, and counted nowhere: ${n} ${n === 1 ? 'event' : 'events'} ${key}`,
  );
}

function inText(r: Omit<Restored, 'text'>, notes: readonly string[]): readonly string[] {
  const line = (name: string, n: { added: number; known: number }) =>
    `${name}: ${n.added} restored, ${n.known} here already.`;
  return [
    line('Events', r.events),
    line('Catalogues', r.catalogues),
    line('Chunks of sound', r.sound),
    ...(r.pictures.added + r.pictures.known > 0 ? [line('Pictures', r.pictures)] : []),
    ...asideText(r.aside).slice(0, MAX_REFUSALS_SHOWN),
    ...r.refused
      .slice(0, MAX_REFUSALS_SHOWN)
      .map(({ entry, why }) => `Not restored: ${entry}. ${why}`),
    ...(r.refused.length > MAX_REFUSALS_SHOWN
      ? [`Not restored: ${r.refused.length - MAX_REFUSALS_SHOWN} more.`]
      : []),
    ...notes,
  ];
}
