import { joint } from '../joints.ts';
import { lexicon } from '../lexicon.ts';
import { drawnTogether } from './spoken.ts';

/*
 * The little words of a walk as they are listened for, out of the lists that the reader
 * reads by: only the usual forms, which each list has first, because every rare one
 * costs accuracy in noise. A list that is read to the letter has abbreviations too;
 * those are nothing to listen for.
 */

/** An abbreviation is spelt, and said as what it stands for: "l h", "fwd", "3rd". */
const isWord = (phrase: string) =>
  phrase.split(' ').every((word) => /[aeiouy]/.test(word) && /^([ai]|o|[a-z']{2,})$/.test(word));

function usual(list: readonly string[], most: number): string[] {
  return list.filter(isWord).slice(0, most);
}

const choice = (...lists: readonly (readonly string[])[]) => [...new Set(lists.flat())].join(' | ');

/** Forms of each side, row and degree. */
const SIDE_FORMS = 2;
const ORDINALS = 3;
const ALL_FORMS = 5;
const SLIGHT_FORMS = 10;
const SOME_FORMS = 3;
const SEVERE_FORMS = 12;
const DIGIT_FORMS = 2;
const ABOUT_FORMS = 2;
const LINK_FORMS = 8;
const ARRIVE_FORMS = 20;
const UNFITTED_FORMS = 4;
const RETRACT_FORMS = 5;
const CORRECT_FORMS = 2;

/** "Left", "upper", "first", "number two", "both". */
export function sides(): string[] {
  const { sides, opposites, ordinals, all } = lexicon().sides;
  return [
    ...new Set([
      ...opposites.flat().flatMap((side) => usual(sides[side] ?? [], SIDE_FORMS)),
      ...usual(
        all.filter((word) => !word.includes(' ') && !joint('denies').has(word)),
        ALL_FORMS,
      ),
      ...ordinals.slice(0, ORDINALS).flatMap((row) => usual(row, SIDE_FORMS)),
    ]),
  ];
}

/** A side as an answer, or before a name. */
export function sideAlone(): string {
  return `[the] (${choice(sides())}) [one | side]`;
}

/** "Slight", "a bit of", "three". */
export function degrees(): string {
  const { slight, moderate, severe } = lexicon().degrees;
  const { digits, couple } = lexicon().numbers;
  return choice(
    usual(slight, SLIGHT_FORMS),
    usual(moderate, SOME_FORMS),
    usual(severe, SEVERE_FORMS),
    ['one', 'two', 'three'].filter((digit) => digit in digits),
    usual(couple, 2),
    ['several'],
  );
}

/** Where on a thing: "on the left side", "near the tip", "underneath". */
export function places(): string {
  const { at, on, parts } = lexicon().places;
  const { sides: all, opposites } = lexicon().sides;
  const where = opposites.flat().flatMap((side) => usual(all[side] ?? [], all[side]?.length ?? 0));
  const ends = where.filter((word) => !word.includes(' ') && !/ward$|most$/.test(word));
  const inside = on.filter((word) => at.includes(word) && !word.includes(' ') && isWord(word));
  const spots = parts.filter((part) => !part.includes(' ') && isWord(part));
  return [
    `(on | at) the (${choice(ends)}) [side]`,
    `(at | near | on | along) the (${choice(spots, ['top', 'middle'])})`,
    choice(inside, ['underneath']),
  ].join(' | ');
}

/** Rules `<digit>` to `<number>`, the radio's forms among them. */
export function numberRules(sounds: (word: string) => readonly string[]): string {
  const { digits, teens, tens, hundred, thousand, point, half, quarter, quarters } =
    lexicon().numbers;
  // "Too" sounds as "two" does: to listen for both would tell nothing.
  const alike = (a: string, b: string) => sounds(a).join(' ') === sounds(b).join(' ');
  const digit = Object.values(digits).flatMap((said) => {
    const words = said.filter((word) => !word.includes(' '));
    const apart = words.filter((word, i) => !words.slice(0, i).some((w) => alike(w, word)));
    return usual(apart, DIGIT_FORMS);
  });
  const one = (list: readonly string[]) => usual(list, 1).join('');
  const several = one(quarters);
  return `
<digit> = ${choice(digit)};
<teen> = ${choice(teens)};
<ten> = ${choice(tens)};
<whole> = <digit> | <digit> <digit> | <digit> <digit> <digit> | <teen> | <ten> | <ten> <digit> | <digit> ${one(hundred)} | <digit> ${one(hundred)} [and] <ten> | <digit> ${one(thousand)};
<number> = <whole> | <whole> (${choice(usual(point, 2))}) <digit> [<digit>] | <whole> and a (${one(half)} | ${one(quarter)}) | <whole> and three ${several} | ${one(half)} | a ${one(quarter)} | three ${several};`;
}

/** Of the words that mean nothing to the reader, those that lead to a value. */
const LEADS = ['at', 'reads', 'reading', 'shows', 'showing'];

/** "About six", "reads twenty". */
export function valueOf(): string {
  return `[${choice(usual(lexicon().numbers.about, ABOUT_FORMS), LEADS)}] <number>`;
}

/** What is said before anything that counts: "okay so". */
export function talk(): string {
  const start = [...joint('start')].filter((word) => !joint('hesitation').has(word));
  return `(${choice(start, ['next', 'here', 'looking at'])}) [so | then]`;
}

/** Between a name and what it is; of the past nothing is a result (R2). */
export function be(): string[] {
  const now = [...joint('copula')].filter((word) => !/^(was|were|got)$/.test(word));
  return [...now, ...lexicon().acts.feel.filter((word) => /^feels?$/.test(word))];
}

/** Lead from a condition to what it is at. */
export function links(): string[] {
  return usual([...joint('near')], LINK_FORMS);
}

export function denials(): string {
  const { before, light } = lexicon().negation;
  return `(${choice(usual(before, 3))}) [${light[0] ?? 'any'}]`;
}

/** "Everything on the", before a station. */
export function everything(): string {
  return `(${choice(usual(lexicon().dialogue.everything, Infinity), ['all else'])}) [the]`;
}

/** "Going to the", "next the", before a station or a name. */
export function going(): string {
  const arrive = usual(lexicon().dialogue.arrive, ARRIVE_FORMS);
  return `(${choice(['now', 'next', 'at'], arrive, ['going to'])}) [the]`;
}

/** Set a check aside, before its name. */
export function skipping(): string[] {
  return lexicon().dialogue.setaside.filter((said) => /^(skip|set aside)$/.test(said));
}

/** Set a check aside, behind its name. */
export function unfitted(): string[] {
  const forms = usual(lexicon().dialogue.notfitted, UNFITTED_FORMS);
  return [...new Set(forms.flatMap((said) => [...drawnTogether(said), said]))];
}

/** Point at what was just named. */
export function pointing(): string[] {
  const said = ['it is', 'they are', 'that is', 'there is', 'we have', 'i have'];
  return [...new Set([...said.flatMap((s) => [...drawnTogether(s), s]), 'got'])];
}

/** Take back or put right what was just said. */
export function afterthoughts(): string[] {
  const { retract, correct } = lexicon().dialogue;
  return [...usual(retract, RETRACT_FORMS), ...usual(correct, CORRECT_FORMS)];
}

/** "Still there, worse, or gone?" of an open squawk. */
export function compared(): string[] {
  const { same, worse, gone } = lexicon().dialogue.compared;
  const short = [...same, ...worse, ...gone].filter((said) => said.split(' ').length <= 3);
  return short.filter(isWord);
}

/** That words were about nothing. In full only: a bare "nothing" is near enough to "note it" to take a finding back by ear. */
export function aboutNothing(): string {
  const said = lexicon().answers.nothing.filter((s) => isWord(s) && s.split(' ').length <= 2);
  return `(that's | that was) [just] (${choice(said)})`;
}
