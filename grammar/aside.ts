import type { Scene } from '#shared/scene';
import type { Statement } from '#shared/statement';
import type { Clause } from './clauses.ts';
import { deniedIn } from './denied.ts';
import type { ForceRead } from './forces.ts';
import { leftovers } from './leftovers.ts';
import type { Speaker } from './speaker.ts';
import { subjectOf } from './subject.ts';
import { whichOf } from './which.ts';

export function setAside(speaker: Speaker, clause: Clause, scene: Scene): Statement | null {
  const item = clause.items[0];
  const after = clause.preds.find((p) => p.senses.some((s) => s.kind === 'notfitted'));
  if (
    after !== undefined &&
    /^(properly|correctly|right|well|tight|tightly|flush)$/.test(
      speaker.tokens[after.to]?.word ?? '',
    )
  )
    return null;
  const reason = speaker.span(clause.from, clause.to).words;
  if (item === undefined) {
    if (scene.check === null || leftovers(clause, speaker.tokens, clause.from).length > 0)
      return null;
    return {
      ...speaker.common(clause, ['set aside: the one just named']),
      kind: 'set-aside',
      check: scene.check,
      instances: scene.instances,
      reason,
    };
  }
  const words = speaker.whichWordsAt(item, clause);
  const subject = subjectOf(item, speaker.compiled.names, words, scene);
  const entry = subject?.near[0]?.entry;
  if (subject === null || entry === undefined || subject.near.length > 1) return null;
  const { which } = whichOf(entry, words, scene);
  const all = speaker.compiled.places.instances(entry.check.id);
  return {
    ...speaker.common(clause, [`set aside: ${subject.why}`]),
    kind: 'set-aside',
    check: entry.check.id,
    instances: which.how === 'named' ? which.instances : [...all],
    reason,
  };
}

export function circumstanceSaid(
  speaker: Speaker,
  clause: Clause,
  read: ForceRead,
): Statement | null {
  if (
    clause.items.length > 0 ||
    clause.stations.length > 0 ||
    read.force === 'question' ||
    read.force === 'hypothesis'
  )
    return null;
  const piece = clause.preds.find((p) => p.senses.some((s) => s.kind === 'circumstance'));
  const sense = piece?.senses.find((s) => s.kind === 'circumstance');
  if (piece === undefined || sense?.kind !== 'circumstance') return null;
  if (
    clause.preds.some(
      (p) => p !== piece && p.senses.some((s) => s.kind === 'condition' || s.kind === 'verdict'),
    )
  )
    return null;
  if (leftovers(clause, speaker.tokens, clause.from).length > 0) return null;
  const denied = deniedIn(clause, piece, speaker.tokens);
  return {
    ...speaker.common(clause, [
      `"${speaker.span(piece.from, piece.to).words}" says what is special today`,
    ]),
    kind: 'circumstance',
    circumstance: sense.circumstance,
    holds: denied.count === 0,
  };
}
