import { Act, instancesOf, type Catalogue, type Check, type Measure } from '#shared/catalogue';
import { Circumstance } from '#shared/circumstance';
import { Severity } from '#shared/severity';
import {
  CommandName,
  type About,
  type Observation,
  type Statement,
  type ValueSaid,
} from '#shared/statement';
import {
  checksById,
  hasNamedPlaces,
  type Amount,
  type Claim,
  type ConditionLabels,
  type Label,
  type Order,
} from '../../corpus/format.ts';
import { convert } from '../grammar/ucum.ts';
import { keyOf } from '../grammar/score.ts';

/**
 * Labels as statements: the other way round than tests/bench/grammar/claims.ts,
 * so that the reconciler can fold a truth (or a peer's labels) as it folds a
 * reading. What labels do not hold (spans, places in words) is left empty.
 */
export interface Stater {
  /** Statements of the next utterance; `answers`: it answers a question about the last statement. */
  next(line: number, say: string, labels: readonly Label[], answers: boolean): Statement[];
}

/** One for each conversation: corrections and answers go back to what was said before. */
export function stater(catalogue: Catalogue, conditions: ConditionLabels): Stater {
  const checks = checksById(catalogue);
  /** Latest statement about each check or station; "" for what has no place. */
  const latest = new Map<string, string>();
  let last: string | null = null;
  return {
    next(line, say, labels, answers) {
      // What is corrected or taken back was said in an earlier utterance: a correction
      // inside one breath is labelled as it ends.
      const before = last;
      const earlier = new Map(latest);
      return labels.flatMap((label, i): Statement[] => {
        const common = {
          v: 1 as const,
          id: `${line}/${i}`,
          heard: String(line),
          span: { from: 0, to: 0, words: say },
          why: [],
        };
        if (label.kind === 'unclear') {
          return [{ ...common, kind: 'not-understood', chatter: false }];
        }
        if (label.kind === 'order') return ordered(label, common, before, checks);
        const keys = keysOf(label);
        const amends =
          label.force !== 'result'
            ? null
            : answers && i === 0
              ? before
              : label.amends
                ? (keys.map((k) => earlier.get(k)).find((id) => id !== undefined) ?? before)
                : null;
        const said = observation(label, { ...common, amends }, catalogue, checks, conditions);
        if (label.force === 'result') {
          for (const key of keys) latest.set(key, common.id);
          last = common.id;
        }
        if (label.checks.length < 2) return [said];
        const candidates = label.checks.map((check) => ({
          check,
          instances: [...label.instances],
          score: 0.5,
          how: 'label',
        }));
        return [{ ...common, kind: 'two-candidates', candidates, said }];
      });
    },
  };
}

function keysOf(claim: Claim): string[] {
  return claim.checks.length > 1 ? [...claim.checks] : [keyOf(claim) ?? ''];
}

type Common = Pick<Observation, 'v' | 'id' | 'heard' | 'span' | 'why'>;

function ordered(
  { name, of }: Order,
  common: Common,
  last: string | null,
  checks: ReadonlyMap<string, Check>,
): Statement[] {
  switch (name) {
    case 'command': {
      const command = CommandName.safeParse(of);
      return command.success ? [{ ...common, kind: 'command', command: command.data }] : [];
    }
    case 'rating': {
      const severity = Severity.safeParse(of);
      return severity.success
        ? [{ ...common, kind: 'rating', severity: severity.data, of: null }]
        : [];
    }
    case 'retract':
      return last === null ? [] : [{ ...common, kind: 'retraction', of: last }];
    case 'aside': {
      const check = checks.get(of);
      return check === undefined
        ? []
        : [
            {
              ...common,
              kind: 'set-aside',
              check: of,
              instances: [...instancesOf(check)],
              reason: '',
            },
          ];
    }
    case 'circumstance': {
      const circumstance = Circumstance.safeParse(of.replace(/^not /, ''));
      const holds = !of.startsWith('not ');
      return circumstance.success
        ? [{ ...common, kind: 'circumstance', circumstance: circumstance.data, holds }]
        : [];
    }
    case 'arrive':
      return [{ ...common, kind: 'arrival', station: of }];
    default:
      return [];
  }
}

