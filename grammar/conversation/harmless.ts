import type { Question } from '#shared/question';
import type { Observation, Statement } from '#shared/statement';
import { lexicon } from '../lexicon.ts';
import { phraseWords } from '../tokens.ts';
import { isJustTold } from './otherside.ts';
import { whole } from './open.ts';
import type { Move, Turning } from './moves.ts';
import { goodSaid } from './polarity.ts';
import { notSo } from './retracted.ts';

/** More words than this tell something of their own. */
const LONGEST = 10;

/**
 * "No, sorry, that's just soot.", behind a fault: it looked like one. Where it is being asked about
 * it is none; otherwise it is called good, which puts the check in question and is asked about once,
 * and the fault stands until then (R6).
 */
export const harmlessAfterAll: Move = (t) => {
  const { last, question } = t.scene;
  if (last === null || last.force !== 'result' || !isIll(last) || last.values.length > 0)
    return null;
  if (!isJustTold(t, last) || !saysHarmless(t)) return null;
  if (last.about.kind !== 'check' || question?.about === last.id || last.doubtful !== null)
    return [notSo(t, whole(t.words), last, 'said to be none after all')];
  return [calledGood(t, last)];
};

/** The same, to a question about it: all that the words told which it is about is none, or is asked about. */
export function harmlessAnswer(t: Omit<Turning, 'inputs'>, question: Question): Statement[] | null {
  if (!/^(polarity|which-fault|severity|place|which-check|which-instance)$/.test(question.kind))
    return null;
  const { told, done } = t.scene.talk;
  const asked = told.findLast((o) => o.id === question.about);
  if (asked === undefined || !isIll(asked) || !saysHarmless(t)) return null;
  const counted = new Set(done.flatMap((d) => d.statements.map((s) => s.id)));
  const about = new Set(question.items?.map((i) => i.statement) ?? [question.about]);
  return told
    .filter(
      (o) => o.heard === asked.heard && isIll(o) && counted.has(o.id) && o.values.length === 0,
    )
    .map((o) =>
      about.has(o.id) || o.about.kind !== 'check'
        ? notSo(t, whole(t.words), o, `answers "${question.text}": none after all`)
        : calledGood(t, o),
    );
}

function saysHarmless({ words }: Pick<Turning, 'words'>): boolean {
  const { tokens } = words;
  if (tokens.length > LONGEST || tokens.some((x) => x.asks)) return false;
  const { harmless, harmlesslead } = lexicon().answers;
  const { beside } = lexicon().corrections;
  const list = tokens.map((x) => x.word);
  const at = (phrase: string, i: number): number => {
    const own = phraseWords(phrase);
    return own.every((w, k) => list[i + k] === w) ? i + own.length : i;
  };
  const known = new Set([...beside, ...harmlesslead.flatMap(phraseWords), 'no', 'actually']);
  let found = false;
  let led = false;
  for (let i = 0; i < list.length;) {
    led ||= harmlesslead.some((p) => at(p, i) > i);
    const to = led ? Math.max(...harmless.map((p) => at(p, i))) : i;
    if (to > i) {
      found = true;
      i = to;
      continue;
    }
    if (!known.has(list[i] ?? '') && !goodSaid(list[i] ?? '')) return false;
    i += 1;
  }
  return found;
}

const isIll = (o: Observation): boolean =>
  o.conditions.some((c) => c.present) || o.verdict?.good === false;

function calledGood(t: Omit<Turning, 'inputs'>, last: Observation): Statement {
  const span = whole(t.words);
  return {
    ...last,
    id: t.nextId(),
    heard: t.heard.id,
    span,
    why: ['what was found is said to be none: called good, and asked about (R6)'],
    verdict: {
      good: true,
      aspects: last.verdict?.aspects ?? last.conditions.flatMap((c) => c.aspects),
      actOnly: false,
      span,
    },
    conditions: [],
    severity: null,
    amends: null,
    answers: null,
    squawk: false,
    doubtful: null,
    waits: false,
  };
}
