import { ZipWriter, BlobWriter, Uint8ArrayReader } from '@zip.js/zip.js/index-native.js';
import { Catalogue } from '#shared/catalogue';
import type { Event } from '#shared/event';
import { memoryStore, type Store } from '#store';
import { canonical, sha256Hex } from '../../../src/store/canonical.ts';
import { editionOf } from '../../../src/store/catalogues.ts';
import { signManifest, type Manifest, type ManifestEntry } from '../../../src/store/manifest.ts';
import type { SealKey } from '../../../src/store/seal.ts';
import { verifyEvents } from '../../../src/store/verify.ts';
import { forger, oldWalk } from '../../store/attack.ts';
import { AIRCRAFT, countingWorld, drafting } from '../../store/help.ts';

/** An honest file, and what is in it, for an attacker to work on. */
export interface Specimen {
  readonly name: string;
  readonly walk: string;
  /** Device that made the walk. */
  readonly device: string;
  /** Device that it let in; left out: none. */
  readonly guest?: string;
  readonly file: Uint8Array<ArrayBuffer>;
  readonly parts: Parts;
  /** The record on the device that made the walk. */
  readonly owner: Store;
}

export interface Parts {
  readonly events: readonly unknown[];
  readonly catalogue: Catalogue;
  readonly edition: string;
  readonly sounds: readonly { recording: string; chunk: number; data: Uint8Array<ArrayBuffer> }[];
  readonly device: string;
  readonly made: number;
}

const CATALOGUE = Catalogue.parse({
  v: 1,
  id: 'small-helicopter',
  name: 'Small helicopter',
  kind: 'helicopter',
  stations: [
    {
      id: 'mast',
      name: 'Mast',
      place: { x: 50, y: 40 },
      checks: [
        { id: 'drive-belts', name: 'Drive belts', aspects: ['condition', 'slack'] },
        { id: 'brake-line', name: 'Brake line', repeat: ['left', 'right'] },
      ],
    },
  ],
});
const EDITION = editionOf(JSON.parse(JSON.stringify(CATALOGUE)));

interface Made {
  readonly store: Store;
  readonly walk: string;
  readonly guest?: string;
}

/** @param inBetween what happens between the last word and the signature */
async function maker(
  seed: number,
  inBetween?: (store: Store, walk: string) => Promise<void>,
): Promise<Made> {
  const world = countingWorld(seed);
  const store = await memoryStore(world);
  await store.keepCatalogue(EDITION, CATALOGUE);
  const walk = world.id();
  const { draft, begun, said, finished } = drafting(world, walk);
  const first = begun();
  if (first.what.kind !== 'walk-begun') throw new Error('not begun');
  const recording = `rec-${seed}`;
  await store.append([
    { ...first, what: { ...first.what, catalogue: CATALOGUE.id, edition: EDITION } },
    said('belts good', recording),
  ]);
  await store.keepSound({
    walk,
    aircraft: AIRCRAFT,
    t: 0,
    recording,
    chunk: 0,
    place: { recording, from: 0, to: 2 },
    mime: 'audio/wav',
    data: Uint8Array.from({ length: 48 }, (_, i) => (i * 7) % 256).buffer,
  });
  await store.append([said('a crack at the upper bearing')]);
  await inBetween?.(store, walk);
  await store.append([finished()]);
  await store.append([
    draft({ kind: 'decided', decision: 'ground', by: 'P. Heron', authority: null, note: null }),
  ]);
  await store.append([draft({ kind: 'signed', name: 'P. Heron', certificate: null })]);
  return { store, walk };
}

/** Reviews by the device itself and by another one. */
async function reviewed(seed: number): Promise<Made> {
  const { store, walk } = await maker(seed);
  const school = await memoryStore(countingWorld(seed + 40));
  await school.merge(await store.all());
  const review = (at: number, by: string, standing: 'spoken' | 'unspoken') =>
    drafting(countingWorld(at), walk).draft({
      kind: 'reviewed',
      by,
      note: '',
      of: { kind: 'standing', check: 'drive-belts', standing },
    });
  await school.append([review(seed + 41, 'I. Structor', 'unspoken')]);
  await school.append([review(seed + 42, 'I. Structor', 'spoken')]);
  await store.merge(await school.all());
  await store.append([review(seed + 43, 'P. Heron', 'unspoken')]);
  return { store, walk };
}

