import type { ConditionSaid, Observation, Statement } from '#shared/statement';
import { lexicon } from '../lexicon.ts';
import { degreeAt } from '../readings/details.ts';
import { conditionAt, severitiesIn, spanIn } from '../readings/said.ts';
import { phraseWords } from '../tokens.ts';
import { detailsSaid } from './detail.ts';
import type { Turning } from './moves.ts';
import { whole } from './open.ts';
import type { Parted } from './parted.ts';

/**
 * A correction of what was found: which fault it is, where on the thing and how large, how bad.
 * What is corrected stays in the log, amended by the correction (R6).
 */

/** What was said last, said again with something else in it. */
export function amending(
  t: Turning,
  last: Observation,
  more: Partial<Observation>,
  why: string,
): Observation {
  return {
    ...last,
    id: t.nextId(),
    heard: t.heard.id,
    span: whole(t.words),
    why: [why],
    amends: last.id,
    answers: null,
    squawk: false,
    ...more,
  };
}

/** "Make it defer.": how bad the fault is that was told last. */
export function otherSeverity(t: Turning, last: Observation, { is }: Parted): Statement[] | null {
  const [severity] = severitiesIn(t.words.tokens);
  if (severity === undefined || !isIll(last)) return null;
  const own = new Set(lexicon().severities[severity].flatMap(phraseWords));
  if (!is.every((x) => own.has(x.word))) return null;
  return [
    {
      v: 1,
      id: t.nextId(),
      heard: t.heard.id,
      kind: 'rating',
      severity,
      of: last.id,
      span: whole(t.words),
      why: [`corrected: it is rated "${severity}"`],
    },
  ];
}

/** "It's a dent, not a crack.", "make that a scratch". */
export function otherCondition(t: Turning, last: Observation, parted: Parted): Statement[] | null {
  const present = last.conditions.filter((c) => c.present);
  const before = present.at(-1);
  if (before === undefined || last.about.kind !== 'check') return null;
  const { tokens } = t.words;
  const at = (list: Parted['is']): number[] => list.map((x) => tokens.indexOf(x));
  const named = t.inputs.conditions.filter((c) => !c.either);
  const covers = (c: { from: number; to: number }, list: readonly number[]): boolean =>
    list.every((i) => (i >= c.from && i < c.to) || isDegree(t, i));
  // What is denied is what was said, and nothing else.
  const denied = at(parted.not);
  const known = new Set(present.map((c) => c.condition));
  if (denied.length > 0 && !named.some((c) => known.has(c.id) && covers(c, denied))) return null;
  const said = at(parted.is);
  // "Not a crack, a scratch", "no, a scratch": the denial is of what was said before.
  const apart =
    denied.length > 0 || (tokens[1]?.gap ?? 0) > 0 || /^(a|an|the)$/.test(tokens[1]?.word ?? '');
  const fits = named.filter(
    (c) =>
      (c.denials === 0 || apart) && covers(c, said) && said.some((i) => i >= c.from && i < c.to),
  );
  const match = fits.find((c) => !c.weak) ?? fits[0];
  if (match === undefined || known.has(match.id)) return null;
  const check = t.roster.byKey.get(last.about.check)?.check ?? null;
  const now: ConditionSaid = {
    ...before,
    ...conditionAt(match.id, true, check, t.roster.catalogue, match.sign),
    degree: degreeAt(tokens, match.from, match.to) ?? before.degree,
    extent: before.extent,
    place: before.place,
    span: spanIn(t.words, match.from, match.to),
  };
  const conditions = last.conditions.map((c) => (c === before ? now : c));
  return [amending(t, last, { conditions }, `corrected: it is ${now.condition}`)];
}

const isDegree = ({ words }: Turning, i: number): boolean =>
  degreeAt(words.tokens.slice(i, i + 1), 0, 0) !== null;

/** "No, outboard end.", "make it two inches": in the place of what was told of the same kind. */
export function otherDetail(t: Turning, last: Observation, parted: Parted): Statement[] | null {
  const before = last.conditions.findLast((c) => c.present);
  if (before === undefined) return null;
  const at = parted.is.map((x) => t.words.tokens.indexOf(x));
  const found = detailsSaid(t, last, Math.min(...at), Math.max(...at) + 1);
  if (found === null) return null;
  const fresh =
    (found.place !== null && before.place === null) ||
    (found.size !== null && (before.size ?? null) === null);
  if (fresh || (found.degree ?? found.extent ?? found.place ?? found.size) === null) return null;
  const now: ConditionSaid = {
    ...before,
    degree: found.degree ?? before.degree,
    extent: found.extent ?? before.extent,
    place: found.place ?? before.place,
    ...(found.size === null ? {} : { size: found.size }),
  };
  const conditions = last.conditions.map((c) => (c === before ? now : c));
  return [amending(t, last, { conditions }, 'corrected: where, how large or how many it is')];
}

const isIll = (o: Observation): boolean =>
  o.conditions.some((c) => c.present) || o.verdict?.good === false;
