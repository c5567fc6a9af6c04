import { useState, type FormEvent } from 'react';
import type { Coverage } from '#shared/coverage';
import type { Decision } from '#shared/event';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';
import { useText } from '../text/text.ts';

const DECISIONS: readonly Decision[] = ['fly', 'defer', 'ground', 'hand-over'];

/** The pilot in command's decision and signature. Talkround never decides (R9). */
export function Decide({ coverage, done }: { coverage: Coverage; done: () => void }) {
  const house = useHouse();
  const settings = useLive(house.settings);
  const { tell } = useTell();
  const t = useText();
  const [decision, setDecision] = useState<Decision | null>(null);
  const [name, setName] = useState(settings.pilot);
  const [certificate, setCertificate] = useState(settings.certificate);
  const [authority, setAuthority] = useState('');
  const [note, setNote] = useState('');
  const [busy, setBusy] = useState(false);
  const unplaced = coverage.findings.filter(
    (f) => f.check === null && f.happened !== true && f.settled !== 'taken-back',
  );

  if (coverage.signed !== null) {
    return (
      <div className="finish-go">
        <p>{t('decide-signed', { name: coverage.signed.name })}</p>
        <button type="button" className="press main glove" onClick={done}>
          {t('decide-see')}
        </button>
      </div>
    );
  }

  const sign = async (event: FormEvent) => {
    event.preventDefault();
    if (decision === null || name.trim() === '' || busy) return;
    setBusy(true);
    const who = name.trim();
    const decided = await house.decide(
      decision,
      who,
      authority.trim() || null,
      note.trim() || null,
    );
    if (tell(decided) && tell(await house.sign(who, certificate.trim() || null))) done();
    setBusy(false);
  };

  return (
    <form className="decide" onSubmit={(e) => void sign(e)}>
      <fieldset>
        <legend>
          <h2>{t('decide-head')}</h2>
        </legend>
        <div className="decisions">
          {DECISIONS.map((d) => (
            <label key={d} className="decision">
              <input
                type="radio"
                name="decision"
                checked={decision === d}
                onChange={() => setDecision(d)}
              />
              <span>
                <strong>{t(`decision-${d}`)}</strong>
                <span className="small quiet">{t(`decision-${d}-text`)}</span>
              </span>
            </label>
          ))}
        </div>
      </fieldset>
      {decision === 'defer' && (
        <label className="field">
          <span>{t('decide-authority')}</span>
          <input value={authority} required onChange={(e) => setAuthority(e.target.value)} />
        </label>
      )}
      <label className="field">
        <span>{t('decide-note')}</span>
        <input value={note} onChange={(e) => setNote(e.target.value)} autoComplete="off" />
      </label>
      <div className="two">
        <label className="field">
          <span>{t('decide-name')}</span>
          <input
            value={name}
            required
            autoComplete="name"
            onChange={(e) => setName(e.target.value)}
          />
        </label>
        <label className="field">
          <span>{t('decide-certificate')}</span>
          <input
            value={certificate}
            autoComplete="off"
            onChange={(e) => setCertificate(e.target.value)}
          />
        </label>
      </div>
      {unplaced.length > 0 && <p>{t('decide-unplaced')}</p>}
      <div className="finish-go">
        <button type="button" className="press glove" onClick={done}>
          {t('decide-later')}
        </button>
        <button
          type="submit"
          className="press main glove"
          disabled={busy || decision === null || name.trim() === '' || unplaced.length > 0}
        >
          {t('decide-sign')}
        </button>
      </div>
    </form>
  );
}
