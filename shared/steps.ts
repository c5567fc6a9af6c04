import { SEVERITY_WORDS } from './severity.ts';
import type { Squawk, SquawkStep } from './squawk.ts';

/** Steps that a list of discrepancies tells beside the fault, its deferral in force and the last work on it. */
const TOLD: ReadonlySet<SquawkStep['step']> = new Set([
  'corrected',
  'noted',
  'rechecked',
  'withdrawn',
  'closed',
  'joined',
]);

/** What became of a squawk since it was reported, a line each: "2026-03-01: Rechecked by M. Alder: gone". */
export function lifeLines({ history }: Squawk): string[] {
  const last = history.findLast((h) => h.step.step === 'rectified');
  return history.flatMap((h) =>
    TOLD.has(h.step.step) || (h.step.step === 'rectified' && h !== last)
      ? [`${new Date(h.at).toISOString().slice(0, 10)}: ${stepWords(h.step)}`]
      : [],
  );
}

/** One step of a squawk's life in one line. */
export function stepWords(step: SquawkStep): string {
  switch (step.step) {
    case 'opened':
      return `Opened${by(step.reporter)}${step.found === null ? '' : `, found ${step.found}`}${step.legacy ? ', older than this list' : ''}`;
    case 'amended':
      return `Said again${by(step.by)}${step.compared === null ? '' : `: ${step.compared}`}${
        step.fault.severity === null ? '' : `, ${SEVERITY_WORDS[step.fault.severity]}`
      }`;
    case 'jasc-confirmed':
      return `JASC ${step.code} confirmed${by(step.by)}`;
    case 'deferred':
      return `Deferred${by(step.by)} on the authority of ${step.authority}${until(step)}${step.placarded ? ', placarded' : ''}${
        step.note === null ? '' : `. ${step.note}`
      }`;
    case 'rectified':
      return `Rectified${by(step.by)}, ${step.certificateKind} ${step.certificate}, ${step.reference}, ${step.date}`;
    case 'rechecked':
      return `Rechecked${by(step.by)}: ${step.outcome.replace(/-/g, ' ')}`;
    case 'corrected':
      return `Corrected${by(step.by)} to “${step.fault.words}”${step.note === null ? '' : `. ${step.note}`}`;
    case 'noted':
      return `Added${by(step.by)}: ${step.note}`;
    case 'withdrawn':
      return `Withdrawn${by(step.by)}: ${step.reason}`;
    case 'closed':
      return `Closed${by(step.by)}${step.note === null ? '' : `. ${step.note}`}`;
    case 'joined':
      return `Joined with another${by(step.by)}`;
  }
}

function by(name: string | null): string {
  return name === null ? '' : ` by ${name}`;
}

function until(step: Extract<SquawkStep, { step: 'deferred' }>): string {
  const ends = [
    step.untilDate,
    step.untilHours === null ? null : `${step.untilHours} h`,
    step.untilFlights === null ? null : `${step.untilFlights} flights`,
  ].filter((e) => e !== null);
  return ends.length === 0 ? ', without an end' : ` until ${ends.join(' or ')}`;
}
