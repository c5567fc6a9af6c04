/** Phrases of the lexicon as parts of a regular expression, for what is looked for in joined words. */

/** One of these phrases, to the letter. */
export const oneOf = (phrases: readonly string[]): string =>
  `(?:${phrases.map((p) => p.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')).join('|')})`;

/** Whether words joined by spaces have one of these phrases in them. */
export const saysOneOf = (phrases: readonly string[]): RegExp =>
  new RegExp(`\\b${oneOf(phrases)}\\b`);
