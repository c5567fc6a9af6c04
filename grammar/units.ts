import { ucum } from '@atomic-ehr/ucum';
import { lexicon } from './lexicon.ts';
import { phraseWords } from './tokens.ts';
import { Trie } from './trie.ts';

/** Unit words to UCUM codes, most usual reading first. */
let trie: Trie<readonly string[]> | null = null;
export function unitTrie(): Trie<readonly string[]> {
  if (trie !== null) return trie;
  trie = new Trie();
  for (const unit of lexicon().units) {
    for (const phrase of unit.say) trie.add(phraseWords(phrase), unit.code);
  }
  return trie;
}

/** Conversions as a line through two points; every unit said on a walk is linear. */
const lines = new Map<string, { scale: number; shift: number } | null>();

/**
 * A value in another unit (UCUM codes), or null when the kinds differ.
 * Factors are the library's; tests hold them against NIST SP 811.
 */
export function convert(value: number, from: string, to: string): number | null {
  if (from === to) return value;
  const key = `${from} ${to}`;
  let line = lines.get(key);
  if (line === undefined) {
    line = lineOf(from, to);
    lines.set(key, line);
  }
  return line === null ? null : value * line.scale + line.shift;
}

function lineOf(from: string, to: string): { scale: number; shift: number } | null {
  try {
    if (!ucum.isConvertible(from, to)) return null;
    const zero = ucum.isSpecialUnit(from) || ucum.isSpecialUnit(to) ? ucum.convert(0, from, to) : 0;
    return { scale: ucum.convert(1, from, to) - zero, shift: zero };
  } catch {
    // An unknown code in the catalogue is the catalogue's problem; here it only means "cannot convert".
    return null;
  }
}

/** Whether the library knows the code. */
export function isUnit(code: string): boolean {
  return ucum.validate(code).valid;
}

const onlyUnits = new Map<string, boolean>();

/**
 * The unit of a measure where no other unit that people say can be meant, such as volts:
 * a number without its unit is in that. Quarts may be litres: there it is asked (R8).
 */
export function onlyUnit(measure: { readonly unit?: string | undefined }): string | null {
  const { unit } = measure;
  if (unit === undefined) return null;
  let only = onlyUnits.get(unit);
  if (only === undefined) {
    only = lexicon()
      .units.flatMap((u) => u.code)
      .every((code) => code === unit || convert(1, code, unit) === null);
    onlyUnits.set(unit, only);
  }
  return only ? unit : null;
}
