import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';
import type { SchoolServices, SchoolView } from '../services.ts';
import { useText } from '../text/text.ts';

/** Catalogues: which edition the school walks with, and a newer one from this device. */
export function Editions({ school, view }: { school: SchoolServices; view: SchoolView }) {
  const { catalogues } = useLive(useHouse().choices);
  const { tell, say } = useTell();
  const t = useText();
  const editions = view.hello?.editions ?? [];
  const publish = async (id: string, name: string) => {
    const outcome = await school.publish(id);
    if (tell(outcome) && outcome.ok)
      say(t('editions-given', { catalogue: name, n: outcome.value.number }));
  };
  return (
    <section aria-label={t('place-catalogues')}>
      <h2>{t('place-catalogues')}</h2>
      <ul className="lines">
        {catalogues.map((c) => {
          const current = editions.find((e) => e.catalogue === c.id && e.current);
          return (
            <li key={c.id}>
              <strong>{c.name}</strong>
              <span>
                {current === undefined
                  ? t('editions-none')
                  : t('editions-walks', { n: current.number })}
              </span>
              {current?.edition !== c.edition && (
                <button type="button" className="press" onClick={() => void publish(c.id, c.name)}>
                  {t('editions-give')}
                </button>
              )}
            </li>
          );
        })}
      </ul>
    </section>
  );
}
