import { useEffect } from 'react';
import { useHouse } from '../parts/house.ts';
import type { WalkLine } from '../services.ts';
import type { Text } from '../text/text.ts';

/** Has the lines that are looked at counted, a few at a time; what is left then is asked for again. */
export function useCounted(shown: readonly WalkLine[]): void {
  const house = useHouse();
  const uncounted = shown.flatMap((w) => (w.open === null ? [w.id] : [])).join(',');
  useEffect(() => {
    if (uncounted !== '') void house.count?.(uncounted.split(','));
  }, [house, uncounted]);
}

export function openWords(open: number | null, t: Text): string {
  if (open === null) return t('walks-counting');
  return open === 0 ? t('station-none-open') : t('station-open', { n: open });
}

/** "2 open, 1 finding". */
export function countWords(
  { open, findings }: Pick<WalkLine, 'open' | 'findings'>,
  t: Text,
): string {
  return findings === null
    ? openWords(open, t)
    : `${openWords(open, t)}, ${t('findings', { n: findings })}`;
}
