import type { Statement } from '#shared/statement';
import type { Claim, Label } from '../../corpus/format.ts';

/**
 * "Nobody flies on that", behind a fault, is labelled as a claim of its check that says only how bad it is,
 * or as a rating: the rules of the labels take either. A rating of the fault at that check is the same.
 *
 * @param truth labels of the utterance
 * @param read what the reader made of it, in the form of labels
 * @param rated check of the fault that its rating is about; null where it is about none
 * @returns what the reader made of it, with the rating as a claim where the truth has it as one
 */
export function ratedAsLabelled(
  truth: readonly Label[],
  read: readonly Label[],
  rated: string | null,
): readonly Label[] {
  const due = truth.find(isOnlyRated);
  const told = due?.checks[0];
  if (due === undefined || told === undefined || told !== rated) return read;
  if (read.some((l) => l.kind === 'claim' && l.checks.includes(told))) return read;
  return read.map((l) =>
    l.kind === 'order' && l.name === 'rating'
      ? { ...due, severity: l.of.replace(/ .*/, ''), amends: due.amends }
      : l,
  );
}

/** A claim of one check that says how bad its fault is, and nothing else. */
function isOnlyRated(label: Label): label is Claim {
  return (
    label.kind === 'claim' &&
    label.force === 'result' &&
    label.severity !== null &&
    label.checks.length === 1 &&
    label.good === null &&
    label.signs.length + label.amounts.length + label.acts.length === 0
  );
}

/** Follows a walk and says of each utterance at which check the fault is that its rating is about. */
export function ratedChecks(lines: readonly (readonly Statement[])[]): (string | null)[] {
  const checkOf = new Map<string, string>();
  let last: string | null = null;
  return lines.map((statements) => {
    let rated: string | null = null;
    for (const s of statements) {
      if (s.kind === 'rating') rated = (s.of === null ? last : checkOf.get(s.of)) ?? null;
      const said = s.kind === 'two-candidates' ? s.said : s;
      if (said.kind !== 'observation' || said.about.kind !== 'check') continue;
      checkOf.set(said.id, said.about.check);
      const ill = said.conditions.some((c) => c.present) || said.verdict?.good === false;
      if (said.force === 'result' && (ill || said.values.length > 0)) last = said.about.check;
    }
    return rated;
  });
}
