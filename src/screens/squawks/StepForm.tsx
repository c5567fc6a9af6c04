import { useState, type FormEvent } from 'react';
import type { Squawk, SquawkStep } from '#shared/squawk';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';

/** What each step asks, in order: key, label, kind of field, whether it must be given. */
type Asked = readonly [key: string, label: string, type: 'text' | 'date' | 'number', must: boolean];

const FIELDS: Readonly<Partial<Record<SquawkStep['step'], readonly Asked[]>>> = {
  deferred: [
    ['by', 'Deferred by', 'text', true],
    ['authority', 'On what authority', 'text', true],
    ['untilDate', 'Until the date', 'date', false],
    ['untilHours', 'Until aircraft hours', 'number', false],
    ['untilFlights', 'For so many flights', 'number', false],
    ['note', 'Limits and note', 'text', false],
  ],
  rectified: [
    ['by', 'Rectified by', 'text', true],
    ['certificateKind', 'Kind of certificate', 'text', true],
    ['certificate', 'Certificate number', 'text', true],
    ['reference', 'Reference to the work', 'text', true],
    ['date', 'Date', 'date', true],
  ],
  rechecked: [['by', 'Rechecked by', 'text', true]],
  corrected: [
    ['words', 'What is wrong, in full', 'text', true],
    ['by', 'Corrected by', 'text', true],
    ['note', 'Why', 'text', false],
  ],
  noted: [
    ['note', 'What is to be added', 'text', true],
    ['by', 'Added by', 'text', true],
  ],
  withdrawn: [
    ['reason', 'Why it is withdrawn', 'text', true],
    ['by', 'Withdrawn by', 'text', true],
  ],
  closed: [
    ['by', 'Closed by', 'text', true],
    ['note', 'Note', 'text', false],
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
          <span>{must ? label : `${label} (may be left out)`}</span>
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
          <span>What was found</span>
          <select
            value={outcome}
            onChange={(e) => setOutcome(OUTCOMES.find((o) => o === e.target.value) ?? 'gone')}
          >
            {OUTCOMES.map((o) => (
              <option key={o} value={o}>
                {o.replace(/-/g, ' ')}
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
          Placarded “Inoperative” (14 CFR 91.213(d))
        </label>
      )}
      <button type="submit" className="press main">
        Record it
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
