import { isFinding } from '#shared/abnormal';
import type { Catalogue } from '#shared/catalogue';
import { SEVERITIES } from '#shared/severity';
import type { Observation, Statement } from '#shared/statement';
import { checksById, type Claim, type ConditionLabels, type Label } from '../../corpus/format.ts';
import { claimsOf, emptyTally, keyOf, score, type Tally } from '../grammar/score.ts';
import { isFinding as isFindingLabel } from '../grammar/spoken.ts';
import type { Conversation } from './conversation.ts';
import { outcomeOf, type Asks, type Outcome } from './product.ts';
import { compare, sheetOf, type SheetCounts } from './sheet.ts';
import { ratedAsLabelled, ratedChecks } from './ratings.ts';
import { stater } from './stated.ts';

/** What a reader made of one utterance, as statements and in the form of the labels. */
export interface Said {
  readonly statements: readonly Statement[];
  readonly labels: readonly Label[];
}

/** Counts beside those of tests/bench/grammar/score.ts; they add up over walks. */
export interface More extends SheetCounts {
  /** Utterances whose labels hold no finding, and findings asserted there. */
  clean: number;
  falseThere: number;
  /** Of those utterances, the ones with a finding that nothing has to be asked about. */
  falseUtterances: number;
  asks: number;
  severityAsks: number;
  /** Asked beyond what the product would ask of the labels. */
  needless: number;
  due: number;
  /** Utterances that say how bad a fault is, those of them understood alike, and others taken to say so. */
  rated: number;
  ratedRight: number;
  ratedFalse: number;
  mentionRight: number;
  mentionFalse: number;
  mentionMissed: number;
  /** Utterances at which the reader threw an error. */
  crashes: number;
}

export interface WalkTally {
  readonly score: Tally;
  readonly more: More;
  /** false: single utterances, which make no sheet. */
  readonly sheet: boolean;
}

export const NO_MORE: Readonly<More> = {
  clean: 0,
  falseThere: 0,
  falseUtterances: 0,
  asks: 0,
  severityAsks: 0,
  needless: 0,
  due: 0,
  rated: 0,
  ratedRight: 0,
  ratedFalse: 0,
  mentionRight: 0,
  mentionFalse: 0,
  mentionMissed: 0,
  crashes: 0,
  checks: 0,
  agreed: 0,
  touched: 0,
  touchedAgreed: 0,
  falseSpokenFor: 0,
  falseFindings: 0,
  lostFindings: 0,
};

/** What the product makes of the labels; worked out once for each conversation. */
interface Truth {
  readonly statements: readonly (readonly Statement[])[];
  readonly outcome: Outcome;
}

const truths = new WeakMap<Conversation, Truth>();

function truthOf(conversation: Conversation, conditions: ConditionLabels): Truth {
  const old = truths.get(conversation);
  if (old !== undefined) return old;
  const statements = statedBy(
    conversation,
    withoutMoments(conversation.lines.map((l) => l.labels)),
    conditions,
  );
  const truth = { statements, outcome: outcome(conversation, statements) };
  truths.set(conversation, truth);
  return truth;
}

const isCommand = (label: Label, of: string): boolean =>
  label.kind === 'order' && label.name === 'command' && label.of === of;

/**
 * "Hang on, let me put my tea down" is labelled as a hold, and most who say it just go on: where nobody
 * resumes before the next hold or the end, it was a moment, and what follows counts on the true sheet.
 */
export function withoutMoments(
  lines: readonly (readonly Label[])[],
): readonly (readonly Label[])[] {
  let resumed = false;
  const out = [...lines].reverse().map((labels) => {
    const holds = labels.some((l) => isCommand(l, 'hold'));
    const kept = resumed ? labels : labels.filter((l) => !isCommand(l, 'hold'));
    resumed = labels.some((l) => isCommand(l, 'resume')) || (resumed && !holds);
    return kept;
  });
  return out.reverse();
}

/** Labels of a conversation as statements: the truth's, or a peer's. */
export function statedBy(
  { catalogue, running, lines }: Conversation,
  labels: readonly (readonly Label[])[],
  conditions: ConditionLabels,
): Statement[][] {
  let state = stater(catalogue, conditions);
  return lines.map((line, i) => {
    if (!running) state = stater(catalogue, conditions);
    return state.next(i, line.say, labels[i] ?? [], line.asked !== null);
  });
}

/** Single utterances know nothing of each other, so each is put through the product by itself. */
function outcome(
  { catalogue, running }: Conversation,
  statements: readonly (readonly Statement[])[],
): Outcome {
  const all = outcomeOf(catalogue, running ? statements : []);
  if (running) return all;
  return { ...all, asks: statements.flatMap((own) => outcomeOf(catalogue, [own]).asks) };
}

