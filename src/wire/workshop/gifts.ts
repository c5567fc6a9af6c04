import {
  differences,
  editionOf,
  isParcel,
  keyWords,
  parcelHash,
  parseCatalogue,
  readParcel,
} from '#catalogue';
import type { Offer, Outcome, Workshop } from '#screens';
import { sealHolds, type Store } from '#store';
import type { World } from '#shared/log';
import type { PhrasebookFile } from '#shared/phrasebook-file';
import { liveValue } from '../live-value.ts';
import { attempt, bad, good } from '../outcome.ts';
import type { PhrasebookDesk } from '../phrasebook.ts';
import { mistakes, type CatalogueShelf, type Edition } from '../shelf.ts';
import { packed, unpacked } from './code.ts';
import type { From, Kept } from './kept.ts';

export interface GiftParts {
  readonly store: Store;
  readonly world: World;
  readonly shelf: CatalogueShelf;
  readonly kept: Kept;
  /** What was learned on each aircraft: it may be given away with the aircraft's catalogue. */
  readonly phrases: Pick<PhrasebookDesk, 'bookOf' | 'look' | 'takeBook'>;
  /** Address of the app, for a QR code. */
  readonly address: string;
  /** The author's file of an edition. */
  sourceOf(edition: Edition): Promise<string>;
  /** Takes an edition onto the shelf with its author's file. */
  shelve(text: string, from: From | null): Promise<Outcome<Edition>>;
  changed(): Promise<void>;
}

/** What waits for a yes. */
interface Waiting {
  readonly text: string;
  readonly edition: Edition;
  readonly from: From | null;
  readonly aircraft: readonly string[];
  readonly books: readonly PhrasebookFile[];
}

type Gifts = Pick<Workshop, 'offer' | 'give' | 'take' | 'takeCode' | 'accept' | 'decline'>;

