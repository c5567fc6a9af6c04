import { lexicon } from '../lexicon.ts';
import { phraseWords, type Token } from '../tokens.ts';
import { Trie } from '../trie.ts';
import { unable } from '../unable.ts';

/**
 * What each word may be to the lexicon, before anybody chooses: one number for each
 * kind of cue, all kinds that may be there kept side by side. The scores weigh them.
 */
export interface Senses {
  /** How many kinds there are: the width of the learned table. */
  readonly size: number;
  readonly names: readonly string[];
  /** Kinds for every token; a phrase gives its kind to each of its words. */
  of(tokens: readonly Token[]): readonly (readonly number[])[];
  /** Whether a word alone is a phrase of the lexicon: such a word is never taken for a name by sound. */
  knows(word: string): boolean;
}

/** Longest phrase of the lexicon that is looked for, in words. */
const LONGEST = 8;

let english: Senses | null = null;

/** The kinds of cue of the lexicon, built once. */
export function senses(): Senses {
  english ??= build();
  return english;
}

function build(): Senses {
  const trie = new Trie<number>();
  const single = new Set<string>();
  const index = new Map<string, number>();
  const kind = (name: string): number => {
    let at = index.get(name);
    if (at === undefined) index.set(name, (at = index.size));
    return at;
  };
  const add = (name: string, phrases: readonly string[]): void => {
    const at = kind(name);
    for (const phrase of phrases) {
      const words = phraseWords(phrase);
      trie.add(words, at);
      if (words.length === 1 && words[0] !== undefined) single.add(words[0]);
    }
  };
  const lex = lexicon();
  for (const c of lex.conditions) {
    const plain = [...c.say, ...c.also];
    add('condition', plain);
    add(`is-${c.id}`, [...plain, ...c.weak, ...unable(c.cannot)]);
    add('condition-weak', c.weak);
    add('condition-either', c.either);
    add('condition-cannot', unable(c.cannot));
    for (const aspect of c.aspects) add(`condition-of-${aspect}`, c.say);
  }
  for (const v of lex.verdicts) {
    const group = v.actOnly ? 'done' : v.good ? 'good' : 'bad';
    add(`verdict-${group}`, [...v.say, ...v.also]);
    add(`verdict-${group}-weak`, [...v.weak, ...v.beside]);
    if (v.aspect !== undefined) {
      add('verdict-aspect', v.say);
      add(`verdict-of-${v.aspect}`, [...v.say, ...v.also, ...v.beside]);
    }
  }
  for (const a of lex.aspects) {
    add('aspect', a.names);
    add(`aspect-${a.id}`, a.names);
  }
  for (const [name, say] of Object.entries(lex.negation)) add(`denial-${name}`, say);
  for (const [name, say] of Object.entries(lex.force)) add(`force-${name}`, say);
  for (const [name, say] of Object.entries(lex.joints)) add(`joint-${name}`, say);
  for (const [name, say] of Object.entries(lex.severities)) add(`severity-${name}`, say);
  for (const [name, say] of Object.entries(lex.degrees)) add(`degree-${name}`, say);
  for (const [name, say] of Object.entries(lex.acts)) add(`act-${name}`, say);
  for (const say of Object.values(lex.commands)) add('command', say);
  for (const [name, say] of Object.entries(lex.dialogue)) {
    if (Array.isArray(say)) add(`dialogue-${name}`, say);
    else
      for (const [inner, phrases] of Object.entries(say))
        add(name === 'compared' ? `compared-${inner}` : `dialogue-${name}`, phrases);
  }
  for (const [name, say] of Object.entries(lex.exchange)) add(`exchange-${name}`, say);
  for (const unit of lex.units) add('unit', unit.say);
  const figures = new Set(['teens', 'tens', 'hundred', 'thousand', 'point']);
  const parts = new Set(['half', 'quarter', 'quarters', 'third', 'thirds', 'eighth', 'couple']);
  for (const [name, say] of Object.entries(lex.numbers)) {
    if (Array.isArray(say))
      add(figures.has(name) ? 'number' : parts.has(name) ? 'part' : `number-${name}`, say);
    else for (const digit of Object.values(say)) add('number', digit);
  }
  for (const [name, say] of Object.entries(lex.places)) add(`place-${name}`, say);
  for (const [name, say] of Object.entries(lex.sides.sides)) {
    add('side', say);
    add(`side-${name}`, say);
  }
  lex.sides.ordinals.forEach((say) => add('ordinal', say));
  for (const name of ['last', 'all', 'other', 'same', 'this', 'again'] as const)
    add(`which-${name}`, lex.sides[name]);
  add('filler', lex.fillers.words);
  add('figure', lex.idioms.figures);
  add('elsewhere', lex.idioms.elsewhere);
  add('body', lex.idioms.body);
  // Loose ways to say it are cues for the scores alone: no rule takes them, and they are no less a name.
  const hint = (name: string, phrases: readonly string[]): void => {
    const at = kind(name);
    for (const phrase of phrases) trie.add(phraseWords(phrase), at);
  };
  hint('loose-good', lex.loose.good);
  hint('loose-bad', lex.loose.bad);
  for (const [id, phrases] of Object.entries(lex.loose.conditions)) {
    hint('loose', phrases);
    hint(`loose-${id}`, phrases);
  }
  const number = kind('number');
  return {
    size: index.size,
    names: [...index.keys()],
    knows: (word) => single.has(word),
    of(tokens) {
      const words = tokens.map((t) => t.word);
      const out: Set<number>[] = words.map(() => new Set());
      for (let i = 0; i < words.length; i += 1) {
        if (/^[\d.,/]+$/.test(words[i] ?? '')) out[i]?.add(number);
        for (const hit of trie.at(words, i)) {
          if (hit.to - hit.from > LONGEST) break;
          for (let k = hit.from; k < hit.to; k += 1) out[k]?.add(hit.item);
        }
      }
      return out.map((set) => [...set]);
    },
  };
}