/** Judges what a reader made of a conversation. */
export function tallyOf(
  conversation: Conversation,
  texts: readonly string[],
  said: readonly Said[],
  conditions: ConditionLabels,
): WalkTally {
  const { catalogue, lines } = conversation;
  const truth = truthOf(conversation, conditions);
  const read = said.map((s) => s.statements);
  const own = outcome(conversation, read);
  const tally = emptyTally();
  const more = { ...NO_MORE };
  const rated = ratedChecks(read);
  lines.forEach((line, i) => {
    const labels = ratedAsLabelled(line.labels, said[i]?.labels ?? [], rated[i] ?? null);
    score(
      {
        id: `${conversation.id} ${i + 1}`,
        say: texts[i] ?? line.say,
        truth: line.labels,
        read: labels,
        catalogue,
        conditions,
      },
      tally,
    );
    if (!claimsOf(line.labels).some((c) => isFindingLabel(c, catalogue))) {
      more.clean += 1;
      more.falseThere += findingsIn(read[i] ?? [], catalogue).length;
      const sure = claimsOf(labels).some((c) => isFindingLabel(c, catalogue) && !c.asked);
      if (sure) more.falseUtterances += 1;
    }
    addAsks(more, truth.outcome.asks[i], own.asks[i]);
    addMentions(more, line.labels, labels);
    addRatings(more, line.labels, labels);
  });
  const sheet = conversation.running
    ? compare(sheetOf(truth.outcome.sheet, truth.statements), sheetOf(own.sheet, read))
    : {};
  return { score: tally, more: { ...more, ...sheet }, sheet: conversation.running };
}

const NO_ASKS: Asks = { severity: 0, other: 0 };

function addAsks(more: More, due: Asks = NO_ASKS, own: Asks = NO_ASKS): void {
  more.asks += own.severity + own.other;
  more.severityAsks += own.severity;
  more.due += due.severity + due.other;
  more.needless += Math.max(0, own.severity - due.severity) + Math.max(0, own.other - due.other);
}

/** How bad the labels of an utterance say that a fault is: the worst, by an order or with a report. */
function severityIn(labels: readonly Label[]): string | undefined {
  const said = new Set(
    labels.flatMap((l) =>
      l.kind === 'order' && l.name === 'rating'
        ? [l.of.replace(/ .*/, '')]
        : l.kind === 'claim' && l.severity !== null
          ? [l.severity]
          : [],
    ),
  );
  return SEVERITIES.find((s) => said.has(s));
}

function addRatings(more: More, truth: readonly Label[], read: readonly Label[]): void {
  const due = severityIn(truth);
  const said = severityIn(read);
  if (due === undefined) more.ratedFalse += said === undefined ? 0 : 1;
  else {
    more.rated += 1;
    more.ratedRight += said === due ? 1 : 0;
  }
}

/** Checks and stations mentioned in talk (a force other than "result"), each once an utterance. */
function addMentions(more: More, truth: readonly Label[], read: readonly Label[]): void {
  const talk = (labels: readonly Label[]) => claimsOf(labels).filter((c) => c.force !== 'result');
  const keys = (claims: readonly Claim[]) => new Set(claims.flatMap((c) => keyOf(c) ?? []));
  const due = keys(talk(truth));
  const said = keys(talk(read));
  // Where the truth could be either of two, naming one of them is neither right nor wrong.
  const ties = new Set(talk(truth).flatMap((c) => (c.checks.length > 1 ? c.checks : [])));
  for (const key of due) {
    if (said.has(key)) more.mentionRight += 1;
    else more.mentionMissed += 1;
  }
  for (const key of said) if (!due.has(key) && !ties.has(key)) more.mentionFalse += 1;
}

/**
 * Findings that the statements of one utterance assert, as the product has them
 * (src/record, src/reconcile): of two candidates too (R4), doubtful ones not.
 * What the same utterance amends or takes back is left out.
 */
export function findingsIn(
  statements: readonly Statement[],
  catalogue: Catalogue,
): readonly Observation[] {
  const checks = checksById(catalogue);
  const gone = new Set(
    statements.flatMap((s) =>
      s.kind === 'retraction' ? [s.of] : s.kind === 'observation' ? (s.amends ?? []) : [],
    ),
  );
  return statements.flatMap((s) => {
    if (gone.has(s.id)) return [];
    const said = s.kind === 'two-candidates' ? s.said : s;
    if (said.kind !== 'observation') return [];
    const check = said.about.kind === 'check' ? (checks.get(said.about.check) ?? null) : null;
    return isFinding(catalogue, check, said) ? [said] : [];
  });
}

type ScoreKey = Exclude<keyof Tally, 'errors'>;
const SCORE_KEYS = Object.keys(emptyTally()).filter((k): k is ScoreKey => k !== 'errors');
const MORE_KEYS = Object.keys(NO_MORE).filter((k): k is keyof More => k in NO_MORE);

/** The sum of tallies; the lists of errors are left behind. */
export function summed(tallies: readonly WalkTally[]): WalkTally {
  const sum: WalkTally = {
    score: emptyTally(),
    more: { ...NO_MORE },
    sheet: tallies.some((t) => t.sheet),
  };
  for (const t of tallies) {
    for (const key of SCORE_KEYS) sum.score[key] += t.score[key];
    for (const key of MORE_KEYS) sum.more[key] += t.more[key];
  }
  return sum;
}
