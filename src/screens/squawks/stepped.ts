import type { SquawkStep } from '#shared/squawk';
import type { Text } from '../text/text.ts';

/** One step of a squawk's life in one line, in the language of the screen; documents have `stepWords`. */
export function steppedWords(step: SquawkStep, t: Text): string {
  let what = t(
    `stepped-${STEPPED[step.step]}`,
    step.step === 'jasc-confirmed' ? { code: step.code } : {},
  );
  /** Says one thing more behind what is said already. */
  const more = (id: string, values: Parameters<Text>[1] = {}) => {
    what = t(id, { what, ...values });
  };
  const name = step.step === 'opened' ? step.reporter : step.by;
  if (name !== null) more('stepped-by', { name });
  switch (step.step) {
    case 'opened':
      if (step.found !== null) more('stepped-found', { found: step.found });
      if (step.legacy) more('stepped-legacy');
      break;
    case 'amended':
      if (step.compared !== null) more('stepped-compared', { compared: step.compared });
      if (step.fault.severity !== null)
        more('stepped-severity', { severity: t(`severity-${step.fault.severity}`) });
      break;
    case 'deferred': {
      more('stepped-authority', { authority: step.authority });
      const ends = endsOf(step, t);
      if (ends === '') more('stepped-no-end');
      else more('stepped-until', { ends });
      if (step.placarded) more('stepped-placarded');
      break;
    }
    case 'rectified':
      more('stepped-work', {
        kind: step.certificateKind,
        certificate: step.certificate,
        reference: step.reference,
        date: step.date,
      });
      break;
    case 'rechecked':
      more('stepped-told', { told: t(`outcome-${step.outcome}`) });
      break;
    case 'corrected':
      more('stepped-to', { words: step.fault.words });
      break;
    case 'withdrawn':
      more('stepped-told', { told: step.reason });
      break;
    case 'noted':
      more('stepped-told', { told: step.note });
      break;
    case 'jasc-confirmed':
    case 'closed':
    case 'joined':
      break;
  }
  if ('note' in step && step.step !== 'noted' && step.note !== null)
    more('stepped-note', { note: step.note });
  return what;
}

const STEPPED = {
  opened: 'opened',
  amended: 'amended',
  'jasc-confirmed': 'jasc',
  deferred: 'deferred',
  rectified: 'rectified',
  rechecked: 'rechecked',
  corrected: 'corrected',
  noted: 'noted',
  withdrawn: 'withdrawn',
  closed: 'closed',
  joined: 'joined',
} as const;

function endsOf(step: Extract<SquawkStep, { step: 'deferred' }>, t: Text): string {
  return [
    step.untilDate,
    step.untilHours === null ? null : t('stepped-hours', { hours: String(step.untilHours) }),
    step.untilFlights === null ? null : t('stepped-flights', { n: step.untilFlights }),
  ]
    .filter((end) => end !== null)
    .reduce((one, other) => (one === '' ? other : t('stepped-or', { one, other })), '');
}
