import { instancesOf, ONCE, type Catalogue, type Check } from '#shared/catalogue';
import { isFinding, outsideOf } from '#shared/abnormal';
import { canWait } from '#shared/doubt';
import { nameAt } from '#shared/names';
import type { Question } from '#shared/question';
import { measureOf, placedValues, rowIn } from '#shared/rows';
import { SEVERITIES, SEVERITY_WORDS } from '#shared/severity';
import { isHappening, proposedSeverity } from '#shared/sign';
import { fitsPrompt, joined, sentence, unitWords } from '#shared/speech';
import type { Candidate, Observation, Statement, TwoCandidates } from '#shared/statement';
import {
  aboutText,
  bare,
  checkOf,
  choice,
  faultText,
  hasNamedPlaces,
  stationName,
  stationOf,
} from './wording.ts';

/** What a question may need to know beside the statement itself. */
export interface Known {
  readonly catalogue: Catalogue;
  /** Statements whose finding has been rated, in this reading or earlier. */
  readonly rated: ReadonlySet<string>;
  /** What asks; `QUESTIONS` where it is left out. */
  readonly rows?: readonly Row[];
}

/** Kind of question and what makes it necessary; the rows are tried in this order. */
export type Row = (said: Observation, check: Check | null, known: Known) => Question | null;

/**
 * Everything that has to be asked about a statement before it may count (R5,
 * R8). Only a result is asked about (R2). The id is made from the statement, so
 * that the same reading asks the same question.
 */
export function questionsOf(statement: Statement, known: Known): readonly Question[] {
  if (statement.kind === 'two-candidates') {
    return statement.said.force === 'result' && !tieWaits(statement)
      ? [whichCheck(statement, known.catalogue)]
      : [];
  }
  if (statement.kind !== 'observation' || statement.force !== 'result') return [];
  const about = statement.about;
  const check = about.kind === 'check' ? checkOf(known.catalogue, about.check) : null;
  // What decides about a finding is asked at once; the rest when the station is left.
  if (canWait(known.catalogue, statement)) return [];
  if (statement.doubtful !== null)
    return statement.waits === true && check?.mandatory !== true
      ? []
      : [polarity(statement, check, known)];
  return (known.rows ?? QUESTIONS).flatMap((row) => row(statement, check, known) ?? []);
}

/** Two checks fit, and nothing was found at either: it waits as any good does. */
export function tieWaits({ said }: TwoCandidates): boolean {
  return !said.conditions.some((c) => c.present) && said.verdict?.good === true;
}

/** One row a question that one statement raises: a new kind is a file with such a row, and its name here. */
export const QUESTIONS: readonly Row[] = [place, whichInstance, unit, whichMeasure, severity];

export function ask(
  about: string,
  kind: Question['kind'],
  texts: readonly string[],
  options: Question['options'],
): Question {
  // The fullest wording that can be said in one go.
  const text = texts.find((t) => fitsPrompt(t)) ?? texts[texts.length - 1] ?? '';
  return { id: `${about}/${kind}`, about, kind, text: sentence(text), options };
}

export function whichCheck(two: TwoCandidates, catalogue: Catalogue): Question {
  const names = labels(catalogue, two.candidates);
  return ask(
    two.id,
    'which-check',
    [`${choice(names)}?`, `Which one: ${joined(names.slice(0, 2), 'or')}, or another?`],
    two.candidates.map((candidate, i) => ({ label: names[i] ?? candidate.check, candidate })),
  );
}

/** Names that tell the candidates apart; where two are the same, with their station. */
function labels(catalogue: Catalogue, candidates: readonly Candidate[]): string[] {
  const names = candidates.map((c) => {
    const check = checkOf(catalogue, c.check);
    return check === null ? c.check : nameAt(check, c.instances).toLowerCase();
  });
  return names.map((name, i) => {
    const candidate = candidates[i];
    if (candidate === undefined || names.filter((n) => n === name).length < 2) return name;
    const station = stationOf(catalogue, candidate.check);
    return station === null ? name : `${name} at the ${stationName(catalogue, station)}`;
  });
}

