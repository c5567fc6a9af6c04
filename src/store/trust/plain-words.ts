/*
 * A file chooses its own names. What it chose may stand within our sentences and
 * never speak for them: it begins no line, turns no direction of reading, closes
 * no quotation and no bracket.
 */

/** Line ends, controls of a terminal, and marks that turn the direction of reading (Unicode UAX #9). */
// eslint-disable-next-line no-control-regex
const TRICKS = /[\u0000-\u001f\u007f-\u009f\u2028\u2029\u200e\u200f\u202a-\u202e\u2066-\u2069]+/g;

/** A sentence of ours on one line, whatever names stand in it. */
export function oneLine(text: string): string {
  return text.replace(TRICKS, ' ').trimEnd();
}

/** Characters of a person's words that are written out: a page of a form. */
const LONGEST_WORDS = 2000;

/** Words that stand in “ ” in a sentence of ours. */
export function quoted(text: string): string {
  return `“${oneLine(text)
    .replace(/[“”„‟"«»]/g, '’')
    .slice(0, LONGEST_WORDS)}”`;
}

/** Longest name of a person or device, and longest id. Our ids have 36 characters. */
const LONGEST_NAME = 80;

/** Somebody's name without quotation marks round it. */
export function nameWords(text: string): string {
  return oneLine(text)
    .replace(/[“”„‟"«»(),:;]/g, '’')
    .slice(0, LONGEST_NAME);
}

/** An id of ours is letters, digits and lines; what stands for one may be anything. */
export function idWords(text: string): string {
  return text.replace(/[^\w.@-]+/g, '·').slice(0, LONGEST_NAME);
}

/** What a device is called: “Hangar phone” (device …), or its id alone. */
export function deviceWords(name: string | null, device: string): string {
  return name === null
    ? `device ${idWords(device)}`
    : `${quoted(name.slice(0, LONGEST_NAME))} (device ${idWords(device)})`;
}
