import type { WalkRecord } from '../services.ts';
import type { Text } from '../text/text.ts';
import { dateTime } from './words.ts';

/** Who walked, who taught, on what, when, at how many hours: the head of everything that shows a walk. */
export function headWords(record: WalkRecord, t: Text): string {
  return [record.aircraft, ...whoWords(record, t)].join(', ');
}

/** The same below the aircraft's own name, which is not said twice. */
export function whoWords({ events }: WalkRecord, t: Text): readonly string[] {
  const begun = events.find((e) => e.what.kind === 'walk-begun');
  if (begun?.what.kind !== 'walk-begun') return [];
  const { pilot, instructor, hours } = begun.what;
  return [
    dateTime(begun.at),
    pilot === null ? t('head-no-pilot') : t('head-pilot', { pilot }),
    ...(instructor === null ? [] : [t('head-instructor', { instructor })]),
    ...(hours === null ? [] : [t('head-hours', { hours: String(hours) })]),
  ];
}