/** R5: doubt, or a polarity that reads both ways, is asked about and not counted. */
function polarity(said: Observation, check: Check | null, known: Known): Question {
  const what = aboutText(known.catalogue, said).toLowerCase();
  // A fault that nothing rates would be asked about a second time: how bad it is answers both.
  if (isIll(said) && isUnrated(said, check, known)) {
    const list = joined(['good', ...RATINGS.map((o) => o.label)], 'or');
    return ask(
      said.id,
      'polarity',
      [`${what}: ${list}?`, `${list}?`],
      [{ label: 'good', candidate: null }, ...RATINGS],
    );
  }
  return ask(
    said.id,
    'polarity',
    [`${what}: good, or something wrong?`, 'Good, or something wrong?'],
    [
      { label: 'good', candidate: null },
      { label: 'something wrong', candidate: null },
    ],
  );
}

/** R4: an unplaced finding is kept, and its check is asked for. */
function place(said: Observation, check: Check | null, known: Known): Question | null {
  if (said.about.kind !== 'unplaced' || !isFinding(known.catalogue, check, said)) return null;
  // What happened to the aircraft belongs to no check.
  const present = said.conditions.filter((c) => c.present);
  if (isHappening(known.catalogue, present)) return null;
  const options = said.candidates.slice(0, 3).map((candidate) => {
    const found = checkOf(known.catalogue, candidate.check);
    const label = found === null ? candidate.check : nameAt(found, candidate.instances);
    return { label: label.toLowerCase(), candidate };
  });
  const part = bare(said.about.part);
  const named = part === '' ? 'that' : part;
  return ask(
    said.id,
    'place',
    [
      ...(options.length > 0
        ? [
            `Where is ${named}: ${joined(
              options.map((o) => o.label),
              'or',
            )}?`,
          ]
        : []),
      `Which check does ${named} belong to?`,
      'Which check does that belong to?',
    ],
    options,
  );
}

/** R5: the plural alone, or a finding at one of several named places, is asked about. */
function whichInstance(said: Observation, check: Check | null, known: Known): Question | null {
  if (said.about.kind !== 'check' || check === null || check.repeat === undefined) return null;
  const { how, instances: named } = said.about.which;
  const plural = how === 'plural' && !check.repeat.plural;
  const unsided =
    how === 'one' &&
    named.length === 0 &&
    hasNamedPlaces(check) &&
    isFinding(known.catalogue, check, said);
  if (!plural && !unsided) return null;
  // A value for each of them: all were meant.
  const row = rowIn(check, said);
  if (plural && row !== null && row.values === row.places) return null;
  const places = instancesOf(check).filter((i) => i !== ONCE);
  if (places.length < 2) return null;
  const name = check.name.toLowerCase();
  const every = places.length === 2 ? 'both' : `all ${places.length}`;
  return ask(
    said.id,
    'which-instance',
    plural
      ? [
          ...(hasNamedPlaces(check) ? [`${joined([...places, every], 'or')}: ${name}?`] : []),
          `${every}: ${name}, or only some?`,
        ]
      : [`${joined(places, 'or')} ${name}?`, `Which ${name}?`],
    [
      ...places.map((p) => ({
        label: p,
        candidate: { check: check.id, instances: [p], score: 1, how: 'asked' },
      })),
      {
        label: every,
        candidate: { check: check.id, instances: [...places], score: 1, how: 'asked' },
      },
    ],
  );
}

/** R8: a value without a unit, or with the wrong kind of unit, is asked about. */
function unit(said: Observation, check: Check | null): Question | null {
  if (check === null) return null;
  const value = placedValues(check, said)
    .map((p) => p.value)
    .find((v) => v.trouble === 'no-unit' || v.trouble === 'wrong-unit');
  if (value === undefined) return null;
  const measure = measureOf(check, value) ?? check.measures[0];
  if (measure === undefined) return null;
  const label = measure.unit === undefined ? measure.name : unitWords(measure.unit);
  return ask(
    said.id,
    'unit',
    value.trouble === 'no-unit'
      ? [`${measure.name}: ${bare(value.span.words)} what?`]
      : [`${measure.name} in ${label}?`],
    [{ label, candidate: null }],
  );
}

/** R5: a value that could belong to several measures of its check. */
function whichMeasure(said: Observation, check: Check | null): Question | null {
  if (check === null || check.measures.length < 2) return null;
  const value = placedValues(check, said).find((p) => p.measure === null)?.value;
  if (value === undefined) return null;
  const names = check.measures.map((m) => m.name.toLowerCase());
  return ask(
    said.id,
    'value',
    [
      `${bare(value.span.words)}: is that ${joined(names, 'or')}?`,
      `${bare(value.span.words)}: of what?`,
    ],
    names.map((label) => ({ label, candidate: null })),
  );
}

