import { useState, type FormEvent } from 'react';
import { useHouse } from '../parts/house.ts';
import { useTell } from '../parts/Tell.tsx';
import { useText } from '../text/text.ts';

/** The same as speaking, from the keyboard: results, "hold", "take that back", all of it. */
export function Typed({ label }: { label?: string }) {
  const house = useHouse();
  const { tell } = useTell();
  const t = useText();
  const named = label ?? t('type-instead');
  const [text, setText] = useState('');
  const send = (event: FormEvent) => {
    event.preventDefault();
    const words = text.trim();
    if (words === '') return;
    // The words stay in the field when they could not be taken; words that were
    // typed in the meantime stay in any case.
    void house.say(words).then((o) => tell(o) && setText((now) => (now === text ? '' : now)));
  };
  return (
    <form className="typed" onSubmit={send}>
      <input
        aria-label={named}
        placeholder={named}
        value={text}
        autoComplete="off"
        autoCapitalize="none"
        enterKeyHint="send"
        onChange={(e) => setText(e.target.value)}
      />
      <button type="submit" className="press">
        {t('say')}
      </button>
    </form>
  );
}
