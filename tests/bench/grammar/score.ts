import type { Catalogue } from '#shared/catalogue';
import type { Claim, ConditionLabels, Label, Sign } from '../../corpus/format.ts';
import { convert } from './ucum.ts';
import { isFinding, spokenUnits, stakes } from './spoken.ts';

/** Counts over many utterances; `figures` turns them into the table. */
export interface Tally {
  utterances: number;
  checkRight: number;
  checkFalse: number;
  checkMissed: number;
  polarityRight: number;
  polarityAll: number;
  conditionRight: number;
  conditionFalse: number;
  conditionMissed: number;
  forceRight: number;
  forceAll: number;
  whichRight: number;
  whichAll: number;
  valueRight: number;
  valueAll: number;
  stakes: number;
  falseSpoken: number;
  rightSpoken: number;
  dueSpoken: number;
  findings: number;
  lost: number;
  misplaced: number;
  questions: number;
  askedDue: number;
  askedRight: number;
  talkAsResult: number;
  orderRight: number;
  orderFalse: number;
  orderMissed: number;
  /** One line per error, for `--errors`. */
  readonly errors: string[];
}

export function emptyTally(): Tally {
  return {
    utterances: 0,
    checkRight: 0,
    checkFalse: 0,
    checkMissed: 0,
    polarityRight: 0,
    polarityAll: 0,
    conditionRight: 0,
    conditionFalse: 0,
    conditionMissed: 0,
    forceRight: 0,
    forceAll: 0,
    whichRight: 0,
    whichAll: 0,
    valueRight: 0,
    valueAll: 0,
    stakes: 0,
    falseSpoken: 0,
    rightSpoken: 0,
    dueSpoken: 0,
    findings: 0,
    lost: 0,
    misplaced: 0,
    questions: 0,
    askedDue: 0,
    askedRight: 0,
    talkAsResult: 0,
    orderRight: 0,
    orderFalse: 0,
    orderMissed: 0,
    errors: [],
  };
}

interface Item {
  readonly id: string;
  readonly say: string;
  readonly truth: readonly Label[];
  readonly read: readonly Label[];
  readonly catalogue: Catalogue;
  readonly conditions: ConditionLabels;
}

export const claimsOf = (labels: readonly Label[]) =>
  labels.filter((l): l is Claim => l.kind === 'claim');
/** What a claim is about, for matching: one check, or one station. */
export const keyOf = (c: Claim): string | null =>
  c.station !== null
    ? `station:${c.station}`
    : c.checks.length === 1
      ? (c.checks[0] ?? null)
      : null;
const abnormal = (claims: readonly Claim[], catalogue: Catalogue) =>
  claims.some((c) => isFinding(c, catalogue));
const isAsked = (l: Label) => l.kind === 'unclear' || (l.kind === 'claim' && l.asked);

/** Judges one utterance and adds to the tally. */
export function score(item: Item, tally: Tally): void {
  tally.utterances += 1;
  const truth = claimsOf(item.truth);
  const read = claimsOf(item.read);
  const fault = (what: string) => tally.errors.push(`${item.id} | ${item.say} | ${what}`);
  scoreChecks(item, truth, read, tally, fault);
  scoreForce(truth, read, tally, fault);
  scoreSafety(item, truth, read, tally, fault);
  scoreQuestions(item, truth, tally, fault);
  scoreOrders(item, tally, fault);
}

type FaultSink = (what: string) => void;

/**
 * Right check: the checks and stations with a result, by id. A mention in talk
 * is neither asked for nor punished. Where the truth is a tie, naming one of
 * the two is a guess and counts against.
 */
