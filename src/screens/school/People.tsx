import { useState } from 'react';
import { Link } from 'wouter';
import type { Person, Role } from '#shared/school';
import { useTell } from '../parts/Tell.tsx';
import type { CodeView, SchoolServices, SchoolView } from '../services.ts';
import { useText } from '../text/text.ts';
import { Code } from './Code.tsx';
import { useAsked } from './useAsked.ts';
import { rolesInWords, ROLES } from './words.ts';

/** The people of the school: what each may do, whom each instructs, and codes for their phones. */
export function People({ school, view }: { school: SchoolServices; view: SchoolView }) {
  const [changes, setChanges] = useState(0);
  const answer = useAsked(() => school.people(), view.news + changes * 1e6);
  const [code, setCode] = useState<{ code: CodeView; what: string } | null>(null);
  const { tell, say } = useTell();
  const t = useText();
  const chief = view.hello?.roles.includes('chief') === true;
  const own = view.hello?.person?.id;
  if (answer === null) return null;
  if (!answer.ok) return <p className="notice">{t.said(answer.error)}</p>;
  const people = answer.value.filter((p) => !p.gone);
  const changed = async (work: ReturnType<SchoolServices['changePerson']>) => {
    tell(await work);
    setChanges((n) => n + 1);
  };
  const invite = async (person: string | null, what: string) => {
    const outcome = await school.invite(person);
    if (tell(outcome) && outcome.ok) setCode({ code: outcome.value, what });
  };
  const erase = async (person: Person) => {
    const outcome = await school.eraseSoundOf(person.id);
    if (tell(outcome) && outcome.ok)
      say(t('people-erased', { n: outcome.value.recordings, name: person.name }));
  };
  const erasePhrases = async (person: Person) => {
    const outcome = await school.erasePhrasesOf(person.id);
    if (tell(outcome) && outcome.ok)
      say(t('people-phrases-erased', { n: outcome.value.phrases, name: person.name }));
  };
  return (
    <section aria-label={t('people')}>
      <h2>{t('people')}</h2>
      <ul className="lines people">
        {people.map((person) => (
          <li key={person.id}>
            <Link href={`/student/${encodeURIComponent(person.name)}`}>
              <strong>{person.name}</strong>
            </Link>
            <span>{rolesInWords(person.roles, t) || t('people-no-role')}</span>
            {chief && (
              <details>
                <summary aria-label={t('people-change-of', { name: person.name })}>
                  {t('people-change')}
                </summary>
                <fieldset>
                  <legend>{t('people-roles')}</legend>
                  {ROLES.map((role) => (
                    <Tick
                      key={role}
                      name={t(`role-${role}`)}
                      on={person.roles.includes(role)}
                      set={(on) =>
                        void changed(
                          school.changePerson(person.id, {
                            roles: toggled(person.roles, role, on),
                          }),
                        )
                      }
                    />
                  ))}
                </fieldset>
                {person.roles.includes('instructor') && (
                  <fieldset>
                    <legend>{t('people-students')}</legend>
                    {people
                      .filter((p) => p.id !== person.id && p.roles.includes('pilot'))
                      .map((p) => (
                        <Tick
                          key={p.id}
                          name={p.name}
                          on={person.students.includes(p.id)}
                          set={(on) =>
                            void changed(
                              school.changePerson(person.id, {
                                students: toggled(person.students, p.id, on),
                              }),
                            )
                          }
                        />
                      ))}
                  </fieldset>
                )}
                <Tick
                  name={t('people-voice')}
                  on={person.voice}
                  set={(voice) => void changed(school.changePerson(person.id, { voice }))}
                />
                <div className="tools">
                  <button
                    type="button"
                    className="press"
                    onClick={() =>
                      void invite(person.id, t('people-code-what', { name: person.name }))
                    }
                  >
                    {t('people-code')}
                  </button>
                  <button type="button" className="press" onClick={() => void erase(person)}>
                    {t('people-erase')}
                  </button>
                  <button type="button" className="press" onClick={() => void erasePhrases(person)}>
                    {t('people-erase-phrases')}
                  </button>
                  {person.id !== own && (
                    <button
                      type="button"
                      className="press"
                      onClick={() => void changed(school.changePerson(person.id, { gone: true }))}
                    >
                      {t('people-gone')}
                    </button>
                  )}
                </div>
              </details>
            )}
          </li>
        ))}
      </ul>
      {code !== null && <Code code={code.code} what={code.what} />}
      {chief && (
        <NewPerson
          add={(name, roles) => void changed(school.addPerson(name, roles))}
          shared={() => void invite(null, t('people-code-shared-what'))}
        />
      )}
    </section>
  );
}

function toggled<T>(list: readonly T[], value: T, on: boolean): readonly T[] {
  const rest = list.filter((x) => x !== value);
  return on ? [...rest, value] : rest;
}

function Tick({ name, on, set }: { name: string; on: boolean; set: (on: boolean) => void }) {
  return (
    <label className="tick">
      <input type="checkbox" checked={on} onChange={(e) => set(e.target.checked)} />
      <span>{name}</span>
    </label>
  );
}

function NewPerson({
  add,
  shared,
}: {
  add: (name: string, roles: readonly Role[]) => void;
  shared: () => void;
}) {
  const t = useText();
  const [name, setName] = useState('');
  const [role, setRole] = useState<Role>('pilot');
  return (
    <form
      className="new-person"
      onSubmit={(e) => {
        e.preventDefault();
        add(name, [role]);
        setName('');
      }}
    >
      <label className="field">
        <span>{t('people-name')}</span>
        <input value={name} maxLength={80} required onChange={(e) => setName(e.target.value)} />
      </label>
      <label className="field">
        <span>{t('people-role')}</span>
        <select
          value={role}
          onChange={(e) => setRole(ROLES.find((r) => r === e.target.value) ?? 'pilot')}
        >
          {ROLES.map((r) => (
            <option key={r} value={r}>
              {t(`role-${r}`)}
            </option>
          ))}
        </select>
      </label>
      <div className="tools">
        <button type="submit" className="press">
          {t('people-add')}
        </button>
        <button type="button" className="press" onClick={shared}>
          {t('people-code-shared')}
        </button>
      </div>
    </form>
  );
}
