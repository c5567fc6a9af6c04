import { editionOf, parseCatalogue, type Problem } from '#catalogue';
import type { CatalogueChoice } from '#screens';
import { starters as startersHere } from '#seeds';
import { askedOn } from '#shared/asked';
import type { Catalogue } from '#shared/catalogue';
import { Circumstance } from '#shared/circumstance';
import type { Store } from '#store';

const OWN_KEY = 'own-catalogues';
/** Editions that a backup brought: offered again, and before what is here. */
const RESTORED_KEY = 'restored-catalogues';
const AWAY_KEY = 'catalogues-put-away';
const WITHDRAWN_KEY = 'editions-withdrawn';
/** Taken off this device's list; a backup does not bring them back onto it. */
const REMOVED_KEY = 'editions-removed';

/** A catalogue with the edition that pins it. */
export interface Edition {
  readonly edition: string;
  readonly catalogue: Catalogue;
}

/** All editions of one catalogue, oldest first. */
export interface Book {
  readonly id: string;
  readonly editions: readonly Edition[];
  /** The edition that a walk begins with; null: all are withdrawn. */
  readonly current: Edition | null;
  /** Ships with Talkround, in at least one edition. */
  readonly starter: boolean;
  readonly putAway: boolean;
}

/** The catalogues that a walk may begin with, by id: the starters, and the ones brought in. */
export interface CatalogueShelf {
  /** What the first screen offers. */
  all(): readonly Edition[];
  /** Throws a sentence when there is none of that id. */
  get(id: string): Edition;
  /** Takes in an author's file. A catalogue of the same id takes the place of the earlier for walks to come. */
  bringIn(
    text: string,
    file: string,
  ): Promise<{ ok: true; value: Edition } | { ok: false; error: string }>;
  books(): readonly Book[];
  /** Every edition that is this device's own, walked or not: what a backup takes along. */
  own(): readonly string[];
  isWithdrawn(edition: string): boolean;
  putAway(id: string, away: boolean): Promise<void>;
  withdraw(edition: string, withdrawn: boolean): Promise<void>;
  remove(edition: string): Promise<void>;
  /**
   * Offers what a backup brought. An edition of a catalogue that is here takes its
   * place for walks to come only from a file that is trusted; from any other it is
   * kept for its walks, as withdrawn. Gives the names of those.
   */
  restored(trusted: boolean): Promise<readonly string[]>;
  /** An edition that is kept here takes the place of the earlier one for walks to come. */
  takeOn(edition: string): Promise<void>;
}

/** How many of a catalogue's mistakes are told at once. */
const MISTAKES_TOLD = 5;