/** A second device was let in and added to the walk; a note came after the signature. */
async function shared(seed: number): Promise<Made> {
  const other = countingWorld(seed + 50);
  const second = await memoryStore(other);
  const made = await maker(seed, async (store, walk) => {
    const { draft } = drafting(countingWorld(seed + 51), walk);
    await store.append([
      draft({
        kind: 'let-in',
        device: second.device,
        publicKey: await second.publicKey(),
        by: 'P. Heron',
      }),
    ]);
    await second.merge(await store.all());
    const { said } = drafting(other, walk);
    await second.append([said('brake line left good'), said('a crack at the left brake line')]);
    await second.seal(walk);
    await store.merge(await second.all());
  });
  const { draft } = drafting(countingWorld(seed + 52), made.walk);
  await made.store.append([draft({ kind: 'amendment', by: 'P. Heron', note: 'The left one.' })]);
  return { ...made, guest: second.device };
}

async function partsOf(store: Store): Promise<Parts> {
  const events = await store.all();
  const sounds = (
    await Promise.all((await store.recordings()).map((r) => store.sound(r.recording)))
  )
    .flatMap((s) => s.chunks)
    .map(({ recording, chunk, data }) => ({ recording, chunk, data: new Uint8Array(data) }));
  return {
    events,
    catalogue: CATALOGUE,
    edition: EDITION,
    sounds,
    device: store.device,
    made: Date.UTC(2026, 0, 6),
  };
}

async function specimen(name: string, make: () => Promise<Made>): Promise<Specimen> {
  const { store, walk, guest } = await make();
  const { file } = await store.backup();
  return {
    name,
    walk,
    device: store.device,
    ...(guest === undefined ? {} : { guest }),
    file: new Uint8Array(await file.arrayBuffer()),
    parts: await partsOf(store),
    owner: store,
  };
}

/** Walks alone, with reviews, with a second device that was let in, and as older versions wrote them. */
export async function specimens(): Promise<readonly Specimen[]> {
  const alone = await specimen('alone', () => maker(1));
  const old = await oldWalk(alone.parts.events as readonly Event[], (await forger(3)).key);
  const oldParts = { ...alone.parts, events: old };
  return [
    alone,
    await specimen('reviewed', () => reviewed(2)),
    await specimen('shared', () => shared(4)),
    { ...alone, name: 'older', parts: oldParts, file: await pack(oldParts, { kind: 'old' }) },
  ];
}

/** How the list in a file is made after something was changed. */
export type Mending =
  /** As the older versions wrote it: nothing is signed. */
  | { readonly kind: 'old' }
  /** All of it new, signed by this key. */
  | { readonly kind: 'signed'; readonly key: SealKey; readonly device?: string };

/** Packs a file as the app does it, list and all. */
export async function pack(parts: Parts, mending: Mending): Promise<Uint8Array<ArrayBuffer>> {
  const zip = new ZipWriter(new BlobWriter('application/zip'), {
    level: 0,
    useWebWorkers: false,
    lastModDate: new Date(parts.made),
  });
  const entries: ManifestEntry[] = [];
  const put = async (path: string, data: Uint8Array) => {
    await zip.add(path, new Uint8ArrayReader(data));
    return { path, bytes: data.length, sha256: sha256Hex(data) };
  };
  const text = parts.events.map((e) => canonical(e)).join('\n');
  const encoded = new TextEncoder();
  entries.push({
    kind: 'events',
    ...(await put('events/all-001.jsonl', encoded.encode(`${text}\n`))),
  });
  entries.push({
    kind: 'catalogue',
    edition: parts.edition,
    ...(await put(
      `catalogues/${parts.edition}.json`,
      encoded.encode(canonical(JSON.parse(JSON.stringify(parts.catalogue)))),
    )),
  });
  for (const { recording, chunk, data } of parts.sounds)
    entries.push({
      kind: 'sound',
      recording,
      chunk,
      from: 0,
      to: 2,
      mime: 'audio/wav',
      ...(await put(`sound/${recording}/${String(chunk).padStart(6, '0')}.wav`, data)),
    });
  const chains = [...verifyEvents(parts.events).chains];
  const plain: Manifest = {
    format: 'talkround-backup',
    v: 1,
    made: parts.made,
    device: mending.kind === 'signed' ? (mending.device ?? parts.device) : parts.device,
    entries,
    chains,
  };
  const manifest =
    mending.kind === 'old'
      ? plain
      : await signManifest(
          { ...plain, walks: walksIn(parts.events), without: [] },
          mending.key,
          null,
        );
  await put('talkround.json', encoded.encode(`${JSON.stringify(manifest, null, 1)}\n`));
  return new Uint8Array(await (await zip.close()).arrayBuffer());
}

function walksIn(events: readonly unknown[]): NonNullable<Manifest['walks']> {
  const counts = new Map<string, { walk: string; device: string; events: number }>();
  for (const { walk, device } of events as readonly Event[]) {
    if (walk === null) continue;
    const there = counts.get(`${walk} ${device}`);
    counts.set(`${walk} ${device}`, { walk, device, events: (there?.events ?? 0) + 1 });
  }
  return [...counts.values()];
}
