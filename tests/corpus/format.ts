import { ucum } from '@atomic-ehr/ucum';
import { parse } from 'yaml';
import { z } from 'zod';
import { instancesOf, ONCE, type Catalogue, type Check } from '#shared/catalogue';
import { Force } from '#shared/statement';

/**
 * The corpus format, read. tests/corpus/README.md explains it to an author.
 * A label is turned into `Claim`s; what a reader says is turned into the same
 * by tests/bench/grammar/claims.ts, so that both are judged by one rule.
 */

/** One condition. `id` is a label of conditions.yaml in a truth, a lexicon id in a reading. */
export interface Sign {
  readonly id: string;
  readonly present: boolean;
  /** Aspects it speaks for (R3). */
  readonly aspects: readonly string[];
  readonly degree: string | null;
  readonly count: number | null;
  readonly of: number | null;
}

/** One value: ends as said, UCUM unit as said, or a gauge step; trouble means it must be asked about. */
export interface Amount {
  readonly low: number | null;
  readonly high: number | null;
  readonly unit: string | null;
  readonly step: number | null;
  readonly trouble: boolean;
}

/** What one statement claims about one thing. */
export interface Claim {
  readonly kind: 'claim';
  readonly force: Force;
  /** A check; two or more when it could not be told apart; none for a station or an unplaced part. */
  readonly checks: readonly string[];
  readonly station: string | null;
  readonly except: readonly string[];
  readonly unplaced: boolean;
  /** Instances; 'plural' and 'one' stand for themselves. */
  readonly instances: readonly string[];
  readonly good: boolean | null;
  readonly actOnly: boolean;
  /** Aspects that the verdict speaks for. */
  readonly aspects: readonly string[];
  readonly signs: readonly Sign[];
  readonly amounts: readonly Amount[];
  readonly acts: readonly string[];
  readonly severity: string | null;
  readonly amends: boolean;
  /** Has to be asked about, or is. */
  readonly asked: boolean;
}

/** What is not about a check: "command hold", "rating ground", "retract", "aside CHECK", … */
export interface Order {
  readonly kind: 'order';
  readonly name: string;
  readonly of: string;
}

/** Sounds like a result and cannot be told: to be asked about. */
export interface Unclear {
  readonly kind: 'unclear';
}

export type Label = Claim | Order | Unclear;

const Asked = z.strictObject({
  kind: z.enum(['which-check', 'which-instance', 'unit', 'value', 'severity', 'polarity', 'place']),
  options: z.array(z.string()).default([]),
});

const Line = z.strictObject({
  id: z.string().min(1),
  say: z.string(),
  /** Labels, separated by semicolons; empty: nothing in it may count. */
  is: z.string().default(''),
  at: z.string().optional(),
  after: z.array(z.string()).default([]),
  asked: Asked.optional(),
  heard: z.array(z.string()).default([]),
  why: z.string().optional(),
});

const File = z.strictObject({
  v: z.literal(1),
  part: z.enum(['work', 'report']),
  catalogue: z.string(),
  voices: z.record(z.string(), z.array(Line)),
});

export interface Utterance extends z.infer<typeof Line> {
  readonly voice: string;
  readonly part: 'work' | 'report';
  readonly catalogue: string;
  readonly labels: readonly Label[];
}

export const ConditionLabels = z.record(
  z.string(),
  z.strictObject({ accept: z.array(z.string()), aspects: z.array(z.string()) }),
);
export type ConditionLabels = z.infer<typeof ConditionLabels>;

/** Every check of a catalogue by its id. */
export function checksById(catalogue: Catalogue): Map<string, Check> {
  return new Map(catalogue.stations.flatMap((s) => s.checks.map((c) => [c.id, c] as const)));
}

/** Places with names (left, rear) and not only numbers. */
export function hasNamedPlaces(check: Check): boolean {
  return instancesOf(check).some((i) => i !== ONCE && !/^\d+$/.test(i));
}

/** A fault in a corpus file: which utterance, and what to do. */
export class CorpusError extends Error {}

/** Aspects that a general verdict speaks for: "condition", else the only one. */
export function generalAspects(check: Check): string[] {
  if (check.aspects.some((a) => a.id === 'condition')) return ['condition'];
  const only = check.aspects[0];
  return check.aspects.length === 1 && only !== undefined ? [only.id] : [];
}

