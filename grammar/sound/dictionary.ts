/** How words sound: phones in ARPABET without stress, every pronunciation known. */
export interface Pronunciations {
  readonly size: number;
  /** Pronunciations of a lower-case word, most usual first; empty when it is not there. */
  of(word: string): readonly (readonly string[])[];
}

/**
 * Reads a dictionary in the CMU format: a word, then its phones; "word(2)" is a
 * further pronunciation; ";;;" or ";;" begins a comment. Stress digits are dropped.
 */
export function parseDictionary(text: string): Pronunciations {
  // Kept as text until asked for: 134,000 arrays cost more than the walk needs.
  const lines = new Map<string, string[]>();
  let start = 0;
  while (start < text.length) {
    let end = text.indexOf('\n', start);
    if (end === -1) end = text.length;
    const space = text.indexOf(' ', start);
    if (space !== -1 && space < end && text[start] !== ';') {
      let word = text.slice(start, space).toLowerCase();
      const bracket = word.indexOf('(');
      if (bracket > 0) word = word.slice(0, bracket);
      const phones = text.slice(space + 1, end).trim();
      const row = lines.get(word);
      if (row === undefined) lines.set(word, [phones]);
      else row.push(phones);
    }
    start = end + 1;
  }
  const split = new Map<string, readonly (readonly string[])[]>();
  return {
    size: lines.size,
    of(word) {
      let found = split.get(word);
      if (found === undefined) {
        found = (lines.get(word) ?? []).map((phones) =>
          phones.split(/\s+/).map((p) => p.replace(/\d/g, '')),
        );
        split.set(word, found);
      }
      return found;
    },
  };
}
