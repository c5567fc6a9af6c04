import { plainWords } from '../channel.ts';
import { phoneDistance, sayWord } from '../phones.ts';
import type { CorpusSet } from '../../corpus/load.ts';
import { checksById } from '../../corpus/format.ts';

/**
 * How much of a name may be changed, as phone distance for each phone, for a
 * careful listener with the list in hand still to know it. Ours, by looking at
 * pairs: "swash late" is 0.07 from "swashplate", "calling" 0.13 from "cowling",
 * "goad" 0.2 from "good"; at 0.3 unrelated short names begin to meet.
 */
const KNOWABLE = 0.25;

/** A share of a whole. */
export interface Share {
  part: number;
  whole: number;
}

/**
 * Of the checks that are named in the words as said, those whose name is still
 * in the damaged words by sound. What is not can be read only from the scene.
 */
export function audible(set: CorpusSet, texts: readonly string[]): Share {
  const checks = checksById(set.catalogue);
  const share = { part: 0, whole: 0 };
  set.utterances.forEach((utterance, i) => {
    const said = plainWords(utterance.say);
    const heard = plainWords(texts[i] ?? '');
    const due = new Set(
      utterance.labels.flatMap((l) =>
        l.kind === 'claim' && l.force === 'result' && l.checks.length === 1 ? l.checks : [],
      ),
    );
    for (const id of due) {
      const check = checks.get(id);
      const name = [check?.name ?? '', ...(check?.say ?? [])]
        .map(plainWords)
        .find((n) => at(said, n));
      if (name === undefined) continue;
      share.whole += 1;
      if (nearest(heard, name) <= KNOWABLE) share.part += 1;
    }
  });
  return share;
}

const bare = (word: string) => word.replace(/('s|s)$/, '');

function at(words: readonly string[], name: readonly string[]): boolean {
  return words.some((_, i) => name.every((n, j) => bare(words[i + j] ?? '') === bare(n)));
}

function phonesOf(words: readonly string[]): string[] {
  return words.flatMap((w) => sayWord(w) ?? [...w.toUpperCase()]);
}

/** Least distance for each phone of the name over the windows of the words. */
function nearest(words: readonly string[], name: readonly string[]): number {
  const goal = phonesOf(name.map(bare));
  let least = Infinity;
  for (let from = 0; from < words.length; from += 1) {
    for (let to = from + 1; to <= Math.min(words.length, from + name.length + 2); to += 1) {
      const own = phonesOf(words.slice(from, to).map(bare));
      least = Math.min(least, phoneDistance(own, goal) / Math.max(1, goal.length));
    }
  }
  return least;
}
