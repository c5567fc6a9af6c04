/** The reasons kept with a statement, as sentences for a person who does not know the eleven rules by number. */

type Told = (...parts: string[]) => string | null;

/** What each kind of talk is, for one who wonders why it does not count. */
const TALK: Readonly<Record<string, string>> = {
  teaching: 'tells what to look for, not what was found',
  hypothesis: 'says what would be, not what is',
  intention: 'says what is going to be done, not what was found',
  hearsay: "is somebody else's word, not what the speaker found",
  question: 'asks, and says nothing of how it is',
  past: 'speaks of the past, and says nothing of today',
};
const TROUBLE: Readonly<Record<string, string>> = {
  'no-unit': 'no unit was said, so it is asked for',
  'wrong-unit': 'the unit is of another kind, so it is asked about',
  'no-measure': 'nothing is measured at this check, so it is asked about',
};

const PLACES: readonly (readonly [RegExp, Told])[] = [
  [/^made once$/, () => null],
  [/^all of them$/, () => 'it speaks of all of them'],
  [/^named: (.*)$/, (list) => `the words say which: ${list}`],
  [
    /^said once without saying which: one more, counted$/,
    () =>
      'it was said once without saying of which, so it counts for one more of them and not for all',
  ],
  [
    /^the plural alone, without a number/,
    () => 'only the plural was said, without "all" or a number: of how many is open',
  ],
  [
    /^the plural speaks for all/,
    () => 'at this check the plural speaks for all, says the catalogue',
  ],
  [
    /^one of (.*), counted$/,
    (list) => `it was said once, of ${list}, so it counts for one of them`,
  ],
  [/^the other one: (.*)$/, (one) => `"the other one" leaves ${one}`],
  [/^(?:another one|one more), counted$/, () => 'it counts for one more of them'],
  [
    /^(.*), without saying which$/,
    (some) => `${some} were meant, but not said which, so it is asked`,
  ],
  [/^the one just named: (.*)$/, (one) => `it goes on about ${one}, named just before`],
  [/^the same place$/, () => 'it is the same place'],
];

const REASONS: readonly (readonly [RegExp, Told])[] = [
  [
    /^"(.*)" is (\d+) checks fit about as well: (.*)$/,
    (said, count, list) =>
      `"${said}" fits ${count} checks about equally well (${list}): which of them is asked, never guessed`,
  ],
  [/^places: (.*)$/, (places) => through(PLACES, places) ?? null],
  [
    /^said outright: a result$/,
    () => 'it is said outright and of now: not taught, asked, planned or told of before',
  ],
  [
    /^says how it is, after talk: a result$/,
    () => 'after the talk it says how it is now: a result',
  ],
  [
    /^"(.*)": (teaching|hypothesis|intention|hearsay), no result$/,
    (cue, kind) => `"${cue}" ${TALK[kind] ?? ''}`,
  ],
  [/^"(.*)": said of the past, no result$/, (cue) => `"${cue}" ${TALK['past'] ?? ''}`],
  [
    /^begins with "(.*)": a question, no result$/,
    (cue) => `it begins with "${cue}": it ${TALK['question'] ?? ''}`,
  ],
  [/^asked, in the words of a question$/, () => `it ${TALK['question'] ?? ''}`],
  [
    /^goes on from (\w+) before it$/,
    (kind) => `it goes on from what was said before, which ${TALK[kind] ?? `was ${kind}`}`,
  ],
  [
    /^named without a verdict: no result$/,
    () => 'it is only named: how it is was not said, so it stays open',
  ],
  [
    /^"(.*)" names the station: no result$/,
    (said) => `"${said}" says where the speaker stands, and nothing of how anything is`,
  ],
  [
    /^"(.*)" is ([\w-]+), present$/,
    (said, what) => `"${said}" is heard as the condition "${what}"`,
  ],
  [
    /^"(.*)" is ([\w-]+), denied by "(.+)"$/,
    (said, what, cue) => `"${cue}" goes with "${said}", so "${what}" is said to be absent`,
  ],
  [
    /^"(.*)" is ([\w-]+), denied by ""$/,
    (said, what) => `"${said}" is denied, so "${what}" is said to be absent`,
  ],
  [
    /^"(.*)" is a (good|bad) verdict(?: on (.*))?$/,
    (said, how, aspects = '') =>
      `"${said}" says that it is ${how === 'good' ? 'good' : 'not good'}${aspects === '' ? '' : `, as to ${joined(aspects)}`}`,
  ],
  [
    /^"(.*)" is a value(?: of ([\w-]+))?(?: \(([\w-]+), R8\))?$/,
    (said, measure = '', trouble = '') =>
      `"${said}" is read as a value${measure === '' ? '' : ` of ${measure}`}${trouble === '' ? '' : `; ${TROUBLE[trouble] ?? trouble}`}`,
  ],
  [
    /^"(.*)" names the aspect (.*)$/,
    (said, aspect) => `"${said}" says what was looked at: ${aspect}`,
  ],
  [
    /^goes back to the one just named$/,
    () => 'nothing is named here, so it goes on about what was named just before',
  ],
  [
    /^its unit fits one check only$/,
    () => 'nothing is named here, but only one check has this unit',
  ],
  [
    /^"(.*)" corrects "(.*)"$/,
    (cue, said) => `"${cue}" takes back "${said}": that stays written down, and counts no more`,
  ],
  [
    /^a blanket over (.*)$/,
    (station) =>
      `it is said of all at ${station} at once: it covers only the checks there that need not be named`,
  ],
  [/^set aside: (.*)$/, (why) => `it is not to be looked at today: ${why}`],
  [
    /^"(.*)" stands alone: an order to Talkround$/,
    (said) => `"${said}" stands alone, so it is an order and no talk`,
  ],
  [
    /^a finding whose check is not clear: kept, to be placed$/,
    () => 'a finding is never dropped: it is kept, and where it belongs is asked',
  ],
];

/** A reason in plain words; null where it says nothing that a person would ask. */
export function plainly(reason: string): string | null {
  const value = /\([\w-]+, R8\)$/.test(reason);
  const bare = value ? reason : reason.replace(/ \(R\d+\)/g, '');
  const told = through(REASONS, bare.replace(/[,.;:!?]+"/g, '"'));
  return told === undefined ? bare : told;
}

/** The first of the rows that fits; undefined where none does. */
function through(
  rows: readonly (readonly [RegExp, Told])[],
  text: string,
): string | null | undefined {
  for (const [pattern, told] of rows) {
    const found = pattern.exec(text);
    if (found !== null) return told(...found.slice(1));
  }
  return undefined;
}

/** "a, b, c" as "a, b and c". */
function joined(list: string): string {
  return list.replace(/, ([^,]*)$/, ' and $1');
}
