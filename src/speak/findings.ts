import type { Catalogue } from '#shared/catalogue';
import type { Finding } from '#shared/coverage';
import { atPlace } from '#shared/figures';
import { nameAt, placeOf } from '#shared/names';
import type { Question } from '#shared/question';
import { SEVERITIES, SEVERITY_WORDS } from '#shared/severity';
import { dayWords, list } from './wording.ts';

/** "Left brake line: slight chafing, two inches aft of the second bracket." */
export function readBack(finding: Finding, catalogue: Catalogue): string {
  const place = finding.check === null ? null : placeOf(catalogue, finding.check);
  const what =
    place === null
      ? finding.happened === true
        ? 'The aircraft'
        : `${finding.part ?? 'Something'}, not placed yet`
      : nameAt(place.check, finding.instances);
  const conditions = finding.conditions.map((c) => {
    const name = conditionName(catalogue, finding, c.sign, c.condition);
    const extent =
      c.extent === null
        ? ''
        : c.extent.of === null
          ? `${c.extent.count} `
          : `${c.extent.count} of ${c.extent.of} `;
    const degree = c.degree === null ? '' : `${c.degree} `;
    return `${extent}${degree}${name}${c.place === null ? '' : `, ${c.place}`}${typeof c.size === 'string' ? `, ${c.size}` : ''}`;
  });
  const value =
    finding.value === null ? [] : [`${eachSaid(finding.value)}, limit ${finding.value.limit}`];
  const said = [...conditions, ...value].join(', ');
  return said === '' ? what : `${what}: ${said}`;
}

/** As it was said; of a row each that is out of limits, with its place. */
function eachSaid({ said, each = [] }: NonNullable<Finding['value']>): string {
  return each.length === 0 ? said : each.map((e) => atPlace(e.said, e)).join(', ');
}

function conditionName(
  catalogue: Catalogue,
  finding: Finding,
  sign: string | null,
  condition: string,
): string {
  // What no catalogue lists is called by its words.
  if (sign === null && finding.happened === true && finding.part !== null) return finding.part;
  if (sign !== null) {
    const own =
      finding.check === null ? [] : (placeOf(catalogue, finding.check)?.check.signs ?? []);
    for (const s of [...own, ...catalogue.signs]) {
      if (typeof s !== 'string' && s.id === sign) return s.name.toLowerCase();
    }
  }
  return condition.replaceAll('-', ' ');
}

/** The severity as it stands and whose it is; nothing while it is being asked for. */
export function severitySentence(finding: Finding, asked: Question | null): string[] {
  if (finding.severity === null) {
    return asked?.kind === 'severity' ? [] : ['No severity yet'];
  }
  const words = SEVERITY_WORDS[finding.severity];
  const whose =
    finding.severityBy === 'said'
      ? words
      : finding.severityBy === 'before'
        ? `${words}, as you rated it on ${dayWords(finding.ratedOn ?? '')}`
        : `Usually: ${words}`;
  return [
    finding.severity === 'defer' ? `${whose}, within limits that an authorised person sets` : whose,
  ];
}

/** Findings of the walk, worst first, with severity and place. */
export function readBackAll(findings: readonly Finding[], catalogue: Catalogue): string {
  const standing = findings
    .filter((f) => f.settled !== 'taken-back')
    .map((f) => ({ f, rank: f.severity === null ? -1 : SEVERITIES.indexOf(f.severity) }))
    .sort((a, b) => a.rank - b.rank)
    .map(({ f }) => f);
  if (standing.length === 0) return 'No findings';
  const head = standing.length === 1 ? 'One finding:' : `${standing.length} findings:`;
  return list(
    head,
    standing.map((f) => {
      const severity = f.severity === null ? 'no severity yet' : SEVERITY_WORDS[f.severity];
      const doubt = f.settled === 'in-question' ? ', in question' : '';
      return `${readBack(f, catalogue)}, ${severity}${doubt}`;
    }),
  );
}
