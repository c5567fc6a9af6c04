import type { Catalogue, Gauge, Measure, Sign } from '#shared/catalogue';
import { jascName } from './jasc.ts';
import { checksOf } from './names.ts';
import { isPhone } from './phones.ts';
import type { Found, Path } from './problem.ts';
import { isUnit, unknownUnit } from './units.ts';

/** Ids, codes and steps that point at nothing, and limits that cannot be met. */
export function pointers(catalogue: Catalogue): Found[] {
  const checks = checksOf(catalogue);
  const known = {
    checks: new Set(checks.map(({ check }) => check.id)),
    signs: new Set(catalogue.signs.map((sign) => sign.id)),
    gauges: new Map(catalogue.gauges.map((gauge) => [gauge.id, gauge])),
  };
  const ofSign = (sign: Sign, path: Path): Found[] => [
    ...followUps(sign.followUps, [...path, 'followUps'], known.checks),
    ...jasc(sign.jasc, [...path, 'jasc']),
  ];
  return [
    ...catalogue.signs.flatMap((sign, i) => ofSign(sign, ['signs', i])),
    ...checks.flatMap(({ check, path }) => [
      ...jasc(check.jasc, [...path, 'jasc']),
      ...check.signs.flatMap((sign, i) =>
        typeof sign === 'string'
          ? missing(sign, known.signs, [...path, 'signs', i], 'sign under "signs"')
          : ofSign(sign, [...path, 'signs', i]),
      ),
      ...check.measures.flatMap((measure, i) => [
        ...ofMeasure(measure, [...path, 'measures', i], known.gauges),
        ...followUps(measure.followUps, [...path, 'measures', i, 'followUps'], known.checks),
      ]),
      ...Object.entries(check.pronounce).flatMap(([word, phones]) =>
        pronounced(word, phones, [...path, 'pronounce', word]),
      ),
    ]),
  ];
}

function missing(id: string, known: ReadonlySet<string>, path: Path, what: string): Found[] {
  return known.has(id) ? [] : [{ path, text: `There is no ${what} with the id "${id}".` }];
}

function followUps(ids: readonly string[], path: Path, checks: ReadonlySet<string>): Found[] {
  return ids.flatMap((id, i) => missing(id, checks, [...path, i], 'check'));
}

function jasc(code: string | undefined, path: Path): Found[] {
  return code === undefined || jascName(code) !== null
    ? []
    : [{ path, text: `"${code}" is not in the FAA's JASC table; expected a code such as 6210.` }];
}

function ofMeasure(measure: Measure, path: Path, gauges: ReadonlyMap<string, Gauge>): Found[] {
  const { unit, gauge, low, high, atLeast, atMost } = measure;
  const found: Found[] = [];
  const say = (field: string | null, text: string): void => {
    found.push({ path: field === null ? path : [...path, field], text });
  };
  if (unit === undefined && gauge === undefined) {
    say(null, `"${measure.id}" has neither a unit nor a gauge; expected one of the two.`);
  }
  if (unit !== undefined && gauge !== undefined) {
    say('gauge', `"${measure.id}" has a unit and a gauge; expected one of the two.`);
  }
  if (unit !== undefined && !isUnit(unit)) say('unit', unknownUnit(unit));
  if (gauge !== undefined) {
    if (low !== undefined) say('low', '"low" belongs to a unit; with a gauge write "atLeast".');
    if (high !== undefined) say('high', '"high" belongs to a unit; with a gauge write "atMost".');
  } else {
    if (atLeast !== undefined)
      say('atLeast', '"atLeast" belongs to a gauge; with a unit write "low".');
    if (atMost !== undefined)
      say('atMost', '"atMost" belongs to a gauge; with a unit write "high".');
  }
  if (low !== undefined && high !== undefined && low > high) {
    say('low', `The lowest value ${low} is above the highest ${high}.`);
  }
  return gauge === undefined ? found : [...found, ...steps(measure, gauge, path, gauges)];
}

function steps(
  measure: Measure,
  id: string,
  path: Path,
  gauges: ReadonlyMap<string, Gauge>,
): Found[] {
  const gauge = gauges.get(id);
  if (gauge === undefined) {
    return [{ path: [...path, 'gauge'], text: `There is no gauge with the id "${id}".` }];
  }
  const names = gauge.steps.map((step) => step.name);
  const found: Found[] = [];
  for (const field of ['atLeast', 'atMost'] as const) {
    const step = measure[field];
    if (step !== undefined && !names.includes(step)) {
      found.push({
        path: [...path, field],
        text: `"${step}" is not a step of the gauge "${id}"; its steps are ${names.join(', ')}.`,
      });
    }
  }
  const [low, high] = [measure.atLeast, measure.atMost];
  if (found.length === 0 && low !== undefined && high !== undefined) {
    if (names.indexOf(low) > names.indexOf(high)) {
      found.push({
        path: [...path, 'atLeast'],
        text: `The lowest step "${low}" stands above the highest "${high}".`,
      });
    }
  }
  return found;
}

function pronounced(word: string, phones: string, path: Path): Found[] {
  const bad = phones
    .trim()
    .split(/\s+/)
    .find((phone) => !isPhone(phone));
  return bad === undefined
    ? []
    : [
        {
          path,
          text: `"${bad}" is not an ARPABET phone; "${word}" needs phones such as "S W AA SH P L EY T".`,
        },
      ];
}
