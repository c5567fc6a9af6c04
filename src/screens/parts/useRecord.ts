import { useEffect, useState } from 'react';
import type { WalkRecord } from '../services.ts';
import { useHouse } from './house.ts';

type Opening =
  | { readonly state: 'opening' }
  | { readonly state: 'open'; readonly record: WalkRecord }
  | { readonly state: 'failed'; readonly error: string };

/** A kept walk by id; `put` takes the record that a review gave back. */
export function useRecord(id: string): Opening & { put: (record: WalkRecord) => void } {
  const house = useHouse();
  const [now, setNow] = useState<Opening>({ state: 'opening' });
  useEffect(() => {
    let wanted = true;
    void house.open(id).then((o) => {
      if (wanted) {
        setNow(o.ok ? { state: 'open', record: o.value } : { state: 'failed', error: o.error });
      }
    });
    return () => {
      wanted = false;
    };
  }, [house, id]);
  return { ...now, put: (record) => setNow({ state: 'open', record }) };
}
