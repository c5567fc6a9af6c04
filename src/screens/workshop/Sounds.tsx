import { useEffect, useState } from 'react';
import { useTell } from '../parts/Tell.tsx';
import { useText } from '../text/text.ts';
import type { WordSound, Workshop } from './desk.ts';
import { Field } from './Field.tsx';

/** What the recogniser's dictionary makes of the names of a check, and how to mend it. */
export function Sounds({
  shop,
  names,
  text,
  write,
}: {
  shop: Workshop;
  names: readonly string[];
  /** The author's file as it stands. */
  text: string;
  /** Writes down how a word sounds. */
  write: (word: string, phones: string) => void;
}) {
  const t = useText();
  const { say } = useTell();
  const [sounds, setSounds] = useState<readonly WordSound[]>([]);
  const wanted = names.join('\n');
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
  return (
    <fieldset className="sounds">
      <legend>{t('shop-sounds')}</legend>
      <button type="button" className="press" onClick={() => void aloud()}>
        {t('shop-sounds-aloud')}
      </button>
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
