import type { Item } from './draft.ts';
import { SEPARATOR } from './lines.ts';
import { measuresIn } from './measured.ts';
import { ACRONYMS, STATES, VERBS } from './trade.ts';

/** A name has at most so many words; more is a sentence. */
const LONGEST_NAME = 7;

/** The things that one line of a list names, each with what is to be done. Empty when it names none. */
export function itemsOf(text: string, lines: readonly number[]): Item[] {
  const hit = SEPARATOR.exec(text);
  if (hit === null || hit.index === 0) {
    const bare = stated(text);
    return bare === null ? [] : [{ ...bare, lines }];
  }
  const name = text.slice(0, hit.index).trim();
  const action = text.slice(hit.index + hit[0].length).trim();
  if (!isName(name)) return [];
  // "Master switch - ON, fuel gauges - check quantity": a second thing after the comma.
  const second = /^([^,;]+)[,;]\s+(\p{L}[\p{L} ]{2,40}?)\s+(?:-|–|—)\s+(.+)$/u.exec(action);
  if (second !== null && isName(second[2] ?? '')) {
    return [
      { name, action: (second[1] ?? '').trim(), lines },
      ...itemsOf(`${second[2] ?? ''} - ${second[3] ?? ''}`, lines),
    ];
  }
  return [{ name, action, lines }];
}

/** "brake cable free", "oil 2.2 to 2.6 litres", "tail spring not bent": the name ends where its state begins. */
export function stated(text: string): { name: string; action: string } | null {
  const words = text.replace(/[.;]$/, '').trim().split(/\s+/);
  const end = words.findIndex((word, i) => {
    if (i === 0) return false;
    const plain = word.toLowerCase().replace(/[^\p{L}\d.]/gu, '');
    return (
      STATES.has(plain) ||
      // A participle: "adjusted", "greased".
      /^\p{L}{3,}ed$/u.test(plain) ||
      (/^\d+([.,]\d+)?$/.test(plain) &&
        /^(to|-|–|—|and)$|^\p{L}/u.test(words[i + 1] ?? '') &&
        measured(words.slice(i).join(' '))) ||
      /^(no|not|in|min|max|minimum|maximum|at|is|are|has|have|between|without|should|must)$/.test(
        plain,
      ) ||
      /^[≥≤<>]/.test(word)
    );
  });
  if (end < 0) return null;
  const name = words.slice(0, end).join(' ');
  return isName(name) ? { name, action: words.slice(end).join(' ') } : null;
}

const measured = (text: string): boolean => measuresIn(text, '').measures.length > 0;

export function isName(text: string): boolean {
  const words = text.trim().split(/\s+/);
  return (
    /\p{L}{2}/u.test(text) &&
    text.length <= 80 &&
    bare(text).split(/\s+/).length <= LONGEST_NAME &&
    !(VERBS.has((words[0] ?? '').toLowerCase()) && words.length > 3) &&
    !/[.!?]\s/.test(text)
  );
}

/** Without what stands in brackets. */
export function bare(name: string): string {
  return name
    .replace(/\s*\([^)]*\)/g, '')
    .replace(/^(the|a|an|both|all)\s+/i, '')
    .replace(/[\s:;,.–—-]+$/, '')
    .replace(/\s+/g, ' ')
    .trim();
}

/** As a name stands in a list: "FUEL SELECTOR" becomes "Fuel selector", "VHF ANTENNA" "VHF antenna". */
export function tidy(name: string): string {
  const shouted = name === name.toUpperCase();
  const words = name.split(' ').map((word) => {
    const plain = word.replace(/[^\p{L}-]/gu, '');
    if (ACRONYMS.has(plain.toUpperCase()) && (shouted || plain === plain.toUpperCase()))
      return word.toUpperCase();
    return shouted ? word.toLowerCase() : word;
  });
  const text = words.join(' ');
  return text.charAt(0).toUpperCase() + text.slice(1);
}
