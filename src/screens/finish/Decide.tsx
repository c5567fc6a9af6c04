import { useState, type FormEvent } from 'react';
import type { Coverage } from '#shared/coverage';
import type { Decision } from '#shared/event';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';

const WORDS: readonly { decision: Decision; title: string; text: string }[] = [
  { decision: 'fly', title: 'Fly', text: 'I determine that it may fly.' },
  {
    decision: 'defer',
    title: 'Defer',
    text: 'It may fly within limits that an authorised person set.',
  },
  { decision: 'ground', title: 'Ground it', text: 'It does not fly until it is rectified.' },
  { decision: 'hand-over', title: 'Hand over', text: 'Somebody else decides.' },
];

/** The pilot in command's decision and signature. Talkround never decides (R9). */
export function Decide({ coverage, done }: { coverage: Coverage; done: () => void }) {
  const house = useHouse();
  const settings = useLive(house.settings);
  const { tell } = useTell();
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
        <p>Signed by {coverage.signed.name}.</p>
        <button type="button" className="press main glove" onClick={done}>
          See the sheet
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
          <h2>The pilot in command decides</h2>
        </legend>
        <div className="decisions">
          {WORDS.map((w) => (
            <label key={w.decision} className="decision">
              <input
                type="radio"
                name="decision"
                checked={decision === w.decision}
                onChange={() => setDecision(w.decision)}
              />
              <span>
                <strong>{w.title}</strong>
                <span className="small quiet">{w.text}</span>
              </span>
            </label>
          ))}
        </div>
      </fieldset>
      {decision === 'defer' && (
        <label className="field">
          <span>On whose authority, and within which limits</span>
          <input value={authority} required onChange={(e) => setAuthority(e.target.value)} />
        </label>
      )}
      <label className="field">
        <span>Note</span>
        <input value={note} onChange={(e) => setNote(e.target.value)} autoComplete="off" />
      </label>
      <div className="two">
        <label className="field">
          <span>Name</span>
          <input
            value={name}
            required
            autoComplete="name"
            onChange={(e) => setName(e.target.value)}
          />
        </label>
        <label className="field">
          <span>Certificate number, where given</span>
          <input
            value={certificate}
            autoComplete="off"
            onChange={(e) => setCertificate(e.target.value)}
          />
        </label>
      </div>
      {unplaced.length > 0 && (
        <p>A finding is not placed yet: give it its check above, then sign.</p>
      )}
      <div className="finish-go">
        <button type="button" className="press glove" onClick={done}>
          Leave it unsigned
        </button>
        <button
          type="submit"
          className="press main glove"
          disabled={busy || decision === null || name.trim() === '' || unplaced.length > 0}
        >
          Sign
        </button>
      </div>
    </form>
  );
}
