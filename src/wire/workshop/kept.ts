import type { Store } from '#store';

/** What the workshop keeps beside the record: drafts, authors' files, who gave what, and aircraft. */
const DRAFTS = 'workshop-drafts';
const AIRCRAFT = 'catalogue-aircraft';
const draftKey = (id: string) => `workshop-draft:${id}`;
const textKey = (edition: string) => `catalogue-text:${edition}`;
const fromKey = (edition: string) => `catalogue-from:${edition}`;

export interface KeptDraft {
  readonly id: string;
  readonly name: string;
  readonly changed: number;
}

export interface From {
  readonly by: string;
  readonly key: string;
}

export interface Kept {
  drafts(): Promise<readonly KeptDraft[]>;
  draft(id: string): Promise<string | null>;
  setDraft(draft: KeptDraft, text: string): Promise<void>;
  dropDraft(id: string): Promise<void>;
  /** The author's file of an edition, comments and all; null when only its content is here. */
  text(edition: string): Promise<string | null>;
  setText(edition: string, text: string): Promise<void>;
  from(edition: string): Promise<From | null>;
  setFrom(edition: string, from: From): Promise<void>;
  /** Which catalogue an aircraft is walked by. */
  aircraft(): Promise<ReadonlyMap<string, string>>;
  setAircraft(aircraft: ReadonlyMap<string, string>): Promise<void>;
}

export function keptIn(store: Pick<Store, 'setting' | 'setSetting'>): Kept {
  const words = async (key: string) => {
    const value = await store.setting(key);
    return typeof value === 'string' ? value : null;
  };
  async function drafts(): Promise<readonly KeptDraft[]> {
    const value = await store.setting(DRAFTS);
    return Array.isArray(value) ? value.filter(isDraft) : [];
  }
  return {
    drafts,
    draft: (id) => words(draftKey(id)),
    async setDraft(draft, text) {
      await store.setSetting(draftKey(draft.id), text);
      const others = (await drafts()).filter((d) => d.id !== draft.id);
      await store.setSetting(DRAFTS, [draft, ...others]);
    },
    async dropDraft(id) {
      const others = (await drafts()).filter((d) => d.id !== id);
      await store.setSetting(DRAFTS, others);
      await store.setSetting(draftKey(id), null);
    },
    text: (edition) => words(textKey(edition)),
    setText: (edition, text) => store.setSetting(textKey(edition), text),
    async from(edition) {
      const value = field(await store.setting(fromKey(edition)));
      const { by, key } = value;
      return typeof by === 'string' && typeof key === 'string' ? { by, key } : null;
    },
    setFrom: (edition, from) => store.setSetting(fromKey(edition), from),
    async aircraft() {
      const rows = Object.entries(field(await store.setting(AIRCRAFT)));
      return new Map(rows.filter((row): row is [string, string] => typeof row[1] === 'string'));
    },
    setAircraft: (aircraft) => store.setSetting(AIRCRAFT, Object.fromEntries(aircraft)),
  };
}

function field(value: unknown): Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value) ? { ...value } : {};
}

function isDraft(value: unknown): value is KeptDraft {
  const { id, name, changed } = field(value);
  return typeof id === 'string' && typeof name === 'string' && typeof changed === 'number';
}
