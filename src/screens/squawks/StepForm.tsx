import { useState, type FormEvent } from 'react';
import type { Squawk, SquawkStep } from '#shared/squawk';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';
import { useText } from '../text/text.ts';

/** What each step asks, in order: key, message of its label, kind of field, whether it must be given. */
type Asked = readonly [key: string, label: string, type: 'text' | 'date' | 'number', must: boolean];

const FIELDS: Readonly<Partial<Record<SquawkStep['step'], readonly Asked[]>>> = {
  deferred: [
    ['by', 'step-deferred-by', 'text', true],
    ['authority', 'step-authority', 'text', true],
    ['untilDate', 'step-until-date', 'date', false],
    ['untilHours', 'step-until-hours', 'number', false],
    ['untilFlights', 'step-until-flights', 'number', false],
    ['note', 'step-limits', 'text', false],
  ],
  rectified: [
    ['by', 'step-rectified-by', 'text', true],
    ['certificateKind', 'step-certificate-kind', 'text', true],
    ['certificate', 'step-certificate', 'text', true],
    ['reference', 'step-reference', 'text', true],
    ['date', 'step-date', 'date', true],
  ],
  rechecked: [['by', 'step-rechecked-by', 'text', true]],
  corrected: [
    ['words', 'step-words', 'text', true],
    ['by', 'step-corrected-by', 'text', true],
    ['note', 'step-why', 'text', false],
  ],
  noted: [
    ['note', 'step-note', 'text', true],
    ['by', 'step-noted-by', 'text', true],
  ],
  withdrawn: [
    ['reason', 'step-reason', 'text', true],
    ['by', 'step-withdrawn-by', 'text', true],
  ],
  closed: [
    ['by', 'step-closed-by', 'text', true],
    ['note', 'step-closed-note', 'text', false],
  ],
};

const OUTCOMES = ['gone', 'still-there', 'worse'] as const;

/** The next step of a squawk's life, each field as the rules ask for it. */
export function StepForm({
  step,
  squawk,
  done,
}: {
  step: SquawkStep['step'];
  squawk: Squawk;
  done: () => Promise<void>;
}) {
  const house = useHouse();
  const settings = useLive(house.settings);
  const { tell } = useTell();
  const t = useText();
  const [values, setValues] = useState<Readonly<Record<string, string>>>({
    by: settings.pilot,
    words: squawk.fault.words,
  });
  const [outcome, setOutcome] = useState<(typeof OUTCOMES)[number]>('gone');
  const [placarded, setPlacarded] = useState(false);
  const fields = FIELDS[step] ?? [];
  const send = async (event: FormEvent) => {
    event.preventDefault();
    if (step === 'corrected') {
      const { words = '', by = '', note = '' } = values;
      const outcome = await house.correctSquawk(squawk.id, words.trim(), by.trim(), note.trim());
      if (tell(outcome)) await done();
      return;
    }
    const made = stepFrom(step, values, outcome, placarded);
    if (made !== null && tell(await house.squawkStep(squawk.id, made))) await done();
  };
  return (
    <form className="step-form" onSubmit={(e) => void send(e)}>
      {fields.map(([key, label, type, must]) => (
        <label key={key} className="field">
          <span>{must ? t(label) : t('step-optional', { field: t(label) })}</span>
          <input
            type={type}
            required={must}
            {...(type === 'number' ? { min: 0, step: key === 'untilHours' ? 0.1 : 1 } : {})}
            value={values[key] ?? ''}
            onChange={(e) => setValues({ ...values, [key]: e.target.value })}
          />
        </label>
      ))}
      {step === 'rechecked' && (
        <label className="field">
          <span>{t('step-found')}</span>
          <select
            value={outcome}
            onChange={(e) => setOutcome(OUTCOMES.find((o) => o === e.target.value) ?? 'gone')}
          >
            {OUTCOMES.map((o) => (
              <option key={o} value={o}>
                {t(`outcome-${o}`)}
              </option>
            ))}
          </select>
        </label>
      )}
      {step === 'deferred' && (
        <label className="tick">
          <input
            type="checkbox"
            checked={placarded}
            onChange={(e) => setPlacarded(e.target.checked)}
          />
          {t('step-placarded')}
        </label>
      )}
      <button type="submit" className="press main">
        {t('step-record')}
      </button>
    </form>
  );
}

function stepFrom(
  step: SquawkStep['step'],
  values: Readonly<Record<string, string>>,
  outcome: (typeof OUTCOMES)[number],
  placarded: boolean,
): SquawkStep | null {
  const text = (key: string) => (values[key] ?? '').trim();
  const orNull = (key: string) => text(key) || null;
  const number = (key: string) => (text(key) === '' ? null : Number(text(key)));
  switch (step) {
    case 'deferred':
      return {
        step,
        by: text('by'),
        authority: text('authority'),
        untilDate: orNull('untilDate'),
        untilHours: number('untilHours'),
        untilFlights: number('untilFlights'),
        placarded,
        note: orNull('note'),
      };
    case 'rectified':
      return {
        step,
        by: text('by'),
        certificate: text('certificate'),
        certificateKind: text('certificateKind'),
        reference: text('reference'),
        date: text('date'),
      };
    case 'rechecked':
      return { step, by: text('by'), statement: null, outcome };
    case 'noted':
      return { step, by: text('by'), note: text('note') };
    case 'withdrawn':
      return { step, by: text('by'), reason: text('reason') };
    case 'closed':
      return { step, by: text('by'), note: orNull('note') };
    default:
      return null;
  }
}
