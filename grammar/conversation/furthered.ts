import { isMore } from '#shared/phrasebook';
import type { Scene } from '#shared/scene';
import type { Observation } from '#shared/statement';

/**
 * More words about a fault that was told already: "the seal is wet" – "not just a film, either".
 * They may be a fault, and one stands there: whether they are it or not changes nothing on the
 * sheet, so that nobody is asked (R5), and they are kept with the fault (R4). What names another
 * condition, or more of it, is asked about all the same.
 */
export function furthered(said: Observation, scene: Scene): Observation {
  if (said.force !== 'result' || said.doubtful === null || said.waits === true) return said;
  if (said.about.kind !== 'check' || said.values.length > 0 || said.compared !== null) return said;
  const present = said.conditions.filter((c) => c.present);
  if (present.length === 0 && said.verdict?.good !== false) return said;
  const told = latestHere(said, scene);
  if (told === null || told.about.kind !== 'check') return said;
  const known = told.conditions.filter((c) => c.present);
  if (known.length === 0 && told.verdict?.good !== false) return said;
  if (!present.every((c) => known.some((k) => k.condition === c.condition && !isMore(c, k))))
    return said;
  // Where it is was said before, or is asked of what was told before.
  const { which } = said.about;
  const open = which.how === 'one' || which.how === 'plural';
  return {
    ...said,
    about: open ? { ...said.about, which: told.about.which } : said.about,
    doubtful: null,
    why: [...said.why, 'more words of the fault that was told before'],
  };
}

/** What was last said for certain of the check and place; null where nothing was, or it was taken back. */
function latestHere(said: Observation, { talk }: Scene): Observation | null {
  const { about } = said;
  if (about.kind !== 'check') return null;
  const open = about.which.how === 'one' || about.which.how === 'plural';
  const last = talk.told.findLast(
    (o) =>
      o.force === 'result' &&
      o.doubtful === null &&
      o.about.kind === 'check' &&
      o.about.check === about.check &&
      (open ||
        o.about.which.instances.length === 0 ||
        o.about.which.instances.some((i) => about.which.instances.includes(i))),
  );
  if (last === undefined || last.values.length > 0) return null;
  const stands = talk.done.some((d) => d.statements.some((s) => s.id === last.id));
  const fresh = talk.turns.slice(-LATEST).some((turn) => turn.heard === last.heard);
  return stands && fresh ? last : null;
}
/**
 * Turns, this one among them, in which the fault must have been told. More of them keep faults of
 * other things with it, which nobody is asked about then; fewer ask about what was just told.
 */
const LATEST = 2;
