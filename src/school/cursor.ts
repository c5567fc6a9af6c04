import { Refused } from './refused.ts';

/** Number behind which to go on, out of "EPOCH.NUMBER"; 0 where none was given, or it is of another time. */
export function cursorIn(text: string | null, epoch: number): number {
  if (text === null || text === '') return 0;
  const parts = /^(\d{1,9})\.(\d{1,15})$/.exec(text);
  if (parts === null) throw new Refused(400, 'This is no cursor of the school.');
  return Number(parts[1]) === epoch ? Number(parts[2]) : 0;
}
