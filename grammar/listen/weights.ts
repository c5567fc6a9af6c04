import { signsOf, type Catalogue } from '#shared/catalogue';

/** A check set aside by mistake is not asked for again; one that has to be set aside twice costs a breath. */
export const UNFITTED = 0.001;

/** Likelihoods of what follows, set by hand from the sample walks' habits; the sums need not be 1. */
export const RESULT = {
  be: 0.25,
  general: 0.35,
  condition: 0.06,
  degree: 0.01,
  article: 0.02,
  absent: 0.12,
};
export const START = {
  name: 0.45,
  the: 0.3,
  talk: 0.05,
  everything: 0.03,
  now: 0.04,
  skip: 0.01,
  it: 0.02,
  order: 0.06,
  squawk: 0.02,
  loop: 0.1,
  end: 0.01,
};

/** How often the name is said as an owner ("the belt's good"), beside 1 for the plain name. */
export const OWNER = 0.6;

/**
 * How much likelier the condition is that most of this catalogue's checks are looked at for; a
 * rare word taken for a common one is asked about, the other way round it sounds absurd. With the
 * same for all that one check in sixteen is looked at for, "good" came out as "pitted".
 */
const LOOKED_FOR = 6;

/** Weight of each condition beside 1 for one that no check of the catalogue is looked at for. */
export function conditionWeights(catalogue: Catalogue): (condition: string) => number {
  const checks = catalogue.stations.flatMap((s) => s.checks);
  const count = new Map<string, number>();
  for (const check of checks) {
    const own = new Set([
      ...signsOf(catalogue, check).flatMap((sign) => sign.conditions),
      ...check.aspects.flatMap((aspect) => aspect.conditions),
    ]);
    for (const condition of own) count.set(condition, (count.get(condition) ?? 0) + 1);
  }
  const most = Math.max(1, ...count.values());
  return (condition) => 1 + (LOOKED_FOR - 1) * ((count.get(condition) ?? 0) / most);
}

type Group = Readonly<Record<string, number>>;

export function scaled(group: Group, by: number): Record<string, number> {
  return Object.fromEntries(Object.entries(group).map(([hub, p]) => [hub, p * by]));
}

/** What follows what, but for names, which each have a group of their own. */
export function following(result: Group): Record<string, Group> {
  const afterFinding = { at: 0.08, place: 0.1, severity: 0.1 };
  return {
    start: { ...scaled(result, 0.2), severity: 0.02, value: 0.03, ...START },
    names: { name: 1 },
    squawked: { name: 0.4, the: 0.5, condition: 0.1 },
    result,
    measured: { ...result, value: 0.6, step: 0.3 },
    joined: { ...scaled(START, 0.5), ...result, it: 0.15 },
    'after-be': { ...result, article: 0.1 },
    'after-article': { degree: 0.3, condition: 0.7 },
    'after-degree': { condition: 1 },
    'after-no': { condition: 1 },
    'after-number': { unit: 0.8, ...scaled(START, 0.05), join: 0.05, end: 0.3 },
    'after-at': { name: 0.3, the: 0.7 },
    more: {
      ...scaled(START, 0.2),
      ...scaled(result, 0.25),
      join: 0.1,
      ...afterFinding,
      end: 0.5,
    },
    last: { ...scaled(START, 0.3), severity: 0.1, place: 0.05, end: 0.5 },
    station: { station: 1 },
    'station-or-name': { station: 0.5, name: 0.4, the: 0.2 },
    'after-station': { be: 0.5, general: 0.4, ...scaled(START, 0.1), end: 0.5 },
    answered: { end: 1 },
    command: { command: 1, loop: 0.1 },
    commanded: { end: 1 },
  };
}

/** Groups without the hubs that nothing was said for. */
export function existing(
  groups: Readonly<Record<string, Group>>,
  hubs: Readonly<Record<string, unknown>>,
): Record<string, Group> {
  const there = (hub: string) => hub === 'end' || hub === 'loop' || hub in hubs;
  return Object.fromEntries(
    Object.entries(groups).map(([name, group]) => [
      name,
      Object.fromEntries(Object.entries(group).filter(([hub]) => there(hub))),
    ]),
  );
}
