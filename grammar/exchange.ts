import {
  ASKS_OF,
  DENIAL,
  OF_WHAT,
  SHORT,
  SMALL,
  WISHED,
  countsIn,
  isCondition,
  isEmptied,
  isMeasured,
  preds,
  rewritten,
  tells,
  trieOf,
  withPieces,
  type Edits,
  type Said,
  type Sentence,
} from './asked.ts';
import { complete } from './elided.ts';
import { cuesIn } from './cues.ts';
import { joint } from './joints.ts';
import { leftovers } from './leftovers.ts';
import { SIDE_WORDS, stem } from './names.ts';
import { isNumberWord, numberAt } from './numbers.ts';
import type { Piece, SensePiece } from './pieces.ts';
import type { Token } from './tokens.ts';
import { unitTrie } from './units.ts';

/**
 * Questions that are answered in the same breath, by the one who asks or by another:
 * "Boom skin? Fine. Dents? None.", "Gust lock out? Out.", "Six. Quarts? Quarts."
 *
 * A question and its answer are one result. They are put together as words, before
 * anything is read: what the answer settles is said outright, what it denies is denied,
 * what it replaces is left out. A question whose answer is not plain stays a question (R5).
 */

/** The words with every plain answer put to its question, or null where there is none. */
export function answered(
  tokens: readonly Token[],
  pieces: readonly Piece[],
  steps: readonly { from: number; to: number }[],
): Token[] | null {
  if (!tokens.some((t, i) => t.word === 'not' || (i > 0 && t.gap === 2))) return null;
  return new Exchange(tokens, pieces, steps).told();
}

class Exchange {
  private readonly tokens: readonly Token[];
  private readonly words: readonly string[];
  private readonly sentences: readonly Sentence[];
  private readonly edits: Edits = {
    dropped: new Set(),
    told: new Set(),
    gaps: new Map(),
    added: new Map(),
    denials: new Set(),
  };

  constructor(
    tokens: readonly Token[],
    pieces: readonly Piece[],
    private readonly steps: readonly { from: number; to: number }[],
  ) {
    this.tokens = tokens;
    this.words = tokens.map((t) => t.word);
    this.sentences = withPieces(tokens, pieces);
  }

  told(): Token[] | null {
    this.sentences.forEach((number, s) => {
      const unit = this.sentences[s + 1];
      if (unit !== undefined) this.unite(number, unit);
      if (unit !== undefined && s > 0) this.mend(this.sentences[s - 1], number, unit);
    });
    for (const sentence of this.sentences) complete(sentence, this.tokens, this.edits);
    for (let s = 0; s + 1 < this.sentences.length; s += 1) {
      const question = this.sentences[s];
      const answer = this.sentences[s + 1];
      if (question === undefined || answer === undefined) continue;
      if (!this.asks(question)) continue;
      if (this.asksUnit(this.sentences[s - 1], question, answer)) {
        s += 1;
        continue;
      }
      const place = this.sentences[s + 2];
      const last = this.sentences[s + 3];
      if (
        this.asks(answer) &&
        this.is(answer, 'where') &&
        place !== undefined &&
        last !== undefined &&
        !this.asks(place) &&
        preds(place).length === 0 &&
        this.plain(place, place.from)
      ) {
        // "Any water? Where? In the left sample. No."
        const whole = {
          from: question.from,
          to: place.to,
          pieces: [...question.pieces, ...place.pieces],
        };
        this.drop(answer.from, answer.to);
        if (!this.settle(whole, last)) {
          for (let i = answer.from; i < answer.to; i += 1) this.edits.dropped.delete(i);
          continue;
        }
        this.edits.gaps.set(place.from, 0);
        this.edits.told.add(question.to - 1);
        s += 3;
        continue;
      }
      if (this.asks(answer)) continue;
      if (this.settle(question, answer)) s += 1;
      else if (this.wishes(question) && this.isOfAny(answer)) {
        // "What do we want on the exhaust? No cracks.": what would be, and no result (R2).
        this.edits.gaps.set(answer.from, 0);
        this.edits.told.add(question.to - 1);
      }
    }
    return rewritten(this.tokens, this.edits);
  }

