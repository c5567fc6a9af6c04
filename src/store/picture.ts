import type { Draft, Event } from '#shared/event';
import { erasedIn, keptIn } from '#shared/kept';
import type { Shown } from '#shared/picture';
import { StoreTrouble, type KeptPicture, type PictureToKeep } from './contract.ts';
import { eventsOf } from './reading.ts';
import { loosePictures } from './school-ways.ts';
import type { Shelf, SoundRow, Work } from './shelf.ts';
import { namesOnShelf, pieceOf } from './sound.ts';

/** Said when there is no room; the words that go with it are kept. */
export const NO_ROOM_FOR_PICTURES =
  'There is no room left for pictures on this device. Free some space, then take it again; what was said is kept.';

/** What the log says of a picture, and how its bytes lie on the shelf. */
export function pictureParts(
  { picture, of, mime, width, height, data }: PictureToKeep,
  hash: string,
): { readonly what: Draft['what']; readonly row: SoundRow } {
  const what = { kind: 'picture-kept' as const, picture, mime, hash, width, height, of };
  const named = keptIn(what);
  if (named === null) throw new StoreTrouble('refused', 'This is no picture.');
  return { what, row: { ...named, data } };
}

/**
 * A picture as far as it is here: what the log names, and what lies on the disk.
 *
 * @param hash of its bytes, where it is known: two walks may name two pictures alike
 */
export async function readPicture(shelf: Shelf, picture: string, hash?: string): Promise<Shown> {
  const [kept, erased, loose] = await Promise.all([
    eventsOf(shelf, ['picture-kept']),
    eventsOf(shelf, ['picture-erased']),
    loosePictures(shelf),
  ]);
  const gone = [...erased, ...loose].find(({ what }) => erasedIn(what) === picture);
  if (gone?.what.kind === 'picture-erased') return { state: 'erased', why: gone.what.why };
  const named = [...kept, ...loose]
    .map(({ what }) => keptIn(what))
    .find((k) => k?.recording === picture && (hash === undefined || k.hash === hash));
  // By its hash: what another walk pushed into its place is not it.
  const piece = named === null || named === undefined ? undefined : await pieceOf(shelf, named);
  return piece === undefined || piece.hash !== named?.hash
    ? { state: 'gone' }
    : { state: 'here', mime: piece.mime, data: piece.data };
}

/** Every picture that is named here, with what it shows: those of the log oldest first, then those that came without their walk. */
export async function picturesIn(shelf: Shelf): Promise<readonly KeptPicture[]> {
  const [kept, loose] = await Promise.all([
    eventsOf(shelf, ['picture-kept']),
    loosePictures(shelf),
  ]);
  const here = new Set(kept.map((e) => e.hash));
  return [...kept, ...loose.filter((e) => !here.has(e.hash))].flatMap(
    ({ walk, aircraft, what }) => {
      if (what.kind !== 'picture-kept') return [];
      const { picture, mime, hash, width, height, of } = what;
      return [{ walk, aircraft, of, picture: { picture, mime, hash, width, height } }];
    },
  );
}

/** Deletes the bytes and says so, in one transaction. */
export async function erasePicture(
  shelf: Shelf,
  picture: string,
  why: string,
  draft: (what: Draft['what'], of: Pick<Draft, 'walk' | 'aircraft' | 't'>) => Draft,
  writeOne: (make: () => Draft, rest: Omit<Work, 'rows'>) => Promise<Event>,
): Promise<Event> {
  const kept = (await picturesIn(shelf)).find((p) => p.picture.picture === picture);
  if (kept === undefined)
    throw new StoreTrouble('refused', 'There is no such picture in the log of this device.');
  const { walk, aircraft } = kept;
  return writeOne(
    () => draft({ kind: 'picture-erased', picture, why }, { walk, aircraft, t: null }),
    {
      erase: await namesOnShelf(shelf, [picture]),
    },
  );
}
