import { expect, test } from 'vitest';
import { parseCatalogue } from '#catalogue';
import { CATALOGUES } from '#seeds';
import { instancesOf, signsOf, type Check } from '#shared/catalogue';

/**
 * 14 CFR Part 43, Appendix D, "Scope and Detail of Items (as Applicable to the
 * Particular Aircraft) To Be Included in Annual and 100-Hour Inspections", a US
 * Government work. Group headings and items carried here by their subject and
 * the faults that are looked for. Marks: [R] the wording was read; [r] read in
 * a paraphrase only; [M] from memory, to be verified on eCFR.
 */
const GROUPS: Readonly<Record<string, string>> = {
  a: 'inspection plates, access doors, fairing, cowling; cleaning', // [R]
  b: 'fuselage and hull group',
  c: 'cabin and cockpit group',
  d: 'engine and nacelle group',
  e: 'landing gear group',
  f: 'wing and center section assembly',
  g: 'empennage assembly',
  h: 'propeller group',
  i: 'radio group',
  j: 'each installed miscellaneous item',
};

/** Item, words of its subject that the check has to carry, and conditions that have to be signs of it. */
const ITEMS: readonly (readonly [string, string, string])[] = [
  ['(b)(1)', 'fabric skin', 'bent loose broken'], // [M/r]
  ['(b)(2)', 'systems components', 'incorrect inoperative'], // [R]
  ['(b)(3)', 'envelope gas bags ballast tanks', 'damage'], // [M]
  ['(c)(1)', 'generally', 'dirty loose'], // [R]
  ['(c)(2)', 'seats safety belts', 'damage broken'], // [R]
  ['(c)(3)', 'windows windshields', 'damage crack'], // [R]
  ['(c)(4)', 'instruments', 'loose unreadable inoperative'], // [M/r]
  ['(c)(5)', 'flight engine controls', 'incorrect inoperative'], // [R]
  ['(c)(6)', 'batteries', 'incorrect low'], // [R]
  ['(c)(7)', 'systems', 'incorrect damage loose'], // [R]
  ['(d)(1)', 'engine section', 'leak'], // [M/r]
  ['(d)(2)', 'studs nuts', 'loose'], // [R]
  ['(d)(3)', 'internal engine cylinder compression', 'contaminated'], // [M/r]
  ['(d)(4)', 'engine mount', 'crack loose'], // [M/r]
  ['(d)(5)', 'flexible vibration dampeners', 'damage'], // [M/r]
  ['(d)(6)', 'engine controls', 'unlocked inoperative'], // [M/r]
  ['(d)(7)', 'lines hoses clamps', 'leak damage loose'], // [R]
  ['(d)(8)', 'exhaust stacks', 'crack loose'], // [M/r]
  ['(d)(9)', 'accessories', 'loose'], // [M]
  ['(d)(10)', 'systems', 'incorrect damage loose'], // [M]
  ['(d)(11)', 'cowling', 'crack'], // [M/r]
  ['(e)(1)', 'units', 'damage loose'], // [R]
  ['(e)(2)', 'shock absorbing devices', 'low'], // [R]
  ['(e)(3)', 'linkages trusses members', 'wear bent'], // [R]
  ['(e)(4)', 'retracting locking mechanism', 'inoperative'], // [R]
  ['(e)(5)', 'hydraulic lines', 'leak'], // [R]
  ['(e)(6)', 'electrical system', 'chafing inoperative'], // [R]
  ['(e)(7)', 'wheels bearings', 'crack rough'], // [R]
  ['(e)(8)', 'tires', 'wear cut'], // [R]
  ['(e)(9)', 'brakes', 'incorrect'], // [R]
  ['(e)(10)', 'floats skis', 'loose'], // [R]
  ['(f)', 'wings center section components', 'damage bent broken loose'], // [R]
  ['(g)', 'components systems', 'damage bent broken loose incorrect inoperative'], // [R]
  ['(h)(1)', 'propeller assembly', 'crack nick stiff leak'], // [R]
  ['(h)(2)', 'bolts', 'loose unlocked'], // [R]
  ['(h)(3)', 'anti icing devices', 'inoperative'], // [R]
  ['(h)(4)', 'control mechanisms', 'inoperative loose'], // [R]
  ['(i)(1)', 'radio electronic equipment', 'incorrect loose'], // [R]
  ['(i)(2)', 'wiring conduits', 'incorrect loose broken'], // [R]
  ['(i)(3)', 'bonding shielding', 'incorrect damage'], // [M]
  ['(i)(4)', 'antenna trailing antenna', 'damage loose inoperative'], // [M]
  ['(j)', 'installed miscellaneous items', 'incorrect inoperative'], // [M]
];

function appendixD() {
  const seed = CATALOGUES.find((c) => c.name === 'appendix-d');
  const read = parseCatalogue(seed?.text ?? '', 'appendix-d.yaml');
  if (!read.ok) throw new Error(read.problems.map((p) => p.text).join('\n'));
  return read.catalogue;
}
const catalogue = appendixD();
const checks = catalogue.stations.flatMap((s) => s.checks);
const sourceOf = (item: string): string => `14 CFR 43 Appendix D ${item}`;

function only(item: string): Check {
  const found = checks.filter((check) => check.source === sourceOf(item));
  const check = found[0];
  if (check === undefined || found.length > 1)
    throw new Error(`${found.length} checks for ${item}`);
  return check;
}

test('14 CFR 43 Appendix D: the groups (a) to (j), each a station, in the order of the regulation', () => {
  expect(catalogue.stations.map((s) => s.id)).toEqual(Object.keys(GROUPS));
});

test('14 CFR 43 Appendix D: each item is one check of its group, and nothing else is', () => {
  const listed = new Set(['(a)', ...ITEMS.map(([item]) => item)].map(sourceOf));
  expect(new Set(checks.map((check) => check.source))).toEqual(listed);
  for (const station of catalogue.stations) {
    for (const check of station.checks) {
      expect(check.source).toContain(`Appendix D (${station.id})`);
      expect(check).toMatchObject({ required: 'always', blanket: false });
      expect(instancesOf(check)).toEqual(['once']);
    }
  }
  expect(checks.filter((check) => check.source === sourceOf('(a)'))).toHaveLength(2);
});

test.each(ITEMS)(
  '14 CFR 43 Appendix D %s: is about %s and looks for %s',
  (item, words, conditions) => {
    const check = only(item);
    const said = [check.name, ...check.say].join(' ').toLowerCase().replace(/-/g, ' ');
    for (const word of words.split(' ')) expect(said).toContain(word);
    const looked = signsOf(catalogue, check).flatMap((sign) => sign.conditions);
    for (const condition of conditions.split(' ')) expect(looked).toContain(condition);
  },
);