function scoreChecks(
  item: Item,
  truth: readonly Claim[],
  read: readonly Claim[],
  tally: Tally,
  fault: FaultSink,
): void {
  const keys = (claims: readonly Claim[]) =>
    new Set(claims.map(keyOf).filter((k): k is string => k !== null));
  const due = keys(truth.filter((c) => c.force === 'result'));
  const talk = keys(truth.filter((c) => c.force !== 'result'));
  const talkTies = new Set(
    truth.filter((c) => c.force !== 'result' && c.checks.length > 1).flatMap((c) => c.checks),
  );
  const said = keys(read);
  const asserted = keys(read.filter((c) => c.force === 'result'));
  for (const key of due) {
    if (!said.has(key)) {
      tally.checkMissed += 1;
      fault(`check missed: ${key}`);
      continue;
    }
    tally.checkRight += 1;
    const ours = read.filter((c) => keyOf(c) === key && c.force === 'result');
    const theirs = truth.filter((c) => keyOf(c) === key && c.force === 'result');
    tally.polarityAll += 1;
    if (abnormal(ours, item.catalogue) === abnormal(theirs, item.catalogue)) {
      tally.polarityRight += 1;
    } else fault(`polarity: ${key}`);
    scoreConditions(key, theirs, ours, item.conditions, tally, fault);
    scoreValues(key, theirs, ours, tally, fault);
    if (ours.length === 0) continue;
    tally.whichAll += 1;
    const places = (claims: readonly Claim[]) =>
      [...new Set(claims.flatMap((c) => c.instances))].sort().join(',');
    if (places(ours) === places(theirs)) tally.whichRight += 1;
    else fault(`which: ${key} should be (${places(theirs)}), read (${places(ours)})`);
  }
  for (const key of asserted) {
    if (due.has(key) || talk.has(key) || talkTies.has(key)) continue;
    tally.checkFalse += 1;
    fault(`check false: ${key}`);
  }
}

function accepted(label: Sign, said: Sign, conditions: ConditionLabels): boolean {
  const accept = conditions[label.id]?.accept ?? [label.id];
  return label.present === said.present && (label.id === said.id || accept.includes(said.id));
}

function covers(claim: Claim, sign: Sign): boolean {
  return sign.aspects.length === 0 || sign.aspects.some((a) => claim.aspects.includes(a));
}

/** Conditions with their polarity, on checks that were found. */
function scoreConditions(
  key: string,
  truth: readonly Claim[],
  read: readonly Claim[],
  conditions: ConditionLabels,
  tally: Tally,
  fault: FaultSink,
): void {
  const left = read.flatMap((c) => c.signs);
  for (const sign of truth.flatMap((c) => c.signs)) {
    const at = left.findIndex((s) => accepted(sign, s, conditions));
    if (at >= 0) {
      left.splice(at, 1);
      tally.conditionRight += 1;
    } else if (
      !sign.present &&
      read.some((c) => c.good === true && !c.actOnly && covers(c, sign))
    ) {
      // "all three in" may be written as a verdict or as "none missing": one meaning.
    } else {
      tally.conditionMissed += 1;
      fault(`condition missed: ${key} ${sign.present ? '+' : '-'}${sign.id}`);
    }
  }
  const good = truth.some((c) => c.good === true);
  const bad = truth.some((c) => c.good === false);
  for (const sign of left) {
    // "tight" may be written as a verdict or as "not loose"; "no good" as bad or unserviceable.
    if ((good && !sign.present) || (bad && sign.present)) continue;
    // Said twice in other words ("not leaking, dry").
    if (truth.flatMap((c) => c.signs).some((s) => accepted(s, sign, conditions))) continue;
    tally.conditionFalse += 1;
    fault(`condition false: ${key} ${sign.present ? '+' : '-'}${sign.id}`);
  }
}

