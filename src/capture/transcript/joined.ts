import type { Piece } from './piece.ts';

/** Seconds between two lines of one sentence at most; a longer silence is a pause of the speaker. */
const BREATH = 3;
/** Longest sentence put together, seconds: beyond it the punctuation is not to be trusted. */
const LONGEST_SENTENCE = 30;
/** Longest sentence put together, characters, where there are no times: some hundred words. */
const LONGEST_TEXT = 600;

/** The end of a sentence, with a bracket or a quotation mark behind it. */
const END = /[.?!…]["')\]]?$/;
/** The ends of sentences inside a line: the next one has to begin like one. */
const INNER_END = /[.?!…]["')\]]?\s+(?=["'([]?[\p{Lu}\d])/gu;

/**
 * A file is punctuated when a sentence ends at least once in so many words.
 * Too high: a list of bare results is called punctuated, and its lines run
 * together. Too low: a teacher's long sentences stay broken.
 */
const WORDS_A_SENTENCE = 40;
/** Share of the lines behind an end that begin with a capital, for a small letter to tell something. */
const CAPITALS = 0.8;

/**
 * English words that end no sentence: a line that breaks behind one goes on in
 * the next, whatever punctuation the file has. Left out is what may stand last
 * ("the cap is on", "what it's for", "supposed to"): a sentence torn apart costs
 * a question, two results run together cost nothing but a longer line.
 */
const NO_END =
  /(?:^|\s)(?:an?|the|and|or|but|because|if|of|into|than|very|my|our|your|their|every|we're|you're|they're|i'm|i've|we've|you've|there's|that's|what's|here's|whether|with)$/i;

/**
 * Lines of a transcript that break in mid-sentence, put together: captions
 * break where the line is full ("right skid tube's got a" / "small dent"), and
 * so do the lines of a recogniser. A line that holds the end of one sentence
 * and the beginning of another is cut there, so that a whole talk does not
 * become one piece; the time of the cut is estimated by the share of letters.
 */
export function joined(pieces: readonly Piece[]): Piece[] {
  const marks = punctuated(pieces);
  const out: Piece[] = [];
  for (const piece of pieces) {
    const before = out.at(-1);
    if (before === undefined || !goesOn(before, piece, marks)) {
      out.push(piece);
      continue;
    }
    const [whole, begun] = cut(before);
    out.pop();
    if (whole !== null) out.push(whole);
    out.push({ ...begun, text: `${begun.text} ${piece.text}`, to: piece.to });
  }
  return out;
}

function punctuated(pieces: readonly Piece[]): boolean {
  let words = 0;
  let ends = 0;
  let after = 0;
  let capitals = 0;
  pieces.forEach((piece, i) => {
    words += piece.text.split(' ').length;
    ends += [...piece.text.matchAll(INNER_END)].length + (END.test(piece.text) ? 1 : 0);
    const before = pieces[i - 1];
    if (before === undefined || !END.test(before.text)) return;
    after += 1;
    if (/^["'([]?[\p{Lu}\d]/u.test(piece.text)) capitals += 1;
  });
  return ends > 0 && ends >= words / WORDS_A_SENTENCE && capitals >= CAPITALS * after;
}

function goesOn(before: Piece, piece: Piece, marks: boolean): boolean {
  if (before.speaker !== piece.speaker && piece.speaker !== null) return false;
  if (END.test(before.text) || before.text.length > LONGEST_TEXT) return false;
  const small = marks && /^(?:[\p{Ll}\d]|I(?:'|\s))/u.test(piece.text);
  if (!small && !NO_END.test(before.text)) return false;
  if (before.from === null || piece.from === null) return before.from === piece.from;
  const gap = piece.from - (before.to ?? piece.from);
  return Math.abs(gap) <= BREATH && (piece.to ?? piece.from) - before.from <= LONGEST_SENTENCE;
}

/** The sentences that are whole, and the one that has begun. */
function cut(piece: Piece): [Piece | null, Piece] {
  const last = [...piece.text.matchAll(INNER_END)].at(-1);
  if (last === undefined) return [null, piece];
  const at = last.index + last[0].length;
  const { from, to } = piece;
  const middle =
    from === null || to === null ? from : from + ((to - from) * at) / piece.text.length;
  return [
    { ...piece, text: piece.text.slice(0, at).trim(), to: to === null ? null : middle },
    { ...piece, text: piece.text.slice(at), from: middle },
  ];
}
