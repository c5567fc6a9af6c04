import type { Catalogue } from '#shared/catalogue';
import { aspectsOf } from '../aspects.ts';
import type { CheckEntry } from '../names.ts';
import type { Hubs } from './hubs.ts';
import type { Speller } from './spoken.ts';
import { OWNER } from './weights.ts';

/** Of what follows a name: verdicts of its own aspects, its own words, a value, a step. */
const OWN_VERDICTS = 0.35;
const OWN_WORDS = 0.1;
const OWN_VALUE = 0.3;
const OWN_STEP = 0.2;
/** "Weakest cylinder is …": a measure of more than one word is a name by itself. */
const MEASURE = 0.5;

/** A step of a gauge, such as "at the first knuckle". */
export function stepOf(steps: readonly string[]): string[] {
  return steps.length === 0 ? [] : [`[at | past | to | on] [the] (${steps.join(' | ')})`];
}

/** Kinds of the lexicon that a check's aspects belong to. */
export function kindsAt({ check }: CheckEntry): Set<string> {
  const map = aspectsOf(check);
  return new Set(map.ids.flatMap((id) => [...map.kinds(id)]));
}

/**
 * The names of the reader's checks, each with what may follow it: its own aspects, measures,
 * steps and signs before the words that may be said of anything.
 *
 * @returns for the group behind each name, what is likelier there than elsewhere.
 */
export function addNames(
  hubs: Hubs,
  speller: Speller,
  catalogue: Catalogue,
  checks: readonly CheckEntry[],
): Map<string, Record<string, number>> {
  const after = new Map<string, Record<string, number>>();
  for (const entry of checks) {
    const { check, index } = entry;
    const names = speller.forms(entry.names);
    if (names.length === 0) continue;
    const own = `own-${String(index)}`;
    const group = `name-${String(index)}`;
    const kinds = [...kindsAt(entry)].filter((kind) => hubs.has(`is-${kind}`));
    const then: Record<string, number> = {};
    for (const kind of kinds) then[`is-${kind}`] = OWN_VERDICTS / kinds.length;
    const steps = speller.forms(
      catalogue.gauges
        .filter((g) => check.measures.some((m) => m.gauge === g.id))
        .flatMap((g) => g.steps.flatMap((s) => [s.name, ...s.say])),
    );
    const measures = speller.forms(check.measures.flatMap((m) => [m.name, ...m.say]));
    hubs.add(own, speller.forms(check.aspects.flatMap((a) => [a.name, ...a.say])), 'result');
    hubs.add(own, measures, 'measured');
    hubs.add(own, stepOf(steps), 'more');
    // Signs of the catalogue's own are said in the lexicon's words.
    const signs = check.signs.flatMap((s) => (typeof s === 'string' ? [] : [s.name, ...s.say]));
    hubs.add(own, speller.forms(signs), 'more');
    if (hubs.has(own)) then[own] = OWN_WORDS;
    if (check.measures.length > 0) then['value'] = OWN_VALUE;
    if (steps.length > 0) then['step'] = OWN_STEP;
    after.set(group, then);
    hubs.ranked('name', names, group);
    for (const say of measures.filter((m) => m.includes(' ')))
      hubs.path('name', { say, then: 'measured', weight: MEASURE });
    const owners = names.flatMap((name) => {
      const last = name.split(' ').pop() ?? '';
      return !last.endsWith('s') && speller.sayable(`${last}'s`) ? [`${name}'s`] : [];
    });
    for (const say of owners)
      hubs.path('name', { say, then: group, weight: OWNER / owners.length });
  }
  return after;
}