  /** Puts the answer to the question; whether it could be done. */
  private settle(question: Sentence, answer: Sentence): boolean {
    if (answer.to - answer.from > SHORT) return false;
    const body = this.begin(question);
    const end = this.end(question, body);
    if (body >= end || !this.bare(question, body, end) || !this.open(question)) return false;
    const asked = preds(question).filter((piece) => piece.from >= body);
    const agreed = this.lead(answer, 'yes');
    const denies = this.lead({ ...answer, from: agreed }, 'no') === answer.to;
    // "Correct, it is not." is a no.
    const whole = agreed === answer.to ? 'yes' : denies ? 'no' : null;
    if (asked.length > 0 && whole !== null) {
      if (!this.confirm(question, body, asked, whole)) return false;
      this.state(question, body, end);
      this.drop(answer.from, answer.to);
      return true;
    }
    if (whole !== null) return false;
    // "Leaks? No, dry."
    const lead = this.lead(answer, 'no');
    if (lead > answer.from && (this.tokens[lead]?.gap ?? 0) > 0) {
      if (asked.length === 0 || !this.confirm(question, body, asked, 'no')) return false;
      this.state(question, body, end);
      this.drop(answer.from, lead);
      return true;
    }
    const from = this.lead(answer, 'yes');
    return this.replace(question, body, end, answer, from);
  }

  /** "Boom skin? Fine.", "Battery tight? Loose.", "Dents? Two small ones.", "Right? Blocked." */
  private replace(
    question: Sentence,
    body: number,
    end: number,
    answer: Sentence,
    from: number,
  ): boolean {
    const named = answer.pieces.some((p) => p.kind !== 'sense');
    const side = this.words.slice(body, end).every((w) => SIDE_WORDS.has(stem(w)));
    if (side) {
      // "Right? Right's got tape on it."; but "…, right? Yes." asks for nothing.
      if (!this.sided(question)) return false;
      if (stem(this.words[from] ?? '') === stem(this.words[body] ?? '')) {
        this.drop(question.from, question.to);
        this.edits.gaps.set(from, 2);
        this.drop(answer.from, from);
        return true;
      }
    }
    if (named) {
      // "Oil? Oil's at six quarts.": the answer names it again.
      const item = question.pieces.find((p) => p.kind === 'item');
      const again = answer.pieces.find((p) => p.kind === 'item');
      if (item === undefined || again?.kind !== 'item' || preds(question).length > 0) return false;
      if (item.kind !== 'item' || item.entry !== again.entry) return false;
      this.drop(question.from, question.to);
      this.drop(answer.from, from);
      this.edits.gaps.set(from, 2);
      return true;
    }
    if (!this.plain(answer, from) || !this.open(answer)) return false;
    const asked = preds(question);
    const said = tells(answer);
    const counted = countsIn(this.words, this.steps, from, answer.to);
    const every = said.length === 0 && /^(all|both|each)$/.test(this.words[from] ?? '');
    if (said.length === 0 && !counted && !every) return false;
    // A count says how much of it there is; another word takes the place of the one asked about.
    if (said.length > 0) {
      for (const piece of asked) this.drop(piece.from, piece.to);
      for (let i = body; i < end; i += 1)
        if (DENIAL.test(this.words[i] ?? '')) this.edits.dropped.add(i);
    } else if (asked.some((piece) => !isCondition(piece)) && !every) return false;
    this.state(question, body, end);
    this.drop(answer.from, from);
    this.edits.gaps.set(
      from,
      said.length > 0 && isEmptied(this.tokens, this.edits, body, end) ? 2 : 1,
    );
    return true;
  }

