import type { Act, Catalogue } from '#shared/catalogue';

/** A value with limits, as it was read out of the words. */
export interface DraftMeasure {
  readonly name: string;
  /** UCUM code. */
  readonly unit: string;
  readonly low: number | null;
  readonly high: number | null;
  /** The words that it was read from. */
  readonly said: string;
}

export interface DraftCheck {
  readonly name: string;
  /** Lines of the text that it was made from; the first line is 1. */
  readonly lines: readonly number[];
  /** What the text asks to be done, in its own words; empty when it only names the thing. */
  readonly action: string;
  readonly aspects: readonly string[];
  readonly acts: readonly Act[];
  /** Names of its places; empty when it is made once. */
  readonly places: readonly string[];
  readonly measures: readonly DraftMeasure[];
  readonly caution: string | null;
  /** What was guessed, a sentence each, to be confirmed by the author. */
  readonly guesses: readonly string[];
}

export interface DraftStation {
  readonly name: string;
  readonly lines: readonly number[];
  readonly place: { readonly x: number; readonly y: number };
  readonly checks: readonly DraftCheck[];
  readonly caution: string | null;
}

/** A line of the text that became nothing. It is listed, and it is kept in the file. */
export interface LeftLine {
  readonly line: number;
  readonly text: string;
}

/** A catalogue as it was guessed from words. Nothing of the text is lost: what is no part of it is in `left`. */
export interface Draft {
  readonly name: string;
  readonly kind: Catalogue['kind'];
  readonly stations: readonly DraftStation[];
  /** Cautions for the whole walk. */
  readonly cautions: readonly { readonly text: string; readonly lines: readonly number[] }[];
  /** Lines that gave the name. */
  readonly titleLines: readonly number[];
  readonly left: readonly LeftLine[];
}

/** A draft, or one sentence that says what is wrong with the text and what to do. */
export type Drafted =
  { readonly ok: true; readonly draft: Draft } | { readonly ok: false; readonly error: string };

/** Something that was read in the text, in its order: what drafts are put together from. */
export type Part =
  | { readonly kind: 'station'; readonly name: string; readonly lines: readonly number[] }
  | { readonly kind: 'check'; readonly item: Item }
  | { readonly kind: 'caution'; readonly text: string; readonly lines: readonly number[] }
  | { readonly kind: 'title'; readonly text: string; readonly lines: readonly number[] }
  | { readonly kind: 'left'; readonly text: string; readonly lines: readonly number[] };

/** A thing, and what is to be done with it. */
export interface Item {
  readonly name: string;
  readonly action: string;
  readonly lines: readonly number[];
}
