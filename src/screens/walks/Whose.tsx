import { useState, type FormEvent } from 'react';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import type { BroughtWalk } from '../services.ts';
import { useText } from '../text/text.ts';
import { fieldOf, guessOf } from './whose.ts';

/** Whose walks these files are: asked once for all of them, and when for each. */
export function Whose({
  files,
  take,
  leave,
}: {
  files: readonly File[];
  take: (walks: readonly { file: File; into: BroughtWalk }[]) => void;
  leave: () => void;
}) {
  const house = useHouse();
  const t = useText();
  const choices = useLive(house.choices);
  const settings = useLive(house.settings);
  const last = useLive(house.walks)[0];
  const known = choices.aircraft.map((a) => a.aircraft);
  const guesses = files.map((file) => guessOf(file, known));
  const named = guesses.find((g) => g.aircraft !== null)?.aircraft ?? null;
  const [aircraft, setAircraft] = useState(named ?? choices.last?.aircraft ?? '');
  const ofAircraft = choices.aircraft.find((a) => a.aircraft === aircraft);
  const [picked, setCatalogue] = useState<string | null>(null);
  const catalogue =
    picked ?? ofAircraft?.catalogue ?? choices.last?.catalogue ?? choices.catalogues[0]?.id ?? '';
  const [pilot, setPilot] = useState(last?.pilot ?? '');
  const [instructor, setInstructor] = useState(settings.pilot);
  const [hours, setHours] = useState('');
  const [begun, setBegun] = useState<readonly string[]>(guesses.map((g) => fieldOf(g.begun)));
  const send = (event: FormEvent) => {
    event.preventDefault();
    take(
      files.map((file, i) => {
        const at = Date.parse(begun[i] ?? '');
        return {
          file,
          into: {
            aircraft: aircraft.trim(),
            catalogue,
            pilot: pilot.trim() || null,
            instructor: instructor.trim() || null,
            hours: hours.trim() === '' ? null : Number(hours),
            ...(Number.isNaN(at) ? {} : { begun: at }),
          },
        };
      }),
    );
  };
  return (
    <form className="whose" onSubmit={send} aria-labelledby="whose">
      <h3 id="whose">{t('whose', { n: files.length })}</h3>
      <div className="fields">
        <label className="field">
          <span>{t('aircraft')}</span>
          <input
            required
            value={aircraft}
            list="whose-aircraft"
            autoComplete="off"
            onChange={(e) => setAircraft(e.target.value)}
          />
        </label>
        <datalist id="whose-aircraft">
          {known.map((name) => (
            <option key={name} value={name} />
          ))}
        </datalist>
        <label className="field">
          <span>{t('catalogue')}</span>
          <select value={catalogue} onChange={(e) => setCatalogue(e.target.value)}>
            {choices.catalogues.map((c) => (
              <option key={c.id} value={c.id}>
                {c.name}
              </option>
            ))}
          </select>
        </label>
        <label className="field">
          <span>{t('whose-flew')}</span>
          <input value={pilot} autoComplete="off" onChange={(e) => setPilot(e.target.value)} />
        </label>
        <label className="field">
          <span>{t('whose-taught')}</span>
          <input
            value={instructor}
            autoComplete="off"
            onChange={(e) => setInstructor(e.target.value)}
          />
        </label>
        <label className="field">
          <span>{t('whose-hours')}</span>
          <input
            type="number"
            min="0"
            step="0.1"
            value={hours}
            onChange={(e) => setHours(e.target.value)}
          />
        </label>
        {files.map((file, i) => (
          <label key={file.name} className="field">
            <span>
              {t(guesses[i]?.from === 'name' ? 'whose-when-name' : 'whose-when-date', {
                file: file.name,
              })}
            </span>
            <input
              type="datetime-local"
              required
              value={begun[i] ?? ''}
              onChange={(e) => setBegun(begun.map((b, k) => (k === i ? e.target.value : b)))}
            />
          </label>
        ))}
      </div>
      <div className="tools">
        <button type="submit" className="press main">
          {t('whose-take', { n: files.length })}
        </button>
        <button type="button" className="press" onClick={leave}>
          {t('whose-leave')}
        </button>
      </div>
    </form>
  );
}