  /** Says the question outright, as the answer has it; false where that does not tell (R5). */
  private confirm(
    question: Sentence,
    body: number,
    asked: readonly SensePiece[],
    answer: 'yes' | 'no',
  ): boolean {
    const first = asked[0];
    if (first === undefined) return false;
    const denial = this.words.findIndex((w, i) => i >= body && i < question.to && DENIAL.test(w));
    // "No dents? No." is none; "no dents? Yes." is not clear.
    if (denial >= 0) return denial < first.from && answer === 'no' && asked.every(isCondition);
    if (answer === 'yes') return true;
    // "Tight and no cracks? No.": which of the two is not told.
    if (asked.some(isCondition) && !asked.every(isCondition)) return false;
    if (!asked.every(isCondition) && asked.length > 1) return false;
    this.edits.denials.add(first.from);
    return true;
  }

  /** "Five and a quarter. Quarts? Quarts.": the unit of the number just said. */
  private asksUnit(before: Sentence | undefined, question: Sentence, answer: Sentence): boolean {
    if (before === undefined) return false;
    // "Nose strut is four. Four what? Four inches."
    const of = this.words.slice(question.from, question.to);
    if (
      of.some((w) => w === 'what' || w === 'which') &&
      of.every((w) => OF_WHAT.test(w) || isNumberWord(w))
    ) {
      const number = this.numberAtEnd(before);
      if (number === null) return false;
      const again = numberAt(this.words, answer.from);
      const said = unitTrie().longest(this.words, again?.to ?? answer.from);
      if (said?.to !== answer.to) return false;
      this.drop(question.from, question.to);
      if (again !== null) this.drop(number, before.to);
      this.edits.gaps.set(answer.from, 0);
      return true;
    }
    const unit = unitTrie().longest(this.words, question.from);
    if (unit?.to !== question.to || this.numberAtEnd(before) === null) return false;
    const other = unitTrie().longest(this.words, answer.from);
    if (other?.to === answer.to) this.drop(question.from, question.to);
    else if (this.is(answer, 'yes')) this.drop(answer.from, answer.to);
    else return false;
    this.edits.gaps.set(other?.to === answer.to ? answer.from : question.from, 0);
    this.edits.told.add(question.to - 1);
    return true;
  }

  /** "Seven. Quarts.": a pause between the number and its unit. */
  private unite(number: Sentence, unit: Sentence): void {
    const hit = unitTrie().longest(this.words, unit.from);
    // "Second" after "one" is the next one.
    if (joint('order').has(this.words[unit.from] ?? '')) return;
    if (
      hit?.to !== unit.to ||
      this.asks(unit) ||
      this.asks(number) ||
      this.numberAtEnd(number) === null
    )
      return;
    this.edits.gaps.set(unit.from, 0);
  }

  /** "… Wait. No. That's the rear one.": words of a slip, and what they lead to; no order to wait. */
  private mend(before: Sentence | undefined, slip: Sentence, next: Sentence): void {
    if (before === undefined || this.asks(before) || this.asks(slip) || !this.is(slip, 'slip'))
      return;
    if (this.is(next, 'slip') || trieOf('mending').longest(this.words, next.from) !== null)
      this.edits.gaps.set(next.from, 1);
  }

  /** Where the number begins that a sentence ends in. */
  private numberAtEnd(sentence: Sentence): number | null {
    const from = Math.max(sentence.from, sentence.to - 5);
    const words = this.words.slice(from, sentence.to);
    const at = words.findIndex((_, i) => numberAt(words, i)?.to === words.length);
    return at < 0 ? null : from + at;
  }

