import { useState, type FormEvent } from 'react';
import { instancesOf, ONCE } from '#shared/catalogue';
import type { Catalogue } from '#shared/catalogue';
import type { CheckCoverage, Standing } from '#shared/coverage';
import { useHouse } from '../parts/house.ts';
import { useTell } from '../parts/Tell.tsx';
import { capital, namesOf } from '../parts/words.ts';
import type { WalkRecord } from '../services.ts';
import { useText } from '../text/text.ts';
import { readingWords } from './readings.ts';
import type { Utterance } from './talk.ts';

interface Reviewing {
  readonly record: WalkRecord;
  readonly by: string;
  readonly put: (record: WalkRecord) => void;
}

/** "That was the upper bearing": offered by one press, so that moving along the line stays light. */
export function CorrectReading(props: Reviewing & { utterance: Utterance }) {
  const t = useText();
  const [open, setOpen] = useState(false);
  if (props.utterance.statements.length === 0) return null;
  if (open) return <ReadingForm {...props} />;
  return (
    <div className="correct">
      <button type="button" className="press" onClick={() => setOpen(true)}>
        {t('correct-open')}
      </button>
    </div>
  );
}

/** What should have been read: beside the original reading, never instead of it. */
function ReadingForm({ utterance, record, by, put }: Reviewing & { utterance: Utterance }) {
  const house = useHouse();
  const { tell, say } = useTell();
  const t = useText();
  const names = namesOf(record.catalogue);
  const choices = utterance.statements;
  const [statement, setStatement] = useState(choices[0]?.id ?? '');
  const [check, setCheck] = useState('');
  const [place, setPlace] = useState('');
  const [note, setNote] = useState('');
  const picked = names.check.get(check);
  const places = picked === undefined ? [] : instancesOf(picked).filter((i) => i !== ONCE);
  const send = async (event: FormEvent) => {
    event.preventDefault();
    const outcome = await house.reviewReading(record.id, {
      statement,
      instead:
        picked === undefined
          ? null
          : { check, instances: place === '' ? instancesOf(picked) : [place] },
      by,
      note: note.trim(),
    });
    if (tell(outcome) && outcome.ok) {
      put(outcome.value);
      say(t('correct-kept-reading'));
      setNote('');
    }
  };
  return (
    <form className="correct" onSubmit={(e) => void send(e)}>
      <h3>{t('correct-open')}</h3>
      {choices.length > 1 && (
        <label className="field">
          <span>{t('correct-which')}</span>
          <select value={statement} onChange={(e) => setStatement(e.target.value)}>
            {choices.map((s) => (
              <option key={s.id} value={s.id}>
                {readingWords(s, names, t)}
              </option>
            ))}
          </select>
        </label>
      )}
      <CheckPicker catalogue={record.catalogue} value={check} set={setCheck} />
      {places.length > 0 && (
        <label className="field">
          <span>{t('correct-place')}</span>
          <select value={place} onChange={(e) => setPlace(e.target.value)}>
            <option value="">{t('correct-everywhere')}</option>
            {places.map((p) => (
              <option key={p} value={p}>
                {p}
              </option>
            ))}
          </select>
        </label>
      )}
      <Noted note={note} set={setNote} by={by} />
    </form>
  );
}

function CheckPicker({
  catalogue,
  value,
  set,
}: {
  catalogue: Catalogue;
  value: string;
  set: (check: string) => void;
}) {
  const t = useText();
  return (
    <label className="field">
      <span>{t('correct-about')}</span>
      <select value={value} onChange={(e) => set(e.target.value)}>
        <option value="">{t('correct-no-check')}</option>
        {catalogue.stations.map((s) => (
          <optgroup key={s.id} label={s.name}>
            {s.checks.map((c) => (
              <option key={c.id} value={c.id}>
                {capital(c.name)}
              </option>
            ))}
          </optgroup>
        ))}
      </select>
    </label>
  );
}

const STANDINGS: readonly Exclude<Standing, 'skipped'>[] = [
  'spoken',
  'part',
  'question',
  'unspoken',
  'set-aside',
];

/** The reviewer's own standing for a check. */
export function CorrectStanding({
  coverage,
  record,
  by,
  put,
}: Reviewing & { coverage: CheckCoverage }) {
  const house = useHouse();
  const { tell, say } = useTell();
  const t = useText();
  const was = coverage.standing === 'skipped' ? 'unspoken' : coverage.standing;
  const [standing, setStanding] = useState<(typeof STANDINGS)[number]>(
    coverage.reviewed === null || coverage.reviewed === 'skipped' ? was : coverage.reviewed,
  );
  const [note, setNote] = useState('');
  const send = async (event: FormEvent) => {
    event.preventDefault();
    const outcome = await house.reviewStanding(record.id, {
      check: coverage.check,
      standing,
      by,
      note: note.trim(),
    });
    if (tell(outcome) && outcome.ok) {
      put(outcome.value);
      say(t('correct-kept-standing'));
      setNote('');
    }
  };
  return (
    <form className="correct" onSubmit={(e) => void send(e)}>
      <h3>{t('correct-standing')}</h3>
      <label className="field">
        <span>{t('correct-was')}</span>
        <select
          value={standing}
          onChange={(e) => {
            const found = STANDINGS.find((s) => s === e.target.value);
            if (found !== undefined) setStanding(found);
          }}
        >
          {STANDINGS.map((s) => (
            <option key={s} value={s}>
              {t(`standing-${s}`)}
            </option>
          ))}
        </select>
      </label>
      <Noted note={note} set={setNote} by={by} />
    </form>
  );
}

function Noted({ note, set, by }: { note: string; set: (note: string) => void; by: string }) {
  const t = useText();
  return (
    <>
      <label className="field">
        <span>{t('sheet-why')}</span>
        <input value={note} onChange={(e) => set(e.target.value)} autoComplete="off" />
      </label>
      <button type="submit" className="press" disabled={by === ''}>
        {by === '' ? t('correct-who-first') : t('correct-as', { name: by })}
      </button>
    </>
  );
}
