import { useState, type DragEvent } from 'react';
import { useLocation } from 'wouter';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';
import type { Progress } from '../services.ts';

/** A backup is known by its name, so that one place takes every kind of file. */
const BACKUP = /\.(talkround|zip|backup)$/i;

/** A transcript, a sound file, a catalogue or a backup, by drop or by choice. */
export function BringIn() {
  const house = useHouse();
  const choices = useLive(house.choices);
  const { tell, say } = useTell();
  const [, go] = useLocation();
  const first = choices.last?.catalogue ?? choices.catalogues[0]?.id ?? '';
  const [catalogue, setCatalogue] = useState('');
  const [aircraft, setAircraft] = useState('');
  const [progress, setProgress] = useState<Progress | null>(null);
  /** Ends the restoring that runs. */
  const [stop, setStop] = useState<(() => void) | null>(null);
  const [over, setOver] = useState(false);

  const take = async (files: readonly File[]) => {
    for (const file of files) {
      setProgress({ text: `Reading ${file.name} …`, part: null });
      if (BACKUP.test(file.name)) {
        const ending = new AbortController();
        setStop(() => () => ending.abort());
        const outcome = await house.restore(file, setProgress, ending.signal);
        setStop(null);
        if (tell(outcome) && outcome.ok) say(outcome.value.text);
      } else {
        const id = catalogue || first;
        const name = choices.catalogues.find((c) => c.id === id)?.name ?? id;
        const into = { aircraft: aircraft.trim() || choices.last?.aircraft || name, catalogue: id };
        const outcome = await house.bringIn(file, into, setProgress);
        if (tell(outcome) && outcome.ok) {
          if (outcome.value.go !== undefined) go(outcome.value.go);
          else say(outcome.value.text);
          if (outcome.value.walk !== null) go(`/sheet/${outcome.value.walk}`);
        }
      }
      setProgress(null);
    }
  };
  const drop = (event: DragEvent) => {
    event.preventDefault();
    setOver(false);
    void take([...event.dataTransfer.files]);
  };

  return (
    <section className="keep">
      <h2>Bring in</h2>
      <p>
        A transcript (VTT, SRT or plain text), a sound file, a catalogue (YAML or JSON), or a backup
        from another device.
      </p>
      <div className="fields">
        <label className="field">
          <span>Heard with the catalogue</span>
          <select value={catalogue || first} onChange={(e) => setCatalogue(e.target.value)}>
            {choices.catalogues.map((c) => (
              <option key={c.id} value={c.id}>
                {c.name}
              </option>
            ))}
          </select>
        </label>
        <label className="field">
          <span>Aircraft</span>
          <input
            value={aircraft}
            placeholder={choices.last?.aircraft ?? ''}
            autoComplete="off"
            onChange={(e) => setAircraft(e.target.value)}
          />
        </label>
      </div>
      <label
        className={`drop${over ? ' over' : ''}`}
        onDragOver={(e) => {
          e.preventDefault();
          setOver(true);
        }}
        onDragLeave={() => setOver(false)}
        onDrop={drop}
      >
        <input
          type="file"
          multiple
          onChange={(e) => {
            const files = [...(e.target.files ?? [])];
            // The same file may be chosen again, such as to go on with a restore that was stopped.
            e.target.value = '';
            void take(files);
          }}
        />
        <span>Choose files, or drop them here</span>
      </label>
      {progress !== null && (
        <div className="tools">
          <p role="status">
            {progress.text}{' '}
            {progress.part !== null && (
              <progress value={progress.part} aria-label={progress.text} />
            )}
          </p>
          {stop !== null && (
            <button type="button" className="press" onClick={stop}>
              Stop
            </button>
          )}
        </div>
      )}
    </section>
  );
}
