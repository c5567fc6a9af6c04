import { isErasure } from '#shared/kept';
import { heldRow } from '../reading.ts';
import { ASIDE, type Row, type Shelf } from '../shelf.ts';
import { BESIDE, type Held } from './held.ts';
import { judgeWalk, type JudgeOptions, type Judged } from './judge.ts';
import { guestsOf } from './members.ts';
import type { Known } from './keys.ts';
import { poolOf } from './pool.ts';

/** A walk on this device's record, judged. */
export async function judgeHere(
  shelf: Shelf,
  walk: string,
  known: Known,
  options?: JudgeOptions,
): Promise<Judged> {
  return judgeWalk(walk, poolOf((await rowsAround(shelf, walk)).map(heldRow)), known, options);
}

/**
 * The rows of a walk, those set aside as well, and as much of the chains of its
 * devices as is needed to see what follows what.
 */
export async function rowsAround(shelf: Shelf, walk: string): Promise<readonly Row[]> {
  const [here, aside] = await Promise.all([
    shelf.rows({ index: 'walk', value: walk }),
    shelf.rows({ index: 'walk', value: `${ASIDE}${walk}` }),
  ]);
  const rows = [...here, ...aside];
  const hashes = new Set(rows.map((row) => row.hash));
  const begun = rows.filter((row) => isBeginning(row)).map((row) => plain(row.device));
  const devices = new Set([...begun, ...guestsOf(rows.filter(isLetIn).map(heldRow)).keys()]);
  const gaps = rows.filter(
    (row) =>
      row.prev !== null &&
      !hashes.has(row.prev) &&
      !isBeginning(row) &&
      devices.has(plain(row.device)) &&
      !farOff(plain(row.kind)),
  );
  // Only then, because a device's whole log is long.
  const between = [...new Set(gaps.map((row) => plain(row.device)))].flatMap((device) => [
    shelf.rows({ index: 'device', value: device }),
    shelf.rows({ index: 'device', value: `${ASIDE}${device}` }),
  ]);
  const more = (await Promise.all(between)).flat();
  return [...rows, ...more.filter((row) => plain(row.walk ?? '') !== walk)];
}

const plain = (value: string) => (value.startsWith(ASIDE) ? value.slice(ASIDE.length) : value);
const isLetIn = (row: Row) => row.kind === 'let-in';
const isBeginning = (row: Row) => plain(row.kind) === 'walk-begun';
/** Written long after the walk as a rule: what lies between does not matter to it. */
const farOff = (kind: string) => BESIDE.has(kind) || kind === 'sealed' || isErasure(kind);

/** Rows of these devices and walks, for judging what arrives beside them. */
export function heldAround(
  rows: readonly Row[],
  devices: ReadonlySet<string>,
  walks: ReadonlySet<string>,
): readonly Held[] {
  return rows
    .filter((row) => devices.has(plain(row.device)) || walks.has(plain(row.walk ?? '')))
    .map(heldRow);
}
