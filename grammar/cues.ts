import { lexicon, type ForceCue } from './lexicon.ts';
import { joint } from './joints.ts';
import type { Piece } from './pieces.ts';
import { isNumberWord } from './numbers.ts';
import { speaking } from './predicates.ts';
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

let talk: ReadonlySet<string> | null = null;
/** Words that by themselves make talk of a clause ("normally", "usually"): never a word that sounds like them. */
export function talkWords(): ReadonlySet<string> {
  const { force } = lexicon();
  talk ??= new Set(
    [...force.teaching, ...force.hypothesis, ...force.past, ...force.hearsay].filter(
      (p) => !p.includes(' ') && !joint('like-good').has(p),
    ),
  );
  return talk;
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
    const misheard = best.to === i + 1 && isMisheard(i + from);
    const when = best.to === i + 1 && words[i] === 'when' ? whenOf(i + from) : null;
    if (when === 'told') {
      i = best.to;
      continue;
    }
    // "If that belt was any looser …": says that it is loose, in jest.
    const jest =
      words[i] === 'if' &&
      /^if( \S+){1,5} any (more )?\S+er\b/.test(words.slice(i, i + 9).join(' '));
    if (misheard || jest || when === 'tried')
      out.push({ from: i + from, to: i + from + 1, item: 'doubt' });
    else
      for (const h of hits)
        if (h.to === best.to) out.push({ from: h.from + from, to: h.to + from, item: h.item });
    i = best.to;
  }
  return out;

  /**
   * "When I push on it, it rattles" and "when I came in, it was open" tell of this one thing:
   * no supposition. "When you spin it, it growls" may be either, and is asked about (R5).
   */
  function whenOf(at: number): 'told' | 'tried' | null {
    const who = tokens[at + 1]?.word ?? '';
    const verb = tokens[at + 2]?.word ?? '';
    if (who === 'you' || who === 'one') {
      // "It grinds when you turn it": said of it already.
      const told = pieces.some(
        (p) => p.kind === 'sense' && p.from >= from && p.to <= at && speaking(p),
      );
      return !joint('trying').has(verb) ? null : told ? 'told' : 'tried';
    }
    if (who !== 'i' && who !== 'we') return null;
    return joint('trying').has(verb) || joint('came-to').has(verb) || /[a-z]{2}ed$/.test(verb)
      ? 'told'
      : null;
  }

  /**
   * "The rear belt's could, the guard …", "the gearbox if leaking": a little word in the
   * place of "good" or "is" was misheard. It turns nothing into talk; it is asked about.
   */
  function isMisheard(at: number): boolean {
    const word = tokens[at]?.word ?? '';
    const before = tokens[at - 1]?.word ?? '';
    const next = tokens[at + 1];
    const opens = at === from || (tokens[at]?.gap ?? 0) > 0;
    const named = pieces.some((p) => p.kind === 'item' && p.to === at);
    if (joint('like-good').has(word)) {
      if (opens) return false;
      const ends = at + 1 >= to || next === undefined || next.gap > 0;
      const goesOn =
        next !== undefined &&
        (isNumberWord(next.word) ||
          joint('after-verdict').has(next.word) ||
          pieces.some((p) => p.kind === 'item' && p.from === at + 1));
      return joint('copula').has(before) || ((ends || goesOn) && !joint('subject').has(before));
    }
    if (!joint('like-is').has(word) || opens || !named) return false;
    return pieces.some(
      (p) =>
        p.kind === 'sense' && p.from === at + 1 && p.senses.some((s) => s.kind === 'condition'),
    );
  }
}
