import { lexicon, type Joint } from './lexicon.ts';
import { phraseWords } from './tokens.ts';

const sets = new Map<Joint, ReadonlySet<string>>();
/** The little words of one kind (`en/joints.yaml`). */
export function joint(kind: Joint): ReadonlySet<string> {
  let found = sets.get(kind);
  if (found === undefined) sets.set(kind, (found = new Set(lexicon().joints[kind])));
  return found;
}

const phrases = new Map<Joint, readonly (readonly string[])[]>();
/** The same as phrases, word by word, longest first. */
export function jointPhrases(kind: Joint): readonly (readonly string[])[] {
  let found = phrases.get(kind);
  if (found === undefined) {
    found = lexicon()
      .joints[kind].map((p) => phraseWords(p))
      .sort((a, b) => b.length - a.length);
    phrases.set(kind, found);
  }
  return found;
}