/** Reads a corpus file against its catalogue. Throws CorpusError with one sentence. */
export function parseCorpus(
  text: string,
  file: string,
  catalogue: Catalogue,
  conditions: ConditionLabels,
): Utterance[] {
  const read = corpusFile(text, file);
  const checks = checksById(catalogue);
  const seen = new Set<string>();
  return Object.entries(read.voices).flatMap(([voice, lines]) =>
    lines.map((line) => {
      if (seen.has(line.id)) throw new CorpusError(`${file}: the id "${line.id}" is used twice.`);
      seen.add(line.id);
      try {
        const labels = line.is
          .split(';')
          .map((part) => part.trim())
          .filter((part) => part !== '')
          .map((part) => parseLabel(part, catalogue, checks, conditions));
        return { ...line, voice, part: read.part, catalogue: read.catalogue, labels };
      } catch (error) {
        const said = error instanceof Error ? error.message : String(error);
        throw new CorpusError(`${file}: utterance "${line.id}": ${said}`);
      }
    }),
  );
}

/** The frame of a corpus file: which catalogue it needs, before that is read. */
export function corpusFile(text: string, file: string): z.infer<typeof File> {
  let data: unknown;
  try {
    data = parse(text, { maxAliasCount: 0 });
  } catch (error) {
    const why = error instanceof Error ? error.message.split('\n')[0] : '';
    throw new CorpusError(`${file} is not YAML: ${why ?? ''}`);
  }
  if (data === null || typeof data !== 'object')
    throw new CorpusError(`${file} holds no utterances. tests/corpus/README.md shows the format.`);
  const read = File.safeParse(data);
  if (read.success) return read.data;
  const issue = read.error.issues[0];
  const at = issue?.path.map(String).join('.') ?? '';
  throw new CorpusError(
    `${file}: ${at === '' ? '' : `at "${at}": `}${issue?.message ?? 'not readable'}. tests/corpus/README.md shows the format.`,
  );
}

const ORDERS = ['command', 'rating', 'retract', 'aside', 'circumstance', 'arrive'];
const FORCES: readonly string[] = Force.options;

/** Reads one label, such as "past left-tyre +flat" or "drive-belt(front) good step=1". */
export function parseLabel(
  text: string,
  catalogue: Catalogue,
  checks: ReadonlyMap<string, Check>,
  conditions: ConditionLabels,
): Label {
  // Places may hold spaces: engine-mount(left upper).
  const words = text.split(/\s+(?![^(]*\))/);
  const first = words[0] ?? '';
  if (first === 'unclear') return { kind: 'unclear' };
  if (ORDERS.includes(first)) return { kind: 'order', name: first, of: words.slice(1).join(' ') };
  let force: Force = 'result';
  if (FORCES.includes(first)) {
    force = Force.parse(first);
    words.shift();
  }
  const target = words.shift() ?? '';
  const about = targetOf(target, catalogue, checks);
  const check = checks.get(about.checks[0] ?? '');
  const draft = {
    good: null as boolean | null,
    actOnly: false,
    aspects: [] as string[],
    signs: [] as Sign[],
    amounts: [] as Amount[],
    acts: [] as string[],
    severity: null as string | null,
    amends: false,
    asked: about.checks.length > 1,
  };
  for (const word of words) fact(word, draft, check, conditions);
  if (about.instances.includes('plural')) draft.asked = true;
  // R5: a fault at left or right, nobody said which, is asked about before it counts.
  const bad = draft.good === false || draft.signs.some((s) => s.present);
  if (bad && about.instances.includes('one') && check !== undefined && hasNamedPlaces(check)) {
    draft.asked = true;
  }
  if (draft.amounts.some((a) => a.trouble)) draft.asked = true;
  return { kind: 'claim', force, ...about, ...draft };
}

function targetOf(
  target: string,
  catalogue: Catalogue,
  checks: ReadonlyMap<string, Check>,
): Pick<Claim, 'checks' | 'station' | 'except' | 'unplaced' | 'instances'> {
  const none = { checks: [], station: null, except: [], unplaced: false, instances: [] };
  if (target === 'unplaced') return { ...none, unplaced: true };
  const station = /^station:([a-z0-9-]+)(?:\((.*)\))?$/.exec(target);
  if (station !== null) {
    const id = station[1] ?? '';
    if (!catalogue.stations.some((s) => s.id === id)) throw new Error(`no station "${id}".`);
    return { ...none, station: id, except: station[2]?.split(',') ?? [] };
  }
  const parts = target.split('|').map((part) => {
    const match = /^([a-z0-9-]+)(?:\(([^)]*)\))?$/.exec(part);
    const id = match?.[1] ?? part;
    const check = checks.get(id);
    if (check === undefined) throw new Error(`no check "${id}".`);
    return { id, instances: instancesIn(check, match?.[2]) };
  });
  return {
    ...none,
    checks: parts.map((p) => p.id),
    instances: [...new Set(parts.flatMap((p) => p.instances))],
  };
}

