import type { Draft, Event } from '#shared/event';
import { ERASED, KEPT, keptIn } from '#shared/kept';
import { StoreTrouble, type KeptSound } from './contract.ts';
import { eventsOf, heldRow, readRows } from './reading.ts';
import { ASIDE, type Shelf, type SoundRow, type Work } from './shelf.ts';
import type { Held } from './trust/held.ts';

type Place = { walk: string | null; aircraft: string | null; t: number | null };

async function ofKind(shelf: Shelf, kind: Event['what']['kind']): Promise<readonly Event[]> {
  return readRows(await shelf.rows({ index: 'kind', value: kind })).events;
}

type Kept = Extract<Event['what'], { kind: 'sound-kept' }>;

/**
 * Where a piece of sound lies whose place another one has taken: two walks can
 * claim one name, and nobody may push out the other's evidence by coming first.
 */
export function besideName(recording: string, hash: string): string {
  return `${recording}${ASIDE}${hash.slice(0, 16)}`;
}

/** The recording that a name on the shelf means. */
export function recordingOf(name: string): string {
  return name.split(ASIDE, 1)[0] ?? name;
}

/** What events say of sound, the first word on each piece. */
function namings(events: readonly Event[], recording: string): readonly Kept[] {
  const first = new Map<number, Kept>();
  for (const { what } of events)
    if (what.kind === 'sound-kept' && what.recording === recording && !first.has(what.chunk))
      first.set(what.chunk, what);
  return [...first.values()];
}

/** The very piece that an event names, wherever it lies; undefined: it is not here. */
export async function pieceOf(
  shelf: Shelf,
  { recording, chunk, hash }: Pick<Kept, 'recording' | 'chunk' | 'hash'>,
  slots?: readonly SoundRow[],
): Promise<SoundRow | undefined> {
  const here = (slots ?? (await shelf.sounds(recording))).find((s) => s.chunk === chunk);
  if (here === undefined || here.hash === hash) return here;
  const beside = (await shelf.sounds(besideName(recording, hash))).find((s) => s.chunk === chunk);
  return beside === undefined ? undefined : { ...beside, recording };
}

/**
 * A recording as far as it is here: what the log names, and what lies on the disk.
 *
 * @param of events of the walk that is listened to: only what they name by its hash is its sound
 */
export async function readSound(
  shelf: Shelf,
  recording: string,
  of?: readonly Event[],
): Promise<KeptSound> {
  const [slots, kept, erased] = await Promise.all([
    shelf.sounds(recording),
    ofKind(shelf, 'sound-kept'),
    ofKind(shelf, 'sound-erased'),
  ]);
  const mine = namings(of ?? [], recording);
  const found = await Promise.all(mine.map((naming) => pieceOf(shelf, naming, slots)));
  const chunks = mine.length === 0 ? slots : found.filter((c) => c !== undefined);
  const here = new Set(chunks.map((c) => c.chunk));
  const missing = namings(mine.length === 0 ? kept : (of ?? []), recording)
    .map(({ chunk }) => chunk)
    .filter((chunk) => !here.has(chunk))
    .sort((a, b) => a - b);
  const gone = erased.find(
    ({ what }) => what.kind === 'sound-erased' && what.recording === recording,
  );
  return {
    recording,
    mime: chunks[0]?.mime ?? null,
    chunks,
    missing,
    erased: gone?.what.kind === 'sound-erased' ? gone.what.why : null,
  };
}

/** Every name under which sound of these recordings may lie. */
export async function namesOnShelf(
  shelf: Shelf,
  recordings: readonly string[],
): Promise<readonly string[]> {
  if (recordings.length === 0) return [];
  const named = (await eventsOf(shelf, KEPT)).flatMap(({ what }) => {
    const kept = keptIn(what);
    return kept !== null && recordings.includes(kept.recording)
      ? [besideName(kept.recording, kept.hash)]
      : [];
  });
  return [...new Set([...recordings, ...named])];
}

/** Every erasure on the record, of sound and of pictures. */
export async function erasures(shelf: Shelf): Promise<readonly Held[]> {
  const rows = ERASED.map((value) => shelf.rows({ index: 'kind', value }));
  return (await Promise.all(rows)).flat().map(heldRow);
}

/** How much each recording takes. */
export async function sumSound(
  shelf: Shelf,
): Promise<readonly { recording: string; bytes: number; chunks: number }[]> {
  const sums = new Map<string, { recording: string; bytes: number; chunks: number }>();
  for (const { recording: name, bytes } of await shelf.soundSizes()) {
    const recording = recordingOf(name);
    const sum = sums.get(recording) ?? { recording, bytes: 0, chunks: 0 };
    sums.set(recording, { recording, bytes: sum.bytes + bytes, chunks: sum.chunks + 1 });
  }
  return [...sums.values()];
}

/**
 * Recordings in which a person can be heard: those of walks that have them as
 * pilot or instructor, those with words under their name, and those of squawks
 * that they dictated. Names are compared without regard to case and outer space.
 */
export async function recordingsOf(shelf: Shelf, person: string): Promise<readonly string[]> {
  const same = (name: string | null) =>
    name !== null && name.trim().toLowerCase() === person.trim().toLowerCase();
  const [begun, heard, kept, squawks] = await Promise.all([
    ofKind(shelf, 'walk-begun'),
    ofKind(shelf, 'heard'),
    ofKind(shelf, 'sound-kept'),
    ofKind(shelf, 'squawk'),
  ]);
  const walks = new Set<string>();
  for (const { walk, what } of begun)
    if (walk !== null && what.kind === 'walk-begun' && (same(what.pilot) || same(what.instructor)))
      walks.add(walk);
  const found = new Set<string>();
  for (const { what } of heard)
    if (what.kind === 'heard' && what.heard.sound !== null && same(what.heard.speaker))
      found.add(what.heard.sound.recording);
  for (const { what } of squawks)
    if (what.kind === 'squawk' && what.step.step === 'opened' && what.step.sound !== null)
      if (same(what.step.reporter)) found.add(what.step.sound.recording);
  for (const { walk, what } of kept)
    if (what.kind === 'sound-kept' && walk !== null && walks.has(walk)) found.add(what.recording);
  return [...found];
}

/** Deletes the chunks and says so, in one transaction. */
export async function eraseSound(
  shelf: Shelf,
  recording: string,
  why: string,
  draft: (what: Draft['what'], of: Place) => Draft,
  writeOne: (make: () => Draft, rest: Omit<Work, 'rows'>) => Promise<Event>,
): Promise<Event> {
  const first = (await ofKind(shelf, 'sound-kept')).find(
    ({ what }) => what.kind === 'sound-kept' && what.recording === recording,
  );
  if (first === undefined)
    throw new StoreTrouble('refused', `There is no recording ${recording} in the log.`);
  return writeOne(
    () =>
      draft(
        { kind: 'sound-erased', recording, why },
        { walk: first.walk, aircraft: first.aircraft, t: null },
      ),
    { erase: await namesOnShelf(shelf, [recording]) },
  );
}
