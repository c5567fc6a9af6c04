import type { Catalogue, Check, Measure } from '#shared/catalogue';

/** Units as people say them. A unit that is not here is told by its code. */
const UNITS: Readonly<Record<string, string>> = {
  '[qt_us]': 'quarts',
  '[gal_us]': 'gallons',
  '[pt_us]': 'pints',
  '[psi]': 'psi',
  '[in_i]': 'inches',
  '[ft_i]': 'feet',
  '[lb_av]': 'pounds',
  '[degF]': '°F',
  Cel: '°C',
  L: 'litres',
  V: 'volts',
};
/** So many names are told; the rest is counted. */
const NAMED = 8;

interface Placed {
  readonly check: Check;
  readonly station: string;
  readonly stationName: string;
}

/** What a person has to know before one edition takes the place of another: a line each, nothing when they mean the same. */
export function differences(before: Catalogue, after: Catalogue): string[] {
  const was = placed(before);
  const is = placed(after);
  const added = [...is].filter(([id]) => !was.has(id)).map(([, p]) => p);
  const gone = [...was].filter(([id]) => !is.has(id)).map(([, p]) => p);
  const both = [...is].flatMap(([id, now]) => {
    const then = was.get(id);
    return then === undefined ? [] : [{ then, now }];
  });
  return [
    ...changedWords('Name', before.name, after.name),
    ...changedWords('Kind', before.kind, after.kind),
    ...stations(before, after),
    ...counted(added, 'added'),
    ...counted(gone, 'taken out'),
    ...both.flatMap(({ then, now }) => changes(then, now)),
    ...order(before, after),
    ...listed('Cautions', before.cautions, after.cautions),
    ...changedWords('Notice', before.notice, after.notice),
    ...changedWords('Source', before.source, after.source),
    ...changedWords('Licence', before.licence, after.licence),
    ...things('sign', before.signs, after.signs),
    ...things('gauge', before.gauges, after.gauges),
    ...(before.inOrder === after.inOrder
      ? []
      : [
          after.inOrder
            ? 'The stations are walked in order now.'
            : 'The stations may be walked in any order now.',
        ]),
  ];
}

function placed(catalogue: Catalogue): Map<string, Placed> {
  return new Map(
    catalogue.stations.flatMap((s) =>
      s.checks.map((check) => [check.id, { check, station: s.id, stationName: s.name }] as const),
    ),
  );
}

function counted(checks: readonly Placed[], what: string): string[] {
  if (checks.length === 0) return [];
  const names = checks.slice(0, NAMED).map((p) => `${p.check.name} (${p.stationName})`);
  const more = checks.length - names.length;
  const count = checks.length === 1 ? '1 check' : `${checks.length} checks`;
  return [`${count} ${what}: ${names.join(', ')}${more > 0 ? ` and ${more} more` : ''}.`];
}

function stations(before: Catalogue, after: Catalogue): string[] {
  const was = new Map(before.stations.map((s) => [s.id, s]));
  const is = new Map(after.stations.map((s) => [s.id, s]));
  return [
    ...after.stations.filter((s) => !was.has(s.id)).map((s) => `Station added: ${s.name}.`),
    ...before.stations.filter((s) => !is.has(s.id)).map((s) => `Station taken out: ${s.name}.`),
    ...after.stations.flatMap((s) => {
      const then = was.get(s.id);
      if (then === undefined) return [];
      const moved = then.place.x !== s.place.x || then.place.y !== s.place.y;
      return [
        ...changedWords(`Station ${then.name}, name`, then.name, s.name),
        ...changedWords(`Station ${s.name}, caution`, then.caution, s.caution),
        ...listed(`Station ${s.name}, other names`, then.say, s.say),
        ...(moved ? [`Station ${s.name} stands elsewhere on the plan.`] : []),
        ...(then.inOrder === s.inOrder
          ? []
          : [
              `Station ${s.name}: its checks are done ${s.inOrder ? 'in order' : 'in any order'} now.`,
            ]),
      ];
    }),
  ];
}

function changes(then: Placed, now: Placed): string[] {
  const a = then.check;
  const b = now.check;
  const name = b.name;
  const flag = (was: boolean, is: boolean, yes: string, no: string): string[] =>
    was === is ? [] : [`${name}: ${is ? yes : no}.`];
  return [
    ...(then.station === now.station
      ? []
      : [`${name}: moved from ${then.stationName} to ${now.stationName}.`]),
    ...changedWords(`${a.name}, name`, a.name, b.name),
    ...listed(`${name}, other names`, a.say, b.say),
    ...listed(
      `${name}, to be spoken for`,
      a.aspects.map((x) => x.name),
      b.aspects.map((x) => x.name),
    ),
    ...listed(`${name}, how it is done`, a.acts, b.acts),
    ...listed(`${name}, places`, a.repeat?.instances ?? [], b.repeat?.instances ?? []),
    ...changedWords(`${name}, required`, required(a), required(b)),
    ...flag(
      a.blanket,
      b.blanket,
      'a verdict over the whole station speaks for it now',
      'asks to be named now',
    ),
    ...flag(
      a.optional,
      b.optional,
      'may be set aside as not fitted now',
      'may not be set aside as not fitted any more',
    ),
    ...flag(
      a.mandatory === true,
      b.mandatory === true,
      'is a mandatory safety item now',
      'is no mandatory safety item any more',
    ),
    ...measures(name, a.measures, b.measures),
    ...listed(`${name}, signs`, a.signs.map(signName), b.signs.map(signName)),
    ...changedSigns(name, a, b),
    ...changedWords(`${name}, caution`, a.caution, b.caution),
    ...changedWords(`${name}, source`, a.source, b.source),
    ...(same(a.pronounce, b.pronounce) ? [] : [`${name}: its pronunciation is changed.`]),
    ...changedWords(`${name}, JASC code`, a.jasc, b.jasc),
  ];
}

