import { useEffect, useState } from 'react';
import { Link } from 'wouter';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';
import { dateTime } from '../parts/words.ts';
import type { CodeView, SchoolServices, SchoolView } from '../services.ts';
import { useText, type Text } from '../text/text.ts';
import { Arrivals } from './Arrivals.tsx';
import { Code } from './Code.tsx';
import { Devices } from './Devices.tsx';
import { Editions } from './Editions.tsx';
import { Fleet } from './Fleet.tsx';
import { Offers } from './Offers.tsx';
import { Passkeys } from './Passkeys.tsx';
import { People } from './People.tsx';
import { TermsForm } from './TermsForm.tsx';
import { rolesInWords } from './words.ts';
import './school.css';

/** This device and its school: how it stands, and for those who work there, the desk. */
export default function School() {
  const { school } = useHouse();
  const t = useText();
  return school === undefined ? <p>{t('school-cannot')}</p> : <Inside school={school} />;
}

function Inside({ school }: { school: SchoolServices }) {
  const view = useLive(school.view);
  useEffect(() => void school.look(), [school]);
  const { hello } = view;
  if (hello === null) return <Outside school={school} view={view} />;
  const is = (role: (typeof hello.roles)[number]) => hello.roles.includes(role);
  const out = view.sync.state === 'out';
  return (
    <div className="school">
      <header className="head">
        <h1>{hello.name}</h1>
      </header>
      <How school={school} view={view} />
      {!out && <Arrivals school={school} view={view} />}
      {!out && <Fleet school={school} view={view} />}
      {!out && <Offers school={school} view={view} />}
      {!out && <Passkeys school={school} view={view} />}
      {!out && (is('chief') || is('instructor')) && <People school={school} view={view} />}
      {!out && (is('chief') || is('instructor')) && <Devices school={school} view={view} />}
      {!out && is('chief') && <Editions school={school} view={view} />}
      {!out && is('chief') && (
        <TermsForm key={JSON.stringify(hello.terms)} school={school} terms={hello.terms} />
      )}
    </div>
  );
}

/** In no school: a desk may ask to be let in. */
function Outside({ school, view }: { school: SchoolServices; view: SchoolView }) {
  const [code, setCode] = useState<CodeView | null>(null);
  const { tell } = useTell();
  const t = useText();
  const signIn = async () => {
    tell(await school.signIn());
  };
  const ask = async () => {
    const outcome = await school.askIn();
    if (tell(outcome) && outcome.ok) setCode(outcome.value);
  };
  return (
    <div className="school">
      <header className="head">
        <h1>{t('place-school')}</h1>
      </header>
      {view.about === null ? (
        <p>{t('school-none')}</p>
      ) : (
        <>
          <p>{t('school-outside', { school: view.about.name })}</p>
          {code === null ? (
            <div className="tools">
              {view.about.passkeys && (
                <button type="button" className="press main" onClick={() => void signIn()}>
                  {t('school-by-passkey')}
                </button>
              )}
              <button
                type="button"
                className={view.about.passkeys ? 'press' : 'press main'}
                onClick={() => void ask()}
              >
                {t('school-use-desk')}
              </button>
            </div>
          ) : (
            <Code code={code} what={t('school-scan-desk')} />
          )}
        </>
      )}
    </div>
  );
}

function syncInWords(sync: SchoolView['sync'], t: Text): string {
  switch (sync.state) {
    case 'away':
      return t('school-away', { why: t.said(sync.why) });
    case 'out':
      return t.said(sync.why);
    case 'busy':
      return t('school-busy');
    case 'resting':
      return t('school-resting');
  }
}

function How({ school, view }: { school: SchoolServices; view: SchoolView }) {
  const { tell } = useTell();
  const t = useText();
  const { hello, sync, told } = view;
  if (hello === null) return null;
  const desk = hello.until !== null;
  const who = hello.person === null ? t('school-shared') : hello.person.name;
  const roles = rolesInWords(hello.roles, t);
  return (
    <section>
      <p>
        {hello.until === null
          ? t('school-who', { who, roles })
          : t('school-who-until', { who, roles, when: dateTime(hello.until) })}
      </p>
      <p role="status" className={sync.state === 'out' ? 'notice refused' : 'sync'}>
        {syncInWords(sync, t)}
      </p>
      {told.length > 0 && (
        <details>
          <summary>{t('school-told', { n: told.length })}</summary>
          <ul className="lines">
            {told.map(({ event, why }) => (
              <li key={`${event} ${why}`}>{t.said(why)}</li>
            ))}
          </ul>
        </details>
      )}
      <div className="tools">
        <button type="button" className="press" onClick={() => void school.sync()}>
          {t('school-ask')}
        </button>
        {!desk && (
          <Link className="press" href="/let">
            {t('school-let')}
          </Link>
        )}
        {(desk || sync.state === 'out') && (
          <button type="button" className="press" onClick={() => void school.leave().then(tell)}>
            {t(desk ? 'school-sign-out' : 'school-leave')}
          </button>
        )}
      </div>
    </section>
  );
}
