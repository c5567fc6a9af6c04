/**
 * Writers say in their own words what form a walk has ("unpunctuated, teaching").
 * For a row of its own each walk goes to the first family that its form names:
 * what the walk is comes before how it is spoken.
 */
const FAMILIES: readonly (readonly [string, RegExp])[] = [
  ['teaching', /teach|camera|lectur|lesson|explain|reading aloud|horror/],
  ['pair', /pair|crew|challenge|take-over|handover|answer|exam|quiz|told off|prompting/],
  ['dictation', /dictat|comparing/],
  ['disfluent', /disfluent|interrupt|hurried|shaken/],
  ['run-on', /run-on|running|long/],
  ['chatty', /chat|stor(y|ies)|remembering|easy/],
  ['terse', /brisk|terse|clipped|laconic|shorthand|working|formal|precise|tidy/],
  ['other tongue', /second language|tongue/],
  ['unpunctuated', /unpunctuated/],
];

/** The family of a walk's form, for the rows by form. */
export function familyOf(form: string): string {
  const plain = form.toLowerCase();
  return FAMILIES.find(([, words]) => words.test(plain))?.[0] ?? 'other';
}
