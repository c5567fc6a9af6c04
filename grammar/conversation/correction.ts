import { instancesOf } from '#shared/catalogue';
import type {
  Candidate,
  ConditionSaid,
  Observation,
  Statement,
  ValueSaid,
} from '#shared/statement';
import { aspectsOf } from '../aspects.ts';
import { placeWordsOf } from '../matches/heardas.ts';
import type { Member } from '../matches/roster.ts';
import { stem } from '../names.ts';
import { numbersIn } from '../numbers.ts';
import { conditionAt } from '../readings/said.ts';
import { stepIn } from '../steps.ts';
import type { Token } from '../tokens.ts';
import { convert, unitTrie } from '../units.ts';
import { whole } from './open.ts';
import { partedOf, type Parted } from './parted.ts';
import { isJustTold, otherSide, toldAgain } from './otherside.ts';
import { placesSaid } from './placed.ts';
import { amending, otherCondition, otherDetail, otherSeverity } from './restated.ts';
import { notSo } from './retracted.ts';
import type { Move, Turning } from './moves.ts';

/**
 * A correction says what it corrects in any order of words: "that was the right one",
 * "the right, not the left", "make it 24", "not the cap, the drain". Every word has to be
 * accounted for: a word more, such as a verdict, and it is a sentence of its own.
 */

export const corrected: Move = (t) => {
  const parted = partedOf(t.words.tokens);
  if (parted === null) return null;
  const last = correctedBy(t, parted);
  if (last === null || last.force !== 'result' || last.about.kind !== 'check') return null;
  if (parted.bare) return onlyPlace(t, last, parted);
  const made =
    otherSeverity(t, last, parted) ??
    otherSide(t, last, parted, (to) => moved(t, last, to)) ??
    otherValue(t, last, parted) ??
    otherCondition(t, last, parted) ??
    otherDetail(t, last, parted) ??
    otherCheck(t, last, parted);
  const { question } = t.scene;
  const rivals = question?.kind === 'which-fault' ? (question.items ?? []) : [];
  if (made === null || !rivals.some((i) => i.statement === last.id)) return made;
  // It is a fault, and at none of those that were offered.
  const others = rivals.filter((i) => i.statement !== last.id);
  return [
    ...made.map((s) => (s.kind === 'observation' ? { ...s, doubtful: null, waits: false } : s)),
    ...others.map(({ statement }): Statement =>
      notSo(t, whole(t.words), { id: statement, span: last.span }, ELSEWHERE),
    ),
  ];
};

/** "It's the rear one", behind a fault that was just told of the front one. */
function onlyPlace(t: Turning, last: Observation, parted: Parted): Statement[] | null {
  const ill = last.conditions.some((c) => c.present) || last.verdict?.good === false;
  if (!ill || !isJustTold(t, last) || parted.other || t.scene.question !== null) return null;
  if (last.about.kind !== 'check' || last.about.which.how !== 'named') return null;
  const member = t.roster.byKey.get(last.about.check);
  if (member === undefined || placesSaid(member, parted.is) === null) return null;
  return otherSide(t, last, parted, (to) => moved(t, last, to));
}

const ELSEWHERE = 'corrected: it was another one';

/**
 * What is corrected: what was said last; but where the words deny by its name what was just
 * asked about, that ("Papers, …: how bad?" – "not the papers, the blade").
 */
function correctedBy({ scene, roster }: Turning, { not }: Parted): Observation | null {
  const { last, question, talk } = scene;
  if (question === null || last?.id === question.about || not.length === 0) return last;
  const about = question.items?.map((i) => i.statement) ?? [question.about];
  const asked = talk.told.filter((o) => about.includes(o.id));
  const denied = asked.findLast((o) => {
    const member = o.about.kind === 'check' ? roster.byKey.get(o.about.check) : undefined;
    const names = new Set(member?.names.flat() ?? []);
    return not.every((x) => names.has(stem(x.word)));
  });
  return denied ?? last;
}

const sideOf = (word: string): string | null =>
  placeWordsOf([{ word, at: 0, gap: 0, asks: false, raw: word }]).sides[0] ?? null;
