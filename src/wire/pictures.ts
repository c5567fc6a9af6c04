import type { MadePicture, ReadPicture } from '#capture';
import { squawksOf } from '#reconcile';
import type { PictureServices } from '#screens';
import type { Store } from '#store';
import type { Finding } from '#shared/coverage';
import type { World } from '#shared/log';
import { MOST_PICTURES, type Picture, type PictureOf, type Shown } from '#shared/picture';
import type { Squawk } from '#shared/squawk';
import { attempt, bad, good } from './outcome.ts';
import type { Walking } from './walking.ts';

export interface PictureParts {
  readonly store: Store;
  readonly world: World;
  read(file: File): Promise<ReadPicture>;
  walking(): Walking | null;
  findings(): readonly Finding[];
}

const ENOUGH = `There are ${MOST_PICTURES} pictures of it already, and more are not kept. Erase one that shows less.`;

/** Pictures in, out and away. */
export function pictureServices(parts: PictureParts): PictureServices {
  const { store, world } = parts;
  return {
    attach: (finding, file) =>
      attempt(async () => {
        const walking = parts.walking();
        if (walking === null) return bad('No walk is in progress.');
        const found = parts.findings().find((f) => f.id === finding);
        if (found === undefined) return bad('That finding is not on this walk.');
        if ((await leftOf(store, found.pictures ?? [])) >= MOST_PICTURES) return bad(ENOUGH);
        const read = await parts.read(file);
        if (!read.ok) return read;
        await walking.picture({ kind: 'finding', statement: finding }, read.value);
        return good(null);
      }),
    attachToSquawk: (squawk, file) =>
      attempt(async () => {
        const known = squawksOf(await store.squawkEvents()).find((s) => s.id === squawk);
        if (known === undefined) return bad('There is no such squawk on this device.');
        const there = (await picturesBySquawk(store, [known])).get(squawk) ?? [];
        if ((await leftOf(store, there)) >= MOST_PICTURES) return bad(ENOUGH);
        const read = await parts.read(file);
        if (!read.ok) return read;
        const of = { walk: null, aircraft: known.aircraft, t: null };
        await keepPicture(store, world, of, { kind: 'squawk', squawk }, read.value);
        return good(null);
      }),
    open: (picture, hash) => attempt(async () => good(await store.picture(picture, hash))),
    erase: (picture, why) =>
      attempt(async () => {
        if (why.trim() === '') return bad('Say why it is erased; the log keeps the reason.');
        await store.erasePicture(picture, why.trim());
        return good(null);
      }),
  };
}

/** How many of them were not erased. */
async function leftOf(store: Store, pictures: readonly Picture[]): Promise<number> {
  const shown = await Promise.all(pictures.map((p) => store.picture(p.picture, p.hash)));
  return shown.filter((s) => s.state !== 'erased').length;
}

export function keepPicture(
  store: Store,
  world: World,
  where: { readonly walk: string | null; readonly aircraft: string; readonly t: number | null },
  of: PictureOf,
  { mime, width, height, data }: MadePicture,
) {
  return store.keepPicture({ ...where, picture: world.id(), of, mime, width, height, data });
}

/** Pictures of each squawk: its own, and those of the statements that it came from. */
export async function picturesBySquawk(
  store: Pick<Store, 'pictures'>,
  squawks: readonly Squawk[],
): Promise<ReadonlyMap<string, readonly Picture[]>> {
  const all = await store.pictures();
  if (all.length === 0) return new Map();
  return new Map(
    squawks.map(({ id, history }) => {
      const said = new Set(
        history.map(({ step }) => ('statement' in step ? step.statement : null)),
      );
      const mine = all.filter(({ of }) =>
        of.kind === 'squawk' ? of.squawk === id : said.has(of.statement),
      );
      return [id, mine.map((p) => p.picture)];
    }),
  );
}

/** The bytes of pictures by their hashes, for a document. */
export async function picturesHere(
  store: Pick<Store, 'picture'>,
  pictures: readonly Picture[],
): Promise<ReadonlyMap<string, Shown>> {
  const read = pictures.map(
    async ({ picture, hash }) => [hash, await store.picture(picture, hash)] as const,
  );
  return new Map(await Promise.all(read));
}
