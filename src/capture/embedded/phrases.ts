import type { Catalogue } from '#shared/catalogue';
import type { Question } from '#shared/question';
import type { Path, Plan } from './network.ts';
import { RESULT, START, UNFITTED } from './weights.ts';

/**
 * What people say on a walk around one aircraft, as a plan for the
 * recogniser's network: each name is followed by the verdicts that its own aspects take
 * and by any condition. Narrower than what the phrase grammar reads, because
 * every rare synonym costs accuracy in noise: the common forms only.
 */
export interface Lexicon {
  readonly verdicts: readonly {
    readonly aspect?: string | undefined;
    readonly say: readonly string[];
  }[];
  readonly conditions: readonly { readonly id: string; readonly say: readonly string[] }[];
  readonly aspects: readonly { readonly id: string; readonly names: readonly string[] }[];
  readonly units: readonly { readonly code: readonly string[]; readonly say: readonly string[] }[];
  readonly severities: Readonly<Record<string, readonly string[]>>;
  readonly commands: Readonly<Record<string, readonly string[]>>;
}

export interface Word {
  readonly word: string;
  readonly phones: readonly string[];
}

export interface Phrases {
  readonly plan: Plan;
  /** Words that the recogniser's dictionary lacks. */
  readonly words: readonly Word[];
}

/** Forms of each entry that are listened for, most usual first in the lexicon. */
const GENERAL_FORMS = 30;
const ASPECT_FORMS = 14;
const CONDITION_FORMS = 6;
const UNIT_FORMS = 4;
const SEVERITY_FORMS = 6;
const COMMAND_FORMS = 5;
/** Forms of a command said alone: listened for by themselves, so that more of them cost little. */
const ALONE_FORMS = 12;
/** Contractions that the lexicon does without. */
const CONTRACTED = ["what's left", "what's left here", "what's next"];
/** Conditions that make up most findings in maintenance records: common practice, no source. */
const COMMON: ReadonlySet<string> = new Set(
  'crack loose leak chafing dent wear corrosion missing broken nick scratch bent damaged low'.split(
    ' ',
  ),
);
/** How much likelier those are; a rare word taken for a common one is asked about, the other way round it sounds absurd. */
const COMMON_WEIGHT = 6;
/** How often the name is said as an owner ("the belt's good"), beside 1 for the plain name. */
const OWNER = 0.6;

const SIDES =
  'left | right | upper | lower | top | bottom | forward | aft | front | rear | inboard | outboard | middle | main | both | all | each | first | second | third | number one | number two | left hand | right hand';
const DEGREE =
  'slight | slightly | small | minor | bit of | a bit of | some | badly | severe | large | deep | two | three | one | several';
const PLACE =
  'on the left side | on the right side | on the left | on the right | at the tip | at the root | near the tip | at the top | at the bottom | at the front | at the back | in the middle | underneath | inside | near the hub | at the edge | along the edge';
const NUMBER = `
<digit> = zero | oh | one | two | three | four | five | six | seven | eight | nine | niner;
<teen> = ten | eleven | twelve | thirteen | fourteen | fifteen | sixteen | seventeen | eighteen | nineteen;
<ten> = twenty | thirty | forty | fifty | sixty | seventy | eighty | ninety;
<whole> = <digit> | <digit> <digit> | <digit> <digit> <digit> | <teen> | <ten> | <ten> <digit> | <digit> hundred | <digit> hundred [and] <ten> | <digit> thousand;
<number> = <whole> | <whole> (point | decimal) <digit> [<digit>] | <whole> and a (half | quarter) | <whole> and three quarters | half | a quarter | three quarters;`;
const BEFORE_VALUE = 'at | about | around | reads | reading | shows | showing';
const TALK =
  "right | okay | so | now | and | then | right then | okay so | let's see | looking at | next | here";

