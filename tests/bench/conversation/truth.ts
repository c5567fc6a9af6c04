import type { Catalogue } from '#shared/catalogue';
import { nameAt, placeOf } from '#shared/names';
import type { Question } from '#shared/question';
import { SEVERITY_WORDS } from '#shared/severity';
import { unitWords } from '#shared/speech';
import type { Observation, Statement } from '#shared/statement';
import type { Claim, Label } from '../../corpus/format.ts';

/** What a pilot who knows the labels answers; null where the labels do not tell. */
export interface Known {
  readonly catalogue: Catalogue;
  /** Labels of the utterance that a statement came of, and of the corpus's own answer to it. */
  labelsOf(statement: string): readonly Label[];
  /** Labels of everything that was said so far, in order. */
  readonly sofar: readonly (readonly Label[])[];
  statement(id: string): Statement | undefined;
}

/** The words of an answer, and whether they settle what the labels leave to be asked about. */
export interface Answer {
  readonly words: string;
  readonly settles: boolean;
}

const results = (labels: readonly Label[]): Claim[] =>
  labels.flatMap((l) => (l.kind === 'claim' && l.force === 'result' ? [l] : []));
const isIll = (c: Claim): boolean => c.good === false || c.signs.some((s) => s.present);
const isWell = (c: Claim): boolean =>
  !isIll(c) && !c.asked && (c.good === true || c.signs.some((s) => !s.present));

const isFault = (o: Observation): boolean =>
  o.conditions.some((c) => c.present) || o.verdict?.good === false;

function saidOf({ statement }: Known, id: string): Observation | null {
  const s = statement(id);
  return s?.kind === 'observation' ? s : s?.kind === 'two-candidates' ? s.said : null;
}

/** The answer; null where the pilot does not know either, since the labels leave it open. */
export function answerTo(question: Question, known: Known): Answer | null {
  const words = wordsTo(question, known);
  if (words === null) return null;
  const claims = results(known.labelsOf(question.about));
  return {
    words,
    settles: /^(polarity|which-fault)$/.test(question.kind) && claims.some((c) => isIll(c)),
  };
}

/** The last claim about a check at its place, where it is plainly good or plainly bad: what the pilot goes by in the end. */
function inTheEnd(said: Observation, check: string, { sofar }: Known): Claim | null {
  const at = said.about.kind === 'check' ? said.about.which.instances : [];
  const isThere = ({ instances }: Claim): boolean =>
    instances.length === 0 || at.length === 0 || instances.some((i) => at.includes(i));
  const own = sofar
    .flatMap(results)
    .filter((c) => c.checks.length === 1 && c.checks[0] === check && isThere(c));
  return own.findLast((c) => isIll(c) || isWell(c)) ?? null;
}

/** "Not the papers, the white main rotor blade": asked about something that he did not mean. */
function notThat(said: Observation | null, claims: readonly Claim[], known: Known): string | null {
  // A fault is put where a fault was meant, anything else where anything was.
  const ill = said !== null && isFault(said);
  const meant = claims.filter((c) => c.checks.length === 1 && isIll(c) === ill);
  const place = placeOf(known.catalogue, meant[0]?.checks[0] ?? '');
  if (meant.length !== 1 || place === null || said?.about.kind !== 'check') return null;
  const wrong = placeOf(known.catalogue, said.about.check);
  const named = (meant[0]?.instances ?? []).filter((i) => !/^(one|once|plural)$/.test(i));
  const right = nameAt(
    place.check,
    named.length === place.check.repeat?.instances.length ? [] : named,
  );
  return `not the ${wrong?.check.name ?? 'first'}, the ${right}`.toLowerCase();
}