  /** Points at nothing that is there: "no cracks", and not "there's a crack". */
  private isOfAny({ from, to, pieces }: Sentence): boolean {
    return (
      !pieces.some((p) => p.kind === 'item') &&
      !this.words.slice(from, to).some((w) => joint('pronoun').has(w) || /^(there|here|i)$/.test(w))
    );
  }
  private wishes({ from, to }: Sentence): boolean {
    const words = this.words.slice(from, to);
    return words.some((w) => ASKS_OF.test(w)) && words.some((w) => WISHED.test(w));
  }
  private asks(sentence: Sentence): boolean {
    return this.tokens[sentence.to - 1]?.asks === true;
  }
  /** Whether the whole sentence is one of these phrases, or several of them ("no, none"). */
  private is(sentence: Sentence, kind: Said): boolean {
    return this.lead(sentence, kind) === sentence.to;
  }
  /** Where the phrases that a sentence begins with end. */
  private lead(sentence: Sentence, kind: Said): number {
    let i = sentence.from;
    for (;;) {
      const hit = trieOf(kind)
        .at(this.words, i)
        .filter((h) => h.to <= sentence.to)
        .at(-1);
      if (hit === undefined) return i;
      // "Right is bent": a side, and no yes.
      if (kind === 'yes' && hit.to < sentence.to && (this.tokens[hit.to]?.gap ?? 0) === 0) return i;
      // "No cracks", "nothing loose": a denial, and no no.
      if (kind === 'no' && hit.to < sentence.to && (this.tokens[hit.to]?.gap ?? 0) === 0) return i;
      i = hit.to;
    }
  }
  /** Where a question begins, behind "is there any" and the like. */
  private begin(question: Sentence): number {
    let i = question.from;
    for (;;) {
      if (question.pieces.some((p) => p.from === i && p.kind !== 'sense')) return i;
      const hit = trieOf('asking').longest(this.words, i);
      // "Right?" is the right one.
      if (hit === null || hit.to >= question.to) return i;
      i = hit.to;
    }
  }
  /** Where it ends, before "right?" and the like. */
  private end(question: Sentence, body: number): number {
    for (let i = question.to - 1; i > body && i > question.to - 4; i -= 1) {
      if ((this.tokens[i]?.gap ?? 0) === 0) continue;
      return trieOf('tag').longest(this.words, i)?.to === question.to ? i : question.to;
    }
    return question.to;
  }
  /** A question in as few words as can be: what it is about, and how that may be. */
  private bare(question: Sentence, body: number, end: number): boolean {
    for (let i = body; i < end; i += 1) {
      const word = this.words[i] ?? '';
      if (this.edits.dropped.has(i) || question.pieces.some((p) => p.from <= i && i < p.to))
        continue;
      const known = SMALL.test(word) || DENIAL.test(word) || SIDE_WORDS.has(stem(word));
      if (!known && !isMeasured(word) && numberAt(this.words, i) === null) return false;
    }
    return true;
  }
  /** Nothing in it is left unexplained. */
  private plain({ from, to, pieces }: Sentence, start: number, end = to): boolean {
    const clause = {
      from,
      to: end,
      items: pieces.filter((p) => p.kind === 'item'),
      stations: pieces.filter((p) => p.kind === 'station'),
      preds: pieces.filter((p) => p.kind === 'sense'),
      places: [],
      cues: [],
      follows: false,
      contrast: false,
    };
    // What a step of a gauge is made of ("second knuckle") is read with its check.
    const step = this.steps.find((s) => s.from >= start && s.to <= end);
    const before = leftovers({ ...clause, to: step?.from ?? end }, this.tokens, start);
    return (
      before.length === 0 &&
      (step === undefined || leftovers(clause, this.tokens, step.to).length === 0)
    );
  }
  /** No talk: neither supposition nor the past nor another's words (R2). */
  private open({ from, to, pieces }: Sentence): boolean {
    return cuesIn(this.tokens, pieces, from, to).every(
      (c) => c.item === 'present' || c.item === 'question' || c.item === 'topic',
    );
  }
  /** "Right?" is a place only where the other side was just spoken of. */
  private sided(question: Sentence): boolean {
    const before = this.words.slice(Math.max(0, question.from - SHORT), question.from);
    return before.some((w) => SIDE_WORDS.has(stem(w)));
  }
  private drop(from: number, to: number): void {
    for (let i = from; i < to; i += 1) this.edits.dropped.add(i);
  }
  private state(question: Sentence, body: number, end: number): void {
    this.drop(question.from, body);
    for (let i = body; i < end; i += 1) if (this.words[i] === 'any') this.edits.dropped.add(i);
    this.drop(end, question.to);
    this.edits.told.add(question.to - 1);
    this.edits.gaps.set(body, 2);
  }
}