const signName = (sign: Check['signs'][number]): string =>
  typeof sign === 'string' ? sign : sign.name;

/** A sign of this check alone that kept its name and means something else. */
function changedSigns(name: string, a: Check, b: Check): string[] {
  return b.signs.flatMap((sign) => {
    if (typeof sign === 'string') return [];
    const was = a.signs.find((s) => typeof s !== 'string' && s.id === sign.id);
    return was === undefined || same(was, sign)
      ? []
      : [`${name}: what the sign “${sign.name}” means is changed.`];
  });
}

function required(check: Check): string {
  if (check.required === 'always') return 'always';
  return check.required === 'follow-up' ? 'when a sign demands it' : check.required.join(' or ');
}

function measures(name: string, before: readonly Measure[], after: readonly Measure[]): string[] {
  const was = new Map(before.map((m) => [m.id, m]));
  const is = new Set(after.map((m) => m.id));
  return [
    ...before.filter((m) => !is.has(m.id)).map((m) => `${name}, ${m.name}: not measured any more.`),
    ...after.flatMap((m): string[] => {
      const then = was.get(m.id);
      if (then === undefined) return [`${name}, ${m.name}: measured now, ${limitsOf(m)}.`];
      const [a, b] = [limitsOf(then), limitsOf(m)];
      return [
        ...(a === b ? [] : [`${name}, ${m.name}: limit changed from ${a} to ${b}.`]),
        ...(same(meaningOf(then), meaningOf(m))
          ? []
          : [`${name}, ${m.name}: what a value outside its limit means is changed.`]),
      ];
    }),
  ];
}

/** Everything of a value but its limits, which are told by themselves. */
function meaningOf(m: Measure): Partial<Measure> {
  const limits = ['unit', 'low', 'high', 'gauge', 'atLeast', 'atMost'];
  return Object.fromEntries(Object.entries(m).filter(([field]) => !limits.includes(field)));
}

/** "4 to 6 quarts", "at least 24 volts", "no limit". */
export function limitsOf(m: Measure): string {
  const unit = m.unit === undefined ? '' : ` ${UNITS[m.unit] ?? m.unit}`;
  const low = m.low ?? m.atLeast;
  const high = m.high ?? m.atMost;
  if (low !== undefined && high !== undefined)
    return low === high ? `exactly ${low}${unit}` : `${low} to ${high}${unit}`;
  if (low !== undefined) return `at least ${low}${unit}`;
  return high !== undefined
    ? `at most ${high}${unit}`
    : `no limit${unit === '' ? '' : `, in${unit}`}`;
}

function order(before: Catalogue, after: Catalogue): string[] {
  const line = (c: Catalogue, other: Catalogue) => {
    const known = placed(other);
    return c.stations.map((s) => ({
      id: s.id,
      name: s.name,
      checks: s.checks.filter((k) => known.get(k.id)?.station === s.id).map((k) => k.id),
    }));
  };
  const was = line(before, after);
  const is = line(after, before);
  const ids = new Set(is.map((s) => s.id));
  const kept = was.filter((s) => ids.has(s.id)).map((s) => s.id);
  const now = is.filter((s) => kept.includes(s.id)).map((s) => s.id);
  return [
    ...(same(kept, now)
      ? []
      : [`The stations come in another order: ${is.map((s) => s.name).join(', ')}.`]),
    ...is.flatMap((s) => {
      const then = was.find((w) => w.id === s.id);
      return then === undefined || same(then.checks, s.checks)
        ? []
        : [`${s.name}: its checks come in another order.`];
    }),
  ];
}

function things(
  what: string,
  before: readonly { id: string; name: string }[],
  after: readonly { id: string; name: string }[],
): string[] {
  const was = new Map(before.map((t) => [t.id, t]));
  const is = new Set(after.map((t) => t.id));
  const title = what === 'sign' ? 'Sign' : 'Gauge';
  return [
    ...after.filter((t) => !was.has(t.id)).map((t) => `${title} added: ${t.name}.`),
    ...before.filter((t) => !is.has(t.id)).map((t) => `${title} taken out: ${t.name}.`),
    ...after
      .filter((t) => was.has(t.id) && !same(was.get(t.id), t))
      .map((t) => `${title} changed: ${t.name}.`),
  ];
}

function listed(what: string, before: readonly string[], after: readonly string[]): string[] {
  return same(before, after) ? [] : changedWords(what, before.join(', '), after.join(', '));
}

function changedWords(
  what: string,
  before: string | undefined,
  after: string | undefined,
): string[] {
  const [a, b] = [before ?? '', after ?? ''];
  if (a === b) return [];
  if (a === '') return [`${what}: “${b}” added.`];
  return b === '' ? [`${what}: “${a}” taken out.`] : [`${what}: “${a}” is “${b}” now.`];
}

function same(a: unknown, b: unknown): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}
