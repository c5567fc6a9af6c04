/**
 * A small reader of the JSpeech Grammar Format, written from the W3C note of
 * 5 June 2000 and independent of what writes our grammars: header, imports,
 * rules, alternatives with weights, groups, optional groups, * and +, tags,
 * quoted tokens, comments.
 */
export type Node =
  | { kind: 'token'; word: string }
  | { kind: 'rule'; name: string }
  | { kind: 'sequence'; of: Node[] }
  | { kind: 'choice'; of: { weight: number | null; node: Node }[] }
  | { kind: 'repeat'; node: Node; least: 0 | 1 }
  | { kind: 'optional'; node: Node };

export interface Grammar {
  readonly version: string;
  readonly charset: string | null;
  readonly locale: string | null;
  readonly name: string;
  readonly imports: readonly string[];
  readonly rules: ReadonlyMap<string, { readonly shown: boolean; readonly node: Node }>;
}

const NAME =
  /^[\p{L}\p{N}_$+\-:;,=|/\\()[\]@#%!^&~]+(\.[\p{L}\p{N}_$*+\-:;,=|/\\()[\]@#%!^&~]+)*$/u;

/** Reads a grammar. Throws with the place where the note is broken. */
export function parseJsgf(text: string): Grammar {
  const head = /^#JSGF V([\d.]+)(?:[ \t]+([^\s;]+))?(?:[ \t]+([^\s;]+))?;/.exec(text);
  if (head === null)
    throw new Error('no self-identifying header "#JSGF V1.0;" at the very beginning');
  const body = text
    .slice(head[0].length)
    .replace(/\/\*[\s\S]*?\*\//g, ' ')
    .replace(/(^|\s)\/\/[^\n]*/g, ' ');
  const symbols = body.match(
    /"(?:\\.|[^"\\])*"|<[^<>]*>|\{(?:\\.|[^}\\])*\}|\/[\d.]+\/|[;=|*+()[\]]|[^\s;=|*+<>()[\]{}/"]+/g,
  );
  const leftover = body.replace(
    /"(?:\\.|[^"\\])*"|<[^<>]*>|\{(?:\\.|[^}\\])*\}|\/[\d.]+\/|[;=|*+()[\]]|[^\s;=|*+<>()[\]{}/"]+/g,
    '',
  );
  if (leftover.trim() !== '') throw new Error(`not a token: ${leftover.trim().slice(0, 20)}`);
  const reader = new Reader(symbols ?? []);
  reader.expect('grammar');
  const name = reader.next();
  reader.expect(';');
  const imports: string[] = [];
  while (reader.peek() === 'import') {
    reader.next();
    imports.push(ruleName(reader.next()));
    reader.expect(';');
  }
  const rules = new Map<string, { shown: boolean; node: Node }>();
  while (reader.peek() !== null) {
    const shown = reader.peek() === 'public';
    if (shown) reader.next();
    const rule = ruleName(reader.next());
    reader.expect('=');
    if (rules.has(rule)) throw new Error(`rule <${rule}> is defined twice`);
    rules.set(rule, { shown, node: reader.choice() });
    reader.expect(';');
  }
  const known = (n: string) =>
    rules.has(n) ||
    n === 'NULL' ||
    n === 'VOID' ||
    imports.some((i) => i.endsWith(`.${n}`) || i.endsWith('.*'));
  for (const [from, { node }] of rules) {
    for (const n of namesIn(node)) {
      if (!known(n)) throw new Error(`<${from}> uses <${n}>, which is not defined`);
    }
  }
  return {
    version: head[1] ?? '',
    charset: head[2] ?? null,
    locale: head[3] ?? null,
    name,
    imports,
    rules,
  };
}

function ruleName(symbol: string): string {
  const name = /^<\s*(.*?)\s*>$/.exec(symbol)?.[1];
  if (name === undefined || !NAME.test(name)) throw new Error(`not a rule name: ${symbol}`);
  return name;
}

/** Every word that a grammar can speak. */
export function wordsOf(grammar: Grammar): Set<string> {
  const words = new Set<string>();
  const walk = (node: Node): void => {
    if (node.kind === 'token') node.word.split(/\s+/).forEach((w) => words.add(w));
    else if (node.kind === 'sequence') node.of.forEach(walk);
    else if (node.kind === 'choice') node.of.forEach((o) => walk(o.node));
    else if (node.kind !== 'rule') walk(node.node);
  };
  for (const { node } of grammar.rules.values()) walk(node);
  return words;
}

function namesIn(node: Node): string[] {
  switch (node.kind) {
    case 'token':
      return [];
    case 'rule':
      return [node.name];
    case 'sequence':
      return node.of.flatMap(namesIn);
    case 'choice':
      return node.of.flatMap((o) => namesIn(o.node));
    default:
      return namesIn(node.node);
  }
}

