import type { About, Candidate, Observation, Statement } from '#shared/statement';
import { DECIDE, decide, type Decision } from '../decide.ts';
import type { Member } from '../matches/roster.ts';
import { senses } from '../matches/senses.ts';
import type { Scored } from '../scores/scored.ts';
import type { CandidateInput } from '../scores/around.ts';
import { asksByOrder, isGeneral, isHedged, spokenOf, withoutFalseGood } from './vetoes.ts';
import { atNamedStation, hereFirst, isBareNumber, namedFirst, valuesHere } from './here.ts';
import {
  demandedFaults,
  eventIn,
  happeningOf,
  happeningSaid,
  isToldApart,
  withoutEvent,
} from './happenings.ts';
import {
  actsIn,
  MAY_BE_FAULT,
  conditionsOf,
  ownWords,
  spanIn,
  unnamedCondition,
  comparedIn,
  conditionAt,
  valuesFor,
  verdictOf,
} from './said.ts';
import { isBeside, WHERE_ONE_STANDS } from './beside.ts';
import { creditOf } from './credit.ts';
import { fittingFault, isLeftOn, onlyFault } from './nameless.ts';
import { byPlace } from './placed.ts';
import { plainFaults } from './plainfault.ts';
import { ownWordsIn } from './learnable.ts';
import { explainedFirst, lectured } from './lecture.ts';
import { base, forceOf, howNamed, plain, round } from './observed.ts';
import { pairedOf } from './paired.ts';
import { ratedIn } from './rated.ts';
import type { Scoring } from './scoring.ts';
import { leftOut, othersMeant } from './allbut.ts';
import { amendsOf } from './amends.ts';
import { oneOfTwo, tiedOf } from './ties.ts';
import { anywhere, scatteredIn, unplacedOf } from './unplaced.ts';
import { foreignFault, foreignSaid } from './foreign.ts';
import { withoutOthers } from './notours.ts';
import { groupAt, groupsOf, countedOf, placesOf, whichOf, type Group } from './which.ts';

