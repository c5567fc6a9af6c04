import type { Catalogue } from '#shared/catalogue';
import type { Dear, Listening, Plan } from '#shared/listening';
import { lexicon } from '../lexicon.ts';
import { namesOf } from '../names.ts';
import type { Pronunciations } from '../sound/dictionary.ts';
import { earOf } from '../sound/ear.ts';
import { ownPronunciations } from '../sound/own.ts';
import { ANSWERED_BY } from './answers.ts';
import { hubsOf, type Hubs } from './hubs.ts';
import * as little from './little.ts';
import { addNames, kindsAt, stepOf } from './names.ts';
import { likelyNames } from './near.ts';
import { drawnTogether, spellerOf, type Speller } from './spoken.ts';
import { conditionWeights, existing, following, RESULT, UNFITTED } from './weights.ts';

/*
 * What people say on a walk around one aircraft, as a plan for the recogniser's network:
 * each name is followed by the verdicts that its own aspects take and by any condition.
 * From the names, aspects and words that the reader reads by, and narrower than what it
 * understands, because every rare synonym costs accuracy in noise: the common forms only.
 */

/** Forms of each entry that are listened for, most usual first in the lexicon. */
const GENERAL_FORMS = 30;
const ASPECT_FORMS = 14;
const CONDITION_FORMS = 6;
const UNIT_FORMS = 4;
const SEVERITY_FORMS = 6;
const COMMAND_FORMS = 5;
/** Forms of a command said alone: listened for by themselves, so that more of them cost little. */
const ALONE_FORMS = 12;
/** Forms of each severity as an answer. */
const ANSWER_SEVERITIES = 2;
/** Weight of a side, and of taking something back, beside 1 for a command. */
const SIDE = 0.1;
const AFTERTHOUGHT = 0.5;

/** Any kind of verdict may be given of anything, and a severity may follow at once. */
const ANY_VERDICT = 0.25;
const ANY_SEVERITY = 0.01;
const ANY_END = 0.1;

