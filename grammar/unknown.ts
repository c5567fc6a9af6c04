import type { Catalogue } from '#shared/catalogue';
import { lexicon } from './lexicon.ts';
import { phraseWords } from './tokens.ts';

/** A condition that a catalogue names and the lexicon does not have. */
export interface Unknown {
  /** Path of the check or the sign that names it. */
  readonly path: string;
  readonly text: string;
}

/**
 * Conditions by an id that nobody knows: a sign with such a one is never heard by
 * it, and an aspect never spoken for by it. Told, since the format cannot tell.
 */
export function unknownConditions(catalogue: Catalogue): Unknown[] {
  const known = new Set(lexicon().conditions.map((c) => c.id));
  const of = (path: string, what: string, ids: readonly string[]): Unknown[] =>
    ids
      .filter((id) => !known.has(id))
      .map((id) => ({
        path,
        text: `${what} goes by "${id}", which is no condition that is known${meant(id)}.`,
      }));
  return [
    ...catalogue.signs.flatMap((s) => of(`signs.${s.id}`, `the sign "${s.name}"`, s.conditions)),
    ...catalogue.stations.flatMap((station) =>
      station.checks.flatMap((check) => {
        const path = `stations.${station.id}.checks.${check.id}`;
        return [
          ...check.aspects.flatMap((a) => of(path, `the aspect "${a.name}"`, a.conditions)),
          ...check.signs.flatMap((s) =>
            typeof s === 'string' ? [] : of(path, `the sign "${s.name}"`, s.conditions),
          ),
        ];
      }),
    ),
  ];
}

/** The condition that people say with this word: "leaking" is "leak". */
function meant(id: string): string {
  const words = id.replaceAll('-', ' ');
  const found = lexicon().conditions.find((c) =>
    [...c.say, ...c.also].some((say) => phraseWords(say).join(' ') === words),
  );
  return found === undefined
    ? ': write the word among its other names instead'
    : `; "${found.id}" is said so`;
}