const isIll = (said: Observation): boolean =>
  said.conditions.some((c) => c.present) || said.verdict?.good === false;

/** How bad something is, as it is offered. */
const RATINGS: Question['options'] = SEVERITIES.map((s) => ({
  label: SEVERITY_WORDS[s],
  candidate: null,
}));

/** Whether nobody has said how bad it is, neither the speaker nor the catalogue. */
function isUnrated(said: Observation, check: Check | null, { catalogue, rated }: Known): boolean {
  if (said.severity !== null) return false;
  // The squawk has its severity from before; only what has grown is asked about anew.
  if (said.compared === 'same' || said.compared === 'better') return false;
  if (rated.has(said.id) || (said.amends !== null && rated.has(said.amends))) return false;
  if (outsideOf(catalogue, check, said).length > 0) return false;
  // Proposed by the catalogue, or rated before by the same speaker: shown as proposed.
  return said.usual === undefined && proposedSeverity(catalogue, check, said) === null;
}

/** A finding whose severity nobody gave, neither the speaker nor the catalogue. */
function severity(said: Observation, check: Check | null, known: Known): Question | null {
  const { catalogue } = known;
  if (!isFinding(catalogue, check, said) || !isUnrated(said, check, known)) return null;
  const what = `${aboutText(catalogue, said).toLowerCase()}, ${faultText(said)}`;
  const list = joined(
    RATINGS.map((o) => o.label),
    'or',
  );
  // Never without the name: who hears that the wrong check is meant can say so.
  const named = aboutText(catalogue, said).toLowerCase();
  return ask(
    said.id,
    'severity',
    [...(isLong(faultText(said)) ? [] : [`${what}: ${list}?`]), `${named}: ${list}?`, `${list}?`],
    RATINGS,
  );
}

/** Whole sentences are not told again before they are asked about. */
const isLong = (words: string): boolean => words.split(/\s+/).length > LONGEST_TOLD;
/** Words of a fault that are told again at most. */
const LONGEST_TOLD = 8;

/** R5: the same words may be a fault at several checks, and are one fault: asked in one go. */
export function whichFault(catalogue: Catalogue, rivals: readonly Observation[]): Question | null {
  const [first] = rivals;
  if (first === undefined) return null;
  const items = rivals.map((said) => ({
    statement: said.id,
    label: aboutText(catalogue, said).toLowerCase(),
  }));
  const names = items.map((i) => i.label);
  const asked = ask(
    first.id,
    'which-fault',
    [
      `Something wrong: ${joined(names, 'or')}, or none of them?`,
      `Something wrong: ${joined(names.slice(0, 2), 'or')}, another, or none?`,
    ],
    [...names, 'none of them'].map((label) => ({ label, candidate: null })),
  );
  return { ...asked, items };
}

/** R6: asked when a finding is called good later. It is about the finding. */
export function settle(catalogue: Catalogue, fault: Observation): Question {
  const what = aboutText(catalogue, fault).toLowerCase();
  const found = faultText(fault);
  return ask(
    fault.id,
    'polarity',
    [`${what}: ${found}, or good?`, `${what}: as found, or good?`, 'As found, or good?'],
    [
      { label: found, candidate: null },
      { label: 'good', candidate: null },
    ],
  );
}

/** Asked when the walk reaches the place of a squawk that is still open; the answer is about that squawk alone. */
export function recheck(
  catalogue: Catalogue,
  { squawk, text, check }: { squawk: string; text: string; check: string },
): Question {
  // "Left skid tubes: crack": the place is told before the colon.
  const named = new Set((text.split(':')[0] ?? '').toLowerCase().split(/[^a-z0-9]+/));
  const found = checkOf(catalogue, check);
  const instances = found === null ? [] : instancesOf(found).filter((i) => named.has(i));
  const candidate = { check, instances, score: 1, how: 'carried' };
  const texts = [
    `Open squawk: ${text}. Still there, worse, or gone?`,
    'Open squawk here. Still there, worse, or gone?',
  ];
  return ask(
    squawk,
    'recheck',
    texts,
    ['still there', 'worse', 'gone'].map((label) => ({ label, candidate })),
  );
}
