import { askedToday } from '#shared/asked';
import type { Circumstance } from '#shared/circumstance';
import type { CatalogueChoice, Choices } from '../services.ts';

/** An aircraft to walk round: a known one, or a catalogue that was never walked. */
export interface Row {
  readonly key: string;
  /** Registration; empty for one that has to be named. */
  readonly aircraft: string;
  readonly catalogue: CatalogueChoice;
  readonly known: boolean;
  readonly squawks: readonly string[];
  readonly squawkedChecks: readonly string[];
  readonly hours: number | null;
}

/** The aircraft that was walked last on top, then the others, latest first; kinds never walked apart. */
export function rowsOf(choices: Choices): {
  readonly known: readonly Row[];
  readonly kinds: readonly Row[];
} {
  const by = new Map(choices.catalogues.map((c) => [c.id, c]));
  const known = choices.aircraft.flatMap((a): Row[] => {
    const catalogue = by.get(a.catalogue ?? '');
    if (catalogue === undefined || a.retired === true) return [];
    return [
      {
        key: `a:${a.aircraft}`,
        aircraft: a.aircraft,
        catalogue,
        known: true,
        squawks: a.openSquawks,
        squawkedChecks: a.squawkedChecks ?? [],
        hours: a.hours,
      },
    ];
  });
  const isLast = (r: Row) => r.aircraft === choices.last?.aircraft;
  const kinds = choices.catalogues.map((c) => ({
    key: `c:${c.id}`,
    aircraft: '',
    catalogue: c,
    known: false,
    squawks: [],
    squawkedChecks: [],
    hours: null,
  }));
  return { known: [...known.filter(isLast), ...known.filter((r) => !isLast(r))], kinds };
}

/** Checks that a walk of it would ask for, were it begun now. */
export function checksToday(row: Row, circumstances: ReadonlySet<Circumstance>): number {
  const holds = [...circumstances].filter((c) => row.catalogue.circumstances.includes(c));
  return askedToday(row.catalogue.asked, holds, {
    open: row.squawks.length,
    checks: row.squawkedChecks,
  });
}
