import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';
import type { SchoolServices, SchoolView } from '../services.ts';

/** Catalogues: which edition the school walks with, and a newer one from this device. */
export function Editions({ school, view }: { school: SchoolServices; view: SchoolView }) {
  const { catalogues } = useLive(useHouse().choices);
  const { tell, say } = useTell();
  const editions = view.hello?.editions ?? [];
  const publish = async (id: string, name: string) => {
    const outcome = await school.publish(id);
    if (tell(outcome) && outcome.ok)
      say(`${name}: edition ${outcome.value.number} is the one that walks are begun with.`);
  };
  return (
    <section aria-label="Catalogues">
      <h2>Catalogues</h2>
      <ul className="lines">
        {catalogues.map((c) => {
          const current = editions.find((e) => e.catalogue === c.id && e.current);
          return (
            <li key={c.id}>
              <strong>{c.name}</strong>
              <span>
                {current === undefined
                  ? 'not given to the phones yet'
                  : `the school walks with edition ${current.number}`}
              </span>
              {current?.edition !== c.edition && (
                <button type="button" className="press" onClick={() => void publish(c.id, c.name)}>
                  Give this device’s edition to every phone
                </button>
              )}
            </li>
          );
        })}
      </ul>
    </section>
  );
}