/** What answers each kind of question; no more, because every other short word is one to be taken for. */
const ANSWERED_BY: Readonly<Record<Question['kind'], readonly string[]>> = {
  'which-check': ['side', 'yes-no', 'nothing', 'neither'],
  'which-instance': ['side', 'yes-no', 'nothing', 'neither'],
  unit: ['number', 'just-unit', 'yes-no', 'nothing'],
  value: ['number', 'yes-no', 'nothing'],
  severity: ['yes-no', 'nothing'],
  polarity: ['yes-no', 'nothing'],
  place: ['side', 'yes-no', 'nothing', 'neither'],
  recheck: ['still', 'yes-no'],
  recap: ['yes-no', 'side', 'nothing', 'neither'],
  'which-fault': ['yes-no', 'side', 'nothing', 'neither'],
  choice: ['yes-no', 'side', 'number', 'nothing', 'neither'],
};

/**
 * How much rarer "neither" and "don't know" are than the words that were offered. Higher, and a
 * "no" or a "left" in noise is taken for one of them; lower, and they are taken for an answer.
 */
const RARE_ANSWER = 0.2;

/** Without a question "that is wrong" would be read as a finding: it is listened for as an answer only. */
const unasked = (say: string) => !/\b(is|it's) wrong\b|^wrong$/.test(say);

/** Words that are said when a check is set aside or a statement taken back. */
const AFTERTHOUGHTS = [
  'that was wrong',
  'take that back',
  'scratch that',
  'no sorry',
  'correction',
  'forget that',
];

/**
 * @param pronounce phones of a word, or null where there is no telling.
 * @param known whether the recogniser's own dictionary has the word.
 */
export function walkPhrases(
  catalogue: Catalogue,
  lexicon: Lexicon,
  pronounce: (word: string) => readonly string[] | null,
  known: (word: string) => boolean,
): Phrases {
  const own = new Map<string, readonly string[]>();
  const extra = new Map<string, readonly string[]>();
  const checks = catalogue.stations.flatMap((s) => s.checks);
  for (const check of checks)
    for (const [word, phones] of Object.entries(check.pronounce))
      own.set(word.toLowerCase(), phones.toUpperCase().replace(/\d/g, '').split(/\s+/));

  function sayable(word: string): boolean {
    const given = own.get(word);
    if (given !== undefined) {
      extra.set(word, given);
      return true;
    }
    if (known(word) || extra.has(word)) return true;
    const base = word.replace(/['’]s$/, '');
    const phones = base === word ? pronounce(word) : possessive(own.get(base) ?? pronounce(base));
    if (phones === null || phones.length === 0) return false;
    extra.set(word, phones);
    return true;
  }

  /** Forms whose every word can be listened for. */
  function forms(said: readonly string[], most = Infinity): string[] {
    const out = new Set<string>();
    for (const phrase of said) {
      const words = spoken(phrase);
      if (words.length === 0 || words.length > 7 || !words.every(sayable)) continue;
      out.add(words.join(' '));
      if (out.size >= most) break;
    }
    return [...out];
  }

  const kinds = new Map<string, string>();
  for (const aspect of lexicon.aspects)
    for (const name of [aspect.id, ...aspect.names]) kinds.set(name.toLowerCase(), aspect.id);

  const rules = NUMBER;
  const hubs: Record<string, Path[]> = {};
  const groups: Record<string, Record<string, number>> = {};
  function hub(name: string, said: readonly string[], then: string): void {
    if (said.length === 0) return;
    (hubs[name] ??= []).push({ say: said.join(' | '), then });
  }
  /** Forms by their rank in the lexicon, which has the usual ones first. */
  function ranked(
    name: string,
    said: readonly string[],
    most: number,
    then: string,
    weight = 1,
  ): void {
    forms(said, most).forEach((say, rank) => {
      (hubs[name] ??= []).push({ say, then, weight: weight / (rank + 1) });
    });
  }

  // Verdicts: general ones, and those of each kind of aspect that this catalogue has.
  const answers = [
    ...forms(lexicon.commands['yes'] ?? [], COMMAND_FORMS),
    ...forms(lexicon.commands['no'] ?? [], COMMAND_FORMS),
    ...Object.values(lexicon.severities).flatMap((said) => forms(said, 2)),
  ];
  const ofKind = new Set<string>();
  for (const aspect of checks.flatMap((c) => c.aspects)) {
    const kind = kinds.get(aspect.name.toLowerCase()) ?? kinds.get(aspect.id);
    if (kind === undefined || ofKind.has(kind)) continue;
    for (const verdict of lexicon.verdicts)
      if (verdict.aspect === kind) ranked(`is-${kind}`, verdict.say, ASPECT_FORMS, 'more');
    if (hubs[`is-${kind}`] !== undefined) ofKind.add(kind);
  }
  lexicon.verdicts
    .filter((v) => v.aspect === undefined)
    .forEach((verdict, i) => {
      ranked('general', verdict.say, GENERAL_FORMS, 'more', 1 / (i + 1));
    });
  hub('be', ['is', 'are', 'looks', 'look', 'feels', 'feel', 'has', 'have'], 'after-be');
  hub('article', ['a', 'an', 'some', 'the'], 'after-article');
  hub('degree', [DEGREE], 'after-degree');
  for (const { id, say } of lexicon.conditions)
    ranked('condition', say, CONDITION_FORMS, 'more', COMMON.has(id) ? COMMON_WEIGHT : 1);
  hub('absent', ['(no | not | without) [any]'], 'after-no');
  const units = new Set(
    checks.flatMap((c) => c.measures.flatMap((m) => (m.unit === undefined ? [] : [m.unit]))),
  );
  const unitForms = forms(
    lexicon.units
      .filter((u) => u.code.some((code) => units.has(code)))
      .flatMap((u) => u.say.slice(0, UNIT_FORMS)),
  );
  hub('value', [`[${BEFORE_VALUE}] <number>`], 'after-number');
  hub('unit', unitForms, 'more');
  hub('join', ['and', 'but', 'with', 'or'], 'joined');
  hub('at', ['on', 'in', 'at', 'near', 'of'], 'after-at');
  hub('place', [PLACE], 'last');
  for (const said of Object.values(lexicon.severities))
    ranked('severity', said, SEVERITY_FORMS, 'last');

  // Names, each with what may follow it.
  const afterName = new Map<string, Record<string, number>>();
  checks.forEach((check, i) => {
    const names = forms([check.name, ...check.say]);
    if (names.length === 0) return;
    const owners = names.flatMap((name) => {
      const last = name.split(' ').pop() ?? '';
      return !last.endsWith('s') && sayable(`${last}'s`) ? [`${name}'s`] : [];
    });
    const then: Record<string, number> = {};
    const of = check.aspects.flatMap(
      (a) => kinds.get(a.name.toLowerCase()) ?? kinds.get(a.id) ?? [],
    );
    const own = new Set(of.filter((kind) => ofKind.has(kind)));
    for (const kind of own) then[`is-${kind}`] = 0.35 / own.size;
    const parts = forms(check.aspects.flatMap((a) => [a.name, ...a.say]));
    const measures = forms(check.measures.flatMap((m) => [m.name, ...m.say]));
    const steps = forms(
      catalogue.gauges
        .filter((g) => check.measures.some((m) => m.gauge === g.id))
        .flatMap((g) => g.steps.flatMap((s) => [s.name, ...s.say])),
    );
    const signs = forms(
      check.signs.flatMap((s) => (typeof s === 'string' ? [] : [s.name, ...s.say])),
    );
    hub(`own-${String(i)}`, parts, 'result');
    hub(`own-${String(i)}`, measures, 'measured');
    hub(`own-${String(i)}`, steps.length === 0 ? [] : [stepOf(steps)], 'more');
    hub(`own-${String(i)}`, signs, 'more');
    if (hubs[`own-${String(i)}`] !== undefined) then[`own-${String(i)}`] = 0.1;
    if (check.measures.length > 0) then['value'] = 0.3;
    if (steps.length > 0) then['step'] = 0.2;
    afterName.set(`name-${String(i)}`, then);
    ranked('name', names, Infinity, `name-${String(i)}`);
    // "Weakest cylinder is …": a measure of more than one word is a name by itself.
    for (const say of measures.filter((m) => m.includes(' ')))
      (hubs['name'] ??= []).push({ say, then: 'measured', weight: 0.5 });
    for (const owner of owners)
      (hubs['name'] ??= []).push({
        say: owner,
        then: `name-${String(i)}`,
        weight: OWNER / owners.length,
      });
  });
  const steps = forms(catalogue.gauges.flatMap((g) => g.steps.flatMap((s) => [s.name, ...s.say])));
  hub('step', steps.length === 0 ? [] : [stepOf(steps)], 'more');
  hub('talk', [TALK], 'start');
  hub('the', ['the', `[the] (${SIDES}) [the]`], 'names');
  const stations = forms(catalogue.stations.flatMap((s) => [s.name, ...s.say]));
  hub(
    'everything',
    ['(everything | everything else | all else) [on | in | at | around] [the]'],
    'station',
  );
  hub('now', ['(now | next | at | going to | on to | over to) [the]'], 'station-or-name');
  hub('station', stations, 'after-station');
  hub('skip', ['skip [the]', 'set aside [the]'], 'names');
  hub('unfitted', ["[it's | it] (not fitted | isn't fitted)"], 'last');
  hub(
    'it',
    [
      "it's",
      "they're",
      'it is',
      'they are',
      "that's",
      "there's",
      'there is',
      'we have',
      'i have',
      'got',
    ],
    'result',
  );
  for (const said of Object.values(lexicon.commands))
    ranked('order', said.filter(unasked), COMMAND_FORMS, 'last');
  ranked('order', AFTERTHOUGHTS, Infinity, 'last', 0.5);
  for (const side of SIDES.split(' | '))
    for (const more of ['', ' one', ' side'])
      (hubs['order'] ??= []).push({ say: `${side}${more}`, then: 'last', weight: 0.1 });
  // Short answers to a question of ours, listened for alone.
  const unitChoice = unitForms.length === 0 ? '' : ` [${unitForms.join(' | ')}]`;
  hub('number', [`[it's | about] <number>${unitChoice}`], 'answered');
  hub('number', steps.length === 0 ? [] : [stepOf(steps)], 'answered');
  hub('just-unit', unitForms, 'answered');
  hub('side', [`[the] (${SIDES}) [one | side]`], 'answered');
  hub('yes-no', ['yes', 'no', ...answers], 'answered');
  // In full only: a bare "nothing" is near enough to "note it" to take a finding back by ear.
  hub('nothing', ["(that's | that was) (nothing | just talk)"], 'answered');
  // "Still there, worse, or gone?" of an open squawk.
  hub('still', ["[it's | it is] (still there | same as before | worse | gone)"], 'answered');
  hub('still', ["(it's | it has) grown"], 'answered');
  // Of what was offered none is meant, or nobody can tell: it is never taken for one of them (R5).
  hub('neither', ['neither [(one | of them | of those)]', 'none of (them | those)'], 'answered');
  hub(
    'unknown',
    ["[i] don't know", 'i do not know', '[i am | am] not sure', 'no idea'],
    'answered',
  );
  for (const [kind, hubs] of Object.entries(ANSWERED_BY))
    groups[`asked-${kind}`] = {
      ...Object.fromEntries(hubs.map((h) => [h, h === 'neither' ? RARE_ANSWER : 1])),
      unknown: RARE_ANSWER,
      loop: 0.1,
    };
  groups['answered'] = { end: 1 };
  // Commands alone, listened for beside all the rest when little was said.
  const alone = [
    ...Object.values(lexicon.commands).flatMap((said) => forms(said, ALONE_FORMS)),
    ...forms([...CONTRACTED, ...AFTERTHOUGHTS]),
  ];
  hub('command', [...new Set(alone)].filter(unasked), 'commanded');
  hub(
    'command',
    ['squawk', `[the] (${SIDES}) [one | side]`, ...answers.filter(unasked)],
    'commanded',
  );
  groups['command'] = { command: 1, loop: 0.1 };
  groups['commanded'] = { end: 1 };
  hub('squawk', ['squawk'], 'squawked');
  // Any kind may be said of anything; the kinds of a check's own aspects are likelier.
  const spread = Object.fromEntries([...ofKind].map((kind) => [`is-${kind}`, 0.25 / ofKind.size]));
  for (const [group, then] of afterName)
    groups[group] = { ...RESULT, ...spread, severity: 0.01, unfitted: UNFITTED, end: 0.1, ...then };
  const result = { ...RESULT, ...spread, value: 0.1, step: 0.05 };
  const afterFinding = { at: 0.08, place: 0.1, severity: 0.1 };
  Object.assign(groups, {
    start: { ...scaled(result, 0.2), severity: 0.02, value: 0.03, ...START },
    names: { name: 1 },
    squawked: { name: 0.4, the: 0.5, condition: 0.1 },
    result,
    measured: { ...result, value: 0.6, step: 0.3 },
    joined: { ...scaled(START, 0.5), ...result, it: 0.15 },
    'after-be': { ...result, article: 0.1 },
    'after-article': { degree: 0.3, condition: 0.7 },
    'after-degree': { condition: 1 },
    'after-no': { condition: 1 },
    'after-number': { unit: 0.8, ...scaled(START, 0.05), join: 0.05, end: 0.3 },
    'after-at': { name: 0.3, the: 0.7 },
    more: {
      ...scaled(START, 0.2),
      ...scaled(result, 0.25),
      join: 0.1,
      ...afterFinding,
      end: 0.5,
    },
    last: { ...scaled(START, 0.3), severity: 0.1, place: 0.05, end: 0.5 },
    station: { station: 1 },
    'station-or-name': { station: 0.5, name: 0.4, the: 0.2 },
    'after-station': { be: 0.5, general: 0.4, ...scaled(START, 0.1), end: 0.5 },
  });
  return {
    plan: { rules, hubs, groups: existing(groups, hubs), start: 'start' },
    words: [...extra].map(([word, phones]) => ({ word, phones })),
  };
}

/** A step of a gauge, such as "at the first knuckle". */
function stepOf(steps: readonly string[]): string {
  return `[at | past | to | on] [the] (${steps.join(' | ')})`;
}

function scaled(group: Record<string, number>, by: number): Record<string, number> {
  return Object.fromEntries(Object.entries(group).map(([hub, p]) => [hub, p * by]));
}

/** Hubs that nothing was said for are left out. */
function existing(
  groups: Record<string, Record<string, number>>,
  hubs: Record<string, unknown>,
): Record<string, Record<string, number>> {
  return Object.fromEntries(
    Object.entries(groups).map(([name, group]) => [
      name,
      Object.fromEntries(
        Object.entries(group).filter(([hub]) => hub === 'end' || hub === 'loop' || hub in hubs),
      ),
    ]),
  );
}

/** Names of the checks at the station of the scene and at the next one, as they are listened for. */
export function nearNames(catalogue: Catalogue, station: string | null): string[] {
  const at = catalogue.stations.findIndex((s) => s.id === station);
  const here = at < 0 ? catalogue.stations.slice(0, 1) : catalogue.stations.slice(at, at + 2);
  return here.flatMap((s) =>
    s.checks.flatMap((c) => [c.name, ...c.say].map((name) => spoken(name).join(' '))),
  );
}

/** A name as a sequence of dictionary words: "push-pull tube" is three, "O.K." two. */
export function spoken(phrase: string): string[] {
  return phrase
    .toLowerCase()
    .replace(/[‘’ʼ]/g, "'")
    .replace(/[^a-z0-9']+/g, ' ')
    .trim()
    .split(' ')
    .filter((w) => w !== '' && !/\d/.test(w));
}

function possessive(phones: readonly string[] | null): readonly string[] | null {
  const last = phones?.at(-1);
  if (phones === null || last === undefined) return null;
  if (['S', 'Z', 'SH', 'ZH', 'CH', 'JH'].includes(last)) return [...phones, 'IH', 'Z'];
  return [...phones, ['P', 'T', 'K', 'F', 'TH'].includes(last) ? 'S' : 'Z'];
}
