import type { Path, Plan } from '#shared/listening';
import { expressionOf, parseJsgf, type Expression, type Rules } from './jsgf.ts';

/**
 * A word network: what may be said after what. States are numbers from 0, the
 * start. Compiled here because the recogniser's own compiler copies each use of a
 * rule and closes over its empty arcs, which takes minutes with a real catalogue
 * (measured: more than ten), and each copy costs time at every frame of sound.
 */
export interface Network {
  readonly arcs: readonly ReadonlyMap<string, number>[];
  /** Likelihood of each arc among those of its state; where it is missing, all alike. */
  readonly likely: readonly ReadonlyMap<string, number>[];
  /** Empty arcs with their likelihood; one leads only to a state that has none itself. `END` ends the utterance. */
  readonly joins: readonly ReadonlyMap<number, number>[];
  /** State at which anything else may be said: the phone loop, if it is used, turns here. */
  readonly loop: number | null;
  /** States at which names begin. */
  readonly nameStarts: readonly number[];
  /** Hub of the plan that each state belongs to; empty for the first states, and where there is no plan. */
  readonly hubs: readonly string[];
}

/** In `joins`: the utterance may end here. */
export const END = -1;

/** More states than this cannot be decoded in time on a phone: the grammar has to be simpler. */
const MOST_STATES = 60_000;

interface Raw {
  readonly words: Map<string, number[]>[];
  readonly empty: number[][];
}

/**
 * Compiles the public rules of a grammar into one network.
 *
 * @throws Error in one sentence: a rule that is missing, that contains itself,
 * or a grammar that grows too large.
 */
export function networkOf(jsgf: string): Network {
  const rules = parseJsgf(jsgf);
  if (rules.roots.length === 0) throw new Error('The grammar has no public rule.');
  const part = compile(
    rules,
    rules.roots.map((name) => ({ say: { kind: 'rule', name }, then: 'end' })),
  );
  const joins = part.labels.map(
    (labels, s) => new Map(labels.size > 0 ? [[END, 1 / (1 + (part.arcs[s]?.size ?? 0))]] : []),
  );
  return {
    arcs: part.arcs,
    likely: part.arcs.map(() => new Map()),
    joins,
    loop: null,
    nameStarts: [0],
    hubs: part.arcs.map(() => ''),
  };
}

/** Compiles a plan. @throws Error as `networkOf`. */
export function networkOfPlan(plan: Plan): Network {
  const arcs: Map<string, number>[] = [new Map(), new Map()];
  const loop = 1;
  const labels: ReadonlySet<string>[] = [new Set([plan.start]), new Set([plan.start])];
  const likely: ReadonlyMap<string, number>[] = [new Map(), new Map()];
  const hubs = ['', ''];
  const starts = new Map<string, number>();
  const rules = parseJsgf(plan.rules);
  const reached = reachable(plan);
  for (const [hub, paths] of Object.entries(plan.hubs)) {
    if (!reached.has(hub)) continue;
    const part = compile(
      rules,
      paths.map(({ say, then }) => ({ say: expressionOf(say), then })),
    );
    const offset = arcs.length;
    starts.set(hub, offset);
    likely.push(...likelihoods(part, rules, paths));
    part.arcs.forEach((out, s) => {
      arcs.push(new Map([...out].map(([word, to]) => [word, to + offset])));
      labels.push(part.labels[s] ?? new Set());
      hubs.push(hub);
    });
  }
  const joins = labels.map((of, s) => {
    const out = new Map<number, number>();
    for (const group of of)
      for (const [hub, p] of Object.entries(plan.groups[group] ?? {})) {
        const to = hub === 'end' ? END : hub === 'loop' ? loop : starts.get(hub);
        if (to === undefined) throw new Error(`The plan has no hub "${hub}".`);
        if (to !== s) out.set(to, Math.max(p, out.get(to) ?? 0));
      }
    return out;
  });
  const names = starts.get('name');
  return { arcs, likely, joins, loop, nameStarts: names === undefined ? [] : [names], hubs };
}

/** Hubs that can follow, however indirectly, from the start. */
function reachable(plan: Plan): Set<string> {
  const seen = new Set<string>();
  const todo = [plan.start];
  for (let group = todo.pop(); group !== undefined; group = todo.pop())
    for (const hub of Object.keys(plan.groups[group] ?? {}))
      if (!seen.has(hub)) {
        seen.add(hub);
        todo.push(...(plan.hubs[hub] ?? []).map((path) => path.then));
      }
  return seen;
}

