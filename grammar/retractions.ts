import type { Scene } from '#shared/scene';
import type { Statement } from '#shared/statement';
import type { Clause } from './clauses.ts';
import { joint } from './joints.ts';
import { leftovers } from './leftovers.ts';
import type { Speaker } from './speaker.ts';
import { subjectOf } from './subject.ts';

/** May stand before "scratch that"; with any other word it is no order ("don't forget that"). */
const OPENS =
  /^(i|no|sorry|oh|actually|wait|please|okay|ok|well|um|uh|er|so|and|hang|on|you|can|could|let|us|just|hold)$/;
/** May stand behind it. */
const CLOSES = /^(please|sorry|again|all|of|it|one|bit|thing|too|entry|item|about|the|that|this)$/;

/**
 * "Scratch that", "forget what I said about the alternator": the last statement is
 * taken back; it stays in the log and no longer counts (R6). `rest` is what is said
 * behind it in the same clause ("strike that, it's filthy").
 */
export function retraction(
  speaker: Speaker,
  clause: Clause,
  scene: Scene,
): { statement: Statement; rest: Clause | null } | null {
  const order = clause.preds.find((p) => p.senses.some((s) => s.kind === 'retract'));
  if (order === undefined) return null;
  const { tokens } = speaker;
  for (let i = clause.from; i < order.from; i += 1)
    if (!OPENS.test(tokens[i]?.word ?? '')) return null;
  let end = order.to;
  while (end < clause.to && (tokens[end]?.gap ?? 0) === 0 && CLOSES.test(tokens[end]?.word ?? ''))
    end += 1;
  const about = tokens[order.to - 1]?.word === 'about';
  const item = clause.items[0];
  if (about && item !== undefined) {
    const subject = subjectOf(
      item,
      speaker.compiled.names,
      speaker.whichWordsAt(item, clause),
      scene,
    );
    const { last } = scene;
    const same =
      last?.about.kind === 'check' &&
      subject?.near.some(
        (n) => last.about.kind === 'check' && n.entry.check.id === last.about.check,
      );
    if (last === null || same !== true)
      return {
        statement: speaker.chatter(clause, false, 'what is to be taken back was said earlier (R5)'),
        rest: null,
      };
    return { statement: taken(speaker, clause, last.id), rest: null };
  }
  const goesOn = end < clause.to && (tokens[end]?.gap ?? 0) === 0;
  // "Ignore that dent": no order; what is said of the dent counts.
  const named = item !== undefined || clause.preds.some((p) => p.from === end);
  if (goesOn && (named || leftovers(clause, tokens, end).length > 0)) return null;
  const preds = clause.preds.filter((p) => p.from >= end);
  const rest: Clause | null =
    end >= clause.to || (preds.length === 0 && clause.items.length === 0)
      ? null
      : { ...clause, from: end, preds, follows: false };
  // "Scratch that, I was looking at the wrong engine.": why, and nothing about the aircraft.
  const explains =
    rest !== null &&
    rest.items.length === 0 &&
    /^(i|that|it) (was|had|did|read|meant|got|looked)$/.test(speaker.words(end, end + 2).join(' '));
  if (explains && scene.lastId !== null)
    return { statement: taken(speaker, clause, scene.lastId), rest: null };
  if (rest !== null && joint('unended').has(tokens[end - 1]?.word ?? '')) return null;
  if (scene.lastId === null)
    return rest === null
      ? { statement: speaker.chatter(clause), rest: null }
      : { statement: speaker.chatter({ ...clause, to: end }), rest };
  return { statement: taken(speaker, { ...clause, to: end }, scene.lastId), rest };
}

function taken(speaker: Speaker, clause: Clause, of: string): Statement {
  return {
    ...speaker.common(clause, ['taken back: it stays in the log and no longer counts (R6)']),
    kind: 'retraction',
    of,
  };
}