/** "Make it 24.", "no, six and a half quarts". */
function otherValue(t: Turning, last: Observation, { is }: Parted): Statement[] | null {
  const step = otherStep(t, last, is);
  if (step !== null) return step;
  const before = last.values.findLast((v) => v.low !== null);
  if (before === undefined || last.about.kind !== 'check') return null;
  const words = is.map((x) => x.word);
  const numbers = numbersIn(words);
  const number = numbers[0];
  if (number === undefined || numbers.length > 1) return null;
  const unit = unitTrie().longest(words, number.to);
  if (number.from > 0 || (unit?.to ?? number.to) < words.length) return null;
  const check = t.roster.byKey.get(last.about.check)?.check;
  const measure =
    check?.measures.find((m) => m.id === before.measure) ??
    check?.measures.find((m) => m.unit !== undefined);
  // Said of the same thing in the same breath: the unit is the one that was said before.
  const code =
    unit?.item.find((u) => measure?.unit !== undefined && convert(1, u, measure.unit) !== null) ??
    unit?.item[0] ??
    before.unit;
  const into = measure?.unit ?? null;
  const low = code === null || into === null ? null : convert(number.value, code, into);
  const high = code === null || into === null ? null : convert(number.high, code, into);
  const value: ValueSaid = {
    ...before,
    low: number.value,
    high: number.high,
    approximate: number.approximate,
    unit: code,
    inUnit: low === null || high === null || into === null ? null : { low, high, unit: into },
    trouble: code === null ? 'no-unit' : low === null ? 'wrong-unit' : null,
    ...(unit === null && code !== null ? { supplied: true } : {}),
    span: valueSpan(t, before, unit === null),
  };
  const values = last.values.map((v) => (v === before ? value : v));
  return [
    amending(
      t,
      last,
      { values },
      `corrected: the value is ${number.value}${unit === null && code !== null ? ', in the unit that was said before' : ''}`,
    ),
  ];
}

/** "Make that second knuckle.": another step of the gauge that was said. */
function otherStep(t: Turning, last: Observation, is: Parted['is']): Statement[] | null {
  if (last.about.kind !== 'check') return null;
  const measures = t.roster.byKey.get(last.about.check)?.check?.measures ?? [];
  for (const measure of measures) {
    const gauge = t.roster.catalogue.gauges.find((g) => g.id === measure.gauge);
    const step = gauge === undefined ? null : stepIn(gauge, is, 0, is.length);
    if (gauge === undefined || step === null || step.from > 0 || step.to < is.length) continue;
    const before = last.values.findLast((v) => v.step?.gauge === gauge.id);
    const now: ValueSaid = {
      measure: measure.id,
      low: null,
      high: null,
      unit: null,
      inUnit: null,
      step: { gauge: gauge.id, index: step.index, name: step.name },
      approximate: step.approximate,
      trouble: null,
      span: whole(t.words),
    };
    const values =
      before === undefined
        ? [...last.values, now]
        : last.values.map((v) => (v === before ? now : v));
    // What stood there without a fault's name was the value, and the limit says whether it is one (R8).
    const verdict = before === undefined && last.verdict?.good === false ? null : last.verdict;
    return [amending(t, last, { values, verdict }, `corrected: it is at ${step.name}`)];
  }
  return null;
}

function valueSpan(t: Turning, before: ValueSaid, unitLeftOut: boolean): ValueSaid['span'] {
  const span = whole(t.words);
  const said = span.words.replace(/[.,;:!?]+$/, '').split(/\s+/);
  const from = said.findIndex((w) => numbersIn([w.toLowerCase()]).length > 0);
  const words = said.slice(Math.max(0, from)).join(' ');
  const old = before.span.words.replace(/[.,;:!?]+$/, '').split(/\s+/);
  const tail = unitLeftOut && before.unit !== null ? ` ${old.at(-1) ?? ''}` : '';
  return { ...span, words: `${words}${tail}` };
}

