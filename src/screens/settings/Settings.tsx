import { Link } from 'wouter';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { capital } from '../parts/words.ts';
import {
  EAR_WORDS,
  type EarKind,
  type Settings as Kept,
  type Talk,
  type Theme,
} from '../services.ts';
import { useChooseEar } from './chooseEar.tsx';
import { Devices } from './Devices.tsx';
import { Erase } from './Erase.tsx';
import { useText, type Language } from '../text/text.ts';
import './settings.css';

interface Choice<T> {
  readonly value: T;
  readonly name: string;
  readonly text: string;
}

const THEMES: readonly Choice<Theme>[] = [
  { value: 'system', name: 'As the device', text: 'Light or dark, as it is set' },
  { value: 'light', name: 'Light', text: 'For full sun' },
  { value: 'dark', name: 'Dark', text: 'For the hangar and the evening' },
  { value: 'red', name: 'Night red', text: 'Keeps the eye adapted; no colour means anything then' },
];
const TALKS: readonly Choice<Talk>[] = [
  {
    value: 'tones',
    name: 'Tones only',
    text: 'Words only in answer to an order, or when something is wrong; the rest is on the screen',
  },
  {
    value: 'exceptions',
    name: 'Exceptions',
    text: 'Questions, findings and what was not understood',
  },
  { value: 'everything', name: 'Everything', text: 'What was taken as good is read back too' },
];
/** Each in its own words: who reads only that one finds it. */
const LANGUAGES: readonly Choice<Language>[] = [
  { value: 'en', name: 'English', text: '' },
  { value: 'de', name: 'Deutsch', text: '' },
];
const EARS: readonly Choice<EarKind>[] = [
  {
    value: 'embedded',
    name: capital(EAR_WORDS.embedded),
    text: 'Nothing leaves the device. Weak in wind and engine noise.',
  },
  {
    value: 'browser',
    name: capital(EAR_WORDS.browser),
    text: 'May send the sound to the browser’s maker; the walk says when it does.',
  },
  { value: 'typed', name: capital(EAR_WORDS.typed), text: 'No microphone.' },
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
        <h1>Settings</h1>
      </header>
      <OneOf
        title="Light"
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
      <OneOf title="Words come from" name="ear" of={EARS} now={now.ear} set={choose} />
      {house.earCheck !== undefined && now.ear === 'embedded' && (
        <p>
          <Link className="press" href="/ear">
            {t('check-title')}
          </Link>{' '}
          <span className="small quiet">{t('check-what')}</span>
        </p>
      )}
      <OneOf
        title="Said aloud"
        name="talk"
        of={TALKS}
        now={now.talk}
        set={(talk) => set({ talk })}
      />
      <fieldset>
        <legend>
          <h2>Sound</h2>
        </legend>
        <Tick
          name="Short tones for heard, finding and question"
          on={now.earcons}
          set={(earcons) => set({ earcons })}
        />
        <Tick
          name="Keep the sound beside the words, for the debrief"
          on={now.keepSound}
          set={(keepSound) => set({ keepSound })}
        />
      </fieldset>
      <section className="who-am-i">
        <h2>Pilot</h2>
        <label className="field">
          <span>Name</span>
          <input
            value={now.pilot}
            autoComplete="name"
            onChange={(e) => set({ pilot: e.target.value })}
          />
        </label>
        <label className="field">
          <span>Certificate number</span>
          <input
            value={now.certificate}
            autoComplete="off"
            onChange={(e) => set({ certificate: e.target.value })}
          />
        </label>
        <label className="field">
          <span>Paper</span>
          <select
            value={now.paper}
            onChange={(e) => set({ paper: e.target.value === 'letter' ? 'letter' : 'a4' })}
          >
            <option value="a4">A4</option>
            <option value="letter">Letter</option>
          </select>
        </label>
      </section>
      {house.learned !== undefined && (
        <section className="who-am-i">
          <h2>Your words</h2>
          <p>What your answers told about your own words, to be looked at and forgotten.</p>
          <Link className="press" href="/learned">
            What was learned
          </Link>
        </section>
      )}
      <Devices />
      {house.school !== undefined && (
        <section>
          <h2>School</h2>
          <Link className="press" href="/school">
            This device and its school
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
            {o.name} <span className="small quiet">{o.text}</span>
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
