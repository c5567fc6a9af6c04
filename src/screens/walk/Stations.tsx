import { useHouse } from '../parts/house.ts';
import { Mark } from '../parts/Mark.tsx';
import { Modal } from '../parts/Modal.tsx';
import { useTell } from '../parts/Tell.tsx';
import { byStation, countOf } from '../parts/words.ts';
import type { WalkView } from '../services.ts';

/** Every station with what is open there; a touch says "now the …". */
export function Stations({ walk, close }: { walk: WalkView; close: () => void }) {
  const house = useHouse();
  const { tell } = useTell();
  const groups = byStation(walk.coverage);
  return (
    <Modal title="Where are you?" close={close}>
      <ol className="stations lines">
        {walk.catalogue.stations.map((s, i) => {
          const count = countOf(groups.get(s.id) ?? []);
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
                <span className="quiet">
                  {count.open === 0 ? 'nothing open' : `${count.open} open`}
                </span>
                <Mark
                  of={count.open === 0 ? 'spoken' : count.spoken > 0 ? 'part' : 'unspoken'}
                  label=""
                />
              </button>
            </li>
          );
        })}
      </ol>
    </Modal>
  );
}
