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
  /** Labels of the utterance that a statement came of. */
  labelsOf(statement: string): readonly Label[];
  statement(id: string): Statement | undefined;
}

const results = (labels: readonly Label[]): Claim[] =>
  labels.flatMap((l) => (l.kind === 'claim' && l.force === 'result' ? [l] : []));
const isIll = (c: Claim): boolean => c.good === false || c.signs.some((s) => s.present);
const isWell = (c: Claim): boolean =>
  !isIll(c) && !c.asked && (c.good === true || c.signs.some((s) => !s.present));

function saidOf({ statement }: Known, id: string): Observation | null {
  const s = statement(id);
  return s?.kind === 'observation' ? s : s?.kind === 'two-candidates' ? s.said : null;
}

/** The words of the answer. "Don't know" is an answer too: the labels leave it open. */
export function answerTo(question: Question, known: Known): string | null {
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
      const unit = own?.amounts.find((a) => a.unit !== null)?.unit ?? null;
      return question.kind === 'unit' && unit !== null
        ? unitWords(unit)
        : (question.options[0]?.label ?? null);
    }
    case 'severity': {
      const severity = own?.severity ?? null;
      if (nothing) return 'nothing';
      return severity === null
        ? 'note it'
        : (SEVERITY_WORDS[severity as keyof typeof SEVERITY_WORDS] ?? null);
    }
    case 'polarity':
      if (own === null) return nothing ? 'nothing' : null;
      return isIll(own)
        ? (question.options.find((o) => o.label !== 'good')?.label ?? null)
        : isWell(own)
          ? 'good'
          : null;
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
    case 'recheck':
      return null;
  }
}
