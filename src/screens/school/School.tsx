import { useEffect, useState } from 'react';
import { Link } from 'wouter';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';
import { dateTime } from '../parts/words.ts';
import type { CodeView, SchoolServices, SchoolView } from '../services.ts';
import { Arrivals } from './Arrivals.tsx';
import { Code } from './Code.tsx';
import { Devices } from './Devices.tsx';
import { Editions } from './Editions.tsx';
import { Fleet } from './Fleet.tsx';
import { People } from './People.tsx';
import { TermsForm } from './TermsForm.tsx';
import { ROLE_WORDS } from './words.ts';
import './school.css';

/** This device and its school: how it stands, and for those who work there, the desk. */
export default function School() {
  const { school } = useHouse();
  return school === undefined ? <p>This app cannot be in a school.</p> : <Inside school={school} />;
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
      {!out && <Fleet view={view} />}
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
  const ask = async () => {
    const outcome = await school.askIn();
    if (tell(outcome) && outcome.ok) setCode(outcome.value);
  };
  return (
    <div className="school">
      <header className="head">
        <h1>School</h1>
      </header>
      {view.about === null ? (
        <p>
          This device is in no school. A phone joins by the code that the desk shows; the page has
          to come from the school’s own server.
        </p>
      ) : (
        <>
          <p>
            {view.about.name}: a phone joins by the code that the desk shows. To use this device as
            a desk, sign in with a phone that is in.
          </p>
          {code === null ? (
            <div className="tools">
              <button type="button" className="press main" onClick={() => void ask()}>
                Use this device as a desk
              </button>
            </div>
          ) : (
            <Code
              code={code}
              what="Scan this with your own phone, or type the number there under School, Sign a desk in."
            />
          )}
        </>
      )}
    </div>
  );
}

const STATES: Readonly<Record<SchoolView['sync']['state'], string>> = {
  resting: 'Everything is up, and everything that is yours is here.',
  busy: 'Talking to the school …',
  away: '',
  out: '',
};

function How({ school, view }: { school: SchoolServices; view: SchoolView }) {
  const { tell } = useTell();
  const { hello, sync, told } = view;
  if (hello === null) return null;
  const desk = hello.until !== null;
  return (
    <section>
      <p>
        {hello.person === null ? 'A phone that the pilots share' : hello.person.name}
        {': '}
        {hello.roles.map((r) => ROLE_WORDS[r]).join(', ')}
        {hello.until === null ? '.' : `. Signed in until ${dateTime(hello.until)}.`}
      </p>
      <p role="status" className={sync.state === 'out' ? 'notice refused' : 'sync'}>
        {sync.state === 'away'
          ? `${sync.why} It is tried again by itself; nothing is lost meanwhile.`
          : sync.state === 'out'
            ? sync.why
            : STATES[sync.state]}
      </p>
      {told.length > 0 && (
        <details>
          <summary>{told.length} to look at</summary>
          <ul className="lines">
            {told.map((t) => (
              <li key={`${t.event} ${t.why}`}>{t.why}</li>
            ))}
          </ul>
        </details>
      )}
      <div className="tools">
        <button type="button" className="press" onClick={() => void school.sync()}>
          Ask the school now
        </button>
        {!desk && (
          <Link className="press" href="/let">
            Sign a desk in
          </Link>
        )}
        {(desk || sync.state === 'out') && (
          <button type="button" className="press" onClick={() => void school.leave().then(tell)}>
            {desk ? 'Sign out' : 'Leave the school'}
          </button>
        )}
      </div>
    </section>
  );
}
