import {
  catalogueYaml,
  differences,
  draftFrom,
  draftFromTalk,
  draftYaml,
  edited,
  freeId,
  keyWords,
  isAuthored,
  outlineOf,
  parseCatalogue,
  toConfirm,
  type Drafted,
} from '#catalogue';
import type {
  BookLine,
  DraftFrom,
  DraftLine,
  EditionLine,
  Hearing,
  Outcome,
  Workshop,
} from '#screens';
import type { Store } from '#store';
import { idOf, type Catalogue } from '#shared/catalogue';
import type { World } from '#shared/log';
import { liveValue } from '../live-value.ts';
import { attempt, bad, good } from '../outcome.ts';
import type { PhrasebookDesk } from '../phrasebook.ts';
import { type Book, type CatalogueShelf, type Edition } from '../shelf.ts';
import { giftDesk } from './gifts.ts';
import { keptIn, type From, type Kept } from './kept.ts';
import { emptyCatalogue } from './new.ts';

export interface WorkshopParts {
  readonly store: Store;
  readonly world: World;
  readonly shelf: CatalogueShelf;
  readonly hearing: Hearing;
  /** What was learned on each aircraft: it may be given away with the aircraft's catalogue. */
  readonly phrases: Pick<PhrasebookDesk, 'bookOf' | 'look' | 'takeBook'>;
  /** Address of the app, for a QR code. */
  readonly address: string;
  /** The catalogues or aircraft on offer have changed. */
  changed(): Promise<void>;
}

export interface WorkshopDesk extends Workshop {
  /** Which catalogue each aircraft is walked by, as it was said or given. */
  aircraft(): Promise<ReadonlyMap<string, string>>;
}

export async function workshopDesk(parts: WorkshopParts): Promise<WorkshopDesk> {
  const { store, world, shelf } = parts;
  const kept = keptIn(store);
  const books = liveValue<readonly BookLine[]>([]);
  const drafts = liveValue<readonly DraftLine[]>([]);

  async function refresh(): Promise<void> {
    drafts.set(await kept.drafts());
    books.set(await linesOf(parts, kept));
  }
  async function changed(): Promise<void> {
    await refresh();
    await parts.changed();
  }
  function book(id: string): Book | null {
    return shelf.books().find((b) => b.id === id) ?? null;
  }
  async function sourceOf(edition: Edition): Promise<string> {
    return (await kept.text(edition.edition)) ?? catalogueYaml(edition.catalogue);
  }

  /** Takes an edition onto the shelf with its author's file. */
  async function shelve(text: string, from: From | null): Promise<Outcome<Edition>> {
    const taken = await shelf.bringIn(text, 'this catalogue');
    if (!taken.ok) return bad(taken.error);
    await kept.setText(taken.value.edition, text);
    if (from !== null) await kept.setFrom(taken.value.edition, from);
    return good(taken.value);
  }

  async function newDraft(text: string): Promise<Outcome<string>> {
    const id = world.id();
    await kept.setDraft({ id, name: outlineOf(text)?.name ?? '', changed: world.now() }, text);
    await refresh();
    return good(id);
  }

  async function begin(from: DraftFrom): Promise<Outcome<string>> {
    const taken = new Set(shelf.books().map((b) => b.id));
    const made = (drafted: Drafted, text: string) =>
      drafted.ok
        ? newDraft(draftYaml(drafted.draft, freeId(drafted.draft.name, taken), text))
        : Promise.resolve(bad<string>(drafted.error));
    switch (from.from) {
      case 'text': {
        // The author's own file may be pasted too.
        if (isAuthored(from.text)) return newDraft(from.text);
        return made(draftFrom(from.text), from.text);
      }
      case 'talk':
        return made(draftFromTalk(from.utterances), from.utterances.join('\n'));
      case 'nothing':
        return newDraft(emptyCatalogue(freeId(from.name, taken), from.name, from.kind));
      case 'catalogue': {
        const text = await sourceOf(shelf.get(from.id));
        if (from.as === 'edition') return newDraft(text);
        const name = `${shelf.get(from.id).catalogue.name}, our own`;
        const copy = edited(text, [
          { do: 'set', path: ['id'], value: freeId(idOf(name), taken) },
          { do: 'set', path: ['name'], value: name },
          { do: 'set', path: ['version'], value: undefined },
          { do: 'set', path: ['history'], value: undefined },
        ]);
        return copy.ok ? newDraft(copy.text) : bad(copy.error);
      }
    }
  }

  async function read(id: string): Promise<Outcome<{ text: string; catalogue: Catalogue }>> {
    const text = await kept.draft(id);
    if (text === null) return bad('That draft is not on this device any more.');
    const parsed = parseCatalogue(text, 'this catalogue');
    if (parsed.ok) return good({ text, catalogue: parsed.catalogue });
    const [first] = parsed.problems;
    const more = parsed.problems.length - 1;
    return bad(
      `Line ${first?.line ?? 1}: ${first?.text ?? ''}${more > 0 ? ` And ${more} more.` : ''}`,
    );
  }

  async function publish(id: string, by: string, why: string): Promise<Outcome<{ text: string }>> {
    const draft = await read(id);
    if (!draft.ok) return draft;
    if (by.trim() === '' || why.trim() === '')
      return bad('Say who gives this edition out, and why; it stands in its history.');
    const { catalogue, text } = draft.value;
    const before = book(catalogue.id)?.current ?? null;
    if (before !== null && differences(before.catalogue, catalogue).length === 0)
      return bad('Nothing is changed against the edition that is walked now.');
    const version = nextVersion(book(catalogue.id), catalogue);
    const on = new Date(world.now()).toISOString().slice(0, 10);
    const history = [
      ...(before?.catalogue.history ?? []),
      { version, by: by.trim(), on, why: why.trim() },
    ];
    const named = edited(text, [
      { do: 'set', path: ['version'], value: version },
      { do: 'set', path: ['history'], value: history },
    ]);
    if (!named.ok) return named;
    const taken = await shelve(named.text, null);
    if (!taken.ok) return taken;
    await kept.dropDraft(id);
    await changed();
    return good({ text: `${catalogue.name}, version ${version}, may now be walked.` });
  }

  async function remove(edition: string): Promise<Outcome> {
    const of = shelf.books().find((b) => b.editions.some((e) => e.edition === edition));
    if (of === undefined) return bad('That edition is not on this device any more.');
    const walks = (await store.walks()).filter((w) => w.edition === edition).length;
    if (walks > 0)
      return bad(
        `${walks === 1 ? 'A walk was' : `${walks} walks were`} made with this edition, and cannot be read without it. Withdraw it instead.`,
      );
    if (of.starter && !shelf.own().includes(edition))
      return bad('This one ships with Talkround. Put it away instead.');
    await shelf.remove(edition);
    await changed();
    return good(null);
  }

  /** Something has to be left to begin a walk with. */
  function lastOne(id: string): boolean {
    return shelf.all().every((e) => e.catalogue.id === id);
  }

  const gifts = giftDesk({ ...parts, kept, sourceOf, shelve, changed });
  await refresh();
  return {
    ...gifts,
    books,
    drafts,
    hearing: parts.hearing,
    aircraft: () => kept.aircraft(),
    refresh,
    begin: (from) => attempt(() => begin(from)),
    draft: (id) =>
      attempt(async () => {
        const text = await kept.draft(id);
        return text === null ? bad('That draft is not on this device any more.') : good(text);
      }),
    keep: (id, text) =>
      attempt(async () => {
        const name = outlineOf(text)?.name ?? drafts.get().find((d) => d.id === id)?.name ?? '';
        await kept.setDraft({ id, name, changed: world.now() }, text);
        await refresh();
        return good(null);
      }),
    drop: (id) =>
      attempt(async () => {
        await kept.dropDraft(id);
        await refresh();
        return good(null);
      }),
    review: (id) =>
      attempt(async () => {
        const draft = await read(id);
        if (!draft.ok) return draft;
        const { catalogue, text } = draft.value;
        const before = book(catalogue.id)?.current ?? null;
        return good({
          version: nextVersion(book(catalogue.id), catalogue),
          differences: before === null ? null : differences(before.catalogue, catalogue),
          open: [...toConfirm(text).values()].reduce((n, list) => n + list.length, 0),
        });
      }),
    publish: (id, by, why) => attempt(() => publish(id, by, why)),
    source: (id) => attempt(async () => good(await sourceOf(shelf.get(id)))),
    setAircraft: (id, names) =>
      attempt(async () => {
        const known = new Map([...(await kept.aircraft())].filter(([, of]) => of !== id));
        for (const name of names.map((n) => n.trim()).filter((n) => n !== '')) known.set(name, id);
        await kept.setAircraft(known);
        await changed();
        return good(null);
      }),
    putAway: (id, away) =>
      attempt(async () => {
        if (away && lastOne(id))
          return bad(
            'It is the only catalogue on the first screen; a walk could not be begun without it.',
          );
        await shelf.putAway(id, away);
        await changed();
        return good(null);
      }),
    withdraw: (edition, withdrawn) =>
      attempt(async () => {
        const of = shelf.books().find((b) => b.editions.some((e) => e.edition === edition));
        const rest = of?.editions.filter(
          (e) => e.edition !== edition && !shelf.isWithdrawn(e.edition),
        );
        if (withdrawn && of !== undefined && rest?.length === 0 && lastOne(of.id))
          return bad(
            'It is the only catalogue on the first screen; a walk could not be begun without it.',
          );
        await shelf.withdraw(edition, withdrawn);
        await changed();
        return good(null);
      }),
    remove: (edition) => attempt(() => remove(edition)),
  };
}

