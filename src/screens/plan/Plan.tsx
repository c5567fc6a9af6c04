import { memo } from 'react';
import type { Catalogue } from '#shared/catalogue';
import type { CheckCoverage, Coverage, Finding } from '#shared/coverage';
import { MarkShape } from '../parts/Mark.tsx';
import { byStation, countOf, counts, isOpen, many, namesOf } from '../parts/words.ts';
import { Drawing } from './Drawing.tsx';
import type { Line } from './line.ts';
import { headingAt, lineOf, pieces, pointAt, runs, stretch } from './line.ts';
import './plan.css';

export interface PlanProps {
  readonly catalogue: Catalogue;
  readonly coverage: Coverage | null;
  /** Station that is lit as "here". */
  readonly here?: string | null;
  /** Checks that changed with the last words: drawn in. */
  readonly fresh?: ReadonlySet<string>;
  /** Name the skipped and questioned checks on the drawing. */
  readonly flags?: boolean;
}

/** What of the plan is shown: the machine and a margin for the marks. */
const BOX = {
  helicopter: '9 -1 82 101',
  aeroplane: '-2 -1 104 101',
  other: '9 -1 82 101',
} as const;

/** How far a mark stands off the line, in plan units. */
const OFF = 4.2;

/** The aircraft in plan and the walk round it as a line that fills as checks are spoken for. */
export const Plan = memo(function Plan({
  catalogue,
  coverage,
  here = null,
  fresh,
  flags = false,
}: PlanProps) {
  const line = lineOf(catalogue);
  const groups = coverage === null ? null : byStation(coverage);
  const shown = catalogue.stations.map((s) => ({
    id: s.id,
    checks:
      groups === null
        ? s.checks.map((c) => c.id)
        : (groups.get(s.id) ?? []).filter(counts).map((c) => c.check),
  }));
  const standings = new Map(coverage?.checks.map((c) => [c.check, c]));
  const parts = pieces(line, shown);
  const worst = worstFindings(coverage);
  return (
    <svg
      className="plan"
      viewBox={BOX[catalogue.kind]}
      role="img"
      aria-label={describe(catalogue, coverage, here)}
    >
      <Drawing kind={catalogue.kind} />
      <path className="way" d={stretch(line, 0, line.length)} />
      {runs(parts, (c) => standings.get(c)?.standing ?? 'unspoken').map((r) => {
        const d = stretch(line, r.from, r.to);
        return (
          <g key={r.checks[0]}>
            {r.look === 'question' && <path className="under" d={d} />}
            <path className={`piece ${r.look}`} d={d} />
          </g>
        );
      })}
      {parts
        .filter((p) => fresh?.has(p.check) === true)
        .map((p) => (
          <path key={p.check} className="piece fresh" d={stretch(line, p.from, p.to)} />
        ))}
      {parts.map((p) => (
        <Sign
          key={p.check}
          line={line}
          way={(p.from + p.to) / 2}
          coverage={standings.get(p.check)}
          finding={worst.get(p.check)}
          flag={flags ? (namesOf(catalogue).check.get(p.check)?.name ?? '') : ''}
        />
      ))}
      {catalogue.stations.map((s, i) => {
        const at = pointAt(line, line.stops[i] ?? 0);
        const checks = groups?.get(s.id) ?? [];
        const done = checks.length > 0 && checks.filter(counts).every((c) => !isOpen(c.standing));
        const kind = s.id === here ? 'here' : done ? 'done' : '';
        return (
          <g key={s.id}>
            {s.id === here && <circle className="halo" cx={at.x} cy={at.y} r="4.2" />}
            <circle className={`node ${kind}`} cx={at.x} cy={at.y} r="2.7" />
            <text className={kind} x={at.x} y={at.y + 0.15}>
              {i + 1}
            </text>
          </g>
        );
      })}
    </svg>
  );
});

/** A finding, a question or a skipped check, beside its piece of the line, away from the aircraft. */
function Sign({
  line,
  way,
  coverage,
  finding,
  flag,
}: {
  line: Line;
  way: number;
  coverage: CheckCoverage | undefined;
  finding: Finding | undefined;
  flag: string;
}) {
  const standing = coverage?.standing;
  const what = finding !== undefined ? 'finding' : standing;
  if (what !== 'finding' && what !== 'question' && what !== 'skipped') return null;
  const at = pointAt(line, way);
  const along = headingAt(line, way);
  // The side that faces away from the middle of the drawing.
  const out = (at.x - 50) * -along.y + (at.y - 50) * along.x >= 0 ? 1 : -1;
  const x = at.x - along.y * OFF * out;
  const y = at.y + along.x * OFF * out;
  const right = x >= 50;
  return (
    <g>
      {what === 'skipped' && <line className="leader" x1={at.x} y1={at.y} x2={x} y2={y} />}
      <g
        className={`mark is-${what} ${finding?.severity ? `sev-${finding.severity}` : ''}`}
        transform={`translate(${x - 2.1} ${y - 2.1}) scale(0.21)`}
      >
        <MarkShape of={what} />
      </g>
      {flag !== '' && (
        <text
          className={`flag ${right ? 'to-right' : 'to-left'}`}
          x={right ? x + 3.2 : x - 3.2}
          y={y}
        >
          {flag}
        </text>
      )}
    </g>
  );
}

const ORDER = ['ground', 'defer', 'watch', 'note'];

function worstFindings(coverage: Coverage | null): ReadonlyMap<string, Finding> {
  const out = new Map<string, Finding>();
  for (const f of coverage?.findings ?? []) {
    if (f.check === null || f.settled === 'taken-back') continue;
    const before = out.get(f.check);
    const rank = (x: Finding) => (x.severity === null ? 0.5 : ORDER.indexOf(x.severity));
    if (before === undefined || rank(f) < rank(before)) out.set(f.check, f);
  }
  return out;
}

/** The drawing in words. */
function describe(catalogue: Catalogue, coverage: Coverage | null, here: string | null): string {
  const walk = `Walk round the ${catalogue.kind === 'other' ? 'aircraft' : catalogue.kind}: ${many(catalogue.stations.length, 'station')}`;
  if (coverage === null) return `${walk}.`;
  const count = countOf(coverage.checks);
  const at = here === null ? '' : ` Now at ${namesOf(catalogue).station.get(here)?.name ?? here}.`;
  return `${walk}; ${count.spoken} of ${count.required} checks spoken for.${at}`;
}