/** The statements of one utterance: results and findings, then what was only talked about. */
export function statementsOf(s: Scoring): Statement[] {
  const { inputs, scores } = s;
  const questioned = s.words.tokens.some((t) => t.asks);
  const happened = happeningOf(s);
  const scored = decide(
    scores.candidates,
    (i) => inputs.candidates[i]?.member?.check === null,
    questioned,
  );
  const event = happened ?? eventIn(s);
  const told = event === null ? scored : withoutEvent(s, scored, event);
  const named = atNamedStation(s, namedFirst(s, told));
  const placed = valuesHere(s, oneOfTwo(s, byPlace(s, hereFirst(s, explainedFirst(s, named)))));
  const plainly = demandedFaults(s, plainFaults(s, withoutFalseGood(s, withoutOthers(s, placed))));
  const away = foreignFault(s, plainly);
  const decisions = lectured(s, away?.rest ?? plainly);
  const scattered = scatteredIn(s, decisions);
  const results = decisions.filter((d) => d.kind === 'result' && !scattered.includes(d));
  const measured = results.flatMap((d) => {
    const input = inputs.candidates[d.index];
    const check = input?.member?.check ?? null;
    return d.value && input !== undefined && check !== null
      ? [{ index: d.index, check, own: ownWords(input) }]
      : [];
  });
  const values = valuesFor(s.words, measured, s.roster.catalogue);
  const rated = ratedIn(s.words.tokens, scores);
  const spoken = s.words.tokens.map((t) => t.word);
  const findings = results.filter((d) => d.finding !== 'no').length;
  const out: Statement[] = [];
  const tied = tiedOf(s, results);
  for (const d of results) {
    if (tied.some((t) => t.index === d.index)) continue;
    const input = inputs.candidates[d.index];
    const seen = scores.candidates[d.index];
    if (input === undefined || input.member === null || seen === undefined) continue;
    const left = leftOut(s.words.tokens, input.member, input);
    const scored = othersMeant(seen, input.member, left);
    const at = measured.findIndex((m) => m.index === d.index);
    const pairs = d.value ? pairedOf(s.words, input.member, input, s.roster.catalogue) : [];
    if (pairs.length > 0) {
      const among = pairs.flatMap((p) => p.places);
      for (const { places, values } of pairs) {
        const group = groupAt(input.member, scored, d, places, among);
        const own = { values, severity: group.finding === 'no' ? null : rated };
        out.push(resultOf(s, d, group, input, scored, decisions, own));
      }
      continue;
    }
    const groups = groupsOf(input.member, input, scored, d, s.scene, s.roster, left);
    const { member } = input;
    groups.forEach((said, g) => {
      // A value is said once, of what is not at fault where there are both.
      const own = at < 0 || g < groups.length - 1 ? [] : (values[at] ?? []);
      const places = placesOf(member, input, said.which, s.scene, own.length, scored.places);
      const which = said.finding === 'no' ? places : countedOf(spoken, member, input, places);
      const group = { ...said, which };
      const found = group.finding !== 'no';
      out.push(
        resultOf(s, d, group, input, scored, decisions, {
          values: own,
          severity: findings === 1 && found ? rated : null,
        }),
      );
    });
  }
  if (tied.length > 1) out.push(tieOf(s, tied, decisions));
  if (out.length === 0 ? isBareNumber(s.words.tokens) : out.every(isEmpty) && measured.length > 0)
    return [
      {
        v: 1,
        id: s.nextId(),
        heard: s.heard.id,
        kind: 'not-understood',
        chatter: false,
        span: spanIn(s.words, 0, s.words.tokens.length),
        why: ['a value is said, and of what, or in which unit, cannot be told (R8)'],
      },
    ];
  if (happened !== null) {
    const why = ['it happened to the aircraft, whatever was named before'];
    out.push(happeningSaid(s, happened, plain(s, scores.candidates.at(-1)?.finding ?? 0, why)));
    return out;
  }
  const nothing = scores.candidates.at(-1);
  const nothingInput = inputs.candidates.at(-1);
  if (nothing !== undefined && nothingInput !== undefined) {
    const whole = scattered.length > 0 ? { ...nothing, finding: anywhere(s) } : nothing;
    const unplaced =
      away === null
        ? unplacedOf(s, whole, nothingInput, findings > 0, scattered)
        : foreignSaid(s, away);
    if (unplaced !== null) out.push(unplaced);
  }
  for (const d of decisions) {
    const member = inputs.candidates[d.index]?.member;
    const scored = scores.candidates[d.index];
    if (d.kind === 'talk' && member !== undefined && member !== null && scored !== undefined)
      out.push(mentionOf(s, d, member, scored));
  }
  return out;
}

/** A result in which nothing is said. */
const isEmpty = (s: Statement): boolean =>
  s.kind === 'observation' &&
  s.force === 'result' &&
  s.verdict === null &&
  s.conditions.length === 0 &&
  s.values.length === 0;

function tieOf(s: Scoring, tied: readonly Decision[], decisions: readonly Decision[]): Statement {
  const candidates = tied.flatMap((d): Candidate[] => {
    const member = s.inputs.candidates[d.index]?.member;
    const share = s.scores.candidates[d.index]?.ask ?? 0;
    return member === undefined || member === null || member.check === null
      ? []
      : [{ check: member.check.id, instances: [], score: round(share), how: howNamed(s, member) }];
  });
  const [first] = tied;
  const input = first === undefined ? undefined : s.inputs.candidates[first.index];
  const scored = first === undefined ? undefined : s.scores.candidates[first.index];
  if (first === undefined || input === undefined || input.member === null || scored === undefined)
    throw new Error('A tie has at least two candidates.');
  const group = {
    good: first.good,
    finding: first.finding,
    which: whichOf(input.member, input, scored, s.scene, first.finding !== 'no', s.roster),
  };
  const said = resultOf(s, first, group, input, scored, decisions, {
    values: [],
    severity: ratedIn(s.words.tokens, s.scores),
  });
  // One id for both: the question is about it, and the answer takes over what was said.
  return {
    v: 1,
    id: said.id,
    heard: s.heard.id,
    kind: 'two-candidates',
    span: said.span,
    why: ['two checks fit about as well: which of them is asked, never guessed (R5)'],
    candidates,
    said: { ...said, doubtful: null, waits: false },
  };
}

