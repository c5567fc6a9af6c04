import { useRef, useState, type DragEvent } from 'react';
import { useLocation } from 'wouter';
import { useHouse } from '../parts/house.ts';
import { useTell } from '../parts/Tell.tsx';
import type { BroughtWalk, Progress } from '../services.ts';
import { useText } from '../text/text.ts';
import { Whose } from './Whose.tsx';

/** A backup is known by its name, so that one place takes every kind of file. */
const BACKUP = /\.(talkround|zip|backup)$/i;
const CATALOGUE = /\.(ya?ml|json)$/i;

interface Taken {
  readonly file: File;
  readonly into: BroughtWalk | null;
}

/** A transcript, a sound file, a catalogue or a backup, by drop or by choice. */
export function BringIn() {
  const house = useHouse();
  const { tell, say } = useTell();
  const t = useText();
  const [, go] = useLocation();
  const [progress, setProgress] = useState<Progress | null>(null);
  /** Walks that wait for their names. */
  const [waiting, setWaiting] = useState<readonly File[]>([]);
  const ending = useRef<AbortController | null>(null);
  const [over, setOver] = useState(false);

  const take = async (all: readonly Taken[]) => {
    const stop = new AbortController();
    ending.current = stop;
    let last: string | null = null;
    let done = 0;
    for (const [i, { file, into }] of all.entries()) {
      if (stop.signal.aborted) break;
      const told = ({ text, part }: Progress) =>
        setProgress({
          text:
            all.length === 1
              ? t.said(text)
              : t('bring-in-which', {
                  n: i + 1,
                  all: all.length,
                  file: file.name,
                  text: t.said(text),
                }),
          part: part === null ? null : (i + part) / all.length,
        });
      told({ text: t('bring-in-reading', { file: file.name }), part: all.length === 1 ? null : 0 });
      if (BACKUP.test(file.name)) {
        const outcome = await house.restore(file, told, stop.signal);
        if (tell(outcome) && outcome.ok) say(outcome.value.text);
        continue;
      }
      const outcome = await house.bringIn(file, into, told, stop.signal);
      if (!tell(outcome) || !outcome.ok) continue;
      if (outcome.value.go !== undefined) go(outcome.value.go);
      else say(outcome.value.text);
      if (outcome.value.walk !== null) {
        last = outcome.value.walk;
        done += 1;
      }
    }
    ending.current = null;
    setProgress(null);
    if (stop.signal.aborted && all.length > 1)
      say(t('bring-in-stopped', { done, all: all.length }));
    // One walk is looked at; of several the list is, where they all stand.
    if (last !== null && all.length === 1) go(`/debrief/${last}`);
  };

  const choose = (files: readonly File[]) => {
    const known = files.filter((f) => BACKUP.test(f.name) || CATALOGUE.test(f.name));
    const walks = files.filter((f) => !known.includes(f));
    setWaiting(walks);
    if (known.length > 0) void take(known.map((file) => ({ file, into: null })));
  };
  const drop = (event: DragEvent) => {
    event.preventDefault();
    setOver(false);
    choose([...event.dataTransfer.files]);
  };

  return (
    <section className="keep">
      <h2>{t('bring-in')}</h2>
      <p>{t('bring-in-what')}</p>
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
            choose(files);
          }}
        />
        <span>{t('bring-in-choose')}</span>
      </label>
      {waiting.length > 0 && (
        <Whose
          key={waiting.map((f) => f.name).join()}
          files={waiting}
          leave={() => setWaiting([])}
          take={(walks) => {
            setWaiting([]);
            void take(walks);
          }}
        />
      )}
      {progress !== null && (
        <div className="tools">
          <p role="status">
            {progress.text}{' '}
            {progress.part !== null && (
              <progress value={progress.part} aria-label={progress.text} />
            )}
          </p>
          <button type="button" className="press" onClick={() => ending.current?.abort()}>
            {t('stop')}
          </button>
        </div>
      )}
    </section>
  );
}