function wordsTo(question: Question, known: Known): string | null {
  const said = saidOf(known, question.about);
  const check = said?.about.kind === 'check' ? said.about.check : null;
  const claims = results(known.labelsOf(question.about));
  const own = claims.find((c) => check !== null && c.checks.includes(check)) ?? null;
  // Asked about words that claim nothing: talk that was taken for a result.
  const ill = known.labelsOf(question.about).some((l) => l.kind === 'claim' && isIll(l));
  const nothing = own === null && !ill && said !== null;
  switch (question.kind) {
    case 'which-instance': {
      const places = own?.instances.filter((i) => i !== 'one' && i !== 'plural') ?? [];
      const every = question.options.at(-1);
      if (nothing) return 'nothing';
      if (own === null) return notThat(said, claims, known);
      if (isWell(own) && !ill && said?.verdict?.good !== true) return 'it is good';
      if (places.length === 0) return null;
      return places.length === (every?.candidate?.instances.length ?? 0)
        ? (every?.label ?? null)
        : places.join(' and ');
    }
    case 'which-check':
    case 'place': {
      const claim = claims.find((c) => c.checks.length === 1 && (isIll(c) || c.good !== null));
      const id = claim?.checks[0];
      if (id === undefined) return nothing ? 'nothing' : null;
      const option = question.options.find((o) => o.candidate?.check === id);
      const place = placeOf(known.catalogue, id);
      return option?.label ?? (place === null ? null : nameAt(place.check, []));
    }
    case 'unit':
    case 'value': {
      if (nothing) return notThat(said, claims, known) ?? 'nothing';
      const unit = own?.amounts.find((a) => a.unit !== null)?.unit ?? null;
      return question.kind === 'unit' && unit !== null
        ? unitWords(unit)
        : (question.options[0]?.label ?? null);
    }
    case 'severity': {
      const severity = own?.severity ?? null;
      if (nothing) return 'nothing';
      if (own === null && ill) return notThat(said, claims, known) ?? 'note it';
      if (own !== null && isWell(own) && !ill) return 'it is good';
      return severity === null
        ? 'note it'
        : (SEVERITY_WORDS[severity as keyof typeof SEVERITY_WORDS] ?? null);
    }
    case 'polarity': {
      // "Stiff, or good?" is asked because both were said: the last word counts.
      const both = said?.doubtful === null && check !== null;
      const meant = both ? inTheEnd(said, check, known) : own;
      if (meant === null) return nothing ? 'nothing' : ill ? notThat(said, claims, known) : null;
      const rated = SEVERITY_WORDS[(meant.severity ?? 'note') as keyof typeof SEVERITY_WORDS];
      const offered = question.options.filter((o) => o.label !== 'good');
      return isIll(meant)
        ? ((offered.find((o) => o.label === rated) ?? offered[0])?.label ?? null)
        : isWell(meant)
          ? 'good'
          : null;
    }
    case 'recap': {
      const items = (question.items ?? []).map((item) => {
        const about = saidOf(known, item.statement)?.about;
        const id = about?.kind === 'check' ? about.check : '';
        const truth = results(known.labelsOf(item.statement)).find((c) => c.checks.includes(id));
        return { label: item.label, well: truth !== undefined && isWell(truth) };
      });
      const well = items.filter((i) => i.well);
      if (well.length === items.length) return 'yes';
      if (well.length === 0) return nothing && items.length === 1 ? 'nothing' : 'no';
      return well.length === 1
        ? `only the ${well[0]?.label ?? ''}`
        : `all but the ${items.find((i) => !i.well)?.label ?? ''}`;
    }
    case 'which-fault': {
      const options = (question.items ?? []).map((item) => {
        const about = saidOf(known, item.statement)?.about;
        return { label: item.label, check: about?.kind === 'check' ? about.check : '' };
      });
      const meant = claims.filter(isIll).flatMap((c) => (c.checks.length === 1 ? c.checks : []));
      const hits = options.filter((o) => meant.includes(o.check)).map((o) => o.label);
      if (hits.length > 0) return hits.join(' and ');
      return notThat(said, claims, known) ?? (ill ? null : 'none of them');
    }
    case 'choice':
    case 'recheck':
      return null;
  }
}
