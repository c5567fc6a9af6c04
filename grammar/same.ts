import type { Scene } from '#shared/scene';
import type { About, Statement, ValueSaid } from '#shared/statement';
import type { Clause } from './clauses.ts';
import { doubt } from './doubt.ts';
import type { ForceRead } from './forces.ts';
import type { CheckEntry } from './names.ts';
import { saidOf } from './said.ts';
import { siblingOf } from './sibling.ts';
import type { Speaker } from './speaker.ts';
import { whichOf, whichWords, type WhichWords } from './which.ts';

/** "Same here", "the other one too": the last verdict again, elsewhere. */
export function sameAgain(
  speaker: Speaker,
  clause: Clause,
  scene: Scene,
  read: ForceRead,
  named: { entry: CheckEntry; words: WhichWords } | null,
): Statement | null {
  const { last } = scene;
  if (last === null || last.about.kind !== 'check') return null;
  const own = saidOf(clause, null, speaker.tokens, speaker.raw, true);
  const before = speaker.compiled.names.byId.get(last.about.check);
  if (before === undefined) return null;
  const words = named?.words ?? whichWords(speaker.words(clause.from, clause.to), false);
  // "Left flap good. Right the same.": a check of its own at the other side.
  const entry = named?.entry ?? siblingOf(before, words.sides, speaker.compiled.names) ?? before;
  const silent =
    words.sides.length === 0 && words.ordinals.length === 0 && !words.all && !words.other;
  const { which, why } = whichOf(
    entry,
    named === null && silent ? { ...words, other: true } : words,
    scene,
  );
  const about: About = {
    kind: 'check',
    check: entry.check.id,
    which,
    span: named === null ? null : speaker.span(clause.from, clause.to),
  };
  const fresh = own.verdict !== null || own.conditions.length > 0;
  const said = fresh
    ? saidOf(clause, entry, speaker.tokens, speaker.raw, true)
    : { ...own, verdict: last.verdict, conditions: last.conditions, acts: last.acts };
  const measures = entry.check.measures.map((m) => m.id);
  const values = fresh ? [] : last.values.flatMap((v) => sameMeasure(v, measures, before, entry));
  if (said.verdict === null && said.conditions.length === 0 && values.length === 0) return null;
  const plain = speaker.observation(clause, read, about, [], said, entry, false, scene, [
    fresh ? 'refers to what was just named' : `the same as "${last.span.words}"`,
    `places: ${why}`,
  ]);
  const made = plain.values.length > 0 ? plain : { ...plain, values };
  return doubt(
    speaker,
    last.doubtful !== null && !fresh ? { ...made, doubtful: last.doubtful } : made,
    clause,
    null,
  );
}

/** A value of one check as a value of its sibling: the measure of that name, or the only one of its kind. */
function sameMeasure(
  value: ValueSaid,
  measures: readonly string[],
  from: CheckEntry,
  to: CheckEntry,
): ValueSaid[] {
  if (value.measure === null) return [];
  if (measures.includes(value.measure)) return [value];
  const own = from.check.measures.find((m) => m.id === value.measure);
  const [only, ...more] = to.check.measures;
  if (own === undefined || only === undefined || more.length > 0) return [];
  return own.unit === only.unit && own.gauge === only.gauge ? [{ ...value, measure: only.id }] : [];
}
