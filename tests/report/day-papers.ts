import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { squawksOf } from '#reconcile';
import type { Paper } from '#screens';
import { houseFor, testWorld } from '../wire/house.ts';
import { WORK } from './squawk.ts';

/*
 * Every PDF of a day from sample walks, through the whole house, to be looked at:
 *   node tests/load.mjs tests/report/day-papers.ts FOLDER
 */

export const AIRCRAFT = 'Rowan 2';

/** People whose letters no Latin-1 font has. */
export const PILOT = 'Łukasz Żak';
export const INSTRUCTOR = 'Ελένη Юлия';

export interface DayPaper {
  readonly name: string;
  readonly bytes: Uint8Array;
}

const KINDS: readonly Paper[] = ['sheet-pdf', 'debrief-pdf', 'form-pdf'];

/** @param walks file names in seeds/walks, with the catalogue of each */
export async function dayPapers(
  size: 'a4' | 'letter',
  walks: readonly (readonly [file: string, catalogue: string])[] = [
    ['three-findings.txt', 'training-helicopter'],
  ],
): Promise<DayPaper[]> {
  const { house, store } = await houseFor(testWorld('2026-03-01T08:00:00Z'));
  house.change({ paper: size });
  const out: DayPaper[] = [];
  const keep = async (name: string, made: Awaited<ReturnType<typeof house.paper>>) => {
    if (!made.ok) throw new Error(made.error);
    out.push({ name, bytes: new Uint8Array(await made.value.blob.arrayBuffer()) });
  };
  for (const [file, catalogue] of walks) {
    const brought = await house.bringIn(
      new File([readFileSync(`seeds/walks/${file}`)], file),
      {
        aircraft: AIRCRAFT,
        catalogue,
        pilot: PILOT,
        instructor: INSTRUCTOR,
        hours: 1204.5,
        begun: Date.parse('2026-02-14T09:30:00Z'),
      },
      () => undefined,
    );
    if (!brought.ok) throw new Error(brought.error);
    const walk = brought.value.walk ?? '';
    for (const kind of KINDS) await keep(`${file}-${kind}`, await house.paper(walk, kind));
  }
  const [first, second] = squawksOf(await store.squawkEvents());
  if (first !== undefined) await house.squawkStep(first.id, WORK);
  if (second !== undefined)
    await house.squawkStep(second.id, {
      step: 'deferred',
      by: 'B. Ash',
      authority: 'list 4',
      untilDate: '2026-04-20',
      untilHours: null,
      untilFlights: null,
      placarded: true,
      note: null,
    });
  await keep('squawks', await house.squawkPaper(AIRCRAFT, 'pdf'));
  return out;
}

const ALL: Parameters<typeof dayPapers>[1] = [
  ['three-findings.txt', 'training-helicopter'],
  ['instructor-teaching.srt', 'training-helicopter'],
  ['inspector.srt', 'appendix-d'],
];

export async function main([folder = 'papers']: readonly string[]): Promise<void> {
  mkdirSync(folder, { recursive: true });
  for (const size of ['a4', 'letter'] as const)
    for (const { name, bytes } of await dayPapers(size, ALL))
      writeFileSync(join(folder, `${name}-${size}.pdf`), bytes);
}
