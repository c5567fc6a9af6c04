import { instancesOf } from '#shared/catalogue';
import type { Scene } from '#shared/scene';
import type { Which } from '#shared/statement';
import { DECIDE } from '../decide.ts';
import type { Member } from '../matches/roster.ts';
import type { Scored } from '../scores/net.ts';

/** Which places of a check are meant; null for a station. */
export function whichOf(member: Member, scored: Scored, scene: Scene, finding: boolean): Which {
  const check = member.check;
  const all = check === null ? [] : [...instancesOf(check)];
  if (check?.repeat === undefined || all.length < 2) return { how: 'all', instances: all };
  const [named = 0, one = 0, plural = 0] = scored.which;
  const meant = member.instances.filter((_, i) => (scored.places[i] ?? 0) >= DECIDE.place);
  if (plural > named && plural > one)
    return check.repeat.plural ? { how: 'all', instances: all } : { how: 'plural', instances: all };
  if (one > named || meant.length === 0) {
    // Not said which: a finding is asked about (R5), a good one is one more, counted.
    const open = all.filter((i) => !(scene.said[check.id] ?? []).includes(i));
    return { how: 'one', instances: finding ? [] : open.slice(0, 1) };
  }
  return meant.length === all.length
    ? { how: 'all', instances: all }
    : { how: 'named', instances: meant };
}
