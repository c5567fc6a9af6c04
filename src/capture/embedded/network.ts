import { parseJsgf, type Expression, type Rules } from './jsgf.ts';

/**
 * A word network: what may be said after what. States are numbers from 0, the
 * start. Deterministic and minimal, because the recogniser's own compiler copies
 * each use of a rule and closes over its empty arcs, which takes minutes with a
 * real catalogue (measured: more than ten), and each copy costs time at every
 * frame of sound.
 */
export interface Network {
  readonly arcs: readonly ReadonlyMap<string, number>[];
  readonly ends: ReadonlySet<number>;
}

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
  const raw: Raw = { words: [], empty: [] };
  const start = state(raw);
  const end = state(raw);
  for (const root of rules.roots) build(raw, rules, { kind: 'rule', name: root }, start, end, []);
  return minimal(deterministic(raw, start, end));
}

function state(raw: Raw): number {
  raw.words.push(new Map());
  raw.empty.push([]);
  return raw.words.length - 1;
}

function build(
  raw: Raw,
  rules: Rules,
  e: Expression,
  from: number,
  to: number,
  inside: readonly string[],
): void {
  if (raw.words.length > MOST_STATES * 40)
    throw new Error('The grammar for the recogniser is too large.');
  switch (e.kind) {
    case 'word': {
      const there = raw.words[from];
      if (there === undefined) return;
      const next = there.get(e.word);
      if (next === undefined) there.set(e.word, [to]);
      else next.push(to);
      return;
    }
    case 'rule': {
      const rule = rules.rules.get(e.name);
      if (rule === undefined) throw new Error(`The grammar uses <${e.name}>, which it never says.`);
      if (inside.includes(e.name))
        throw new Error(`Rule <${e.name}> contains itself: use * or + instead.`);
      // Own ends for each use: a loop at the end of one must not leak into the other.
      const a = state(raw);
      const b = state(raw);
      raw.empty[from]?.push(a);
      raw.empty[b]?.push(to);
      build(raw, rules, rule, a, b, [...inside, e.name]);
      return;
    }
    case 'choice':
      for (const part of e.parts) build(raw, rules, part, from, to, inside);
      return;
    case 'sequence': {
      let at = from;
      e.parts.forEach((part, i) => {
        const next = i === e.parts.length - 1 ? to : state(raw);
        build(raw, rules, part, at, next, inside);
        at = next;
      });
      if (e.parts.length === 0) raw.empty[from]?.push(to);
      return;
    }
    case 'option':
      build(raw, rules, e.part, from, to, inside);
      raw.empty[from]?.push(to);
      return;
    case 'star':
    case 'plus': {
      const a = state(raw);
      const b = state(raw);
      raw.empty[from]?.push(a);
      raw.empty[b]?.push(a, to);
      if (e.kind === 'star') raw.empty[a]?.push(b);
      build(raw, rules, e.part, a, b, inside);
    }
  }
}

/** Subset construction over the closures of the empty arcs. */
function deterministic(raw: Raw, start: number, end: number): Network {
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
    const kept = [...seen].filter((s) => s === end || (raw.words[s]?.size ?? 0) > 0);
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
  const ends = new Set<number>();
  function number(set: number[]): number {
    const key = set.join(' ');
    const known = numbers.get(key);
    if (known !== undefined) return known;
    if (sets.length >= MOST_STATES) throw new Error('The grammar for the recogniser is too large.');
    const made = sets.length;
    numbers.set(key, made);
    sets.push(set);
    arcs.push(new Map());
    if (set.includes(end)) ends.add(made);
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
  return { arcs, ends };
}

/** Merges states from which the same can be said (Moore's partition refinement). */
function minimal(network: Network): Network {
  const count = network.arcs.length;
  let block = Array.from({ length: count }, (_, s) => (network.ends.has(s) ? 1 : 0));
  for (let blocks = 0; ; ) {
    const numbers = new Map<string, number>();
    const next = network.arcs.map((arcs, s) => {
      const key = `${String(block[s])}|${[...arcs]
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
  const ends = new Set<number>();
  network.arcs.forEach((out, s) => {
    const b = block[s] ?? 0;
    if (network.ends.has(s)) ends.add(b);
    for (const [word, to] of out) arcs[b]?.set(word, block[to] ?? 0);
  });
  return { arcs, ends };
}

/** Every word of a network, in order of first use. */
export function wordsOf(network: Network): string[] {
  const words = new Set<string>();
  for (const arcs of network.arcs) for (const word of arcs.keys()) words.add(word);
  return [...words];
}