function scoreValues(
  key: string,
  truth: readonly Claim[],
  read: readonly Claim[],
  tally: Tally,
  fault: FaultSink,
): void {
  const said = read.flatMap((c) => c.amounts);
  for (const amount of truth.flatMap((c) => c.amounts)) {
    tally.valueAll += 1;
    const hit = said.some((s) => {
      if (amount.step !== null) return s.step !== null && Math.abs(s.step - amount.step) <= 0.5;
      if (amount.trouble !== s.trouble || s.low === null || s.high === null) return false;
      const same = (a: number | null, b: number) =>
        a !== null && Math.abs(a - b) <= 1e-6 * Math.max(1, Math.abs(a));
      if (amount.unit === null) return same(amount.low, s.low) && s.unit === null;
      const low = convert(s.low, s.unit, amount.unit);
      const high = convert(s.high, s.unit, amount.unit);
      return low !== null && high !== null && same(amount.low, low) && same(amount.high, high);
    });
    if (hit) tally.valueRight += 1;
    else fault(`value: ${key} =${amount.low ?? `step ${amount.step}`}${amount.unit ?? ''}`);
  }
}

/**
 * Right force, on checks that the reader mentions. Talk that is left unread is
 * neither right nor wrong, as long as nothing is made of it.
 */
function scoreForce(
  truth: readonly Claim[],
  read: readonly Claim[],
  tally: Tally,
  fault: FaultSink,
): void {
  const about = (c: Claim) => (c.unplaced ? 'unplaced' : keyOf(c));
  const forcesOn = (claims: readonly Claim[], key: string) =>
    claims.filter((c) => about(c) === key).map((c) => c.force);
  for (const claim of truth) {
    const key = about(claim);
    if (key === null) continue;
    const ours = forcesOn(read, key);
    if (ours.length === 0) continue;
    const others = forcesOn(truth, key);
    const right = ours.includes(claim.force);
    const unread = claim.force !== 'result' && ours.every((f) => others.includes(f));
    if (!right && unread) continue;
    tally.forceAll += 1;
    if (right) tally.forceRight += 1;
    else {
      fault(`force: ${key} is ${claim.force}, read ${ours.join('/')}`);
      const counts = read.some((c) => about(c) === key && c.force === 'result' && !c.asked);
      if (counts && claim.force !== 'result') tally.talkAsResult += 1;
    }
  }
}

/** The two errors that can kill. A check that ends in a question is neither. */
function scoreSafety(
  item: Item,
  truth: readonly Claim[],
  read: readonly Claim[],
  tally: Tally,
  fault: FaultSink,
): void {
  const due = spokenUnits(item.truth, item.catalogue);
  const said = spokenUnits(item.read, item.catalogue);
  tally.stakes += Math.max(stakes(item.truth, item.catalogue), due.size);
  tally.dueSpoken += due.size;
  // A finding that should have been asked about and is taken as one clears nothing.
  const doubted = spokenUnits(
    truth
      .filter((c) => c.asked && isFinding(c, item.catalogue))
      .map((c) => ({ ...c, asked: false })),
    item.catalogue,
  );
  for (const unit of said) {
    if (due.has(unit)) tally.rightSpoken += 1;
    else if (!doubted.has(unit) || !read.some((c) => isFinding(c, item.catalogue))) {
      tally.falseSpoken += 1;
      fault(`FALSE SPOKEN FOR: ${unit}`);
    }
  }
  for (const unit of due) if (!said.has(unit)) fault(`not spoken for: ${unit}`);
  const findings = read.filter((c) => isFinding(c, item.catalogue));
  let unclear = item.read.filter((l) => l.kind === 'unclear').length;
  for (const claim of truth.filter((c) => isFinding(c, item.catalogue))) {
    tally.findings += 1;
    const meets = (c: Claim) =>
      c.checks.some((id) => claim.checks.includes(id)) &&
      (c.asked ||
        c.instances.some((i) => i === 'one' || i === 'plural' || claim.instances.includes(i)) ||
        claim.instances.some((i) => i === 'one' || i === 'plural'));
    const kept =
      findings.some((c) => c.unplaced || meets(c)) ||
      read.some((c) => c.asked && (meets(c) || (claim.unplaced && isFinding(c, item.catalogue))));
    if (kept) continue;
    if (unclear > 0) {
      unclear -= 1;
      continue;
    }
    tally.lost += 1;
    const elsewhere = findings.find((c) => !truth.some((t) => keyOf(t) === keyOf(c)));
    if (elsewhere !== undefined) tally.misplaced += 1;
    fault(
      `FINDING LOST: ${claim.unplaced ? 'unplaced' : claim.checks.join('|')}${
        elsewhere === undefined ? '' : `, put on ${keyOf(elsewhere) ?? '?'}`
      }`,
    );
  }
}

