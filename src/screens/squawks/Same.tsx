import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';
import { dateTime } from '../parts/words.ts';
import type { SquawkBook } from '../services.ts';

/** Two squawks that may be one fault: offered, never joined unasked. */
export function SameFaults({ book, changed }: { book: SquawkBook; changed: () => Promise<void> }) {
  const house = useHouse();
  const settings = useLive(house.settings);
  const { tell } = useTell();
  const find = (id: string) => book.squawks.find((s) => s.squawk.id === id);
  const title = (id: string) => find(id)?.title ?? id;
  /** Two that are called alike are told apart by their dates. */
  const called = (id: string, other: string) => {
    const opened = find(id)?.squawk.opened;
    const alike = title(id) === title(other) && opened !== undefined;
    return `“${title(id)}”${alike ? ` of ${dateTime(opened).slice(0, 10)}` : ''}`;
  };
  if (book.same.length === 0) return null;
  return (
    <ul className="same">
      {book.same.map((s) => (
        <li key={`${s.one} ${s.other}`} className="notice">
          <div>
            <p>
              One fault? {called(s.one, s.other)} and {called(s.other, s.one)}.
            </p>
            <p className="small quiet">{s.why}</p>
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
            Join them
          </button>
        </li>
      ))}
    </ul>
  );
}
