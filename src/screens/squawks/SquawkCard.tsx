import { useState } from 'react';
import type { Fault, SquawkStep } from '#shared/squawk';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { Mark } from '../parts/Mark.tsx';
import { Pictures, TakePicture } from '../parts/Pictures.tsx';
import { useTell } from '../parts/Tell.tsx';
import { Woven } from '../parts/Woven.tsx';
import { capital, dateTime, gravity } from '../parts/words.ts';
import type { SquawkView } from '../services.ts';
import { Reviews } from '../sheet/Reviews.tsx';
import { useText, type Text } from '../text/text.ts';
import { StepForm } from './StepForm.tsx';
import { steppedWords } from './stepped.ts';

const STEP_NAMES: Readonly<Partial<Record<SquawkStep['step'], string>>> = {
  deferred: 'step-deferred',
  rectified: 'step-rectified',
  rechecked: 'step-rechecked',
  closed: 'step-closed',
  corrected: 'step-corrected',
  noted: 'step-noted',
  withdrawn: 'step-withdrawn',
};

/** This house takes none; nothing offers it then. */
const NO_PICTURES = Promise.resolve({ ok: true, value: null } as const);

/** One squawk: what is wrong, in the mechanic's order, and its life so far. */
export function SquawkCard({ view, changed }: { view: SquawkView; changed: () => Promise<void> }) {
  const house = useHouse();
  const settings = useLive(house.settings);
  const { tell } = useTell();
  const t = useText();
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
  const steps = view.next.flatMap((step) => {
    const name = STEP_NAMES[step];
    return name === undefined ? [] : [{ step, name }];
  });
  return (
    <li className={`squawk grave-${gravity(squawk.fault.severity)}`}>
      <details>
        <summary>
          <Mark of="finding" severity={squawk.fault.severity} label="" />
          <span className="squawk-title">
            <strong>{view.title}</strong>
            <span className="quiet small">
              {[
                severityIn(squawk.fault, t),
                t(`squawk-state-${squawk.state}`),
                dateTime(squawk.opened).slice(0, 10),
                squawk.hours === null ? null : t('squawk-at', { hours: String(squawk.hours) }),
                squawk.reporter,
              ]
                .filter((part) => part !== null)
                .join(' · ')}
            </span>
          </span>
        </summary>
        <div className="squawk-body">
          <p className="narrative">{view.narrative}</p>
          <p>
            <Woven
              id="squawk-said"
              of={{ words: <span className="words">{squawk.fault.words}</span> }}
            />
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
                <span className="quiet">{dateTime(h.at)}</span>{' '}
                <span>{steppedWords(h.step, t)}</span>
              </li>
            ))}
          </ol>
          {squawk.irregular.map((why) => (
            <p key={why} className="irregular">
              <Mark of="question" label={t('squawk-irregular')} /> {t.said(why)}
            </p>
          ))}
          {steps.length > 0 && (
            <div
              className="tools noprint"
              role="group"
              aria-label={t('squawk-next', { title: view.title })}
            >
              {steps.map((n) => (
                <button
                  key={n.step}
                  type="button"
                  className="press"
                  aria-pressed={step === n.step}
                  onClick={() => setStep(step === n.step ? null : n.step)}
                >
                  {t(n.name)}
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
          <p>{t.said(view.overdue)}</p>
        </div>
      )}
    </li>
  );
}

const FROM = {
  said: 'sheet-from-reporter',
  catalogue: 'sheet-from-catalogue',
  before: 'squawk-rated-before',
} as const;

/** How bad it is, and who says so; an older squawk does not tell who. */
function severityIn({ severity, severityBy }: Fault, t: Text): string {
  if (severity === null) return t('squawk-no-severity');
  const said = t(`severity-${severity}`);
  return severityBy === undefined
    ? said
    : t('squawk-severity-from', { severity: said, from: t(FROM[severityBy]) });
}

function Jasc({ view, confirm }: { view: SquawkView; confirm: (code: string) => Promise<void> }) {
  const t = useText();
  const { jasc } = view.squawk;
  const known = view.jasc.find((j) => j.code === jasc);
  if (jasc !== null) {
    return (
      <p>
        {known === undefined
          ? t('jasc-confirmed', { code: jasc })
          : t('jasc-confirmed-named', { code: jasc, name: capital(known.name.toLowerCase()) })}
      </p>
    );
  }
  if (view.jasc.length === 0) return <p className="quiet">{t('jasc-none')}</p>;
  return (
    <div className="tools noprint" role="group" aria-label={t('jasc-proposed')}>
      {view.jasc.slice(0, 3).map((j) => (
        <button key={j.code} type="button" className="press" onClick={() => void confirm(j.code)}>
          {t('jasc-confirm', { code: j.code, name: j.name.toLowerCase() })}
        </button>
      ))}
    </div>
  );
}
