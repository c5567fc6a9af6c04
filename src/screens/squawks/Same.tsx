import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';
import type { SquawkBook } from '../services.ts';

/** Two squawks that may be one fault: offered, never joined unasked. */
export function SameFaults({ book, changed }: { book: SquawkBook; changed: () => Promise<void> }) {
  const house = useHouse();
  const settings = useLive(house.settings);
  const { tell } = useTell();
  const title = (id: string) => book.squawks.find((s) => s.squawk.id === id)?.title ?? id;
  if (book.same.length === 0) return null;
  return (
    <ul className="same">
      {book.same.map((s) => (
        <li key={`${s.one} ${s.other}`} className="notice">
          <div>
            <p>
              One fault? “{title(s.one)}” and “{title(s.other)}”.
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
