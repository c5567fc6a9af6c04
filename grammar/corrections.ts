import type { Scene } from '#shared/scene';
import type { About, Observation, Statement } from '#shared/statement';
import { aspectsOf } from './aspects.ts';
import type { Clause } from './clauses.ts';
import { doubt } from './doubt.ts';
import { echoOf } from './echo.ts';
import type { ForceRead } from './forces.ts';
import { saidOf } from './said.ts';
import { siblingOf } from './sibling.ts';
import type { CheckEntry } from './names.ts';
import type { Speaker } from './speaker.ts';
import { subjectOf } from './subject.ts';
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
  const cue = clause.preds[0];
  if (cue === undefined) return null;
  const mark = speaker.words(cue.from, cue.to).join(' ');
  const rest: Clause = { ...clause, from: cue.to, preds: clause.preds.slice(1) };
  if (rest.from >= rest.to) return null;
  const { names } = speaker.compiled;
  const item = rest.items[0];
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
  const verdict =
    fresh || last.verdict === null ? made.verdict : movedTo(last.verdict, before, entry);
  return doubt(
    speaker,
    {
      ...made,
      verdict,
      conditions: fresh ? made.conditions : last.conditions,
      values:
        made.values.length > 0 ? made.values : entry.check.id === lastCheck ? last.values : [],
      severity: made.severity ?? (fresh ? null : last.severity),
      amends: last.id,
    },
    rest,
    item ?? null,
  );
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