function instancesIn(check: Check, said: string | undefined): string[] {
  const all = instancesOf(check);
  if (all.length === 1) return [...all];
  if (said === undefined) throw new Error(`"${check.id}" repeats: say which, such as (all).`);
  if (said === 'all') return [...all];
  if (said === 'plural' && check.repeat?.plural === true) return [...all];
  return said.split(',').map((one) => {
    if (one === 'plural' || one === 'one' || all.includes(one)) return one;
    throw new Error(`"${check.id}" has no "${one}"; it has ${all.join(', ')}.`);
  });
}

interface Draft {
  good: boolean | null;
  actOnly: boolean;
  aspects: string[];
  signs: Sign[];
  amounts: Amount[];
  acts: string[];
  severity: string | null;
  amends: boolean;
  asked: boolean;
}

function fact(
  word: string,
  draft: Draft,
  check: Check | undefined,
  conditions: ConditionLabels,
): void {
  const own = (ids: readonly string[]): string[] => {
    for (const id of ids) {
      if (check !== undefined && !check.aspects.some((a) => a.id === id)) {
        throw new Error(`"${check.id}" has no aspect "${id}".`);
      }
    }
    return [...ids];
  };
  const [name = '', rest] = word.split(/=(.*)/s);
  if (name === 'good' || name === 'bad' || name === 'done') {
    draft.good = name !== 'bad';
    draft.actOnly = name === 'done';
    const said = rest?.split('/').filter((a) => a !== '');
    const spoken = said ? own(said) : check === undefined ? [] : generalAspects(check);
    draft.aspects = [...new Set([...draft.aspects, ...spoken])];
  } else if (/^[+-][a-z]/.test(word)) {
    draft.signs.push(signOf(word, check, conditions, own));
  } else if (word.startsWith('=')) {
    draft.amounts.push(amountOf(word.slice(1)));
  } else if (name === 'step') {
    draft.amounts.push({ low: null, high: null, unit: null, step: Number(rest), trouble: false });
  } else if (name === 'by') draft.acts = rest?.split('/') ?? [];
  else if (word.startsWith('@')) draft.severity = word.slice(1);
  else if (word === 'amends') draft.amends = true;
  else if (word === '?') draft.asked = true;
  else throw new Error(`"${word}" is not a fact; see tests/corpus/README.md.`);
}

function signOf(
  word: string,
  check: Check | undefined,
  conditions: ConditionLabels,
  own: (ids: readonly string[]) => string[],
): Sign {
  const match = /^([+-])([a-z-]+)(?:\{([^}]*)\})?(?:=([a-z0-9/-]*))?$/.exec(word);
  const id = match?.[2] ?? '';
  const label = conditions[id];
  if (match === null || label === undefined) {
    throw new Error(`"${word}" names no condition of conditions.yaml.`);
  }
  const aspect = label.aspects.find((a) => check?.aspects.some((own) => own.id === a));
  const details = match[3]?.split(',') ?? [];
  const extent = details.map((d) => /^(\d+)(?:of(\d+))?$/.exec(d)).find((m) => m !== null);
  return {
    id,
    present: match[1] === '+',
    aspects:
      match[4] !== undefined
        ? own(match[4].split('/').filter((a) => a !== ''))
        : aspect === undefined
          ? []
          : [aspect],
    degree: details.find((d) => ['slight', 'moderate', 'severe'].includes(d)) ?? null,
    count: extent?.[1] === undefined ? null : Number(extent[1]),
    of: extent?.[2] === undefined ? null : Number(extent[2]),
  };
}

function amountOf(text: string): Amount {
  const match = /^([\d.]+)(?:~([\d.]+))?(.*)$/.exec(text);
  if (match === null) throw new Error(`"=${text}" is not a value such as =6.5[qt_us].`);
  const trouble = match[3]?.endsWith('!') ?? false;
  const unit = match[3]?.replace('!', '') ?? '';
  return {
    low: Number(match[1]),
    high: Number(match[2] ?? match[1]),
    unit: unit === '' ? null : ucumOf(unit, text),
    step: null,
    trouble: trouble || unit === '',
  };
}

/**
 * The UCUM code of a unit as a label writes it. Writers put every unit between brackets
 * ("=18[L]"), where in UCUM the brackets belong to some codes only ("[qt_us]", "[psi]").
 */
function ucumOf(unit: string, text: string): string {
  const known = [unit, unit.replace(/^\[(.*)\]$/, '$1')].find((u) => {
    try {
      return ucum.isConvertible(u, u);
    } catch {
      return false;
    }
  });
  if (known === undefined) throw new Error(`"=${text}" has no unit of UCUM, such as [qt_us] or L.`);
  return known;
}
