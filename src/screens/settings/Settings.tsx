import { Link } from 'wouter';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { capital } from '../parts/words.ts';
import type { EarKind, Settings as Kept, Talk, Theme } from '../services.ts';
import { useChooseEar } from './chooseEar.tsx';
import { Devices } from './Devices.tsx';
import { Erase } from './Erase.tsx';
import { Local } from './Local.tsx';
import { useText, type Language } from '../text/text.ts';
import './settings.css';

/** One of a few, by the messages of its name and of what is told of it. */
interface Choice<T> {
  readonly value: T;
  readonly name: string;
  readonly text: string | null;
}

const THEMES: readonly Choice<Theme>[] = [
  { value: 'system', name: 'theme-system', text: 'theme-system-text' },
  { value: 'light', name: 'theme-light', text: 'theme-light-text' },
  { value: 'dark', name: 'theme-dark', text: 'theme-dark-text' },
  { value: 'red', name: 'theme-red', text: 'theme-red-text' },
];
const TALKS: readonly Choice<Talk>[] = [
  { value: 'tones', name: 'talk-tones', text: 'talk-tones-text' },
  { value: 'exceptions', name: 'talk-exceptions', text: 'talk-exceptions-text' },
  { value: 'everything', name: 'talk-everything', text: 'talk-everything-text' },
];
const LANGUAGES: readonly Choice<Language>[] = [
  { value: 'en', name: 'language-en', text: null },
  { value: 'de', name: 'language-de', text: null },
];
const EARS: readonly Choice<EarKind>[] = [
  { value: 'embedded', name: 'ear-embedded', text: 'settings-embedded' },
  { value: 'browser', name: 'ear-browser', text: 'settings-browser' },
  { value: 'typed', name: 'ear-typed', text: 'settings-typed' },
];

export default function Settings() {
  const house = useHouse();
  const now = useLive(house.settings);
  const { choose, asked } = useChooseEar();
  const t = useText();
  const set = (part: Partial<Kept>) => house.change(part);
  return (
    <div className="settings">
      <header className="head">
        <h1>{t('place-settings')}</h1>
      </header>
      <OneOf
        title={t('settings-theme')}
        name="theme"
        of={THEMES}
        now={now.theme}
        set={(theme) => set({ theme })}
      />
      <OneOf
        title={t('language')}
        note={t('language-note')}
        name="language"
        of={LANGUAGES}
        now={now.language}
        set={(language) => set({ language })}
      />
      <OneOf title={t('settings-ear')} name="ear" of={EARS} now={now.ear} set={choose} />
      <Local />
      {house.earCheck !== undefined && now.ear === 'embedded' && (
        <section className="who-am-i">
          <h2>{t('check-title')}</h2>
          <p>{t('check-what')}</p>
          <Link className="press" href="/ear">
            {t('settings-check')}
          </Link>
        </section>
      )}
      <OneOf
        title={t('settings-talk')}
        name="talk"
        of={TALKS}
        now={now.talk}
        set={(talk) => set({ talk })}
      />
      <fieldset>
        <legend>
          <h2>{t('settings-sound')}</h2>
        </legend>
        <Tick name={t('settings-earcons')} on={now.earcons} set={(earcons) => set({ earcons })} />
        <Tick
          name={t('settings-keep-sound')}
          on={now.keepSound}
          set={(keepSound) => set({ keepSound })}
        />
      </fieldset>
      <section className="who-am-i">
        <h2>{t('settings-pilot')}</h2>
        <label className="field">
          <span>{t('settings-name')}</span>
          <input
            value={now.pilot}
            autoComplete="name"
            onChange={(e) => set({ pilot: e.target.value })}
          />
        </label>
        <label className="field">
          <span>{t('settings-certificate')}</span>
          <input
            value={now.certificate}
            autoComplete="off"
            onChange={(e) => set({ certificate: e.target.value })}
          />
        </label>
        <label className="field">
          <span>{t('settings-paper')}</span>
          <select
            value={now.paper}
            onChange={(e) => set({ paper: e.target.value === 'letter' ? 'letter' : 'a4' })}
          >
            <option value="a4">{t('paper-a4')}</option>
            <option value="letter">{t('paper-letter')}</option>
          </select>
        </label>
      </section>
      {house.learned !== undefined && (
        <section className="who-am-i">
          <h2>{t('settings-words')}</h2>
          <p>{t('settings-words-note')}</p>
          <Link className="press" href="/learned">
            {t('learned')}
          </Link>
        </section>
      )}
      <Devices />
      {house.school !== undefined && (
        <section>
          <h2>{t('place-school')}</h2>
          <Link className="press" href="/school">
            {t('settings-school')}
          </Link>
        </section>
      )}
      <Erase />
      {asked}
    </div>
  );
}

/** One of a few: the whole line is pressed, and the arrow keys move in the group. */
function OneOf<T extends string>({
  title,
  name,
  of,
  now,
  set,
  note,
}: {
  title: string;
  note?: string;
  name: string;
  of: readonly Choice<T>[];
  now: T;
  set: (value: T) => void;
}) {
  const t = useText();
  return (
    <fieldset>
      <legend>
        <h2>{title}</h2>
      </legend>
      {note !== undefined && <p className="small quiet">{note}</p>}
      {of.map((o) => (
        <label key={o.value} className="tick">
          <input type="radio" name={name} checked={now === o.value} onChange={() => set(o.value)} />
          <span>
            {capital(t(o.name))}{' '}
            {o.text !== null && <span className="small quiet">{t(o.text)}</span>}
          </span>
        </label>
      ))}
    </fieldset>
  );
}

function Tick({ name, on, set }: { name: string; on: boolean; set: (on: boolean) => void }) {
  return (
    <label className="tick">
      <input type="checkbox" checked={on} onChange={(e) => set(e.target.checked)} />
      {name}
    </label>
  );
}