/** Catalogues that are given away, and those that came from elsewhere and wait for a yes. */
export function giftDesk(parts: GiftParts): Gifts {
  const { store, world, shelf, kept, phrases, address, sourceOf, shelve, changed } = parts;
  const offer = liveValue<Offer | null>(null);
  let waiting: Waiting | null = null;

  function current(id: string): Edition | null {
    return shelf.books().find((b) => b.id === id)?.current ?? null;
  }

  async function take(text: string, file: string): Promise<Outcome> {
    let yaml = text;
    let from: From | null = null;
    let aircraft: readonly string[] = [];
    let phrasebooks: readonly PhrasebookFile[] = [];
    let pinned: string | null = null;
    if (isParcel(text)) {
      const parcel = readParcel(text);
      if (!parcel.ok) return bad(`${file}: ${parcel.error}`);
      const { signature, ...rest } = parcel.value;
      if (!sealHolds(rest.key, signature, parcel.hash))
        return bad(
          `${file}: it was changed after it was signed, so it was not taken. Ask ${rest.by || 'who gave it'} for it again.`,
        );
      yaml = rest.text;
      from = { by: rest.by, key: rest.key };
      aircraft = rest.aircraft;
      phrasebooks = rest.phrasebooks;
      pinned = rest.edition;
    }
    const parsed = parseCatalogue(yaml, file);
    if (!parsed.ok) return bad(mistakes(parsed.problems));
    const { catalogue } = parsed;
    const edition = editionOf(catalogue);
    if (pinned !== null && pinned !== edition)
      return bad(
        `${file}: its catalogue is another edition than the file says, so it was not taken.`,
      );
    waiting = { text: yaml, edition: { edition, catalogue }, from, aircraft, books: phrasebooks };
    const before = current(catalogue.id);
    const earlier = before === null ? null : await kept.from(before.edition);
    offer.set({
      id: catalogue.id,
      name: catalogue.name,
      version: catalogue.version ?? null,
      stations: catalogue.stations.length,
      checks: catalogue.stations.reduce((n, s) => n + s.checks.length, 0),
      differences: before === null ? null : differences(before.catalogue, catalogue),
      aircraft,
      moves: await movesOf(catalogue.id, aircraft),
      learned: await learnedIn(phrasebooks),
      signed:
        from === null
          ? null
          : {
              by: from.by,
              key: keyWords(from.key),
              sameAsBefore: earlier === null ? null : earlier.key === from.key,
            },
    });
    return good(null);
  }

  /** Aircraft that another catalogue is walked by here: they are told before they are moved. */
  async function movesOf(id: string, aircraft: readonly string[]) {
    const known = await kept.aircraft();
    return aircraft.flatMap((name) => {
      const of = known.get(name);
      if (of === undefined || of === id) return [];
      return [{ aircraft: name, from: current(of)?.catalogue.name ?? of }];
    });
  }

  async function learnedIn(files: readonly PhrasebookFile[]): Promise<Offer['learned']> {
    if (files.length === 0) return null;
    const offers = await Promise.all(files.map((file) => phrases.look(file)));
    return {
      phrases: offers.reduce((n, o) => n + o.phrases, 0),
      asks: offers.flatMap((o) => o.asks),
    };
  }

  async function accept(yes: boolean): Promise<Outcome<{ text: string }>> {
    if (waiting === null) return bad('Nothing waits to be taken; bring the file in again.');
    const { text, from, aircraft, books: phrasebooks } = waiting;
    const taken = await shelve(text, from);
    if (!taken.ok) return taken;
    const known = new Map(await kept.aircraft());
    for (const name of aircraft) known.set(name, taken.value.catalogue.id);
    await kept.setAircraft(known);
    for (const file of phrasebooks) {
      // A gift makes nothing forgotten: what was learned here to be a fault stays one.
      const learned = await phrases.takeBook({ ...file, forgotten: [] }, yes);
      if (!learned.ok) return bad(learned.error);
    }
    waiting = null;
    offer.set(null);
    await changed();
    const all = aircraft.length === 0 ? '' : ` Its aircraft: ${aircraft.join(', ')}.`;
    return good({ text: `${taken.value.catalogue.name} may now be walked.${all}` });
  }

  async function give(id: string, by: string, learned: boolean) {
    const edition = shelf.get(id);
    const aircraft = [...(await kept.aircraft())].flatMap(([name, of]) =>
      of === id ? [name] : [],
    );
    const phrasebooks = learned ? await booksOf(aircraft) : [];
    const parcel = {
      format: 'talkround-catalogue' as const,
      // An older Talkround reads what has nothing in it that it does not know.
      ...(phrasebooks.length === 0 ? { v: 1 as const } : { v: 2 as const, phrasebooks }),
      made: world.now(),
      by: by.trim() || (edition.catalogue.history?.at(-1)?.by ?? ''),
      edition: edition.edition,
      text: await sourceOf(edition),
      aircraft,
      key: await store.publicKey(),
    };
    const signature = await store.signHash(parcelHash(parcel));
    const text = JSON.stringify({ ...parcel, signature });
    const version = edition.catalogue.version;
    return good({
      name: `${id}${version === undefined ? '' : `-v${version}`}.talkround.json`,
      blob: new Blob([text], { type: 'application/json' }),
      code: await packed(text, `${address}#/workshop/code/`),
    });
  }

  async function booksOf(aircraft: readonly string[]): Promise<readonly PhrasebookFile[]> {
    const all = await Promise.all(aircraft.map((name) => phrases.bookOf(name)));
    return all.filter((b) => b !== null);
  }

  return {
    offer,
    give: (id, by, learned = false) => attempt(() => give(id, by, learned)),
    take: (text, file) => attempt(() => take(text, file)),
    takeCode: (code) =>
      attempt(async () => {
        const text = await unpacked(code);
        return text === null
          ? bad('This code cannot be read whole; scan it again, or ask for the file.')
          : take(text, 'The code');
      }),
    accept: (yes = false) => attempt(() => accept(yes)),
    decline() {
      waiting = null;
      offer.set(null);
    },
  };
}
