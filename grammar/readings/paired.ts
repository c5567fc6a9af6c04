import type { Catalogue, Check } from '#shared/catalogue';
import type { ValueSaid } from '#shared/statement';
import type { Member } from '../matches/roster.ts';
import type { CandidateInput } from '../scores/around.ts';
import { convert } from '../units.ts';
import { valuesOf } from '../values.ts';
import type { Words } from './said.ts';

/** Values that one utterance says of several places: "left one point eight bar, right one point seven". */
export interface Paired {
  readonly places: readonly string[];
  readonly values: ValueSaid[];
}

/** Each place with its own value, in the order of the words; empty where fewer than two have one. */
export function pairedOf(
  words: Words,
  member: Member,
  input: CandidateInput,
  catalogue: Catalogue,
): Paired[] {
  const { check } = member;
  if (check === null || check.measures.length === 0 || member.instances.length < 2) return [];
  const at = new Map<number, string[]>();
  member.instances.forEach((place, i) => {
    for (const token of input.placeAt[i] ?? []) at.set(token, [...(at.get(token) ?? []), place]);
  });
  const marks = [...at.keys()].sort((a, b) => a - b);
  const end = words.tokens.length;
  const between = (from: number, to: number): ValueSaid[] =>
    from >= to
      ? []
      : valuesOf(check, catalogue, words.tokens, words.raw, from, to, (q) => {
          for (let t = q.from; t < q.to; t += 1) if (at.has(t)) return false;
          return true;
        }).filter((v) => v.trouble !== 'no-measure' && v.trouble !== 'wrong-unit');
  const first = marks[0] ?? end;
  const last = marks.at(-1) ?? end;
  // "Nineteen left, sixteen right": the value stands before its place.
  const behind = between(0, first).length > 0 && between(last, end).length === 0;
  const groups: { places: string[]; values: ValueSaid[] }[] = [];
  let open: string[] = [];
  marks.forEach((mark, i) => {
    open = [...open, ...(at.get(mark) ?? []).filter((p) => !open.includes(p))];
    const values = behind
      ? between(marks[i - 1] === undefined ? 0 : (marks[i - 1] ?? 0) + 1, mark)
      : between(mark, marks[i + 1] ?? end);
    const kept = groups.at(-1);
    if (values.length > 0) {
      groups.push({ places: open, values });
      open = [];
    } else if (behind && kept !== undefined) {
      // "Nineteen left and right": one value for both.
      kept.places.push(...open);
      open = [];
    }
  });
  const distinct = new Set(groups.flatMap((g) => g.places));
  const once = groups.reduce((n, g) => n + g.places.length, 0) === distinct.size;
  return groups.length < 2 || !once ? [] : carried(groups, check);
}

/** A unit that was said for one place is that of the next: "left nineteen psi, right sixteen". */
function carried(groups: readonly Paired[], check: Check): Paired[] {
  const said = groups.flatMap((g) => g.values).find((v) => v.unit !== null && v.supplied !== true);
  const measure = check.measures.find((m) => m.id === said?.measure);
  if (said === undefined || measure?.unit === undefined) return [...groups];
  const { unit } = said;
  return groups.map((g) => ({
    places: g.places,
    values: g.values.map((v) => {
      const bare = v.trouble === 'no-unit' || v.supplied === true;
      if (!bare || v.low === null || v.high === null || measure.unit === undefined) return v;
      const low = convert(v.low, unit ?? '', measure.unit);
      const high = convert(v.high, unit ?? '', measure.unit);
      if (low === null || high === null) return v;
      return {
        ...v,
        measure: measure.id,
        unit,
        inUnit: { low, high, unit: measure.unit },
        trouble: null,
        supplied: true,
      };
    }),
  }));
}
