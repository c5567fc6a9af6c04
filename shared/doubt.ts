import { isFinding } from './abnormal.ts';
import type { Catalogue } from './catalogue.ts';
import { placeOf } from './names.ts';
import type { Observation } from './statement.ts';

/**
 * Whether what is open about an observation may wait until its station is left. Only what
 * decides about a finding is worth a breath at once; a good that is unsure, or whose plural
 * does not say how many, does not count meanwhile and is asked about with the others in one
 * go. The cost of waiting is a look back; the cost of asking is an interruption of the act.
 */
export function canWait(catalogue: Catalogue, said: Observation): boolean {
  if (said.force !== 'result' || said.about.kind !== 'check') return false;
  if (said.values.some((v) => v.trouble !== null) || said.compared !== null) return false;
  const ill = said.conditions.some((c) => c.present) || said.verdict?.good === false;
  if (ill || said.verdict?.good !== true || said.verdict.actOnly) return false;
  const check = placeOf(catalogue, said.about.check)?.check ?? null;
  // A mandatory safety item waits for nothing.
  if (check === null || check.mandatory === true) return false;
  if (isFinding(catalogue, check, said)) return false;
  return said.doubtful !== null || isOpenPlural(catalogue, said);
}

/** "Brake lines good", of several that have to be counted or named (R5). */
export function isOpenPlural(catalogue: Catalogue, said: Observation): boolean {
  if (said.about.kind !== 'check' || said.about.which.how !== 'plural') return false;
  const repeat = placeOf(catalogue, said.about.check)?.check.repeat;
  return repeat !== undefined && !repeat.plural && repeat.instances.length > 1;
}
