import { useEffect, useState } from 'react';
import { useLive } from '../parts/live.ts';
import { useText } from '../text/text.ts';
import type { MadeOfName, OwnVoice as Voice } from './desk.ts';

/** Names of a check, said by their author: what the recogniser of this device makes of them, and how to mend it. */
export function OwnVoice({
  voice,
  text,
  station,
  names,
  write,
}: {
  voice: Voice;
  /** The author's file as it stands. */
  text: string;
  station: string;
  names: readonly string[];
  /** Writes down how a word sounds. */
  write: (word: string, phones: string) => void;
}) {
  const t = useText();
  const now = useLive(voice.now);
  const [chosen, setChosen] = useState('');
  const name = names.includes(chosen) ? chosen : (names[0] ?? '');
  useEffect(() => () => void voice.stop(), [voice]);
  const on = ['starting', 'listening', 'hearing'].includes(now.state);
  const mine = names.includes(now.name) && now.state !== 'off';
  if (name === '') return null;
  return (
    <>
      <div className="fields">
        {names.length > 1 && (
          <label className="field">
            <span>{t('shop-own-which')}</span>
            <select value={name} disabled={on} onChange={(e) => setChosen(e.target.value)}>
              {names.map((n) => (
                <option key={n}>{n}</option>
              ))}
            </select>
          </label>
        )}
        <button
          type="button"
          className="press"
          onClick={() => (on ? void voice.stop() : voice.start(text, station, name))}
        >
          {on ? t('shop-own-stop') : t('shop-own-say', { name })}
        </button>
      </div>
      {mine && (
        <div className="own-voice" role="status">
          {on && <p>{t(`shop-own-${now.state}`, { name: now.name })}</p>}
          {now.state === 'trouble' && <p>{t.said(now.trouble ?? '')}</p>}
          {now.state === 'done' && now.made !== null && (
            <Made name={now.name} made={now.made} write={write} />
          )}
        </div>
      )}
    </>
  );
}

function Made({
  name,
  made,
  write,
}: {
  name: string;
  made: MadeOfName;
  write: (word: string, phones: string) => void;
}) {
  const t = useText();
  return (
    <>
      <p>
        <strong>{t(`shop-own-as-${made.as}`, { name, other: made.other ?? '' })}</strong>
      </p>
      {made.faint && <p>{t('shop-own-faint')}</p>}
      {made.noisy && <p>{t('shop-own-noisy')}</p>}
      {made.sounds.length > 0 && (
        <p className="quiet">{t('shop-own-sounds', { sounds: made.sounds.join(' ') })}</p>
      )}
      {made.as !== 'heard' && made.words.length > 0 && (
        <>
          <p>{t('shop-own-mend')}</p>
          <div className="tools">
            {made.words.map(({ word, heard }) => (
              <button key={word} type="button" className="press" onClick={() => write(word, heard)}>
                {t('shop-own-write', { word, sounds: heard })}
              </button>
            ))}
          </div>
        </>
      )}
    </>
  );
}
