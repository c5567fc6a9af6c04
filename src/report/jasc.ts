import type { Catalogue } from '#shared/catalogue';
import { placeOf } from '#shared/names';
import type { Fault } from '#shared/squawk';
import { JASC_WORDS } from './jasc-words.ts';

export interface JascProposal {
  readonly code: string;
  readonly name: string;
}

/** How many are offered: a person picks one, and more than three are not read. */
const MOST = 3;

const PHRASES: ReadonlyMap<string, string> = new Map(
  JASC_WORDS.flatMap(([code, words]) => words.map((w) => [w, code] as const)).reverse(),
);
const LONGEST_PHRASE = Math.max(...[...PHRASES.keys()].map((p) => p.split(' ').length));

/**
 * JASC codes for a fault, best first, to be confirmed by a person: the code of
 * its sign or check in the catalogue, then codes by the words of the part and
 * of what was said. Names come from the FAA's table, which is passed in.
 */
export function proposeJasc(
  fault: Fault,
  catalogue: Catalogue | null,
  nameOf: (code: string) => string | null,
): readonly JascProposal[] {
  const codes = [
    ...(catalogue === null ? [] : catalogueCodes(fault, catalogue)),
    ...byWords(fault.part ?? ''),
    ...byWords(fault.words),
  ];
  return [...new Set(codes)]
    .flatMap((code) => {
      const name = nameOf(code);
      return name === null ? [] : [{ code, name }];
    })
    .slice(0, MOST);
}

function catalogueCodes(fault: Fault, catalogue: Catalogue): string[] {
  const check = fault.check === null ? null : (placeOf(catalogue, fault.check)?.check ?? null);
  const own = check?.signs.filter((s) => typeof s !== 'string') ?? [];
  const signs = [...own, ...catalogue.signs];
  return [
    ...fault.conditions.map((c) => signs.find((s) => s.id === c.sign)?.jasc),
    check?.jasc,
  ].filter((code) => code !== undefined);
}

/** Codes of the known phrases in a text: longer phrases first, then those said later, which name the part itself. */
function byWords(text: string): string[] {
  const words = text
    .toLowerCase()
    .replace(/[^a-z ]+/g, ' ')
    .split(/\s+/)
    .filter((w) => w !== '');
  const found: { code: string; length: number; at: number }[] = [];
  for (let at = 0; at < words.length; at += 1) {
    for (let length = Math.min(LONGEST_PHRASE, words.length - at); length > 0; length -= 1) {
      const code = PHRASES.get(words.slice(at, at + length).join(' '));
      if (code === undefined) continue;
      found.push({ code, length, at });
      at += length - 1;
      break;
    }
  }
  const general = (code: string) => (GENERAL.has(code) ? 1 : 0);
  return found
    .sort((a, b) => general(a.code) - general(b.code) || b.length - a.length || b.at - a.at)
    .map((f) => f.code);
}

/** Codes of whole systems: anything more particular in the same words goes first. */
const GENERAL: ReadonlySet<string> = new Set([
  '8500',
  '1410',
  '7920',
  '2820',
  '5300',
  '5700',
  '5330',
]);
