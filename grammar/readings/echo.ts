import type { Observation, Statement } from '#shared/statement';
import type { Scene } from '#shared/scene';
import type { Inputs } from '../scores/around.ts';
import { amending } from '../conversation/restated.ts';
import { DECIDE } from '../decide.ts';
import { senses } from '../matches/senses.ts';
import type { Scoring } from './scoring.ts';

/**
 * A fault that the scores see once more in words that neither name a thing nor say anything of
 * one: "it's quarts", "nobody knows about the weather", behind a crack. It stands already, so that
 * nothing is lost (R4); taken for a result, an utterance that gave nothing would pass for one.
 */
function isEcho(said: Statement, { last }: Scene, inputs: Inputs): boolean {
  if (said.kind !== 'observation' || said.force !== 'result' || said.amends !== null) return false;
  if (last === null || last.force !== 'result' || last.doubtful !== null) return false;
  if (said.values.length > 0 || said.severity !== null || said.compared !== null) return false;
  if (!isSame(said, last) || saysAnything(inputs)) return false;
  const { about } = said;
  return !inputs.candidates.some(
    (c) =>
      about.kind === 'check' &&
      c.member?.check?.id === about.check &&
      (c.features[0] ?? 0) >= NAMED,
  );
}
/** Share of its name from which the check itself is named. */
const NAMED = 0.3;

/**
 * What stays of statements once echoes are gone. One that the scores are sure of tells the fault
 * again, in other words ("it's only a few threads, but still"): it stays one fault, and is answered.
 */
export function withoutEchoes(s: Scoring, made: readonly Statement[]): Statement[] {
  const { scene, inputs, scores } = s;
  const { last } = scene;
  return made.flatMap((o): Statement[] => {
    if (last === null || !isEcho(o, scene, inputs)) return [o];
    const at = inputs.candidates.findIndex(
      ({ member }) => last.about.kind === 'check' && member?.check?.id === last.about.check,
    );
    const scored = scores.candidates[at];
    const sure =
      scored !== undefined && Math.min(scored.result, scored.finding) >= DECIDE.toldAgain;
    return sure ? [amending(s, last, {}, 'the fault that was just told, in other words')] : [];
  });
}

/** The same faults of the same check, and nothing more of them. */
function isSame(now: Observation, before: Observation): boolean {
  if (now.about.kind !== 'check' || before.about.kind !== 'check') return false;
  if (now.about.check !== before.about.check || now.verdict?.good === true) return false;
  const known = new Set(before.conditions.flatMap((c) => (c.present ? [c.condition] : [])));
  return (
    now.conditions.length > 0 &&
    now.conditions.every(
      (c) =>
        c.present &&
        known.has(c.condition) &&
        (c.degree ?? c.extent ?? c.place ?? c.size ?? null) === null,
    )
  );
}

/** Some word of it says something of a thing, or a place. */
function saysAnything({ tokens, conditions }: Inputs): boolean {
  const { names } = senses();
  return (
    conditions.length > 0 ||
    tokens.some((t) => t.side || t.senses.some((k) => SAYS.test(names[k] ?? '')))
  );
}
const SAYS = /^(condition|verdict|loose|degree|part$|compared|severity)/;
