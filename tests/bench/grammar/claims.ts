import { instancesOf, type Catalogue, type Check } from '#shared/catalogue';
import type { About, Observation, Statement } from '#shared/statement';
import {
  checksById,
  hasNamedPlaces,
  type Amount,
  type Claim,
  type Label,
  type Sign,
} from '../../corpus/format.ts';
import { isFinding } from './spoken.ts';

/**
 * What a reader says, in the form of the corpus labels.
 *
 * Statements that a later one of the same reading amends or takes back are left
 * out: a correction in one breath is judged by what stands at the end.
 */
export function labelsOf(statements: readonly Statement[], catalogue: Catalogue): Label[] {
  const checks = checksById(catalogue);
  const gone = new Set<string>();
  for (const s of statements) {
    const of = s.kind === 'observation' ? s.amends : s.kind === 'retraction' ? s.of : null;
    if (of !== null && statements.some((other) => other.id === of && other !== s)) gone.add(of);
  }
  return (
    statements
      .filter((s) => !gone.has(s.id))
      // One "take that back" takes back every statement of an utterance.
      .filter(
        (s, i, all) => s.kind !== 'retraction' || all.findIndex((o) => o.kind === s.kind) === i,
      )
      .flatMap((s) => labelOf(s, checks))
      .filter((l) => l !== null)
      .map((l) =>
        l.kind === 'claim' && isUnsided(l, catalogue, checks) ? { ...l, asked: true } : l,
      )
  );
}

/**
 * A finding at left or right, without the word that says which: the product
 * asks (src/record/questions.ts, whichInstance) and until then counts it at
 * neither place, so here it is a question as well (R5).
 */
function isUnsided(
  claim: Claim,
  catalogue: Catalogue,
  checks: ReadonlyMap<string, Check>,
): boolean {
  const check = claim.checks.length === 1 ? checks.get(claim.checks[0] ?? '') : undefined;
  return (
    check !== undefined &&
    claim.instances.includes('one') &&
    hasNamedPlaces(check) &&
    isFinding(claim, catalogue)
  );
}

function labelOf(s: Statement, checks: ReadonlyMap<string, Check>): (Label | null)[] {
  const order = (name: string, of: string): Label => ({ kind: 'order', name, of });
  switch (s.kind) {
    case 'observation':
      return [claimOf(s, checks)];
    case 'two-candidates':
      return [
        {
          ...claimOf(s.said, checks),
          checks: [...new Set(s.candidates.map((c) => c.check))],
          instances: [...new Set(s.candidates.flatMap((c) => c.instances))],
          station: null,
          unplaced: false,
          asked: true,
        },
      ];
    case 'not-understood':
      return [s.chatter ? null : { kind: 'unclear' }];
    case 'command':
      return [order('command', s.command)];
    case 'rating':
      return [order('rating', s.severity)];
    case 'retraction':
      return [order('retract', '')];
    case 'clearance':
      return [null];
    case 'set-aside':
      return [order('aside', s.check)];
    case 'circumstance':
      return [order('circumstance', `${s.holds ? '' : 'not '}${s.circumstance}`)];
    case 'arrival':
      return [order('arrive', s.station)];
  }
}

function claimOf(s: Observation, checks: ReadonlyMap<string, Check>): Claim {
  const about = aboutOf(s.about, checks);
  const signs: Sign[] = s.conditions.map((c) => ({
    id: c.condition,
    present: c.present,
    aspects: c.aspects,
    degree: c.degree,
    count: c.extent?.count ?? null,
    of: c.extent?.of ?? null,
  }));
  const amounts: Amount[] = s.values.map((v) => ({
    low: v.step === null ? v.low : null,
    high: v.step === null ? v.high : null,
    unit: v.step === null ? v.unit : null,
    step: v.step?.index ?? null,
    trouble: v.trouble !== null,
  }));
  return {
    kind: 'claim',
    force: s.force,
    ...about,
    good: s.verdict?.good ?? null,
    actOnly: s.verdict?.actOnly ?? false,
    aspects: s.verdict?.aspects ?? [],
    signs,
    amounts,
    acts: s.acts,
    severity: s.severity,
    amends: s.amends !== null,
    asked:
      s.doubtful !== null ||
      about.instances.includes('plural') ||
      // A value that belongs to no measure is a number said in passing: nobody is asked.
      s.values.some((v) => v.trouble !== null && v.trouble !== 'no-measure'),
  };
}

function aboutOf(
  about: About,
  checks: ReadonlyMap<string, Check>,
): Pick<Claim, 'checks' | 'station' | 'except' | 'unplaced' | 'instances'> {
  const none = { checks: [], station: null, except: [], unplaced: false, instances: [] };
  if (about.kind === 'unplaced') return { ...none, unplaced: true };
  if (about.kind === 'station') return { ...none, station: about.station, except: about.except };
  const check = checks.get(about.check);
  const all = check === undefined ? [] : [...instancesOf(check)];
  const { how, instances } = about.which;
  let own: string[] = instances;
  if (all.length === 1 || how === 'all') own = all;
  else if (how === 'plural') own = check?.repeat?.plural === true ? all : ['plural'];
  else if (how === 'one') own = ['one'];
  return { ...none, checks: [about.check], instances: own };
}
