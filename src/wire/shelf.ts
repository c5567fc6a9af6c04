import { editionOf, parseCatalogue } from '#catalogue';
import type { CatalogueChoice } from '#screens';
import { CATALOGUES } from '#seeds';
import type { Catalogue } from '#shared/catalogue';
import { Circumstance } from '#shared/circumstance';
import type { Store } from '#store';

const OWN_KEY = 'own-catalogues';

/** A catalogue with the edition that pins it. */
export interface Edition {
  readonly edition: string;
  readonly catalogue: Catalogue;
}

/** The catalogues that a walk may begin with, by id: the starters, and the ones brought in. */
export interface CatalogueShelf {
  all(): readonly Edition[];
  /** Throws a sentence when there is none of that id. */
  get(id: string): Edition;
  /** Takes in an author's file. A catalogue of the same id takes the place of the earlier for walks to come. */
  bringIn(
    text: string,
    file: string,
  ): Promise<{ ok: true; value: Edition } | { ok: false; error: string }>;
  /** An edition that is kept here takes the place of the earlier one for walks to come. */
  takeOn(edition: string): Promise<void>;
}

/** How many of a catalogue's mistakes are told at once. */
const MISTAKES_TOLD = 5;

export async function openShelf(store: Store): Promise<CatalogueShelf> {
  const byId = new Map<string, Edition>();
  for (const { text, file } of CATALOGUES) {
    const parsed = parseCatalogue(text, file);
    if (!parsed.ok) throw new Error(parsed.problems[0]?.text ?? `${file} cannot be read.`);
    byId.set(parsed.catalogue.id, edited(parsed.catalogue));
  }
  for (const edition of editionsIn(await store.setting(OWN_KEY))) {
    const catalogue = await store.catalogue(edition);
    if (catalogue !== null) byId.set(catalogue.id, { edition, catalogue });
  }
  async function own(value: Edition): Promise<void> {
    const others = editionsIn(await store.setting(OWN_KEY)).filter((e) => e !== value.edition);
    await store.setSetting(OWN_KEY, [...others, value.edition]);
    byId.set(value.catalogue.id, value);
  }
  return {
    async takeOn(edition) {
      const catalogue = await store.catalogue(edition);
      if (catalogue !== null) await own({ edition, catalogue });
    },
    all: () => [...byId.values()],
    get(id) {
      const found = byId.get(id);
      if (found === undefined) throw new Error(`There is no catalogue "${id}" on this device.`);
      return found;
    },
    async bringIn(text, file) {
      const parsed = parseCatalogue(text, file);
      if (!parsed.ok) {
        const told = parsed.problems
          .slice(0, MISTAKES_TOLD)
          .map((p) => `${p.file}, line ${p.line}: ${p.text}`);
        const more = parsed.problems.length - told.length;
        return {
          ok: false,
          error: [...told, ...(more > 0 ? [`And ${more} more.`] : [])].join('\n'),
        };
      }
      const value = edited(parsed.catalogue);
      await store.keepCatalogue(value.edition, value.catalogue);
      await own(value);
      return { ok: true, value };
    },
  };
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
    notice: catalogue.notice ?? null,
    cautions: catalogue.cautions,
    circumstances: Circumstance.options.filter((c) => asked.has(c)),
  };
}
