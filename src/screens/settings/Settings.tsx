import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { EAR_WORDS, type EarKind, type Settings as Kept, type Theme } from '../services.ts';
import { useChooseEar } from './chooseEar.tsx';
import { Erase } from './Erase.tsx';
import './settings.css';

const THEMES: readonly { theme: Theme; name: string; text: string }[] = [
  { theme: 'system', name: 'As the device', text: 'Light or dark, as it is set' },
  { theme: 'light', name: 'Light', text: 'For full sun' },
  { theme: 'dark', name: 'Dark', text: 'For the hangar and the evening' },
  { theme: 'red', name: 'Night red', text: 'Keeps the eye adapted; no colour means anything then' },
];
const TALKS: readonly { talk: Kept['talk']; name: string; text: string }[] = [
  { talk: 'tones', name: 'Tones only', text: 'The words are on the screen' },
  {
    talk: 'exceptions',
    name: 'Exceptions',
    text: 'Questions, findings and what was not understood',
  },
  { talk: 'everything', name: 'Everything', text: 'What was taken as good is read back too' },
];
const EARS: readonly { ear: EarKind; text: string }[] = [
  { ear: 'embedded', text: 'Nothing leaves the device. Weak in wind and engine noise.' },
  {
    ear: 'browser',
    text: 'May send the sound to the browser’s maker; the walk says when it does.',
  },
  { ear: 'typed', text: 'No microphone.' },
];

export default function Settings() {
  const house = useHouse();
  const now = useLive(house.settings);
  const { choose, asked } = useChooseEar();
  const set = (part: Partial<Kept>) => house.change(part);
  return (
    <div className="settings">
      <header className="head">
        <h1>Settings</h1>
      </header>
      <fieldset>
        <legend>
          <h2>Light</h2>
        </legend>
        {THEMES.map((t) => (
          <label key={t.theme} className="tick">
            <input
              type="radio"
              name="theme"
              checked={now.theme === t.theme}
              onChange={() => set({ theme: t.theme })}
            />
            <span>
              {t.name} <span className="small quiet">{t.text}</span>
            </span>
          </label>
        ))}
      </fieldset>
      <fieldset>
        <legend>
          <h2>Words come from</h2>
        </legend>
        {EARS.map((e) => (
          <label key={e.ear} className="tick">
            <input
              type="radio"
              name="ear"
              checked={now.ear === e.ear}
              onChange={() => choose(e.ear)}
            />
            <span>
              {EAR_WORDS[e.ear]} <span className="small quiet">{e.text}</span>
            </span>
          </label>
        ))}
      </fieldset>
      <fieldset>
        <legend>
          <h2>Said aloud</h2>
        </legend>
        {TALKS.map((t) => (
          <label key={t.talk} className="tick">
            <input
              type="radio"
              name="talk"
              checked={now.talk === t.talk}
              onChange={() => set({ talk: t.talk })}
            />
            <span>
              {t.name} <span className="small quiet">{t.text}</span>
            </span>
          </label>
        ))}
      </fieldset>
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
      <Erase />
      {asked}
    </div>
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
