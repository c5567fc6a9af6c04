import { lexicon, type ForceCue } from './lexicon.ts';
import type { Piece } from './pieces.ts';
import { phraseWords, type Token } from './tokens.ts';
import { Trie, type Hit } from './trie.ts';

/** A cue for the kind of saying, outside every name and verdict. */
export type CueHit = Hit<ForceCue>;

let cueWords: Trie<ForceCue> | null = null;
function cueTrie(): Trie<ForceCue> {
  if (cueWords !== null) return cueWords;
  cueWords = new Trie();
  for (const [cue, say] of Object.entries(lexicon().force) as [ForceCue, string[]][]) {
    for (const phrase of say) cueWords.add(phraseWords(phrase), cue);
  }
  return cueWords;
}

/** Cues outside the pieces, longest at each place. A cue may overlap a verdict that is part of it ("should be tight"). */
export function cuesIn(
  tokens: readonly Token[],
  pieces: readonly Piece[],
  from: number,
  to: number,
): CueHit[] {
  const words = tokens.slice(from, to).map((t) => t.word);
  const covered = new Int32Array(words.length).fill(-1);
  pieces.forEach((p, k) => {
    if (p.kind === 'station') return;
    for (let i = Math.max(p.from, from); i < Math.min(p.to, to); i += 1) covered[i - from] = k;
  });
  const trie = cueTrie();
  const out: CueHit[] = [];
  for (let i = 0; i < words.length;) {
    const hits = trie.at(words, i).filter((h) => {
      if (tokens.slice(h.from + from + 1, h.to + from).some((t) => t.gap === 2)) return false;
      // Inside one longer phrase ("not sure" in a verdict) it is not a cue.
      const k = covered[h.from] ?? -1;
      if (k < 0) return true;
      const piece = pieces[k];
      return piece !== undefined && piece.kind === 'sense' && h.to - h.from > piece.to - piece.from;
    });
    const best = hits[hits.length - 1];
    if (best === undefined) {
      i += 1;
      continue;
    }
    for (const h of hits)
      if (h.to === best.to) out.push({ from: h.from + from, to: h.to + from, item: h.item });
    i = best.to;
  }
  return out;
}
