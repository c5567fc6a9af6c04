import { memo } from 'react';
import type { Catalogue } from '#shared/catalogue';
import type { Coverage, Finding } from '#shared/coverage';
import { MarkShape, type Shape } from '../parts/Mark.tsx';
import { byStation, capital, countOf, counts, isOpen, namesOf } from '../parts/words.ts';
import { useText, type Text } from '../text/text.ts';
import { calloutsOf, type Callout } from './callouts.ts';
import { Drawing } from './Drawing.tsx';
import type { Line, Piece, Point } from './line.ts';
import { apart, headingAt, lineOf, pieces, pointAt, runs, stretch } from './line.ts';
import './plan.css';

export interface PlanProps {
  readonly catalogue: Catalogue;
  readonly coverage: Coverage | null;
  /** Station that is lit as "here". */
  readonly here?: string | null;
  /** Checks that changed with the last words: drawn in. */
  readonly fresh?: ReadonlySet<string>;
  /** Name the skipped and questioned checks and the findings in the margins. */
  readonly flags?: boolean;
  /** As small as a stamp: the stations as dots, no numbers that nobody could read, and no line. */
  readonly compact?: boolean;
}

/** What of the plan is shown: the machine and a margin for the marks, or for their names. */
const BOX = {
  helicopter: { left: 9, right: 91 },
  aeroplane: { left: -2, right: 102 },
  glider: { left: -2, right: 102 },
  gyroplane: { left: 9, right: 91 },
  other: { left: 9, right: 91 },
} as const;
/** Width of a letter of a name in the margin, in plan units: a little more than the mean. */
const LETTER = 2.45;

/** How far a mark stands off the line, in plan units. */
const OFF = 5;
/** More names than this are a list, not a drawing. */
const NAMED = 16;
/** Letters of a name in the margin. */
const LONGEST = 26;

/** The aircraft in plan and the walk round it as a line that fills as checks are spoken for. */
export const Plan = memo(function Plan({
  catalogue,
  coverage,
  here = null,
  fresh,
  flags = false,
  compact = false,
}: PlanProps) {
  const t = useText();
  const line = lineOf(catalogue);
  const groups = coverage === null ? null : byStation(coverage);
  const shown = catalogue.stations.map((s) => ({
    id: s.id,
    checks:
      groups === null
        ? s.checks.map((c) => c.id)
        : (groups.get(s.id) ?? []).filter(counts).map((c) => c.check),
  }));
  const standings = new Map(coverage?.checks.map((c) => [c.check, c.standing]));
  const parts = pieces(line, shown);
  const signs = signsOf(line, parts, coverage);
  const box = BOX[catalogue.kind];
  const callouts = flags ? calloutsFor(catalogue, signs, box) : [];
  const room = (side: 'left' | 'right') =>
    Math.max(0, ...callouts.filter((c) => c.side === side).map((c) => c.text.length * LETTER + 4));
  const left = box.left - room('left');
  const width = box.right + room('right') - left;
  return (
    <svg
      className={compact ? 'plan is-compact' : 'plan'}
      viewBox={`${left} -1 ${width} 101`}
      role="img"
      aria-label={describe(catalogue, coverage, here, t)}
    >
      {/* Under the machine: where the way leads across it, the line is hidden as the walker is. */}
      {!compact && <path className="way" d={stretch(line, 0, line.length)} />}
      {(compact ? [] : runs(parts, (c) => standings.get(c) ?? 'unspoken')).map((r) => {
        const d = stretch(line, r.from, r.to);
        return (
          <g key={r.checks[0]}>
            {r.look === 'question' && <path className="under" d={d} />}
            <path className={`piece ${r.look}`} d={d} />
          </g>
        );
      })}
      {parts
        .filter((p) => !compact && fresh?.has(p.check) === true)
        .map((p) => (
          <path key={p.check} className="piece fresh" d={stretch(line, p.from, p.to)} />
        ))}
      <Drawing kind={catalogue.kind} />
      {callouts.map((c) => (
        <Named key={c.id} callout={c} />
      ))}
      {catalogue.stations.map((s, i) => {
        const at = pointAt(line, line.stops[i] ?? 0);
        const checks = (groups?.get(s.id) ?? []).filter(counts);
        const done = checks.length > 0 && checks.every((c) => !isOpen(c.standing));
        const kind = s.id === here ? 'here' : done ? 'done' : '';
        return (
          <g key={s.id}>
            {s.id === here && <circle className="halo" cx={at.x} cy={at.y} r={compact ? 9 : 4.7} />}
            <circle className={`node ${kind}`} cx={at.x} cy={at.y} r={compact ? dot(kind) : 3.1} />
            {!compact && (
              <text className={kind} x={at.x} y={at.y + 0.15}>
                {i + 1}
              </text>
            )}
          </g>
        );
      })}
      {(compact ? [] : signs).map((s) => (
        <g
          key={s.check}
          className={`mark is-${s.shape}${s.shape === 'finding' ? ` sev-${s.severity ?? 'unrated'}` : ''}`}
          transform={`translate(${s.mark.x - 2.3} ${s.mark.y - 2.3}) scale(0.23)`}
        >
          <MarkShape of={s.shape} />
        </g>
      ))}
    </svg>
  );
});

