import type { Draft, Event } from '#shared/event';
import { StoreTrouble, type KeptSound } from './contract.ts';
import { readRows } from './reading.ts';
import type { Shelf, Work } from './shelf.ts';

type Place = { walk: string | null; aircraft: string | null; t: number | null };

async function ofKind(shelf: Shelf, kind: Event['what']['kind']): Promise<readonly Event[]> {
  return readRows(await shelf.rows({ index: 'kind', value: kind })).events;
}

/** A recording as far as it is here: what the log names, and what lies on the disk. */
export async function readSound(shelf: Shelf, recording: string): Promise<KeptSound> {
  const [chunks, kept, erased] = await Promise.all([
    shelf.sounds(recording),
    ofKind(shelf, 'sound-kept'),
    ofKind(shelf, 'sound-erased'),
  ]);
  const here = new Set(chunks.map((c) => c.chunk));
  const missing = kept
    .flatMap(({ what }) =>
      what.kind === 'sound-kept' && what.recording === recording && !here.has(what.chunk)
        ? [what.chunk]
        : [],
    )
    .sort((a, b) => a - b);
  const gone = erased.find(
    ({ what }) => what.kind === 'sound-erased' && what.recording === recording,
  );
  return {
    recording,
    mime: chunks[0]?.mime ?? null,
    chunks,
    missing: [...new Set(missing)],
    erased: gone?.what.kind === 'sound-erased' ? gone.what.why : null,
  };
}

/** How much each recording takes. */
export async function sumSound(
  shelf: Shelf,
): Promise<readonly { recording: string; bytes: number; chunks: number }[]> {
  const sums = new Map<string, { recording: string; bytes: number; chunks: number }>();
  for (const { recording, bytes } of await shelf.soundSizes()) {
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
    { erase: [recording] },
  );
}