function observation(
  claim: Claim,
  common: Common & Pick<Observation, 'amends'>,
  catalogue: Catalogue,
  checks: ReadonlyMap<string, Check>,
  conditions: ConditionLabels,
): Observation {
  const check = checks.get(claim.checks[0] ?? '');
  const { span } = common;
  return {
    ...common,
    kind: 'observation',
    force: claim.force,
    about: aboutOf(claim, check),
    candidates: [],
    verdict:
      claim.good === null
        ? null
        : {
            good: claim.good,
            aspects: verdictAspects(claim, check),
            actOnly: claim.actOnly,
            span,
          },
    conditions: claim.signs.map((sign) => {
      const ids = conditions[sign.id]?.accept ?? [sign.id];
      return {
        condition: ids[0] ?? sign.id,
        sign: signAt(catalogue, check, ids),
        aspects: [...sign.aspects],
        present: sign.present,
        degree: degreeOf(sign.degree),
        extent: sign.count === null ? null : { count: sign.count, of: sign.of },
        place: null,
        span,
      };
    }),
    values: claim.amounts.map((amount) => ({
      ...valueOf(amount, check, catalogue),
      approximate: false,
      span,
    })),
    acts: claim.acts.flatMap((act) => {
      const read = Act.safeParse(act);
      return read.success ? [read.data] : [];
    }),
    severity: Severity.safeParse(claim.severity).data ?? null,
    answers: null,
    compared: null,
    squawk: false,
    doubtful: isDoubted(claim, check) ? 'to be asked about, by its label' : null,
  };
}

/**
 * Asked about by a "?" alone. A tie, a bare plural, a side that was not said and
 * a value without its unit are asked about without it.
 */
function isDoubted(claim: Claim, check: Check | undefined): boolean {
  if (!claim.asked || claim.checks.length > 1 || claim.instances.includes('plural')) return false;
  if (claim.amounts.some((a) => a.trouble)) return false;
  const bad = claim.good === false || claim.signs.some((s) => s.present);
  const sideless = claim.instances.includes('one') && check !== undefined && hasNamedPlaces(check);
  return !(bad && sideless);
}

function aboutOf(claim: Claim, check: Check | undefined): About {
  if (claim.station !== null) {
    return { kind: 'station', station: claim.station, except: [...claim.except], span: null };
  }
  if (check === undefined) return { kind: 'unplaced', part: '', span: null };
  const all = instancesOf(check);
  const named = claim.instances.filter((i) => all.includes(i));
  const how = claim.instances.includes('plural')
    ? 'plural'
    : claim.instances.includes('one')
      ? 'one'
      : all.length > 1 && named.length === all.length
        ? 'all'
        : 'named';
  return { kind: 'check', check: check.id, which: { how, instances: named }, span: null };
}

/** An aspect that no check has: `good=` speaks for none, and an empty list would mean the general one. */
const NO_ASPECT = ' ';

function verdictAspects(claim: Claim, check: Check | undefined): string[] {
  const none = claim.aspects.length === 0 && check !== undefined && check.aspects.length > 0;
  return none ? [NO_ASPECT] : [...claim.aspects];
}

function signAt(
  catalogue: Catalogue,
  check: Check | undefined,
  conditions: readonly string[],
): string | null {
  for (const sign of check?.signs ?? []) {
    const full = typeof sign === 'string' ? catalogue.signs.find((s) => s.id === sign) : sign;
    if (full?.conditions.some((c) => conditions.includes(c)) === true) return full.id;
  }
  return null;
}

function degreeOf(degree: string | null): 'slight' | 'moderate' | 'severe' | null {
  return degree === 'slight' || degree === 'moderate' || degree === 'severe' ? degree : null;
}

function valueOf(
  amount: Amount,
  check: Check | undefined,
  catalogue: Catalogue,
): Omit<ValueSaid, 'approximate' | 'span'> {
  const fits = (m: Measure) =>
    amount.step !== null
      ? m.gauge !== undefined
      : amount.low !== null && convert(amount.low, amount.unit, m.unit) !== null;
  const measure = check?.measures.find(fits);
  const said = { low: amount.low, high: amount.high, unit: amount.unit };
  if (amount.trouble || measure === undefined) {
    const trouble = !amount.trouble
      ? 'no-measure'
      : amount.unit === null
        ? 'no-unit'
        : 'wrong-unit';
    return { ...said, measure: null, inUnit: null, step: null, trouble };
  }
  if (amount.step !== null) {
    const gauge = catalogue.gauges.find((g) => g.id === measure.gauge);
    const name = gauge?.steps[Math.floor(amount.step)]?.name ?? '';
    const step = { gauge: measure.gauge ?? '', index: amount.step, name };
    return { ...said, measure: measure.id, inUnit: null, step, trouble: null };
  }
  const low = convert(amount.low ?? 0, amount.unit, measure.unit);
  const high = convert(amount.high ?? amount.low ?? 0, amount.unit, measure.unit);
  const inUnit =
    low === null || high === null || measure.unit === undefined
      ? null
      : { low, high, unit: measure.unit };
  return { ...said, measure: measure.id, inUnit, step: null, trouble: null };
}
