import { instancesOf, type Catalogue } from '#shared/catalogue';
import { isOpenPlural } from '#shared/doubt';
import type { Question } from '#shared/question';
import { fitsPrompt, sentence } from '#shared/speech';
import type { Observation } from '#shared/statement';
import { aboutText, checkOf, stationName, stationOf } from './wording.ts';

/* What waited until a station was left, or until somebody asked what is left: in one go. */

/** More than these cannot be told and answered in one breath. */
const MOST_ITEMS = 4;
/**
 * Things that have to wait at a station before leaving it is worth a question. At one, every
 * other station ends with a question about a single thing; that one waits for "what's left" or
 * the end, with others of its kind. The cost is a look back from farther away; meanwhile it
 * does not count (R5).
 */
export const RECAP_FROM = 2;
const COUNTS = ['no', 'one', 'two', 'three', 'four'] as const;

/**
 * "Left wing, two things: both brake lines good, fuel cap good. Right?" A yes makes them good.
 * What waits at several stations is asked about together: "Two things: …".
 */
export function recaps(catalogue: Catalogue, waiting: readonly Observation[]): readonly Question[] {
  const rows: Observation[][] = [];
  for (const said of waiting) {
    const row = rows.at(-1);
    const longer = [...(row ?? []), said];
    const fits =
      labelsOf(catalogue, longer).length <= MOST_ITEMS && fitsPrompt(recapText(catalogue, longer));
    if (row === undefined || !fits) rows.push([said]);
    else row.push(said);
  }
  return rows.flatMap((row): Question[] => {
    const [first] = row;
    if (first === undefined) return [];
    return [
      {
        id: `${first.id}/recap`,
        about: first.id,
        kind: 'recap',
        text: recapText(catalogue, row),
        items: row.map((said) => ({
          statement: said.id,
          label: labelIn(catalogue, said, row),
        })),
        options: ['yes', 'no'].map((label) => ({ label, candidate: null })),
      },
    ];
  });
}

/** How many things these are, by name: what was said twice is told once. */
export const thingsIn = (catalogue: Catalogue, row: readonly Observation[]): number =>
  labelsOf(catalogue, row).length;

const labelsOf = (catalogue: Catalogue, row: readonly Observation[]): readonly string[] => [
  ...new Set(row.map((said) => labelIn(catalogue, said, row))),
];

/** How it is called beside the others: two checks of one name with their stations. */
function labelIn(catalogue: Catalogue, said: Observation, row: readonly Observation[]): string {
  const label = recapLabel(catalogue, said);
  const own = said.about.kind === 'check' ? said.about.check : '';
  const twin = row.some(
    ({ about }, i) =>
      about.kind === 'check' &&
      about.check !== own &&
      recapLabel(catalogue, row[i] ?? said) === label,
  );
  const station = twin ? stationOf(catalogue, own) : null;
  return station === null ? label : `${label} at the ${stationName(catalogue, station)}`;
}

function recapText(catalogue: Catalogue, row: readonly Observation[]): string {
  const names = labelsOf(catalogue, row);
  const stations = new Set(
    row.flatMap((said) =>
      said.about.kind === 'check' ? stationOf(catalogue, said.about.check) : [],
    ),
  );
  const [at] = stations;
  const where =
    stations.size === 1 && typeof at === 'string' ? `${stationName(catalogue, at)}, ` : '';
  const count = `${COUNTS[names.length] ?? names.length} thing${names.length === 1 ? '' : 's'}`;
  return sentence(`${where}${count}: ${names.map((n) => `${n} good`).join(', ')}. Right?`);
}

function recapLabel(catalogue: Catalogue, said: Observation): string {
  const name = aboutText(catalogue, said).toLowerCase();
  if (!isOpenPlural(catalogue, said) || said.about.kind !== 'check') return name;
  const check = checkOf(catalogue, said.about.check);
  const count = check === null ? 0 : instancesOf(check).length;
  return `${count === 2 ? 'both' : `all ${count}`} ${check?.name.toLowerCase() ?? name}`;
}
