/**
 * Reader of the JSpeech Grammar Format (W3C Note, 5 June 2000), as far as a
 * recogniser's grammar needs it: rules, alternatives, groups, options, * and +.
 * Weights and tags are read over: the network has weights of its own.
 */
export type Expression =
  | { readonly kind: 'word'; readonly word: string }
  | { readonly kind: 'rule'; readonly name: string }
  | { readonly kind: 'sequence' | 'choice'; readonly parts: readonly Expression[] }
  | { readonly kind: 'option' | 'star' | 'plus'; readonly part: Expression };

export interface Rules {
  readonly rules: ReadonlyMap<string, Expression>;
  /** Names of the public rules, in order. */
  readonly roots: readonly string[];
}

const TOKEN =
  /\/\/[^\n]*|\/\*[\s\S]*?\*\/|\/\s*[\d.]+(?:[eE]-?\d+)?\s*\/|\{[^}]*\}|<[^>\s]+>|"[^"]*"|[()[\]|*+=;]|[^\s()[\]|*+=;<>{}/"]+/g;

/** @throws Error with one sentence that names the rule and what is wrong with it. */
export function parseJsgf(text: string): Rules {
  const body = text.replace(/^\s*#JSGF[^;]*;/, '').replace(/^\s*(?:grammar|import)\s[^;]*;/gm, '');
  const tokens = (body.match(TOKEN) ?? []).filter((t) => !/^(\/\/|\/\*|\/\s*[\d.]|\{)/.test(t));
  const rules = new Map<string, Expression>();
  const roots: string[] = [];
  let at = 0;

  function choice(rule: string): Expression {
    const parts = [sequence(rule)];
    while (tokens[at] === '|') {
      at++;
      parts.push(sequence(rule));
    }
    return parts.length === 1 && parts[0] !== undefined ? parts[0] : { kind: 'choice', parts };
  }

  function sequence(rule: string): Expression {
    const parts: Expression[] = [];
    for (;;) {
      const token = tokens[at];
      if (token === undefined || token === '|' || token === ';' || token === ')' || token === ']')
        break;
      parts.push(repeated(rule));
    }
    return parts.length === 1 && parts[0] !== undefined ? parts[0] : { kind: 'sequence', parts };
  }

  function repeated(rule: string): Expression {
    let part = single(rule);
    for (;;) {
      if (tokens[at] === '*') part = { kind: 'star', part };
      else if (tokens[at] === '+') part = { kind: 'plus', part };
      else return part;
      at++;
    }
  }

  function single(rule: string): Expression {
    const token = tokens[at++] ?? '';
    if (token === '(' || token === '[') {
      const part = choice(rule);
      const end = token === '(' ? ')' : ']';
      if (tokens[at++] !== end) throw new Error(`Rule <${rule}> lacks a "${end}".`);
      return token === '(' ? part : { kind: 'option', part };
    }
    if (token.startsWith('<')) {
      const name = token.slice(1, -1);
      if (name === 'NULL') return { kind: 'sequence', parts: [] };
      return { kind: 'rule', name };
    }
    if (token.startsWith('"')) {
      const words = token.slice(1, -1).trim().split(/\s+/);
      return { kind: 'sequence', parts: words.map((word) => ({ kind: 'word', word })) };
    }
    if (/^[*+=]$/.test(token)) throw new Error(`Rule <${rule}> has a "${token}" out of place.`);
    return { kind: 'word', word: token };
  }

  while (at < tokens.length) {
    const open = tokens[at] === 'public';
    if (open) at++;
    const head = tokens[at++] ?? '';
    if (!head.startsWith('<') || tokens[at++] !== '=')
      throw new Error(`The grammar has "${head}" where a rule such as <name> = … should begin.`);
    const name = head.slice(1, -1);
    const expression = choice(name);
    if (tokens[at++] !== ';') throw new Error(`Rule <${name}> does not end with ";".`);
    rules.set(name, expression);
    if (open) roots.push(name);
  }
  return { rules, roots };
}

/** One expression by itself, such as `[the] <side> belt`. */
export function expressionOf(text: string): Expression {
  const rule = parseJsgf(`<it> = ${text};`).rules.get('it');
  if (rule === undefined) throw new Error(`"${text}" is no expression.`);
  return rule;
}
