import type { Check } from '#shared/catalogue';
import { lexicon } from './lexicon.ts';
import { stem } from './names.ts';
import { phraseWords } from './tokens.ts';

/** An author's aspects, and the kinds of the lexicon that each belongs to. */
export interface AspectMap {
  readonly ids: readonly string[];
  /** Aspect that a general verdict speaks for, or null. */
  readonly general: string | null;
  kinds(aspect: string): ReadonlySet<string>;
  /** Aspects of a kind. */
  of(kind: string): readonly string[];
  /** Aspects that a condition speaks about. */
  about(condition: string): readonly string[];
  /** How well a condition fits: 2 the check has an aspect of its own for it, 1 only the general one, 0 none. */
  fit(condition: string): 0 | 1 | 2;
  /** Phrases by which an aspect is named, stems. */
  readonly phrases: readonly { words: readonly string[]; aspect: string }[];
}

const cache = new WeakMap<Check, AspectMap>();

export function aspectsOf(check: Check): AspectMap {
  let map = cache.get(check);
  if (map === undefined) cache.set(check, (map = build(check)));
  return map;
}

/** The kinds of the lexicon with their names as stems, and each condition's kinds: made once. */
let table: {
  kinds: { id: string; names: string[] }[];
  conditions: Map<string, readonly string[]>;
} | null = null;
function kindTable(): NonNullable<typeof table> {
  table ??= {
    kinds: lexicon().aspects.map((k) => ({
      id: k.id,
      names: k.names.map((n) => phraseWords(n).map(stem).join(' ')),
    })),
    conditions: new Map(lexicon().conditions.map((c) => [c.id, c.aspects])),
  };
  return table;
}

const words = new WeakMap<Check, ReadonlySet<string>>();
/** Words by which the author names what is looked at and what is measured, stems. */
export function askedOf(check: Check): ReadonlySet<string> {
  let own = words.get(check);
  if (own === undefined) {
    const named = [...check.aspects, ...check.measures].flatMap((a) => [a.name, ...a.say]);
    words.set(check, (own = new Set(named.flatMap((name) => phraseWords(name).map(stem)))));
  }
  return own;
}

function build(check: Check): AspectMap {
  const { kinds, conditions } = kindTable();
  const byAspect = new Map<string, Set<string>>();
  const phrases: { words: readonly string[]; aspect: string }[] = [];
  for (const aspect of check.aspects) {
    const set = new Set<string>();
    for (const name of [aspect.name, ...aspect.say]) {
      const words = phraseWords(name).map(stem);
      phrases.push({ words, aspect: aspect.id });
      const text = words.join(' ');
      for (const kind of kinds) {
        if (kind.names.some((own) => own === text || ` ${text} `.includes(` ${own} `))) {
          set.add(kind.id);
        }
      }
    }
    byAspect.set(aspect.id, set);
  }
  const ids = check.aspects.map((a) => a.id);
  const condition = ids.find((id) => id === 'condition') ?? null;
  const general =
    condition ??
    (ids.length === 1
      ? (ids[0] ?? null)
      : (ids.find(
          (id) => byAspect.get(id)?.has('condition') === true && byAspect.get(id)?.size === 1,
        ) ?? null));
  const of = (kind: string): string[] => ids.filter((id) => byAspect.get(id)?.has(kind) === true);
  return {
    ids,
    general,
    kinds: (aspect) => byAspect.get(aspect) ?? new Set(),
    of,
    about(id) {
      const own = check.aspects.filter((a) => a.conditions.includes(id)).map((a) => a.id);
      if (own.length > 0) return own;
      for (const kind of conditions.get(id) ?? []) {
        const found = of(kind);
        if (found.length > 0) return found;
      }
      return [];
    },
    fit(id) {
      if (check.aspects.some((a) => a.conditions.includes(id))) return 2;
      const kind = conditions.get(id)?.find((k) => of(k).length > 0);
      return kind === undefined ? 0 : kind === 'condition' ? 1 : 2;
    },
    phrases,
  };
}
