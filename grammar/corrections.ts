import type { Scene } from '#shared/scene';
import type { About, Observation, Statement, ValueSaid } from '#shared/statement';
import { aspectsOf } from './aspects.ts';
import type { Clause } from './clauses.ts';
import { doubt } from './doubt.ts';
import { echoed, echoOf } from './echo.ts';
import type { ForceRead } from './forces.ts';
import { isDenied } from './named.ts';
import { saidOf } from './said.ts';
import { siblingOf } from './sibling.ts';
import type { CheckEntry } from './names.ts';
import type { Speaker } from './speaker.ts';
import { subjectOf } from './subject.ts';
import { convert } from './units.ts';
import { whichOf, whichWords } from './which.ts';

/** Whether a clause begins by taking something before it back ("no, sorry, the left one"). */
export function isCorrection(clause: Clause): boolean {
  const first = clause.preds[0];
  return (
    first !== undefined &&
    first.senses.some((s) => s.kind === 'correct') &&
    first.from - clause.from <= 2 &&
    clause.items.every((i) => i.from >= first.to)
  );
}

/** "(Battery's loose.) Not the battery, the alternator.": the words that take the first name back. */
export function notThat(
  speaker: Speaker,
  clause: Clause,
  scene: Scene,
): { from: number; to: number } | null {
  const [denied, meant, ...more] = clause.items;
  if (denied === undefined || meant === undefined || more.length > 0) return null;
  if (clause.preds.length > 0 || scene.last?.about.kind !== 'check') return null;
  if (!isDenied(speaker, denied, clause)) return null;
  const said = subjectOf(
    denied,
    speaker.compiled.names,
    whichWords(speaker.words(clause.from, denied.to), false),
    scene,
  );
  const { check } = scene.last.about;
  if (said?.near.some((n) => n.entry.check.id === check) !== true) return null;
  return { from: clause.from, to: denied.to };
}

/** Corrections that are plain enough to change the check and not only its place. */
const PLAIN =
  /^(no sorry|sorry no|no wait|wait no|correction|i mean|i meant|i mean the|make that|no i mean|sorry i mean|sorry i meant|no no|no make that|let me correct that|i misspoke|my mistake|actually no|no actually|or rather|rather)$/;

/**
 * What a correction makes of the last statement; null where it corrects nothing
 * ("sorry, the pitot cover is off" is a new statement). The new one amends the old
 * one, which stays in the log (R6).
 */
export function amend(
  speaker: Speaker,
  clause: Clause,
  scene: Scene,
  read: ForceRead,
): Statement | null {
  const { last } = scene;
  if (last === null || read.force !== 'result') return null;
  const other = notThat(speaker, clause, scene);
  const cue = other ?? clause.preds[0];
  if (cue === undefined) return null;
  const mark = speaker.words(cue.from, cue.to).join(' ');
  const rest: Clause = {
    ...clause,
    from: cue.to,
    preds: clause.preds.filter((p) => p.from >= cue.to),
    items: clause.items.filter((p) => p.from >= cue.to),
  };
  if (rest.from >= rest.to) return null;
  const { names } = speaker.compiled;
  // "No, not the left leg, the right leg": the one that is meant.
  const item = rest.items.find((i) => !isDenied(speaker, i, rest));
  const words =
    item === undefined
      ? whichWords(speaker.words(rest.from, rest.to), false)
      : speaker.whichWordsAt(item, rest);
  const subject = item === undefined ? null : subjectOf(item, names, words, scene);
  const lastCheck = last.about.kind === 'check' ? last.about.check : null;
  const before = lastCheck === null ? undefined : names.byId.get(lastCheck);
  const entry =
    item === undefined
      ? before === undefined
        ? undefined
        : (siblingOf(before, words.sides, names) ?? before)
      : subject?.near[0]?.entry;
  if (entry === undefined || (subject !== null && subject.near.length > 1)) return null;
  const said = saidOf(rest, entry, speaker.tokens, speaker.raw, true);
  const fresh = said.verdict !== null || said.conditions.length > 0;
  const here = last.heard === speaker.heard.id && (speaker.tokens[cue.from]?.gap ?? 0) > 0;
  if (item !== undefined && entry.check.id !== lastCheck && fresh && !PLAIN.test(mark) && !here)
    return null;
  const placed =
    words.sides.length + words.ordinals.length > 0 ||
    words.all ||
    words.other ||
    item !== undefined;
  const old = {
    ...scene,
    said: {
      ...scene.said,
      [entry.check.id]: (scene.said[entry.check.id] ?? []).filter(
        (i) => !scene.instances.includes(i),
      ),
    },
  };
  const { which, why } = placed
    ? whichOf(entry, words, old)
    : {
        which: last.about.kind === 'check' ? last.about.which : whichOf(entry, words, old).which,
        why: 'the same place',
      };
  const about: About = {
    kind: 'check',
    check: entry.check.id,
    which,
    span: item === undefined ? null : speaker.span(item.from, item.to),
  };
  const made: Observation = speaker.observation(
    rest,
    read,
    about,
    subject === null ? [] : [...subject.candidates],
    said,
    entry,
    last.squawk,
    scene,
    [`"${mark}" corrects "${last.span.words}" (R6)`, `places: ${why}`],
  );
  if (!fresh && made.values.length === 0 && !placed) return null;
  if (echoOf(speaker.words(rest.from, rest.to)) !== null && made.doubtful === null)
    return {
      ...made,
      conditions: last.conditions,
      verdict: last.verdict,
      amends: null,
      doubtful: 'whether what was said before still stands',
    };
  const values = made.values.map((value) => sameUnit(value, last, entry));
  const verdict =
    fresh || last.verdict === null ? made.verdict : movedTo(last.verdict, before, entry);
  return doubt(
    speaker,
    {
      ...made,
      verdict,
      conditions: fresh ? made.conditions : last.conditions,
      values: values.length > 0 ? values : entry.check.id === lastCheck ? last.values : [],
      severity: made.severity ?? (fresh ? null : last.severity),
      amends: last.id,
    },
    rest,
    item ?? null,
  );
}