/** "Not the cap, the drain." */
function otherCheck(t: Turning, last: Observation, parted: Parted): Statement[] | null {
  const { not, plain, points, takes } = parted;
  const outright = plain || t.breath === true || (points && isJustTold(t, last));
  if ((!outright && !takes) || last.about.kind !== 'check') return null;
  // "It's the track that's loose, not the hinge": the fault is told again.
  const again = toldAgain(t, last);
  const is = parted.is.filter((x) => !again.has(x));
  const own = t.roster.byKey.get(last.about.check);
  if (own === undefined) return null;
  // "Landing light not required" denies nothing that was said.
  if (not.length > 0 && !not.some((x) => isOf(t, own, x))) return null;
  const denied = not.map((x) => stem(x.word));
  const rows = t.inputs.candidates.flatMap((c) => {
    const { member } = c;
    if (member === null || member.check === null || member.key === own.key) return [];
    const share = (x: Token): number =>
      c.marks.find((m) => m.lag === 0 && m.token === t.words.tokens.indexOf(x))?.name ?? 0;
    // Every word that says what it is belongs to the name, or says at which of its places.
    const rest = is.filter((x) => share(x) < NAMED);
    const at = rest.length === 0 ? [] : placesSaid(member, rest);
    if (at === null || rest.length === is.length) return [];
    // "Strike that, oil cooler" goes on, where nothing of the name is what was said.
    const together = member.names.flat().filter((w) => own.names.flat().includes(w)).length;
    if (!outright && together === 0) return [];
    const twin = own.twins.includes(member.index) ? 2 : 0;
    const here = member.station.id === own.station.id ? 1 : 0;
    const against = member.names[0]?.some((w) => denied.includes(w)) === true ? 1 : 0;
    // The whole name beats one that only has its words among others.
    const names = is.filter((x) => share(x) >= NAMED).map((x) => stem(x.word));
    const whole = member.names.some(
      (n) => n.length === names.length && n.every((w) => names.includes(w)),
    );
    const score = (whole ? WHOLE : 0) + twin + here * 2 + Math.min(together, 1) - against;
    return [{ member, at, score }];
  });
  const top = Math.max(...rows.map((r) => r.score));
  const best = rows.filter((r) => r.score === top);
  const [first] = best;
  if (first === undefined) return null;
  if (best.length === 1) return [moved(t, last, first.member, first.at)];
  if (best.length > MOST) return null;
  // Several are called that: what was said is taken back, and which of them is asked (R5).
  const said = moved(t, last, first.member, first.at);
  const candidates = best.map(({ member: m }): Candidate => ({
    check: m.check?.id ?? '',
    instances: [],
    score: 0.5,
    how: 'the correction names it',
  }));
  return [
    notSo(t, said.span, last, ELSEWHERE),
    {
      v: 1,
      id: said.id,
      heard: t.heard.id,
      kind: 'two-candidates',
      span: said.span,
      why: ['the correction fits several: which of them is asked, never guessed (R5)'],
      candidates,
      said: { ...said, amends: null },
    },
  ];
}
/** Whether a word is of the name, the side or the place of a check, or what people call it. */
function isOf({ inputs, words }: Turning, member: Member, token: Token): boolean {
  const word = stem(token.word);
  const at = words.tokens.indexOf(token);
  const side = sideOf(token.word);
  return (
    member.names.flat().includes(word) ||
    member.instanceWords.some((own) => own.includes(side ?? word)) ||
    (side !== null && (member.sides.has(side) || member.stationSides.has(side))) ||
    inputs.candidates.some(
      (c) =>
        c.member?.key === member.key &&
        c.marks.some((m) => m.lag === 0 && m.token === at && m.name > 0),
    )
  );
}
/** Share of a name from which a word belongs to it. */
const NAMED = 0.3;
/** More than here, together and against. */
const WHOLE = 4;
/** More than these cannot be told in one breath. */
const MOST = 3;

/** What was said, said of another check, at the places that were named. */
export function moved(
  t: Turning,
  last: Observation,
  member: Member,
  named: readonly string[] = [],
): Observation {
  const { check } = member;
  if (check === null || last.about.kind !== 'check') return last;
  const all = [...instancesOf(check)];
  const { instances } = last.about.which;
  const kept = named.length > 0 ? [...named] : instances.filter((i) => all.includes(i));
  const which =
    all.length === 1
      ? { how: 'all' as const, instances: all }
      : kept.length > 0
        ? named.length > 0
          ? {
              how: kept.length === all.length ? ('all' as const) : ('named' as const),
              instances: kept,
            }
          : { ...last.about.which, instances: kept }
        : { how: 'one' as const, instances: [] };
  const conditions = last.conditions.map((c): ConditionSaid => ({
    ...c,
    ...conditionAt(c.condition, c.present, check, t.roster.catalogue),
    degree: c.degree,
    extent: c.extent,
    place: c.place,
  }));
  const { general } = aspectsOf(check);
  const verdict =
    last.verdict === null
      ? null
      : {
          ...last.verdict,
          aspects: last.verdict.aspects.length > 0 && general !== null ? [general] : [],
        };
  return amending(
    t,
    last,
    {
      about: { kind: 'check', check: check.id, which, span: whole(t.words) },
      candidates: [{ check: check.id, instances: [], score: 1, how: 'the correction names it' }],
      conditions,
      verdict,
      values: [],
    },
    'corrected: it was said of another one',
  );
}
