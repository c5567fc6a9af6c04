import type { CommandName } from '#shared/statement';
import { lexicon } from './lexicon.ts';
import { phraseWords } from './tokens.ts';

let table: Map<string, CommandName> | null = null;
function commands(): Map<string, CommandName> {
  if (table !== null) return table;
  table = new Map();
  for (const [name, say] of Object.entries(lexicon().commands) as [CommandName, string[]][]) {
    for (const phrase of say) {
      const words = phraseWords(phrase);
      table.set(words.join(' '), name);
      // Two who walk together ask what they have missed.
      table.set(words.map((w) => (w === 'i' ? 'we' : w)).join(' '), name);
    }
  }
  return table;
}

const COURTESY = new Set([
  'please',
  'okay',
  'ok',
  'um',
  'uh',
  'er',
  'so',
  'now',
  'talkround',
  'hey',
  'thanks',
  'and',
  'then',
  'well',
  'alright',
  'right',
  'oh',
  'but',
  'just',
  'sorry',
]);
/** Words that mean yes or no only to a question; otherwise they are small talk. */
const ONLY_AN_ANSWER = new Set([
  'right',
  'correct',
  'sure',
  'exactly',
  'wrong',
  'incorrect',
  'it is',
  'indeed',
  'confirm',
  'confirmed',
  'that is right',
  'that is correct',
  'that is wrong',
  'negative',
]);

/**
 * The order that a whole sentence is, or null. A sentence here stands alone or
 * between long pauses; one word too many and it is no order ("the cover isn't finished").
 *
 * @param alone nothing else is said in the utterance: beside a result, yes and no answer nothing
 */
export function commandOf(
  words: readonly string[],
  asked: boolean,
  alone = true,
): CommandName | null {
  let list = [...words];
  const whole = commands().get(list.join(' '));
  if (whole === undefined) {
    while (list.length > 1 && COURTESY.has(list[0] ?? '')) list = list.slice(1);
    while (list.length > 1 && COURTESY.has(list[list.length - 1] ?? '')) list = list.slice(0, -1);
  }
  const text = list.join(' ');
  const found = whole ?? commands().get(text);
  if (found !== undefined) {
    if (
      !asked &&
      (found === 'yes' || found === 'no') &&
      (!alone || whole === undefined || ONLY_AN_ANSWER.has(text))
    )
      return null;
    return found;
  }
  // "hold the checklist at the tail boom": the spoken form of the flight-safety practice.
  if (/^hold (the )?(checklist|check|walk|inspection) (at|here)\b/.test(text) && list.length <= 9)
    return 'hold';
  if (
    /^(resume|continue) ((the )?(checklist|walk|inspection) )?(at|from|with)\b/.test(text) &&
    list.length <= 9
  )
    return 'resume';
  return null;
}