function resultOf(
  s: Scoring,
  d: Decision,
  group: Group,
  input: CandidateInput,
  scored: Scored,
  decisions: readonly Decision[],
  more: Pick<Observation, 'values' | 'severity'>,
): Observation {
  const { words, scene, inputs, roster } = s;
  const member = input.member as Member;
  const check = member.check;
  const all = conditionsOf(words, member, input, scored, inputs.conditions, roster.catalogue);
  const talk = isBehindTalk(s, input) && !(d.demanded === true && isToldApart(s, TALK_CUES));
  // What was perhaps a fault, behind words of teaching or planning, was an example (R2).
  const found = group.finding !== 'no' && !(talk && group.finding === 'asked');
  // R3: denials reach every fault that is named.
  const strong = inputs.conditions.filter((c) => !c.weak && !c.either);
  const denied = found && strong.length > 0 && strong.every((c) => c.denials > 0);
  // R5: a word that nobody knows may be the very one that turns it.
  const strangeWord = words.tokens.some((t) => !s.knows(t.word));
  const nameless = found && strong.length === 0 && strangeWord;
  const unsure = found && strangeWord && scored.finding < DECIDE.findingStrange;
  const only = spokenOf(inputs, input);
  const credit =
    check === null || group.good === 'no'
      ? null
      : creditOf(
          { ...input, member },
          check,
          scored,
          group.share ?? scored.good,
          group.which,
          only,
          isGeneral(inputs),
        );
  const goodSaid = credit === null ? group.good : credit.counts ? 'counts' : 'waits';
  const goodIs =
    talk && scored.good < DECIDE.goodInTalk
      ? 'no'
      : (strangeWord || isHedged(inputs)) && goodSaid === 'counts'
        ? 'waits'
        : goodSaid;
  const supposed =
    found &&
    ((talk && scored.finding < DECIDE.findingInTalk) ||
      (isBehind(s, input, PAST_CUES) && scored.finding < DECIDE.findingInPast) ||
      asksByOrder(inputs, input));
  // A value or a fault that counts is not held back by a good that is unsure.
  const sure = more.values.some((v) => v.trouble === null) || group.finding === 'counts';
  const good = sure && goodIs === 'waits' ? 'no' : goodIs;
  const whole = spanIn(words, 0, words.tokens.length);
  let conditions = all.filter((c) => (c.present ? found : good !== 'no'));
  let ill = false;
  if (found && !conditions.some((c) => c.present) && isLeftOn(inputs.conditions, check)) ill = true;
  else if (found && !conditions.some((c) => c.present)) {
    const likely = unnamedCondition(scored, s.labels);
    // At a check that is demanded the fault is the one that the words name, whatever the scores hold; and
    // where these have no name for it, the one word of the list that fits.
    const word =
      d.demanded === true
        ? onlyFault(inputs.conditions)
        : likely === null
          ? fittingFault(inputs.conditions, check)
          : null;
    const id = word?.id ?? likely;
    const at = word ?? inputs.conditions.find((c) => c.id === id && c.denials === 0);
    const span =
      at === undefined ? spanIn(words, 0, words.tokens.length) : spanIn(words, at.from, at.to);
    if (id === null) ill = true;
    else conditions = [...conditions, { ...conditionAt(id, true, check, roster.catalogue), span }];
  }
  const verdict =
    good !== 'no'
      ? credit?.counts === true
        ? { good: true, actOnly: false, aspects: [...credit.aspects], span: whole }
        : verdictOf(words, check, scored, true, false, only, isGeneral(inputs))
      : ill
        ? verdictOf(words, check, scored, false, false)
        : d.done
          ? verdictOf(words, check, scored, true, true)
          : null;
  const ends = {
    check: check?.id ?? null,
    which: group.which,
    amends: d.amends,
    well: good !== 'no' && !conditions.some((c) => c.present) && !ill,
    sure: !found && !d.doubt && (good === 'counts' || more.values.some((v) => v.trouble === null)),
  };
  const amends = amendsOf(s, ends);
  // Which place or unit is missing is asked about anyway: no second doubt beside it.
  const asked =
    more.values.some((v) => v.trouble !== null) ||
    (found && (group.which.how === 'one' || group.which.how === 'plural'));
  // Which unit is meant was settled by what the measure can have: the number is told.
  const settled = more.values.some((v) => v.supplied === true && v.trouble === null);
  // "One of the stripes is broken": which one is asked only where the catalogue tells them apart.
  const noPlaces = member.instances.length < 2 && (scored.which[1] ?? 0) > (scored.which[0] ?? 0);
  const doubtful =
    d.doubt && !asked && !(settled && !isHedged(inputs)) && !(found && noPlaces)
      ? 'it was said with a doubt'
      : (found && group.finding === 'asked') || denied || supposed || nameless || unsure
        ? MAY_BE_FAULT
        : good === 'waits'
          ? 'it may have been said to be good'
          : null;
  const about = aboutOf(s, member, scored, found, decisions);
  const stood = isBeside(member, input, scored, group.which);
  const own = base(s, d, member, scored);
  const empty = verdict === null && conditions.length === 0 && more.values.length === 0;
  return {
    ...own,
    ...(stood ? { why: [...own.why, WHERE_ONE_STANDS] } : {}),
    force: talk && empty ? forceOf(scored) : 'result',
    about: about.kind === 'check' ? { ...about, which: group.which } : about,
    verdict,
    conditions,
    values: more.values,
    severity: more.severity,
    acts: actsIn(words.tokens),
    amends,
    squawk: found && s.squawk,
    compared: check !== null && scene.squawked.includes(check.id) ? comparedIn(words.tokens) : null,
    doubtful,
    ...(doubtful !== null && good === 'waits' && !d.doubt ? { waits: true } : {}),
    ...(doubtful === null ? {} : ownWordsIn(s, input)),
  };
}

