import { useEffect, useState } from 'react';
import { useTell } from '../parts/Tell.tsx';
import { useText } from '../text/text.ts';
import type { WordSound, Workshop } from './desk.ts';
import { Field } from './Field.tsx';
import { isFields, type Path } from './fields.ts';
import { OwnVoice } from './OwnVoice.tsx';
import type { Editing } from './useEditing.ts';

/** What the recogniser's dictionary makes of the names of a check, and how to mend it. */
export function Sounds({
  shop,
  editing,
  path,
  station,
  names,
  own,
}: {
  shop: Workshop;
  editing: Editing;
  path: Path;
  /** Id of the station that the check is at. */
  station: string;
  names: readonly string[];
  own: unknown;
}) {
  const t = useText();
  const { say } = useTell();
  const [sounds, setSounds] = useState<readonly WordSound[]>([]);
  const wanted = names.join('\n');
  const { text } = editing;
  useEffect(() => {
    let still = true;
    const timer = setTimeout(() => {
      void shop.hearing.sounds(text, wanted.split('\n')).then(
        (list) => {
          if (still) setSounds(list);
        },
        // Said once already, beside what the linter says.
        () => undefined,
      );
    }, 300);
    return () => {
      still = false;
      clearTimeout(timer);
    };
  }, [shop, text, wanted]);
  const aloud = async () => {
    if (!(await shop.hearing.say(names.join(', ')))) say(t('shop-voiceless'));
  };
  const mended = isFields(own) ? own : {};
  /** How a word sounds, as the author writes it; nothing: as the dictionary has it. */
  const write = (word: string, phones: string) => {
    const at = [...path, 'pronounce'];
    const value = phones.trim().toUpperCase();
    const last = Object.keys(mended).every((w) => w === word);
    editing.edit([
      value === '' && last
        ? { do: 'set', path: at, value: undefined }
        : Object.keys(mended).length === 0
          ? { do: 'set', path: at, value: { [word]: value } }
          : { do: 'set', path: [...at, word], value: value === '' ? undefined : value },
    ]);
  };
  return (
    <fieldset className="sounds">
      <legend>{t('shop-sounds')}</legend>
      <button type="button" className="press" onClick={() => void aloud()}>
        {t('shop-sounds-aloud')}
      </button>
      {shop.ownVoice !== undefined && (
        <OwnVoice voice={shop.ownVoice} text={text} station={station} names={names} write={write} />
      )}
      {sounds.map((s) => (
        <Field
          key={s.word}
          label={t('shop-sound', { word: s.word, by: t(`shop-by-${s.by}`) })}
          value={s.phones}
          {...(s.by === 'spelling'
            ? {
                help: t('shop-sound-guessed'),
              }
            : {})}
          set={(phones) => write(s.word, phones)}
        />
      ))}
    </fieldset>
  );
}
