import { useState } from 'react';
import type { Edition } from '#shared/school';
import type { FleetLine } from '#shared/school-people';
import { useTell } from '../parts/Tell.tsx';
import type { AircraftEdit, SchoolServices } from '../services.ts';
import { useText } from '../text/text.ts';

interface Parts {
  readonly school: SchoolServices;
  /** Catalogues that the school has given to its phones. */
  readonly given: readonly Edition[];
  changed(): void;
}

/** Takes an aircraft into the list: a new one, or `of` one that is walked already. */
export function NewAircraft({
  school,
  given,
  changed,
  of,
}: Parts & { of?: { readonly name: string; readonly catalogue: string | null } }) {
  const t = useText();
  const { tell, say } = useTell();
  const [name, setName] = useState('');
  const [chosen, setChosen] = useState<string | null>(null);
  const own = given.find((c) => c.catalogue === of?.catalogue)?.catalogue;
  const catalogue = chosen ?? own ?? given[0]?.catalogue ?? '';
  if (given.length === 0) return of === undefined ? <p>{t('fleet-no-catalogue')}</p> : null;
  const add = async (called: string) => {
    if (!tell(await school.addAircraft(called, catalogue))) return;
    say(t('fleet-added', { name: called }));
    setName('');
    changed();
  };
  if (of !== undefined && own !== undefined)
    return (
      <button type="button" className="press" onClick={() => void add(of.name)}>
        {t('fleet-list-it')}
      </button>
    );
  return (
    <form
      className="fields"
      onSubmit={(e) => {
        e.preventDefault();
        void add(of?.name ?? name);
      }}
    >
      {of === undefined && (
        <label className="field">
          <span>{t('fleet-name')}</span>
          <input value={name} maxLength={80} required onChange={(e) => setName(e.target.value)} />
        </label>
      )}
      <Catalogues given={given} value={catalogue} set={setChosen} />
      <div className="tools">
        <button type="submit" className="press">
          {t(of === undefined ? 'fleet-add' : 'fleet-list-it')}
        </button>
      </div>
    </form>
  );
}

/** Another name, another catalogue, or no more walks of it. */
export function ChangeAircraft({ school, given, line, changed }: Parts & { line: FleetLine }) {
  const t = useText();
  const { tell } = useTell();
  const [name, setName] = useState(line.name);
  const change = async (edit: AircraftEdit) => {
    tell(await school.changeAircraft(line.id, edit));
    changed();
  };
  return (
    <details>
      <summary aria-label={t('people-change-of', { name: line.name })}>
        {t('people-change')}
      </summary>
      <form
        className="fields"
        onSubmit={(e) => {
          e.preventDefault();
          void change({ name });
        }}
      >
        <label className="field">
          <span>{t('fleet-name')}</span>
          <input value={name} maxLength={80} required onChange={(e) => setName(e.target.value)} />
        </label>
        <div className="tools">
          <button type="submit" className="press" disabled={name.trim() === line.name}>
            {t('fleet-rename')}
          </button>
        </div>
        <Catalogues
          given={given}
          value={line.catalogue}
          set={(catalogue) => void change({ catalogue })}
        />
      </form>
      <p className="quiet">{t('fleet-rename-what')}</p>
      <div className="tools">
        <button
          type="button"
          className="press"
          onClick={() => void change({ retired: !line.retired })}
        >
          {t(line.retired ? 'fleet-bring-back' : 'fleet-retire')}
        </button>
      </div>
    </details>
  );
}

function Catalogues({
  given,
  value,
  set,
}: {
  given: readonly Edition[];
  value: string;
  set: (catalogue: string) => void;
}) {
  const t = useText();
  return (
    <label className="field">
      <span>{t('fleet-catalogue')}</span>
      <select value={value} onChange={(e) => set(e.target.value)}>
        {given.every((c) => c.catalogue !== value) && <option value={value}>{value}</option>}
        {given.map((c) => (
          <option key={c.catalogue} value={c.catalogue}>
            {c.name}
          </option>
        ))}
      </select>
    </label>
  );
}
