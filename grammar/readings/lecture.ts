import { SAID } from '#shared/talk';
import { DECIDE, type Decision } from '../decide.ts';
import { senses } from '../matches/senses.ts';
import { stem } from '../names.ts';
import { endsIn } from './here.ts';
import { ownWords } from './said.ts';
import type { Scoring } from './scoring.ts';

/**
 * Somebody explains for minutes, and reports next to nothing. Amid that, what the scores half see as a
 * fault is what the talk is about, and a question for each would drown the one that matters (R2). A fault
 * that they see plainly is still told or asked about (R4).
 */

/** Utterances back that are looked at, and of how many at least something was only talked of. */
const LATELY = 6;
const TALKED = 3;
/** More results than this among them are a walk, and no lecture. */
const REPORTED = 1;
/**
 * Amid a lecture a fault is asked about from here only. On five talk-throughs by five writers 19 of 24 faults
 * that were asked about lay below it, and none of those was one.
 */
const ASKED = 0.4;
/** And one without a place from here: "what glue does is let go at the edge". */
const UNPLACED = 0.9;

/** Whether the last utterances explained and reported hardly anything. */
export function isLecture({ scene }: Pick<Scoring, 'scene'>): boolean {
  const turns = scene.talk.turns.slice(0, -1).slice(-LATELY);
  const has = (bit: number) => (said: (typeof turns)[number]['said']) =>
    Object.values(said).some(({ what }) => (what & bit) !== 0);
  const talked = turns.filter(({ said }) => has(SAID.talk)(said) && !has(SAID.result)(said));
  const reported = turns.filter(({ said }) => has(SAID.result)(said));
  return talked.length >= TALKED && reported.length <= REPORTED;
}

/**
 * "The oil moves, I'm happy with that one", amid words about the oil of a gearbox: one word that is also
 * another check's whole name means the thing that is being explained (R1).
 */
export function explainedFirst(s: Scoring, decisions: readonly Decision[]): Decision[] {
  if (!isLecture(s)) return [...decisions];
  const lately = new Set(
    s.scene.talk.turns
      .slice(0, -1)
      .slice(-JUST)
      .flatMap(({ said }) => Object.keys(said)),
  );
  const taken = new Set(decisions.map((d) => d.index));
  return decisions.map((d) => {
    const input = s.inputs.candidates[d.index];
    const own = input === undefined ? [] : ownWords(input);
    const key = input?.member?.key ?? '';
    if (d.kind !== 'result' || own.length !== 1 || lately.has(key)) return d;
    const noun = stem(s.words.tokens[own[0] ?? 0]?.word ?? '');
    const meant = s.inputs.candidates.flatMap(({ member }, index) =>
      member !== null && member.check !== null && lately.has(member.key) && endsIn(member, noun)
        ? [index]
        : [],
    );
    const [one] = meant;
    return one !== undefined && meant.length === 1 && !taken.has(one) ? { ...d, index: one } : d;
  });
}
/** Utterances back in which the thing was explained. */
const JUST = 3;

/** Amid a lecture: faults that are half seen are talk, and those that point at nothing here are asked about. */
export function lectured(s: Scoring, decisions: readonly Decision[]): Decision[] {
  if (s.scene.question !== null || s.squawk || !isLecture(s)) return [...decisions];
  const points = isPointed(s);
  return decisions.flatMap((d): Decision[] => {
    if (d.kind !== 'result' || d.finding === 'no' || d.good !== 'no' || d.value) return [d];
    const share = s.scores.candidates[d.index]?.finding ?? 0;
    if (d.finding === 'counts') return [points ? d : { ...d, finding: 'asked' }];
    if (share >= ASKED) return [d];
    const input = s.inputs.candidates[d.index];
    const named = input !== undefined && ownWords(input).length > 0;
    return named ? [{ ...d, kind: 'talk', finding: 'no', doubt: false }] : [];
  });
}

/** The share from which a fault without a place is kept. */
export const unplacedFrom = (s: Scoring): number =>
  s.scene.question === null && !s.squawk && isLecture(s) ? UNPLACED : DECIDE.unplaced;

/** Something is pointed at, or said to be so now: "this one's got a crack". */
function isPointed({ inputs, words }: Scoring): boolean {
  const { names } = senses();
  return (
    words.tokens.some((t) => POINTS.test(t.word)) ||
    inputs.tokens.some((t) => t.senses.some((k) => names[k] === 'force-present'))
  );
}
const POINTS = /^(this|these|that|those|here|there|ours|mine|look|see|now)$/;
