/**
 * How long a text takes to say, so that nothing is ever spoken for longer than
 * a pilot will listen.
 */

/**
 * Words a second of a synthetic voice at its normal rate. 150 words a minute is
 * common practice, no source. Too high: prompts run past their limit and are
 * cut off. Too low: an item more is left to the screen.
 */
export const WORDS_PER_SECOND = 2.5;

/** Longest prompt, seconds: some voices stop at about 14 s, and a longer list is not remembered. */
export const LONGEST_PROMPT = 10;

/** How the words begin that tell what a finding demands, and who decides of it: a screen that shows both leaves them out. */
export const DEMANDS = 'Now also:';
export const DECIDES = 'Maintenance decides';

/** The sentences of a text that was put together from several. */
export function sentencesOf(text: string): readonly string[] {
  return text.split(/(?<=[.?!]) /);
}

/** Words of a text as they are spoken; a number or an abbreviation counts as one. */
export function wordCount(text: string): number {
  return text.split(/\s+/).filter((w) => /[\p{L}\p{N}]/u.test(w)).length;
}

/** Seconds that a text takes to say. */
export function secondsToSay(text: string): number {
  return wordCount(text) / WORDS_PER_SECOND;
}

/** Whether a text may be spoken in one go. */
export function fitsPrompt(text: string, most = LONGEST_PROMPT): boolean {
  return secondsToSay(text) <= most;
}

/** "a", "a or b", "a, b or c". */
export function joined(words: readonly string[], last: 'and' | 'or'): string {
  if (words.length < 2) return words.join('');
  return `${words.slice(0, -1).join(', ')} ${last} ${words[words.length - 1] ?? ''}`;
}

/** First letter in upper case, for the start of a sentence. */
export function sentence(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** UCUM codes that catalogues use, as they are spoken. A code that is not here is spoken as it stands. */
export const UNIT_WORDS: Readonly<Record<string, string>> = {
  '[qt_us]': 'quarts',
  '[gal_us]': 'gallons',
  L: 'litres',
  '[psi]': 'p s i',
  bar: 'bar',
  kPa: 'kilopascals',
  '[in_i]': 'inches',
  mm: 'millimetres',
  cm: 'centimetres',
  '[ft_i]': 'feet',
  Cel: 'degrees Celsius',
  '[degF]': 'degrees Fahrenheit',
  V: 'volts',
  A: 'amperes',
  '[lb_av]': 'pounds',
  kg: 'kilograms',
  '%': 'per cent',
  deg: 'degrees',
  h: 'hours',
  min: 'minutes',
  s: 'seconds',
};

export function unitWords(code: string): string {
  return UNIT_WORDS[code] ?? code;
}