/** "Nine gallons. Sorry, nineteen.": the number alone is mended, its unit is the one just said (R8). */
function sameUnit(value: ValueSaid, last: Observation, entry: CheckEntry): ValueSaid {
  if (value.trouble !== 'no-unit' || value.low === null || value.high === null) return value;
  const before = last.values.find((v) => v.measure === value.measure && v.unit !== null);
  const unit = entry.check.measures.find((m) => m.id === value.measure)?.unit;
  if (before === undefined || before.unit === null || unit === undefined) return value;
  const low = convert(value.low, before.unit, unit);
  const high = convert(value.high, before.unit, unit);
  if (low === null || high === null) return value;
  return { ...value, unit: before.unit, inUnit: { low, high, unit }, trouble: null };
}

/** A verdict on another check: the same aspects where it has them; the general one where it was general. */
function movedTo(
  verdict: NonNullable<Observation['verdict']>,
  from: CheckEntry | undefined,
  to: CheckEntry,
): NonNullable<Observation['verdict']> {
  if (from?.check.id === to.check.id) return verdict;
  const map = aspectsOf(to.check);
  const same = verdict.aspects.filter((a) => map.ids.includes(a));
  const general = from === undefined ? null : aspectsOf(from.check).general;
  const wasGeneral =
    verdict.aspects.length === 0 || (general !== null && verdict.aspects.includes(general));
  if (same.length > 0 || !wasGeneral || map.general === null) return { ...verdict, aspects: same };
  return { ...verdict, aspects: [map.general] };
}

/** Before the denial itself: "no, wait, it isn't". */
const OPENS = /^(no|nope|nah|wait|sorry|actually|oh|well|hang|hold|on)$/;

/**
 * "Right aileron's stiff. No it isn't, …": what was just said of that thing is taken
 * back, and the contrary stands. The old statement stays in the log (R6).
 *
 * @returns what it makes, and where the words behind it begin
 */
export function contradicted(
  speaker: Speaker,
  from: number,
  to: number,
  scene: Scene,
): { statement: Observation; to: number } | null {
  const { last, question } = scene;
  if (question !== null || last?.force !== 'result' || last.about.kind !== 'check') return null;
  if (last.doubtful !== null) return null;
  const { tokens } = speaker;
  let start = from;
  while (start < to && OPENS.test(tokens[start]?.word ?? '')) start += 1;
  let end = start + 1;
  while (end < to && (tokens[end]?.gap ?? 0) === 0) end += 1;
  if (echoOf(speaker.words(start, end)) !== 'denied') return null;
  const { verdict, conditions } = last;
  const said = echoed('denied', {
    verdict,
    conditions: [...conditions],
    acts: [],
    severity: null,
    doubt: null,
    why: [],
  });
  if (said === null) return null;
  const clause = { from, to: end };
  return {
    to: end,
    statement: {
      ...last,
      ...speaker.common(clause, [
        `"${speaker.span(from, end).words}" denies "${last.span.words}" (R6)`,
        ...said.why,
      ]),
      verdict: said.verdict,
      conditions: said.conditions,
      values: [],
      acts: [],
      severity: null,
      amends: last.id,
      answers: null,
      compared: null,
      doubtful: said.doubt,
    },
  };
}
