import { expect, test } from 'vitest';
import { believed, phrasebookOf } from '#shared/phrasebook';
import type { Event, Happening } from '#shared/event';
import type { Catalogue } from '#shared/catalogue';
import { memoryStore } from '#store';
import { starters } from '#seeds';
import { editionOf } from '#catalogue';
import { countingWorld, drafting } from '../store/help.ts';
import { houseFor, testWorld } from './house.ts';

/* Issue 14: what a stranger's file may not do to walks that are still to come. */

/** A backup of somebody else: one walk by another edition of a catalogue that is here. */
async function theirBackup(version: number): Promise<File> {
  const [starter] = starters();
  if (starter === undefined) throw new Error('No starter.');
  const catalogue = {
    ...starter.catalogue,
    version,
    stations: starter.catalogue.stations.slice(0, 1),
  } as Catalogue;
  const edition = editionOf(catalogue);
  const world = countingWorld(700);
  const store = await memoryStore(world, { device: 'stranger' });
  await store.keepCatalogue(edition, JSON.parse(JSON.stringify(catalogue)) as Catalogue);
  const walk = world.id();
  const { begun } = drafting(world, walk);
  const first = begun();
  if (first.what.kind !== 'walk-begun') throw new Error('Not begun.');
  await store.append([{ ...first, what: { ...first.what, catalogue: catalogue.id, edition } }]);
  return new File([(await store.backup()).file], 'theirs.zip');
}

test('R1 14 an edition with fewer checks, in a stranger’s backup, is not what the next walk begins with', async () => {
  const { house } = await houseFor(testWorld('2026-03-01T08:00:00Z'));
  const [mine] = house.choices.get().catalogues;
  const restored = await house.restore(await theirBackup(999), () => undefined);
  expect(restored.ok && restored.value.text).toContain('none begins with it');
  const after = house.choices.get().catalogues.find((c) => c.id === mine?.id);
  expect(after?.edition).toBe(mine?.edition);
  expect(after?.checks).toBe(mine?.checks);
});

test('R1 R4 14 what a stranger’s events teach makes nothing good, harmless or milder; what they call a fault is asked about', () => {
  const event = (n: number, device: string, what: Happening): Event => ({
    v: 1,
    id: `e${n}`,
    device,
    walk: null,
    aircraft: 'R-102',
    at: n,
    t: null,
    prev: null,
    hash: '',
    what,
  });
  const learned = (n: number, device: string, means: Record<string, unknown>) =>
    event(n, device, {
      kind: 'learned',
      learned: { id: `l${n}`, phrase: `words ${n}`, means, speaker: 'P. Heron', from: 's' },
    } as Happening);
  const events = [
    learned(1, 'mine', { is: 'good', check: 'belts' }),
    learned(2, 'stranger', { is: 'good', check: 'belts' }),
    learned(3, 'stranger', { is: 'nothing' }),
    learned(4, 'stranger', { is: 'check', check: 'belts' }),
    learned(5, 'stranger', { is: 'meant', check: 'belts', good: true }),
    learned(6, 'stranger', {
      is: 'severity',
      check: 'belts',
      condition: 'crack',
      degree: null,
      count: null,
      size: null,
      severity: 'note',
    }),
    learned(7, 'stranger', { is: 'bad' }),
    learned(8, 'mine', { is: 'bad' }),
    event(9, 'stranger', { kind: 'unlearned', learned: 'l8' }),
  ];
  const lines = phrasebookOf(believed(events, 'mine'), 'R-102', 'P. Heron');
  expect(lines.map((l) => l.id)).toEqual(['l1', 'l7', 'l8']);
});
