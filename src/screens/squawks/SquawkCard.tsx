import { useState } from 'react';
import type { SquawkStep } from '#shared/squawk';
import { severityWords } from '#shared/severity';
import { stepWords } from '#shared/steps';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { Mark } from '../parts/Mark.tsx';
import { Pictures, TakePicture } from '../parts/Pictures.tsx';
import { useTell } from '../parts/Tell.tsx';
import { capital, dateTime, gravity } from '../parts/words.ts';
import type { SquawkView } from '../services.ts';
import { Reviews } from '../sheet/Reviews.tsx';
import { StepForm } from './StepForm.tsx';

const STATES = {
  open: 'open',
  deferred: 'deferred',
  rectified: 'rectified, not rechecked',
  rechecked: 'rechecked, not closed',
  closed: 'closed',
  joined: 'joined with another',
  withdrawn: 'withdrawn',
} as const;

const STEP_NAMES: Readonly<Partial<Record<SquawkStep['step'], string>>> = {
  deferred: 'Defer',
  rectified: 'Rectified',
  rechecked: 'Recheck',
  closed: 'Close',
  corrected: 'Correct',
  noted: 'Add to it',
  withdrawn: 'Withdraw',
};

/** This house takes none; nothing offers it then. */
const NO_PICTURES = Promise.resolve({ ok: true, value: null } as const);

/** One squawk: what is wrong, in the mechanic's order, and its life so far. */
export function SquawkCard({ view, changed }: { view: SquawkView; changed: () => Promise<void> }) {
  const house = useHouse();
  const settings = useLive(house.settings);
  const { tell } = useTell();
  const [step, setStep] = useState<SquawkStep['step'] | null>(null);
  const { squawk } = view;
  const confirm = async (code: string) => {
    const by = settings.pilot || 'pilot';
    if (tell(await house.squawkStep(squawk.id, { step: 'jasc-confirmed', code, by }))) {
      await changed();
    }
  };
  const attach = async (file: File) => {
    const outcome = await (house.pictures?.attachToSquawk(squawk.id, file) ?? NO_PICTURES);
    if (outcome.ok) await changed();
    return outcome;
  };
  const steps = view.next.filter((n) => STEP_NAMES[n] !== undefined);
  return (
    <li className={`squawk grave-${gravity(squawk.fault.severity)}`}>
      <details>
        <summary>
          <Mark of="finding" severity={squawk.fault.severity} label="" />
          <span className="squawk-title">
            <strong>{view.title}</strong>
            <span className="quiet small">
              {[
                squawk.fault.severity === null
                  ? 'severity not said'
                  : severityWords(squawk.fault.severity, squawk.fault.severityBy),
                STATES[squawk.state],
                dateTime(squawk.opened).slice(0, 10),
                squawk.hours === null ? null : `at ${squawk.hours} h`,
                squawk.reporter,
              ]
                .filter((t) => t !== null)
                .join(' · ')}
            </span>
          </span>
        </summary>
        <div className="squawk-body">
          <p className="narrative">{view.narrative}</p>
          <p>
            As said: <span className="words">{squawk.fault.words}</span>
          </p>
          <Pictures pictures={view.pictures} of={view.title} />
          {house.pictures !== undefined && steps.length > 0 && (
            <TakePicture of={view.title} attach={attach} files />
          )}
          <Reviews of={view.reviews} />
          <Jasc view={view} confirm={confirm} />
          <ol className="lines history">
            {squawk.history.map((h) => (
              <li key={h.event}>
                <span className="quiet">{dateTime(h.at)}</span> <span>{stepWords(h.step)}</span>
              </li>
            ))}
          </ol>
          {squawk.irregular.map((t) => (
            <p key={t} className="irregular">
              <Mark of="question" label="Irregular" /> {t}
            </p>
          ))}
          {steps.length > 0 && (
            <div className="tools noprint" role="group" aria-label={`Next for ${view.title}`}>
              {steps.map((n) => (
                <button
                  key={n}
                  type="button"
                  className="press"
                  aria-pressed={step === n}
                  onClick={() => setStep(step === n ? null : n)}
                >
                  {STEP_NAMES[n]}
                </button>
              ))}
            </div>
          )}
          {step !== null && (
            <StepForm
              key={step}
              step={step}
              squawk={squawk}
              done={() => {
                setStep(null);
                return changed();
              }}
            />
          )}
        </div>
      </details>
      {view.overdue !== null && (
        <div className="notice warning" role="alert">
          <Mark of="finding" label="" />
          <p>{view.overdue}</p>
        </div>
      )}
    </li>
  );
}

function Jasc({ view, confirm }: { view: SquawkView; confirm: (code: string) => Promise<void> }) {
  const { jasc } = view.squawk;
  const known = view.jasc.find((j) => j.code === jasc);
  if (jasc !== null) {
    return (
      <p>
        JASC {jasc}
        {known !== undefined && `, ${capital(known.name.toLowerCase())}`}, confirmed.
      </p>
    );
  }
  if (view.jasc.length === 0) return <p className="quiet">No JASC code is proposed.</p>;
  return (
    <div className="tools noprint" role="group" aria-label="Proposed JASC codes">
      {view.jasc.slice(0, 3).map((j) => (
        <button key={j.code} type="button" className="press" onClick={() => void confirm(j.code)}>
          Confirm {j.code} {j.name.toLowerCase()}
        </button>
      ))}
    </div>
  );
}
