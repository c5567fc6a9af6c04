import { sql, type RawBuilder } from 'kysely';
import type { Caller } from './roles.ts';

/**
 * Whether who asks may open a walk, as a condition on the table `w`: one that
 * their device wrote, their own, and for an instructor those of their students.
 */
export function maySee(caller: Caller): RawBuilder<boolean> {
  const { person, roles, device, school } = caller;
  if (person === null) return sql<boolean>`(w.device = ${device})`;
  if (!roles.has('instructor'))
    return sql<boolean>`(w.device = ${device} or w.pilot_id = ${person})`;
  return sql<boolean>`(w.device = ${device} or w.pilot_id = ${person} or w.instructor_id = ${person}
    or w.pilot_id in (select student from teaches
      where teaches.school = ${school} and teaches.instructor = ${person}))`;
}