export async function openShelf(store: Store): Promise<CatalogueShelf> {
  const starters: readonly Edition[] = startersHere();
  const starting = new Set(starters.map((s) => s.edition));
  let books = new Map<string, Book>();
  let own: readonly string[] = [];
  let withdrawn: ReadonlySet<string> = new Set();

  const list = async (key: string) => editionsIn(await store.setting(key));
  const toggle = async (key: string, value: string, on: boolean) => {
    const others = (await list(key)).filter((v) => v !== value);
    await store.setSetting(key, on ? [...others, value] : others);
    await read();
  };

  async function read(): Promise<void> {
    const keys = [AWAY_KEY, REMOVED_KEY, WITHDRAWN_KEY, OWN_KEY, RESTORED_KEY];
    const [putAway = [], removed = [], backNow = [], ownNow = [], brought = []] = await Promise.all(
      keys.map(list),
    );
    const [away, gone, back] = [new Set(putAway), new Set(removed), new Set(backNow)];
    const restored = await kept(brought.filter((e) => !ownNow.includes(e)));
    const byId = new Map<string, Edition[]>();
    const add = (edition: Edition) => {
      if (gone.has(edition.edition)) return;
      const row = byId.get(edition.catalogue.id) ?? [];
      byId.set(edition.catalogue.id, [
        ...row.filter((e) => e.edition !== edition.edition),
        edition,
      ]);
    };
    const older = (a: Edition, b: Edition) => versionOf(a) - versionOf(b);
    for (const edition of [...restored].sort(older)) add(edition);
    for (const edition of starters) add(edition);
    for (const edition of await kept(ownNow)) add(edition);
    own = [...ownNow, ...restored.map((r) => r.edition)].filter((e) => !gone.has(e));
    withdrawn = back;
    books = new Map(
      // Starters first, in their order, as they were offered before.
      [...new Set([...starters.map((s) => s.catalogue.id), ...byId.keys()])].flatMap((id) => {
        const editions = newestLast(byId.get(id) ?? [], restored);
        if (editions.length === 0) return [];
        const current = editions.filter((e) => !back.has(e.edition)).at(-1) ?? null;
        const starter = editions.some((e) => starting.has(e.edition));
        return [[id, { id, editions, current, starter, putAway: away.has(id) }] as const];
      }),
    );
  }

  async function kept(editions: readonly string[]): Promise<Edition[]> {
    const found = await Promise.all(
      editions.map(async (edition) => ({ edition, catalogue: await store.catalogue(edition) })),
    );
    return found.flatMap(({ edition, catalogue }) =>
      catalogue === null ? [] : [{ edition, catalogue }],
    );
  }

  /** Whether walks would begin with it instead of with what is here. */
  function replaces(edition: Edition): boolean {
    const here = books.get(edition.catalogue.id)?.editions ?? [];
    return here.length > 0 && here.every((e) => versionOf(e) < versionOf(edition));
  }

  /** An edition that is kept here is this device's own from now on, whatever was done with it before. */
  async function takeUp(value: Edition): Promise<void> {
    const others = (await list(OWN_KEY)).filter((e) => e !== value.edition);
    await store.setSetting(OWN_KEY, [...others, value.edition]);
    // Brought in again: what was taken off the list or taken back is wanted now.
    for (const key of [REMOVED_KEY, WITHDRAWN_KEY]) await toggle(key, value.edition, false);
    await toggle(AWAY_KEY, value.catalogue.id, false);
  }

  await read();
  return {
    async takeOn(edition) {
      const catalogue = await store.catalogue(edition);
      if (catalogue !== null) await takeUp({ edition, catalogue });
    },
    all: () =>
      [...books.values()].flatMap((b) => (b.putAway || b.current === null ? [] : [b.current])),
    get(id) {
      const found = books.get(id)?.current;
      if (found === undefined || found === null)
        throw new Error(`There is no catalogue "${id}" on this device.`);
      return found;
    },
    async bringIn(text, file) {
      const parsed = parseCatalogue(text, file);
      if (!parsed.ok) {
        return { ok: false, error: mistakes(parsed.problems) };
      }
      const value = edited(parsed.catalogue);
      await store.keepCatalogue(value.edition, value.catalogue);
      await takeUp(value);
      return { ok: true, value };
    },
    books: () => [...books.values()],
    own: () => own,
    isWithdrawn: (edition) => withdrawn.has(edition),
    putAway: (id, away) => toggle(AWAY_KEY, id, away),
    withdraw: (edition, on) => toggle(WITHDRAWN_KEY, edition, on),
    async remove(edition) {
      const others = (await list(OWN_KEY)).filter((e) => e !== edition);
      await store.setSetting(OWN_KEY, others);
      await toggle(REMOVED_KEY, edition, true);
    },
    async restored(trusted) {
      const before = await list(RESTORED_KEY);
      const known = new Set([...starting, ...(await list(OWN_KEY)), ...(await list(REMOVED_KEY))]);
      const all = (await store.editions()).filter((e) => !known.has(e));
      const came = await kept(all.filter((e) => !before.includes(e)));
      // What replaces nothing may be offered by whoever brought it.
      const held = trusted ? [] : came.filter(replaces);
      const back = await list(WITHDRAWN_KEY);
      const withheld = held.map((e) => e.edition).filter((e) => !back.includes(e));
      if (withheld.length > 0) await store.setSetting(WITHDRAWN_KEY, [...back, ...withheld]);
      await store.setSetting(RESTORED_KEY, [...new Set([...before, ...all])]);
      await read();
      return held.map(({ catalogue }) => catalogue.name);
    },
  };
}

/** The first mistakes of a file, a sentence each with its line. */
export function mistakes(problems: readonly Problem[]): string {
  const told = problems.slice(0, MISTAKES_TOLD).map((p) => `${p.file}, line ${p.line}: ${p.text}`);
  const more = problems.length - told.length;
  return [...told, ...(more > 0 ? [`And ${more} more.`] : [])].join('\n');
}

function versionOf({ catalogue }: Edition): number {
  return catalogue.version ?? 0;
}

/** What a backup brought is walked only where nothing is here, or where its version is the highest. */
function newestLast(editions: readonly Edition[], restored: readonly Edition[]): Edition[] {
  const back = new Set(restored.map((r) => r.edition));
  const here = editions.filter((e) => !back.has(e.edition));
  const highest = Math.max(-1, ...here.map(versionOf));
  const later = editions.filter((e) => back.has(e.edition) && versionOf(e) > highest);
  return [...editions.filter((e) => !later.includes(e)), ...later];
}

function edited(catalogue: Catalogue): Edition {
  return { edition: editionOf(catalogue), catalogue };
}

function editionsIn(kept: unknown): string[] {
  return Array.isArray(kept) ? kept.filter((e): e is string => typeof e === 'string') : [];
}

/** A catalogue as the first screen offers it. */
export function choiceOf({ edition, catalogue }: Edition): CatalogueChoice {
  const checks = catalogue.stations.flatMap((s) => s.checks);
  const asked = new Set(checks.flatMap((c) => (Array.isArray(c.required) ? c.required : [])));
  return {
    id: catalogue.id,
    name: catalogue.name,
    kind: catalogue.kind,
    edition,
    stations: catalogue.stations.length,
    checks: checks.length,
    asked: askedOn(checks),
    notice: catalogue.notice ?? null,
    cautions: catalogue.cautions,
    circumstances: Circumstance.options.filter((c) => asked.has(c)),
  };
}
