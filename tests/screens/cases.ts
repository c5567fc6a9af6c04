import type { Catalogue } from '#shared/catalogue';
import { parseCatalogue } from '#catalogue';
import { CATALOGUES } from '#seeds';
import type { Plot } from './made.ts';

/** A starter catalogue by name. Throws when the seeds do not have it. */
export function catalogueOf(name: string): Catalogue {
  const seed = CATALOGUES.find((c) => c.name === name);
  if (seed === undefined) throw new Error(`There is no starter catalogue "${name}".`);
  const parsed = parseCatalogue(seed.text, seed.file);
  if (!parsed.ok) throw new Error(parsed.problems.map((p) => p.text).join('\n'));
  return parsed.catalogue;
}

/** A walk with everything in it: a skipped check, a half-said one, a contradiction, three findings. */
export const EVENTFUL: Partial<Plot> = {
  skip: new Set(['flex-coupling', 'strobe']),
  half: new Set(['boom-skin', 'oil-lines']),
  contradicted: new Set(['torque-stripes']),
  found: new Map([
    ['boom-skin', ['dent', 'a dent on the left side, watch it', 'watch']],
    ['oil-lines', ['chafed', 'oil line chafed through to the braid, ground it', 'ground']],
    ['landing-light', ['cracked', 'landing light lens cracked, defer it', 'defer']],
  ]),
  aside: new Map([['aux-tank', 'it is not fitted']]),
};

/** One skipped check in a walk that is otherwise whole. */
export const ONE_SKIPPED: Partial<Plot> = { skip: new Set(['elevator-hinges']) };

/** Half way round. */
export const HALF_WAY: Partial<Plot> = {
  ...EVENTFUL,
  until: 58,
  finished: false,
  signed: false,
};

/** A sign of a hard landing, found on the way to the tail: it demands checks that lie elsewhere. */
export const HARD_LANDING: Partial<Plot> = {
  ...HALF_WAY,
  until: 78,
  found: new Map([
    ['boom-underside', ['boom-ripple', 'ripple in the boom underneath, ground it', 'ground']],
  ]),
};