/** Each plain phrase adds its weight to the arcs that it passes; shares of that at each state. */
function likelihoods(part: Part, rules: Rules, paths: readonly Path[]): Map<string, number>[] {
  const mass = part.arcs.map(() => new Map<string, number>());
  for (const path of paths) {
    const phrases = plainPhrases(expressionOf(path.say), rules);
    for (const words of phrases) {
      let at: number | undefined = 0;
      for (const word of words) {
        if (at === undefined) break;
        const of = mass[at];
        of?.set(word, (of.get(word) ?? 0) + (path.weight ?? 1) / phrases.length);
        at = part.arcs[at]?.get(word);
      }
    }
  }
  return mass.map((of, s) => {
    const arcs = part.arcs[s] ?? new Map();
    if (of.size < arcs.size) return new Map();
    const sum = [...of.values()].reduce((a, b) => a + b, 0);
    return new Map([...of].map(([word, m]) => [word, m / sum]));
  });
}

/** The phrases of an expression that is a word, a row of words, or a choice of such; none for any other. */
function plainPhrases(e: Expression, rules: Rules): string[][] {
  if (e.kind === 'word') return [[e.word]];
  if (e.kind === 'choice') return e.parts.flatMap((part) => plainPhrases(part, rules));
  if (e.kind === 'rule') {
    const rule = rules.rules.get(e.name);
    return rule === undefined ? [] : plainPhrases(rule, rules);
  }
  if (e.kind === 'sequence' && e.parts.every((part) => part.kind === 'word'))
    return [e.parts.flatMap((part) => (part.kind === 'word' ? [part.word] : []))];
  return [];
}

interface Part {
  readonly arcs: readonly ReadonlyMap<string, number>[];
  readonly labels: readonly ReadonlySet<string>[];
}

function compile(rules: Rules, paths: readonly { say: Expression; then: string }[]): Part {
  const raw: Raw = { words: [], empty: [] };
  const ends = new Map<number, string>();
  const endOf = new Map<string, number>();
  const start = state(raw);
  const entry = builder(raw, rules);
  for (const { say, then } of paths) {
    let end = endOf.get(then);
    if (end === undefined) {
      end = state(raw);
      endOf.set(then, end);
      ends.set(end, then);
    }
    raw.empty[start]?.push(entry(say, end));
  }
  return minimal(deterministic(raw, start, ends));
}

function state(raw: Raw): number {
  if (raw.words.length > MOST_STATES * 40)
    throw new Error('The grammar for the recogniser is too large.');
  raw.words.push(new Map());
  raw.empty.push([]);
  return raw.words.length - 1;
}

/**
 * Builds from the right: what may be said before a given state is made once for
 * each pair of expression and state, so that all sentences share their tails.
 */
function builder(raw: Raw, rules: Rules): (e: Expression, to: number) => number {
  const made = new Map<string, number>();
  const numbers = new Map<Expression, number>();
  const open: string[] = [];

  function key(e: Expression, to: number): string {
    if (e.kind === 'word') return `w ${e.word} ${String(to)}`;
    if (e.kind === 'rule') return `r ${e.name} ${String(to)}`;
    let number = numbers.get(e);
    if (number === undefined) numbers.set(e, (number = numbers.size));
    return `${String(number)} ${String(to)}`;
  }

  function entry(e: Expression, to: number): number {
    const k = key(e, to);
    const known = made.get(k);
    if (known !== undefined) return known;
    const from = build(e, to);
    made.set(k, from);
    return from;
  }

  function build(e: Expression, to: number): number {
    switch (e.kind) {
      case 'word': {
        const from = state(raw);
        raw.words[from]?.set(e.word, [to]);
        return from;
      }
      case 'rule': {
        const rule = rules.rules.get(e.name);
        if (rule === undefined)
          throw new Error(`The grammar uses <${e.name}>, which it never says.`);
        if (open.includes(e.name))
          throw new Error(`Rule <${e.name}> contains itself: use * or + instead.`);
        open.push(e.name);
        const from = entry(rule, to);
        open.pop();
        return from;
      }
      case 'sequence':
        return e.parts.reduceRight((next, part) => entry(part, next), to);
      case 'choice': {
        const from = state(raw);
        raw.empty[from]?.push(...e.parts.map((part) => entry(part, to)));
        return from;
      }
      case 'option': {
        const from = state(raw);
        raw.empty[from]?.push(to, entry(e.part, to));
        return from;
      }
      case 'star':
      case 'plus': {
        const again = state(raw);
        const from = entry(e.part, again);
        raw.empty[again]?.push(to, from);
        return e.kind === 'star' ? again : from;
      }
    }
  }
  return entry;
}

