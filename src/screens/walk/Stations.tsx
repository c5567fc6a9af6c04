import { Plan } from '../plan/Plan.tsx';
import { useHouse } from '../parts/house.ts';
import { Mark } from '../parts/Mark.tsx';
import { Modal } from '../parts/Modal.tsx';
import { useTell } from '../parts/Tell.tsx';
import { byStation, countOf } from '../parts/words.ts';
import type { WalkView } from '../services.ts';
import { useText } from '../text/text.ts';

/** The aircraft with its stations, and each with what is open there; a touch says "now the …". */
export function Stations({ walk, close }: { walk: WalkView; close: () => void }) {
  const house = useHouse();
  const { tell } = useTell();
  const t = useText();
  const groups = byStation(walk.coverage);
  return (
    <Modal title={t('where')} close={close}>
      <div className="stations-plan">
        <Plan catalogue={walk.catalogue} coverage={walk.coverage} here={walk.station} />
      </div>
      <ol className="stations lines">
        {walk.catalogue.stations.map((s, i) => {
          const count = countOf(groups.get(s.id) ?? []);
          const [words, mark] =
            count.required === 0
              ? (['station-not-asked', 'set-aside'] as const)
              : count.open === 0
                ? (['station-none-open', 'spoken'] as const)
                : (['station-open', count.spoken > 0 ? 'part' : 'unspoken'] as const);
          return (
            <li key={s.id}>
              <button
                type="button"
                aria-current={s.id === walk.station ? 'location' : undefined}
                onClick={() => {
                  void house.goTo(s.id).then(tell);
                  close();
                }}
              >
                <span className="number">{i + 1}</span>
                <span>{s.name}</span>
                <span className="quiet">{t(words, { n: count.open })}</span>
                <Mark of={mark} label="" />
              </button>
            </li>
          );
        })}
      </ol>
    </Modal>
  );
}
