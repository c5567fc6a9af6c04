import { useEffect } from 'react';
import { useHouse } from '../parts/house.ts';
import { many } from '../parts/words.ts';
import type { WalkLine } from '../services.ts';

/** Has the lines that are looked at counted, a few at a time; what is left then is asked for again. */
export function useCounted(shown: readonly WalkLine[]): void {
  const house = useHouse();
  const uncounted = shown.flatMap((w) => (w.open === null ? [w.id] : [])).join(',');
  useEffect(() => {
    if (uncounted !== '') void house.count?.(uncounted.split(','));
  }, [house, uncounted]);
}

export function openWords(open: number | null): string {
  if (open === null) return 'counting …';
  return open === 0 ? 'nothing open' : `${open} open`;
}

/** "2 open, 1 finding". */
export function countWords({ open, findings }: Pick<WalkLine, 'open' | 'findings'>): string {
  return findings === null ? openWords(open) : `${openWords(open)}, ${many(findings, 'finding')}`;
}
