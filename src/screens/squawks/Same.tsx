import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';
import { dateTime } from '../parts/words.ts';
import type { SquawkBook } from '../services.ts';
import { useText } from '../text/text.ts';

/** Two squawks that may be one fault: offered, never joined unasked. */
export function SameFaults({ book, changed }: { book: SquawkBook; changed: () => Promise<void> }) {
  const house = useHouse();
  const settings = useLive(house.settings);
  const { tell } = useTell();
  const t = useText();
  const find = (id: string) => book.squawks.find((s) => s.squawk.id === id);
  const title = (id: string) => find(id)?.title ?? id;
  /** Two that are called alike are told apart by their dates. */
  const called = (id: string, other: string) => {
    const opened = find(id)?.squawk.opened;
    const alike = title(id) === title(other) && opened !== undefined;
    return alike
      ? t('same-title-of', { title: title(id), day: dateTime(opened).slice(0, 10) })
      : t('same-title', { title: title(id) });
  };
  if (book.same.length === 0) return null;
  return (
    <ul className="same">
      {book.same.map((s) => (
        <li key={`${s.one} ${s.other}`} className="notice">
          <div>
            <p>
              {t('same-ask', {
                one: called(s.one, s.other),
                other: called(s.other, s.one),
              })}
            </p>
            <p className="small quiet">{t.said(s.why)}</p>
          </div>
          <button
            type="button"
            className="press"
            onClick={() =>
              void house
                .squawkStep(s.other, { step: 'joined', into: s.one, by: settings.pilot || 'pilot' })
                .then((o) => (tell(o) ? changed() : undefined))
            }
          >
            {t('same-join')}
          </button>
        </li>
      ))}
    </ul>
  );
}
