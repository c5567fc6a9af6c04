import { useState } from 'react';
import type { PasskeyLine } from '#shared/passkey';
import { useTell } from '../parts/Tell.tsx';
import { dateTime } from '../parts/words.ts';
import type { SchoolServices, SchoolView } from '../services.ts';
import { useText } from '../text/text.ts';
import { useAsked } from './useAsked.ts';

/** One's passkeys, and for a chief everybody's: each is removed by one touch, and a new one is made. */
export function Passkeys({ school, view }: { school: SchoolServices; view: SchoolView }) {
  const t = useText();
  const { tell, say } = useTell();
  const [changes, setChanges] = useState(0);
  const [name, setName] = useState('');
  const answer = useAsked(() => school.passkeys(), view.news + changes * 1e6);
  const person = view.hello?.person ?? null;
  const able = view.about?.passkeys === true;
  if (answer === null || person === null) return null;
  if (!answer.ok) return <p className="notice">{t.said(answer.error)}</p>;
  if (answer.value.length === 0 && !able) return null;
  const add = async () => {
    if (!tell(await school.addPasskey(name))) return;
    say(t('passkeys-added'));
    setName('');
    setChanges((n) => n + 1);
  };
  const remove = async (line: PasskeyLine) => {
    if (tell(await school.removePasskey(line.id))) say(t('passkeys-removed', { name: line.name }));
    setChanges((n) => n + 1);
  };
  return (
    <section aria-label={t('passkeys')}>
      <h2>{t('passkeys')}</h2>
      {answer.value.length === 0 && <p className="quiet">{t('passkeys-none')}</p>}
      <ul className="lines">
        {answer.value.map((line) => (
          <li key={line.id} data-passkey={line.id}>
            <strong>{line.name}</strong>
            {line.person.id !== person.id && <span>{line.person.name}</span>}
            <span className="quiet">
              {line.used === null
                ? t('passkeys-unused', { when: dateTime(line.added) })
                : t('passkeys-used', { when: dateTime(line.used) })}
            </span>
            {line.copied && <span className="warned">{t('passkeys-copied')}</span>}
            <button
              type="button"
              className="press"
              aria-label={t('passkeys-remove-which', { name: line.name, person: line.person.name })}
              onClick={() => void remove(line)}
            >
              {t(line.person.id === person.id ? 'passkeys-remove' : 'phones-shut-out')}
            </button>
          </li>
        ))}
      </ul>
      {able && (
        <form
          className="fields"
          onSubmit={(e) => {
            e.preventDefault();
            void add();
          }}
        >
          <label className="field">
            <span>{t('passkeys-name')}</span>
            <input value={name} maxLength={80} required onChange={(e) => setName(e.target.value)} />
          </label>
          <div className="tools">
            <button type="submit" className="press">
              {t('passkeys-add')}
            </button>
          </div>
        </form>
      )}
    </section>
  );
}
