import type { Catalogue } from '#shared/catalogue';
import { withRow, type Digest } from './digest.ts';
import type { Notes, Row, RowIndex, Shelf, SoundRow } from './shelf.ts';

const INDEXES: readonly RowIndex[] = ['walk', 'aircraft', 'kind', 'device'];

/** A shelf that lasts as long as the program: for the command line and for tests. */
export function memoryShelf(): Shelf {
  const rows: Row[] = [];
  const ids = new Map<string, Row>();
  /** By index and value, in order of arrival. */
  const found = new Map<string, Row[]>();
  const heads = new Map<string, string>();
  const sounds = new Map<string, Map<number, SoundRow>>();
  const catalogues = new Map<string, string>();
  const notes = new Map<string, unknown>();
  const digests = new Map<string, Digest>();
  const derived = new Map<string, Map<string, unknown>>();

  function put(row: Row): void {
    rows.push(row);
    ids.set(row.id, row);
    for (const index of INDEXES) {
      const key = `${index} ${row[index] ?? ''}`;
      const list = found.get(key);
      if (row[index] === null) continue;
      if (list === undefined) found.set(key, [row]);
      else list.push(row);
    }
    const digest = withRow(row.walk === null ? undefined : digests.get(row.walk), row);
    if (digest !== null) digests.set(digest.walk, digest);
  }
  function putSound(sound: SoundRow): void {
    const chunks = sounds.get(sound.recording) ?? new Map<number, SoundRow>();
    chunks.set(sound.chunk, { ...sound, data: sound.data.slice(0) });
    sounds.set(sound.recording, chunks);
  }
  const matching = (index: RowIndex, value: string): readonly Row[] =>
    found.get(`${index} ${value}`) ?? [];

  return {
    durability: 'memory',
    async write(device, make) {
      const work = make(heads.get(device) ?? null);
      const twice = work.rows.find((row) => ids.has(row.id));
      if (twice !== undefined) throw new Error(`Event ${twice.id} is there already.`);
      for (const row of work.rows) {
        put(row);
        heads.set(device, row.hash);
      }
      for (const sound of work.sounds ?? []) putSound(sound);
      for (const recording of work.erase ?? []) sounds.delete(recording);
    },
    async take(incoming, head) {
      for (const row of incoming) if (!ids.has(row.id)) put(row);
      if (head !== undefined) heads.set(head.device, head.hash);
    },
    async takeSound(incoming) {
      for (const sound of incoming) putSound(sound);
    },
    async rows(by) {
      return [...(by === undefined ? rows : matching(by.index, by.value))];
    },
    async row(id) {
      return ids.get(id);
    },
    async count(index, value) {
      return matching(index, value).length;
    },
    async newest() {
      return rows.at(-1);
    },
    async latest(index, value) {
      return matching(index, value).at(-1);
    },
    async digests() {
      return [...digests.values()];
    },
    async derived(kind) {
      return new Map(derived.get(kind));
    },
    async keepDerived(kind, values) {
      derived.set(kind, new Map([...(derived.get(kind) ?? []), ...values]));
    },
    async sounds(recording) {
      return [...(sounds.get(recording)?.values() ?? [])]
        .sort((a, b) => a.chunk - b.chunk)
        .map((s) => ({ ...s, data: s.data.slice(0) }));
    },
    async soundSizes() {
      return [...sounds.values()].flatMap((chunks) =>
        [...chunks.values()].map((s) => ({
          recording: s.recording,
          chunk: s.chunk,
          bytes: s.data.byteLength,
        })),
      );
    },
    async putCatalogue(edition, catalogue) {
      catalogues.set(edition, JSON.stringify(catalogue));
    },
    async catalogue(edition) {
      const text = catalogues.get(edition);
      return text === undefined ? undefined : (JSON.parse(text) as Catalogue);
    },
    async editions() {
      return [...catalogues.keys()].sort();
    },
    async note<K extends keyof Notes & string>(name: K) {
      return notes.get(name) as Notes[K] | undefined;
    },
    async noteOnce<K extends keyof Notes & string>(name: K, value: Notes[K]) {
      if (!notes.has(name)) notes.set(name, value);
      return notes.get(name) as Notes[K];
    },
    async setNote(name, value) {
      notes.set(name, value);
    },
    close() {
      // Nothing is open.
    },
  };
}