/** One more than any edition of it has. */
function nextVersion(book: Book | null, draft: Catalogue): number {
  const all = (book?.editions ?? []).map((e) => e.catalogue.version ?? 1);
  return all.length === 0 ? (draft.version ?? 1) : Math.max(...all) + 1;
}

async function linesOf(
  { store, shelf, phrases }: WorkshopParts,
  kept: Kept,
): Promise<readonly BookLine[]> {
  const walks = await store.walks();
  const aircraft = await kept.aircraft();
  return Promise.all(
    shelf.books().map(async (b): Promise<BookLine> => {
      const shown = (b.current ?? b.editions.at(-1))?.catalogue;
      const names = [...aircraft].flatMap(([name, of]) => (of === b.id ? [name] : []));
      const learned = await Promise.all(names.map((name) => phrases.bookOf(name)));
      return {
        id: b.id,
        name: shown?.name ?? b.id,
        kind: shown?.kind ?? 'other',
        starter: b.starter,
        putAway: b.putAway,
        stations: shown?.stations.length ?? 0,
        checks: shown?.stations.reduce((n, s) => n + s.checks.length, 0) ?? 0,
        aircraft: names,
        learned: learned.reduce((n, l) => n + (l?.learned.length ?? 0), 0),
        editions: await Promise.all(
          b.editions.map(async ({ edition, catalogue }): Promise<EditionLine> => {
            const from = await kept.from(edition);
            return {
              edition,
              version: catalogue.version ?? null,
              change: catalogue.history?.at(-1) ?? null,
              walks: walks.filter((w) => w.edition === edition).length,
              from: from === null ? null : { by: from.by, key: keyWords(from.key) },
              withdrawn: shelf.isWithdrawn(edition),
              current: b.current?.edition === edition,
            };
          }),
        ),
      };
    }),
  );
}
