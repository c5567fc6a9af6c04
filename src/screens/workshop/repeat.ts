import { isFields, listed, namesOf } from './fields.ts';

/** How often a check is made, in the parts that a form shows; the file may have a short form of them. */
export interface Repeat {
  /** A number, or names with commas between. */
  readonly of: string;
  readonly sides: readonly string[];
  readonly plural: boolean;
}

export function repeatOf(value: unknown): Repeat {
  const of = isFields(value) ? (value['of'] ?? value['instances']) : value;
  return {
    of: typeof of === 'number' ? String(of) : namesOf(of).join(', '),
    sides: isFields(value) ? namesOf(value['sides']) : [],
    plural: isFields(value) && value['plural'] === true,
  };
}

/** In the shortest form that says it; undefined when the check is made once. */
export function written({ of, sides, plural }: Repeat): unknown {
  const n = Number(of);
  const names = listed(of);
  if (names.length === 0) return undefined;
  const places = Number.isInteger(n) ? n : names;
  if (sides.length === 0 && !plural) return places;
  return {
    of: places,
    ...(sides.length === 0 ? {} : { sides }),
    ...(plural ? { plural: true } : {}),
  };
}
