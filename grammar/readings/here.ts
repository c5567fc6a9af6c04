import type { Decision } from '../decide.ts';
import type { CandidateInput } from '../scores/around.ts';
import type { Token } from '../tokens.ts';
import { quantitiesIn } from '../values.ts';
import { ownWords } from './said.ts';
import type { Scoring } from './scoring.ts';

/**
 * The present station outranks a better match elsewhere, unless the words name the other
 * place: somebody who stands at the engine and says "cap secure" means the cap before them.
 */
export function hereFirst(s: Scoring, decisions: readonly Decision[]): Decision[] {
  const here = s.scene.station;
  if (here === null) return [...decisions];
  const taken = new Set(decisions.map((d) => d.index));
  return decisions.map((d) => {
    const input = s.inputs.candidates[d.index];
    const member = input?.member ?? null;
    if (d.kind !== 'result' || input === undefined || member === null || member.check === null)
      return d;
    if (member.station.id === here || isSpokenOf(input) || namesStation(s, member.station.id))
      return d;
    const own = ownWords(input);
    // A whole name is the other one's own, whatever is called a little like it here.
    if (own.length === 0 || (input.features[0] ?? 0) >= WHOLE) return d;
    const same = s.inputs.candidates.flatMap((c, index) =>
      c.member !== null &&
      c.member.check !== null &&
      c.member.station.id === here &&
      !taken.has(index) &&
      own.every((t) => shareAt(c, t) > 0)
        ? [index]
        : [],
    );
    // Two that are called so here: the scores know better than a guess (R5).
    return same.length === 1 ? { ...d, index: same[0] ?? d.index } : d;
  });
}

/** Share of a name from which it is said whole. */
const WHOLE = 0.97;

const shareAt = (c: CandidateInput, token: number): number =>
  c.marks.find((m) => m.lag === 0 && m.token === token)?.name ?? 0;

/** Features of a candidate (scores/inputs.ts): named in one of the last utterances. */
const RECENT = [12, 13, 14] as const;
const isSpokenOf = (c: CandidateInput): boolean => RECENT.some((k) => (c.features[k] ?? 0) > 0);

/** Share of a station's name from which the words go there. */
const NAMED = 0.6;
function namesStation(s: Scoring, station: string): boolean {
  return s.inputs.candidates.some(
    (c) =>
      c.member !== null &&
      c.member.check === null &&
      c.member.station.id === station &&
      (c.features[0] ?? 0) >= NAMED,
  );
}

/**
 * A unit or a number alone never carries anybody to another station: a value goes elsewhere
 * only where the words name what it is of, or it was just spoken of.
 */
export function valuesHere(s: Scoring, decisions: readonly Decision[]): Decision[] {
  const bare = isBareNumber(s.words.tokens);
  return decisions.filter((d) => {
    const input = s.inputs.candidates[d.index];
    const member = input?.member ?? null;
    if (d.kind !== 'result' || input === undefined || member === null) return true;
    if (bare && !d.value) return false;
    if (!d.value || ownWords(input).length > 0) return true;
    const here = s.scene.station;
    const asked = s.scene.question?.options.some((o) => o.candidate?.check === member.check?.id);
    return here === null || member.station.id === here || isSpokenOf(input) || asked === true;
  });
}

/** Numbers and units and nothing else: of themselves they say of nothing how it is. */
export function isBareNumber(tokens: readonly Token[]): boolean {
  const said = quantitiesIn(tokens, 0, tokens.length);
  return (
    said.length > 0 &&
    tokens.every(
      (t, i) =>
        said.some((q) => i >= q.from && i < q.to) ||
        /^(um|uh|er|so|and|about|its|it|is|at|of|the|a|okay|ok|say|reads|reading|just|over|under)$/.test(
          t.word,
        ),
    )
  );
}