class Reader {
  private at = 0;
  constructor(private readonly symbols: readonly string[]) {}
  peek(): string | null {
    return this.symbols[this.at] ?? null;
  }
  next(): string {
    const symbol = this.symbols[this.at];
    if (symbol === undefined) throw new Error('ends in the middle of something');
    this.at += 1;
    return symbol;
  }
  expect(symbol: string): void {
    const found = this.next();
    if (found !== symbol) throw new Error(`"${symbol}" expected, "${found}" found`);
  }
  /** Alternatives; weights on all of them or on none. */
  choice(): Node {
    const of: { weight: number | null; node: Node }[] = [];
    do {
      if (this.peek() === '|') this.next();
      const weight = /^\/([\d.]+)\/$/.exec(this.peek() ?? '');
      if (weight !== null) this.next();
      of.push({ weight: weight === null ? null : Number(weight[1]), node: this.sequence() });
    } while (this.peek() === '|');
    const weighted = of.filter((o) => o.weight !== null).length;
    if (weighted !== 0 && weighted !== of.length)
      throw new Error('weights on some alternatives only');
    return of.length === 1 && of[0] !== undefined && weighted === 0
      ? of[0].node
      : { kind: 'choice', of };
  }
  private sequence(): Node {
    const of: Node[] = [];
    for (let s = this.peek(); s !== null && ![';', '|', ')', ']'].includes(s); s = this.peek()) {
      of.push(this.item());
    }
    if (of.length === 0) throw new Error('an empty alternative; the note wants <NULL>');
    return of.length === 1 && of[0] !== undefined ? of[0] : { kind: 'sequence', of };
  }
  private item(): Node {
    const symbol = this.next();
    let node: Node;
    if (symbol === '(' || symbol === '[') {
      const inner = this.choice();
      this.expect(symbol === '(' ? ')' : ']');
      node = symbol === '(' ? inner : { kind: 'optional', node: inner };
    } else if (symbol.startsWith('<')) node = { kind: 'rule', name: ruleName(symbol) };
    else if (/^[=*+/{]/.test(symbol)) throw new Error(`"${symbol}" where a word was expected`);
    else node = { kind: 'token', word: symbol.replace(/^"|"$/g, '').replace(/\\(.)/g, '$1') };
    while (this.peek() === '*' || this.peek() === '+') {
      node = { kind: 'repeat', node, least: this.next() === '*' ? 0 : 1 };
    }
    while (this.peek()?.startsWith('{') === true) this.next();
    return node;
  }
}

/** Whether a rule, or any public rule, speaks exactly these words. */
export function speaks(grammar: Grammar, text: string, others: readonly Grammar[] = []): boolean {
  const words = text.split(/\s+/).filter((w) => w !== '');
  const find = (name: string): Node | null => {
    const own = grammar.rules.get(name);
    if (own !== undefined) return own.node;
    for (const other of others) {
      const rule = other.rules.get(name);
      if (rule?.shown === true && grammar.imports.includes(`${other.name}.${name}`))
        return rule.node;
    }
    return null;
  };
  const kept = new Map<string, Set<number>>();
  const ends = (node: Node, from: number): Set<number> => {
    switch (node.kind) {
      case 'token': {
        const own = node.word.split(/\s+/);
        return new Set(own.every((w, i) => words[from + i] === w) ? [from + own.length] : []);
      }
      case 'rule': {
        if (node.name === 'NULL') return new Set([from]);
        const key = `${node.name} ${from}`;
        const old = kept.get(key);
        if (old !== undefined) return old;
        kept.set(key, new Set());
        const rule = node.name === 'VOID' ? null : find(node.name);
        const found = rule === null ? new Set<number>() : ends(rule, from);
        kept.set(key, found);
        return found;
      }
      case 'sequence':
        return node.of.reduce<Set<number>>(
          (froms, part) => new Set([...froms].flatMap((f) => [...ends(part, f)])),
          new Set([from]),
        );
      case 'choice':
        return new Set(node.of.flatMap((o) => [...ends(o.node, from)]));
      case 'optional':
        return new Set([from, ...ends(node.node, from)]);
      case 'repeat': {
        const all = new Set<number>(node.least === 0 ? [from] : []);
        let edge = new Set([from]);
        while (edge.size > 0) {
          const next = new Set(
            [...edge].flatMap((f) => [...ends(node.node, f)]).filter((f) => !all.has(f)),
          );
          next.forEach((f) => all.add(f));
          edge = next;
        }
        return all;
      }
    }
  };
  return [...grammar.rules.values()].some((r) => r.shown && ends(r.node, 0).has(words.length));
}