/** Questions: ties, doubt, bare plurals, values without unit, not understood, findings without a place. */
function scoreQuestions(item: Item, truth: readonly Claim[], tally: Tally, fault: FaultSink): void {
  const asks = item.read.filter(
    (l) => isAsked(l) || (l.kind === 'claim' && l.unplaced && isFinding(l, item.catalogue)),
  );
  tally.questions += asks.length;
  const due = item.truth.filter(
    (l) => l.kind === 'unclear' || (l.kind === 'claim' && l.asked && l.force === 'result'),
  );
  tally.askedDue += due.length;
  const asked = Math.min(due.length, asks.length);
  tally.askedRight += asked;
  if (asked < due.length) fault('question not asked');
  const mayAsk = due.length + truth.filter((c) => c.unplaced || c.asked).length;
  if (asks.length > mayAsk) fault(`asked needlessly (${asks.length} against ${due.length})`);
}

function scoreOrders(item: Item, tally: Tally, fault: FaultSink): void {
  const names = (labels: readonly Label[]) =>
    labels.flatMap((l) => (l.kind === 'order' ? [`${l.name} ${l.of}`.trim()] : []));
  const due = names(item.truth);
  const said = names(item.read);
  for (const name of due) {
    if (said.includes(name)) tally.orderRight += 1;
    else {
      tally.orderMissed += 1;
      fault(`order missed: ${name}`);
    }
  }
  for (const name of said) {
    // Naming a place in passing moves nobody by itself.
    if (due.includes(name) || name.startsWith('arrive ')) continue;
    tally.orderFalse += 1;
    fault(`order false: ${name}`);
  }
}

const share = (part: number, whole: number) => (whole === 0 ? 1 : part / whole);
const f1 = (right: number, wrong: number, missed: number) =>
  share(2 * right, 2 * right + wrong + missed);

export interface Figures {
  checkF1: number;
  polarity: number;
  condition: number;
  force: number;
  which: number;
  value: number;
  falseSpokenForPer1000: number;
  findingsLostPer1000: number;
  questionsPer100: number;
  /** Of what the truth speaks for, the share that the reading speaks for too. */
  spokenRecall: number;
  /** Of the questions that had to be asked, the share that were. */
  askedRecall: number;
  orderF1: number;
}

export function figures(t: Tally): Figures {
  return {
    checkF1: f1(t.checkRight, t.checkFalse, t.checkMissed),
    polarity: share(t.polarityRight, t.polarityAll),
    condition: f1(t.conditionRight, t.conditionFalse, t.conditionMissed),
    force: share(t.forceRight, t.forceAll),
    which: share(t.whichRight, t.whichAll),
    value: share(t.valueRight, t.valueAll),
    falseSpokenForPer1000: t.stakes === 0 ? 0 : (1000 * t.falseSpoken) / t.stakes,
    findingsLostPer1000: t.findings === 0 ? 0 : (1000 * t.lost) / t.findings,
    questionsPer100: t.utterances === 0 ? 0 : (100 * t.questions) / t.utterances,
    spokenRecall: share(t.rightSpoken, t.dueSpoken),
    askedRecall: share(t.askedRight, t.askedDue),
    orderF1: f1(t.orderRight, t.orderFalse, t.orderMissed),
  };
}
