import { LONGEST_PROMPT, secondsToSay } from '#shared/speech';

/**
 * As many of the items as can be said in `most` seconds, worst first as they
 * come, and how many are left for the screen. At least one item is said unless
 * it alone is too long.
 */
export function list(head: string, items: readonly string[], most = LONGEST_PROMPT - 1): string {
  const trimmed = items.map((item) => item.trim().replace(/[.;?]+$/, ''));
  for (let count = trimmed.length; count >= 0; count -= 1) {
    const rest = trimmed.length - count;
    const tail = rest === 0 ? '' : count === 0 ? 'see the screen' : `and ${rest} more`;
    const text = `${head} ${[...trimmed.slice(0, count), tail].filter((t) => t !== '').join('; ')}`;
    if (secondsToSay(text) <= most) return text;
  }
  return head;
}

const MONTHS =
  'January February March April May June July August September October November December'.split(
    ' ',
  );

/** "2026-03-01" as it is spoken: "1 March". Anything else as it is. */
export function dayWords(day: string): string {
  const [, month, date] = /^\d{4}-(\d\d)-(\d\d)$/.exec(day) ?? [];
  const name = MONTHS[Number(month) - 1];
  return name === undefined ? day : `${String(Number(date))} ${name}`;
}

/**
 * R9: nothing that Talkround says may sound like a verdict on the aircraft, not
 * even when the words come from a catalogue or from the pilot. Such a sentence
 * is left to the screen, where it stands as somebody's own words.
 */
const VERDICT =
  /\b(?:un)?air\s?-?worth|\b(?:safe|fit|ready|clear(?:ed)?|good|ok(?:ay)?|legal|released?) (?:to|for) (?:fly|flight|go|departure|service)|return(?:ed)? to service/i;

export function withoutVerdict(text: string): string {
  return VERDICT.test(text) ? 'One item is on the screen' : text;
}

/** Whether a text reads as a verdict on the aircraft. */
export function isVerdict(text: string): boolean {
  return VERDICT.test(text);
}