interface SignAt {
  readonly check: string;
  readonly shape: Shape;
  readonly severity: Finding['severity'];
  /** Further checks that share the mark. */
  readonly more: number;
  /** Beside the line, away from the aircraft. */
  readonly mark: Point;
}

/**
 * Findings and questions each beside their own piece of the line; skipped
 * checks that follow each other at one station share one mark, so that a walk
 * that left much out is still a drawing.
 */
function signsOf(
  line: Line,
  parts: readonly Piece[],
  coverage: Coverage | null,
): readonly SignAt[] {
  if (coverage === null) return [];
  const found = worstFindings(coverage);
  const by = new Map(coverage.checks.map((c) => [c.check, c]));
  const out: { shape: Shape; severity: Finding['severity']; parts: Piece[] }[] = [];
  let before: { station: string | undefined; skipped: boolean } | null = null;
  for (const p of parts) {
    const finding = found.get(p.check);
    const check = by.get(p.check);
    const shape = finding !== undefined ? 'finding' : check?.standing;
    const skipped = shape === 'skipped';
    const last = out.at(-1);
    if (skipped && before?.skipped === true && before.station === check?.station) {
      last?.parts.push(p);
    } else if (shape === 'finding' || shape === 'question' || shape === 'skipped') {
      out.push({ shape, severity: finding?.severity ?? null, parts: [p] });
    }
    before = { station: check?.station, skipped };
  }
  const ways = apart(
    out.map((s) => ((s.parts[0]?.from ?? 0) + (s.parts.at(-1)?.to ?? 0)) / 2),
    line.length,
  );
  return out.map((s, i) => beside(line, s, ways[i] ?? 0));
}

function beside(
  line: Line,
  sign: { shape: Shape; severity: Finding['severity']; parts: readonly Piece[] },
  way: number,
): SignAt {
  const [first] = sign.parts;
  const foot = pointAt(line, way);
  const along = headingAt(line, way);
  // The side of the line that faces away from the middle of the drawing.
  const out = (foot.x - 50) * -along.y + (foot.y - 50) * along.x >= 0 ? 1 : -1;
  return {
    check: first?.check ?? '',
    more: sign.parts.length - 1,
    shape: sign.shape,
    severity: sign.severity,
    mark: { x: foot.x - along.y * OFF * out, y: foot.y + along.x * OFF * out },
  };
}

function calloutsFor(
  catalogue: Catalogue,
  signs: readonly SignAt[],
  margins: { readonly left: number; readonly right: number },
): readonly Callout[] {
  const names = namesOf(catalogue);
  const text = (check: string) => capital(names.check.get(check)?.name ?? check);
  const named = [...signs]
    .sort((a, b) => SHAPE_ORDER.indexOf(a.shape) - SHAPE_ORDER.indexOf(b.shape))
    .slice(0, NAMED)
    .map((s) => ({ id: s.check, mark: s.mark, text: cut(text(s.check), s.more) }));
  return calloutsOf(named, margins);
}

function cut(text: string, more: number): string {
  const rest = more === 0 ? '' : ` and ${more} more`;
  const room = LONGEST - rest.length;
  return (text.length > room ? `${text.slice(0, room - 1)}…` : text) + rest;
}

function Named({ callout: c }: { callout: Callout }) {
  const inward = c.side === 'left' ? 1 : -1;
  return (
    <g>
      <path
        className="leader"
        d={`M${c.mark.x} ${c.mark.y}L${c.at.x + 6 * inward} ${c.at.y}L${c.at.x} ${c.at.y}`}
      />
      <text className={`flag on-${c.side}`} x={c.at.x - inward} y={c.at.y}>
        {c.text}
      </text>
    </g>
  );
}

const SHAPE_ORDER: readonly Shape[] = ['skipped', 'finding', 'question'];
const WORST_FIRST: readonly Finding['severity'][] = ['ground', null, 'defer', 'watch', 'note'];

function worstFindings(coverage: Coverage): ReadonlyMap<string, Finding> {
  const out = new Map<string, Finding>();
  for (const f of coverage.findings) {
    if (f.check === null || f.settled === 'taken-back') continue;
    const before = out.get(f.check);
    const rank = (x: Finding) => WORST_FIRST.indexOf(x.severity);
    if (before === undefined || rank(f) < rank(before)) out.set(f.check, f);
  }
  return out;
}

/** Radius of a station on the small plan: the one where the pilot stands is seen first. */
function dot(kind: string): number {
  return kind === 'here' ? 6 : 3.4;
}

/** The drawing in words. */
function describe(
  catalogue: Catalogue,
  coverage: Coverage | null,
  here: string | null,
  t: Text,
): string {
  const stations = t('stations', { n: catalogue.stations.length });
  const plan = t('plan-label', { kind: catalogue.kind, stations });
  if (coverage === null) return `${plan}.`;
  const { spoken, required } = countOf(coverage.checks);
  const station = here === null ? null : (namesOf(catalogue).station.get(here)?.name ?? here);
  return [
    t('plan-so-far', { plan, spoken, required }),
    ...(station === null ? [] : [t('plan-here', { station })]),
  ].join(' ');
}