/** Subset construction over the closures of the empty arcs. */
function deterministic(raw: Raw, start: number, finals: ReadonlyMap<number, string>): Part {
  const closures = new Map<number, number[]>();
  const mark = new Int32Array(raw.words.length).fill(-1);
  let round = 0;
  /** Only states with arcs, and the end, tell two sets apart. */
  function closure(of: number): number[] {
    const known = closures.get(of);
    if (known !== undefined) return known;
    const seen = new Set([of]);
    const todo = [of];
    for (let s = todo.pop(); s !== undefined; s = todo.pop())
      for (const next of raw.empty[s] ?? [])
        if (!seen.has(next)) {
          seen.add(next);
          todo.push(next);
        }
    const kept = [...seen].filter((s) => finals.has(s) || (raw.words[s]?.size ?? 0) > 0);
    closures.set(of, kept);
    return kept;
  }
  function union(states: readonly number[]): number[] {
    round++;
    const all: number[] = [];
    for (const s of states)
      for (const member of closure(s))
        if (mark[member] !== round) {
          mark[member] = round;
          all.push(member);
        }
    return all.sort((a, b) => a - b);
  }
  const numbers = new Map<string, number>();
  const sets: number[][] = [];
  const arcs: Map<string, number>[] = [];
  const labels: Set<string>[] = [];
  function number(set: number[]): number {
    const key = set.join(' ');
    const known = numbers.get(key);
    if (known !== undefined) return known;
    if (sets.length >= MOST_STATES) throw new Error('The grammar for the recogniser is too large.');
    const made = sets.length;
    numbers.set(key, made);
    sets.push(set);
    arcs.push(new Map());
    labels.push(new Set(set.flatMap((s) => finals.get(s) ?? [])));
    return made;
  }
  number(union([start]));
  for (let i = 0; i < sets.length; i++) {
    const targets = new Map<string, number[]>();
    for (const s of sets[i] ?? [])
      for (const [word, next] of raw.words[s] ?? []) {
        const there = targets.get(word);
        if (there === undefined) targets.set(word, [...next]);
        else there.push(...next);
      }
    for (const [word, next] of targets) arcs[i]?.set(word, number(union(next)));
  }
  return { arcs, labels };
}

/** Merges states from which the same can be said (Moore's partition refinement). */
function minimal(network: Part): Part {
  const count = network.arcs.length;
  let block = Array.from({ length: count }, () => 0);
  const label = network.labels.map((of) => [...of].sort().join(' '));
  for (let blocks = 0; ;) {
    const numbers = new Map<string, number>();
    const next = network.arcs.map((arcs, s) => {
      const key = `${String(block[s])}|${label[s] ?? ''}|${[...arcs]
        .map(([word, to]) => `${word}>${String(block[to])}`)
        .sort()
        .join(',')}`;
      let number = numbers.get(key);
      if (number === undefined) numbers.set(key, (number = numbers.size));
      return number;
    });
    block = next;
    if (numbers.size === blocks) break;
    blocks = numbers.size;
  }
  // The start keeps number 0: it was the first to be numbered.
  const size = new Set(block).size;
  const arcs = Array.from({ length: size }, () => new Map<string, number>());
  const labels: ReadonlySet<string>[] = Array.from({ length: size }, () => new Set());
  network.arcs.forEach((out, s) => {
    const b = block[s] ?? 0;
    labels[b] = network.labels[s] ?? new Set();
    for (const [word, to] of out) arcs[b]?.set(word, block[to] ?? 0);
  });
  return { arcs, labels };
}

/** Every word of a network, in order of first use. */
export function wordsOf(network: Network): string[] {
  const words = new Set<string>();
  for (const arcs of network.arcs) for (const word of arcs.keys()) words.add(word);
  return [...words];
}
