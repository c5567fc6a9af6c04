import { outsideOf } from '#shared/abnormal';
import type { Catalogue, Check } from '#shared/catalogue';
import type { Finding, Reason } from '#shared/coverage';
import { SEVERITY_WORDS, worse, type Severity } from '#shared/severity';
import { proposedSeverity } from '#shared/sign';
import type { Observation } from '#shared/statement';
import { observationIn, ratingsOf, wordsOf, type Entry, type Records } from './ledger.ts';

/** One assertion of a fault, with the places it was given to. */
export interface Assertion {
  readonly entry: Entry;
  readonly said: Observation;
  readonly at: readonly string[];
}

/** One fault, said once or more often. */
export type Group = [Assertion, ...Assertion[]];

export interface Rated {
  readonly severity: Severity | null;
  readonly by: Finding['severityBy'];
  /** For `before`: the day of it. */
  readonly on?: string;
  readonly reasons: readonly Reason[];
}

/**
 * What the speaker said wins over what the catalogue proposes; of several
 * sayings the worst wins until one of them is amended or taken back.
 */
export function severityOf(
  catalogue: Catalogue,
  records: Records,
  check: Check | null,
  group: Group,
  entries: readonly Entry[],
): Rated {
  const counted = new Set(group.map((a) => a.entry.id));
  const said = [
    // Of a chain of corrections only the last one counts, unless it left the severity out.
    ...entries.filter((e) => counted.has(e.id) || !group.some((a) => severityIn(a.entry) !== null)),
  ].flatMap((entry) => {
    const severity = severityIn(entry);
    return severity === null ? [] : [{ severity, entry }];
  });
  const ratings = entries
    .flatMap((e) => ratingsOf(records, e.id))
    .flatMap((entry) =>
      entry.said.kind === 'rating' ? [{ severity: entry.said.severity, entry }] : [],
    );
  const all = [...said, ...ratings];
  const worst = all.map((s) => s.severity).reduce(worse, null as Severity | null);
  if (worst !== null) {
    const milder = all.some((s) => s.severity !== worst);
    return {
      severity: worst,
      by: 'said',
      reasons: all.slice(0, 1).map(() => ({
        rule: 'R6',
        text: `Said: ${SEVERITY_WORDS[worst]}.${milder ? ' A milder one was said too; the worse stands.' : ''}`,
        events: all.map((s) => s.entry.event),
        words: all.map((s) => wordsOf(s.entry)).join(' … '),
      })),
    };
  }
  const bySign = group
    .map((a) => proposedSeverity(catalogue, check, a.said))
    .reduce(worse, null as Severity | null);
  const byMeasure = group
    .flatMap((a) => outsideOf(catalogue, check, a.said).map((o) => o.measure.severity))
    .reduce(worse, null as Severity | null);
  const catalogued = worse(bySign, byMeasure);
  const own = usualOf(group, catalogued);
  if (own !== null) return own;
  if (catalogued === null) {
    return {
      severity: null,
      by: 'none',
      reasons: [{ rule: 'R4', text: 'Nobody has said how bad it is.', events: [], words: null }],
    };
  }
  const by = catalogued === byMeasure ? 'measure' : 'sign';
  return {
    severity: catalogued,
    by,
    reasons: [
      {
        rule: by === 'measure' ? 'R8' : 'R4',
        text: `The catalogue proposes: ${SEVERITY_WORDS[catalogued]}.`,
        events: [],
        words: null,
      },
    ],
  };
}

/**
 * How this speaker rated the same fault before, where that is worse than what the catalogue
 * proposes: never lower, and never in the place of "ground it". null: the catalogue's counts.
 */
function usualOf(group: Group, catalogued: Severity | null): Rated | null {
  const usual = group.map((a) => a.said.usual ?? null);
  // Of a fault said several times each saying has to be known from before.
  if (usual.some((u) => u === null) && catalogued === null) return null;
  const worst = usual.map((u) => u?.severity ?? null).reduce(worse, null);
  const on = usual.find((u) => u !== null && u.severity === worst)?.on;
  if (worst === null || on === undefined || worse(catalogued, worst) === catalogued) return null;
  return {
    severity: worst,
    by: 'before',
    on,
    reasons: [
      {
        rule: 'R6',
        text: `Proposed: ${SEVERITY_WORDS[worst]}, as you rated it on ${on}.`,
        events: group.map((a) => a.entry.event),
        words: null,
      },
    ],
  };
}

function severityIn(entry: Entry): Severity | null {
  return observationIn(entry)?.severity ?? null;
}