/** Without a question "that is wrong" would be read as a finding: it is listened for as an answer only. */
const unasked = (say: string) => !/\b(is|it's) wrong\b|^wrong$/.test(say);

/** Everything that the recogniser needs to know of one catalogue. */
export function listeningTo(catalogue: Catalogue, pronunciations: Pronunciations): Listening {
  const own = ownPronunciations(catalogue);
  const speller = spellerOf(pronunciations, own, earOf(pronunciations, own));
  const plan = planOf(catalogue, speller);
  return { plan, words: speller.words(), near: (scene) => likelyNames(catalogue, scene) };
}

function planOf(catalogue: Catalogue, speller: Speller): Plan {
  const { checks } = namesOf(catalogue);
  const hubs = hubsOf(speller);
  const kinds = addVerdicts(hubs, new Set(checks.flatMap((c) => [...kindsAt(c)])));
  addConditions(hubs, catalogue);
  addValues(hubs, speller, catalogue);
  const after = addNames(hubs, speller, catalogue, checks);
  addLittle(hubs, speller, catalogue);
  addOrders(hubs, speller);
  const spread = Object.fromEntries(
    kinds.map((kind) => [`is-${kind}`, ANY_VERDICT / kinds.length]),
  );
  const groups: Record<string, Readonly<Record<string, number>>> = {
    ...following({ ...RESULT, ...spread, value: 0.1, step: 0.05 }),
  };
  for (const [name, then] of after)
    groups[name] = {
      ...{ ...RESULT, ...spread, severity: ANY_SEVERITY, unfitted: UNFITTED, end: ANY_END },
      ...then,
    };
  for (const [kind, by] of Object.entries(ANSWERED_BY))
    groups[`asked-${kind}`] = { ...Object.fromEntries(by.map((hub) => [hub, 1])), loop: 0.1 };
  const rules = little.numberRules(speller.sounds);
  for (const path of Object.values(hubs.all).flat()) giveSounds(path.say, speller);
  giveSounds(rules, speller);
  return {
    rules,
    hubs: hubs.all,
    groups: existing(groups, hubs.all),
    start: 'start',
    dear: dearOf(speller),
  };
}

/** Little words are no forms that were tried: what the dictionary lacks of them gets its sounds here. */
function giveSounds(expression: string, speller: Speller): void {
  const words = expression.replace(/<[^>]*>/g, ' ').match(/[a-z']+/g) ?? [];
  const silent = words.find((word) => !speller.sayable(word));
  if (silent !== undefined) throw new Error(`The word "${silent}" has no sounds to listen for.`);
}

/** General verdicts, and those of each kind of aspect that this catalogue has. */
function addVerdicts(hubs: Hubs, wanted: ReadonlySet<string>): string[] {
  const { verdicts } = lexicon();
  for (const { aspect, say } of verdicts)
    if (aspect !== undefined && wanted.has(aspect))
      hubs.ranked(`is-${aspect}`, say, 'more', { most: ASPECT_FORMS });
  verdicts
    .filter((v) => v.aspect === undefined)
    .forEach(({ say }, i) =>
      hubs.ranked('general', say, 'more', { most: GENERAL_FORMS, weight: 1 / (i + 1) }),
    );
  return [...wanted].filter((kind) => hubs.has(`is-${kind}`));
}

function addConditions(hubs: Hubs, catalogue: Catalogue): void {
  const weightOf = conditionWeights(catalogue);
  for (const { id, say } of lexicon().conditions)
    hubs.ranked('condition', say, 'more', { most: CONDITION_FORMS, weight: weightOf(id) });
  for (const say of Object.values(lexicon().severities))
    hubs.ranked('severity', say, 'last', { most: SEVERITY_FORMS });
}

/** Numbers with the units of this catalogue, and the steps of its gauges. */
function addValues(hubs: Hubs, speller: Speller, catalogue: Catalogue): void {
  const measures = catalogue.stations.flatMap((s) => s.checks.flatMap((c) => c.measures));
  const measured = new Set(measures.flatMap((m) => m.unit ?? []));
  const units = speller.forms(
    lexicon()
      .units.filter((u) => u.code.some((code) => measured.has(code)))
      .flatMap((u) => u.say.slice(0, UNIT_FORMS)),
  );
  const steps = stepOf(
    speller.forms(catalogue.gauges.flatMap((g) => g.steps.flatMap((s) => [s.name, ...s.say]))),
  );
  const unit = units.length === 0 ? '' : ` [${units.join(' | ')}]`;
  hubs.add('value', [little.valueOf()], 'after-number');
  hubs.add('unit', units, 'more');
  hubs.add('step', steps, 'more');
  // Short answers to a question of ours, listened for alone.
  hubs.add('number', [`[it's | about] <number>${unit}`], 'answered');
  hubs.add('number', steps, 'answered');
  hubs.add('just-unit', units, 'answered');
}

/** What holds the rest together. */
function addLittle(hubs: Hubs, speller: Speller, catalogue: Catalogue): void {
  hubs.add('be', little.be(), 'after-be');
  hubs.add('article', ['a', 'an', 'some', 'the'], 'after-article');
  hubs.add('degree', [little.degrees()], 'after-degree');
  hubs.add('absent', [little.denials()], 'after-no');
  hubs.add('join', ['and', 'but', 'with', 'or'], 'joined');
  hubs.add('at', little.links(), 'after-at');
  hubs.add('place', [little.places()], 'last');
  hubs.add('talk', [little.talk()], 'start');
  hubs.add('the', ['the', `[the] (${little.sides().join(' | ')}) [the]`], 'names');
  hubs.add('everything', [little.everything()], 'station');
  hubs.add('now', [little.going()], 'station-or-name');
  const stations = speller.forms(catalogue.stations.flatMap((s) => [s.name, ...s.say]));
  hubs.add('station', stations, 'after-station');
  hubs.add('skip', [`(${little.skipping().join(' | ')}) [the]`], 'names');
  hubs.add('unfitted', [`[it's | it] (${little.unfitted().join(' | ')})`], 'last');
  hubs.add('it', little.pointing(), 'result');
  hubs.add('squawk', lexicon().dialogue.squawk.slice(0, 1), 'squawked');
}

/** What is said to Talkround, within a sentence, alone, and as an answer. */
function addOrders(hubs: Hubs, speller: Speller): void {
  const { commands, severities, dialogue } = lexicon();
  const sides = little.sides();
  for (const said of Object.values(commands))
    hubs.ranked('order', said.filter(unasked), 'last', { most: COMMAND_FORMS });
  hubs.ranked('order', little.afterthoughts(), 'last', { weight: AFTERTHOUGHT });
  for (const side of sides)
    for (const more of ['', ' one', ' side'])
      hubs.path('order', { say: `${side}${more}`, then: 'last', weight: SIDE });
  const answers = [
    ...speller.forms(commands.yes, COMMAND_FORMS),
    ...speller.forms(commands.no, COMMAND_FORMS),
    ...Object.values(severities).flatMap((said) => speller.forms(said, ANSWER_SEVERITIES)),
  ];
  hubs.add('yes-no', answers, 'answered');
  hubs.add('side', [little.sideAlone()], 'answered');
  hubs.add('nothing', [little.aboutNothing()], 'answered');
  hubs.add('still', [`[it's | it is] (${little.compared().join(' | ')})`], 'answered');
  // Commands alone, listened for beside all the rest when little was said.
  // All alike: the usual form weighted first is a lower limit for each of them (LISTENING.md).
  const alone = Object.values(commands).flatMap((said) => {
    const forms = speller.forms(said, ALONE_FORMS);
    return [...forms, ...speller.forms(forms.flatMap(drawnTogether))];
  });
  const all = new Set([...alone, ...speller.forms(little.afterthoughts()), ...answers]);
  for (const say of all) if (unasked(say)) hubs.path('command', { say, then: 'commanded' });
  hubs.add('command', [...dialogue.squawk.slice(0, 1), little.sideAlone()], 'commanded');
}

/** What has to be surer than the rest, as it is listened for. */
function dearOf(speller: Speller): Dear {
  const { hold, resume, finish } = lexicon().commands;
  return {
    stops: speller.forms(
      [...hold, ...resume, ...finish].flatMap((form) => [...drawnTogether(form), form]),
    ),
    aside: [...little.skipping(), ...little.unfitted()],
    sides: little.sides(),
  };
}
