import { useState } from 'react';
import type { Catalogue } from '#shared/catalogue';
import { useHouse } from '../parts/house.ts';
import { useTell } from '../parts/Tell.tsx';
import { capital } from '../parts/words.ts';
import type { LastHeard } from '../services.ts';
import { useText } from '../text/text.ts';
import './lately.css';

/** The last utterances with what became of each; a touch takes one back or puts it on another check. */
export function Lately({
  lately,
  catalogue,
}: {
  lately: readonly LastHeard[];
  catalogue: Catalogue;
}) {
  const house = useHouse();
  const t = useText();
  const [open, setOpen] = useState<string | null>(null);
  if (lately.length === 0 || house.takeBack === undefined) return null;
  return (
    <details className="lately">
      <summary>{t('lately', { n: lately.length })}</summary>
      <ol>
        {[...lately].reverse().map((u) => (
          <li key={u.event} className={u.taken === true ? 'is-taken' : ''}>
            <button
              type="button"
              aria-expanded={open === u.event}
              disabled={u.changes !== true || u.taken === true}
              onClick={() => setOpen(open === u.event ? null : u.event)}
            >
              <span className="words">{u.words}</span>
              <span className="small">
                {u.taken === true ? t('lately-taken') : u.made.join('; ')}
              </span>
            </button>
            {open === u.event && u.taken !== true && (
              <Turn event={u.event} catalogue={catalogue} done={() => setOpen(null)} />
            )}
          </li>
        ))}
      </ol>
    </details>
  );
}

function Turn({
  event,
  catalogue,
  done,
}: {
  event: string;
  catalogue: Catalogue;
  done: () => void;
}) {
  const house = useHouse();
  const { tell } = useTell();
  const t = useText();
  return (
    <div className="turn">
      <button
        type="button"
        className="press glove"
        onClick={() => void house.takeBack?.(event).then((o) => tell(o) && done())}
      >
        {t('lately-take-back')}
      </button>
      <label>
        {t('lately-said-of')}
        <select
          value=""
          onChange={(e) => void house.putOn?.(event, e.target.value).then((o) => tell(o) && done())}
        >
          <option value="">{t('lately-choose')}</option>
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
    </div>
  );
}
