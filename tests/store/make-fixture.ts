import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Happening } from '#shared/event';
import { Catalogue } from '#shared/catalogue';
import { memoryStore } from '#store';
import { editionOf } from '../../src/store/catalogues.ts';
import { BackupFormat } from '../../src/store/manifest.ts';
import { AIRCRAFT, countingWorld, drafting } from './help.ts';

/**
 * Writes the backup of the current format that the tests restore ever after:
 *   node tests/load.mjs tests/store/make-fixture.ts
 * Run once for each format, when BackupFormat.version or the version of an
 * event is raised. Old fixtures are never written again.
 */
export async function main(): Promise<number> {
  const world = countingWorld(11);
  const store = await memoryStore(world, { device: 'first-phone' });
  const catalogue = Catalogue.parse({
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
  const edition = editionOf(JSON.parse(JSON.stringify(catalogue)));
  await store.keepCatalogue(edition, catalogue);
  const walk = world.id();
  const { draft, begun, said, finished } = drafting(world, walk);
  const first = begun({ pilot: 'P. Heron', instructor: 'A. Wren' });
  if (first.what.kind !== 'walk-begun') return 1;
  await store.append([
    { ...first, what: { ...first.what, edition, circumstances: ['first-flight'], hours: 1204.5 } },
    said('belts good', 'walk-sound', 'P. Heron'),
  ]);
  for (const chunk of [0, 1])
    await store.keepSound({
      walk,
      aircraft: AIRCRAFT,
      t: chunk * 2,
      recording: 'walk-sound',
      chunk,
      place: { recording: 'walk-sound', from: chunk * 2, to: chunk * 2 + 2 },
      mime: 'audio/wav',
      data: Uint8Array.from({ length: 64 }, (_, i) => (i * 7 + chunk) % 256).buffer,
    });
  const rest: Happening[] = [
    { kind: 'station-set', station: 'mast' },
    { kind: 'held', why: 'interrupted' },
    { kind: 'resumed' },
    { kind: 'circumstance-set', circumstance: 'cold', holds: true },
  ];
  await store.append([...rest.map((what) => draft(what)), said('left brake line chafed')]);
  await store.append([
    finished(),
    draft({ kind: 'decided', decision: 'ground', by: 'P. Heron', authority: null, note: null }),
    draft({ kind: 'signed', name: 'P. Heron', certificate: null }),
  ]);
  await store.seal(walk);
  const { file } = await store.backup();
  const name = `./fixtures/backup-${BackupFormat.version}.zip`;
  const path = fileURLToPath(new URL(name, import.meta.url));
  writeFileSync(path, new Uint8Array(await file.arrayBuffer()), { flag: 'wx' });
  console.log(`${path}: ${file.size} bytes`);
  return 0;
}
