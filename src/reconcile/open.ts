import type { CheckCoverage, Coverage, Finding, OpenItem } from '#shared/coverage';
import type { Question } from '#shared/question';
import { sentence } from '#shared/speech';
import type { Spot } from './atlas.ts';
import { lackingText, nameAt, quoted } from './words.ts';

interface Parts extends Pick<Coverage, 'checks' | 'findings' | 'questions'> {
  /** Checks that a statement concerns. */
  readonly checksOf: (statement: string) => readonly string[];
}

/** The order in which what is open is read out: what can kill first. */
const RANK = { unplaced: 0, unrated: 1, question: 2, followUp: 3, part: 4, unspoken: 5 } as const;

interface Ranked {
  readonly rank: number;
  readonly item: OpenItem;
}

const none = { check: null, station: null, finding: null, question: null };

/**
 * Everything that has to be settled, worst first: findings without a check or a
 * severity, questions, what a finding demands, then what is half said and what
 * is not said at all, in walking order.
 */
export function openItems(spots: ReadonlyMap<string, Spot>, parts: Parts): OpenItem[] {
  const items = [
    ...parts.findings.filter((f) => f.settled !== 'taken-back').flatMap((f) => ofFinding(f, spots)),
    ...parts.questions.flatMap((q) => ofQuestion(q, spots, parts)),
    ...parts.checks.flatMap((c) => ofCheck(c, spots, parts)),
  ];
  return items.sort((a, b) => a.rank - b.rank).map((r) => r.item);
}

function ofFinding(finding: Finding, spots: ReadonlyMap<string, Spot>): Ranked[] {
  const spot = finding.check === null ? undefined : spots.get(finding.check);
  const named = { ...none, finding: finding.id, check: finding.check };
  if (finding.happened === true) return [];
  if (spot === undefined) {
    const text = `Finding without a check: ${quoted(finding.words)}`;
    return [{ rank: RANK.unplaced, item: { ...named, kind: 'finding-unplaced', text } }];
  }
  if (finding.severity !== null) return [];
  return [
    {
      rank: RANK.unrated,
      item: {
        ...named,
        kind: 'finding-unrated',
        station: spot.station.id,
        text: `${sentence(nameAt(spot, finding.instances))}: how bad is ${quoted(finding.words)}?`,
      },
    },
  ];
}

function ofQuestion(question: Question, spots: ReadonlyMap<string, Spot>, parts: Parts): Ranked[] {
  // A finding that waits for its place or its severity is on the list by itself.
  // So are the checks of a recap.
  if (['severity', 'place', 'recap'].includes(question.kind)) return [];
  const check = parts.checksOf(question.about)[0] ?? null;
  return [
    {
      rank: RANK.question,
      item: {
        ...none,
        kind: 'question',
        question: question.id,
        check,
        station: check === null ? null : (spots.get(check)?.station.id ?? null),
        text: question.text,
      },
    },
  ];
}

/** What is open about checks whose coverage has not changed is made once. */
const made = new WeakMap<CheckCoverage, Ranked[]>();

function ofCheck(check: CheckCoverage, spots: ReadonlyMap<string, Spot>, parts: Parts): Ranked[] {
  // Whether a question has been asked about it changes without its coverage.
  if (check.standing === 'question') return openAbout(check, spots, parts);
  const known = made.get(check);
  if (known !== undefined) return known;
  const items = openAbout(check, spots, parts);
  made.set(check, items);
  return items;
}

function openAbout(check: CheckCoverage, spots: ReadonlyMap<string, Spot>, parts: Parts): Ranked[] {
  const spot = spots.get(check.check);
  if (spot === undefined) return [];
  const item = { ...none, check: check.check, station: check.station };
  if (check.standing === 'question') {
    const asked = parts.questions.some((q) => parts.checksOf(q.about).includes(check.check));
    if (asked) return [];
    const text = `${sentence(spot.check.name)}: ${lower(check.reasons[0]?.text ?? 'in question')}`;
    return [{ rank: RANK.question, item: { ...item, kind: 'question', text } }];
  }
  if (!check.required.today) return [];
  const demanded = check.required.by === 'follow-up';
  if (check.standing === 'part') {
    return [
      {
        rank: demanded ? RANK.followUp : RANK.part,
        item: { ...item, kind: 'part', text: partText(spot, check) },
      },
    ];
  }
  if (check.standing === 'unspoken' || check.standing === 'skipped') {
    const why = demanded ? ', demanded by a finding' : '';
    return [
      {
        rank: demanded ? RANK.followUp : RANK.unspoken,
        item: { ...item, kind: 'unspoken', text: `${sentence(spot.check.name)}${why}` },
      },
    ];
  }
  return [];
}

function lower(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1).replace(/\.$/, '');
}

function partText(spot: Spot, check: CheckCoverage): string {
  const lacking = lackingText(spot, check.missing);
  const name = sentence(spot.check.name);
  // Where nothing counts yet, what may have been said is told in its words: a yes is enough.
  const [first] = check.reasons;
  if (first?.rule === 'R5' && !check.reasons.some((r) => r.rule === 'R1'))
    return `${name}: ${lower(first.text)}`;
  return lacking.length === 0
    ? `${name}: result not said`
    : `${name}: ${lacking.join(', ')} not said`;
}
