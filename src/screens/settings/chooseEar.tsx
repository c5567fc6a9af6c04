import { lazy, Suspense, useState, type ReactNode } from 'react';
import { useHouse } from '../parts/house.ts';
import type { EarKind } from '../services.ts';

const Agree = lazy(() => import('./Agree.tsx'));

/** Choosing what listens. A recogniser that sends sound away is chosen only after a yes to it. */
export function useChooseEar(): { choose: (ear: EarKind) => void; asked: ReactNode } {
  const house = useHouse();
  const [asking, setAsking] = useState(false);
  return {
    choose(ear) {
      if (ear === 'browser' && house.settings.get().ear !== 'browser') setAsking(true);
      else house.change({ ear });
    },
    asked: asking && (
      <Suspense>
        <Agree yes={() => house.change({ ear: 'browser' })} close={() => setAsking(false)} />
      </Suspense>
    ),
  };
}