/** Whether the sentence in which a candidate is named begins as talk: "you want to see no cracks on …" (R2). */
const isBehindTalk = (s: Scoring, input: CandidateInput): boolean => isBehind(s, input, TALK_CUES);

/** Whether one of these cues stands in the sentence before the name. */
function isBehind(
  { inputs, words }: Scoring,
  input: CandidateInput,
  cues: ReadonlySet<string>,
): boolean {
  const { names } = senses();
  const own = ownWords(input);
  const at = own.length === 0 ? words.tokens.length - 1 : Math.min(...own);
  let from = at;
  while (from > 0 && (words.tokens[from]?.gap ?? 0) < 2) from -= 1;
  return inputs.tokens.slice(from, at).some((t) => t.senses.some((k) => cues.has(names[k] ?? '')));
}
const TALK_CUES: ReadonlySet<string> = new Set(
  ['teaching', 'hypothesis', 'intention', 'hearsay', 'question'].map((c) => `force-${c}`),
);

const PAST_CUES: ReadonlySet<string> = new Set(['force-past']);

function aboutOf(
  s: Scoring,
  member: Member,
  scored: Scored,
  finding: boolean,
  decisions: readonly Decision[],
): About {
  const input = s.inputs.candidates.find((c) => c.member === member) as CandidateInput;
  const own = ownWords(input);
  const span = own.length === 0 ? null : spanIn(s.words, Math.min(...own), Math.max(...own) + 1);
  if (member.check !== null)
    return {
      kind: 'check',
      check: member.check.id,
      which: whichOf(member, input, scored, s.scene, finding, s.roster),
      span,
    };
  // R7: what was excepted, found or doubted in the same breath is not covered.
  const except = decisions.flatMap((d) => {
    const other = s.inputs.candidates[d.index]?.member;
    const apart = d.kind === 'excepted' || (d.kind === 'result' && d.good !== 'counts');
    return other !== undefined &&
      other !== null &&
      other.check !== null &&
      other.station === member.station &&
      apart
      ? [other.check.id]
      : [];
  });
  return { kind: 'station', station: member.station.id, except, span };
}

/** A mention in talk: kept with its words, and counts for nothing (R2). */
function mentionOf(s: Scoring, d: Decision, member: Member, scored: Scored): Observation {
  const force = forceOf(scored);
  return {
    ...base(s, d, member, scored),
    force,
    about: aboutOf(s, member, scored, false, []),
  };
}
