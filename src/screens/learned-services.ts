import type { Outcome } from './services.ts';

/** One thing that was learned, in words. */
export interface LearnedLine {
  readonly id: string;
  /** Who said it; null where the walk had no name. */
  readonly speaker: string | null;
  readonly phrase: string;
  /** "is the tail stinger": what goes on after the phrase. */
  readonly means: string;
  /** The day, as "2026-01-05". */
  readonly on: string;
  /** The words that told it, and the question that they answered; null where it is not known. */
  readonly told: string | null;
  readonly asked: string | null;
}

export interface LearnedBook {
  /** Newest first, of everybody who walked the aircraft. */
  readonly lines: readonly LearnedLine[];
  readonly forgotten: readonly LearnedLine[];
}

/** What a book that came with a catalogue would add. */
export interface LearnedOffer {
  /** So many phrases that make nothing milder. */
  readonly phrases: number;
  /** What makes words good, harmless or a fault milder: not taken without a yes. */
  readonly asks: readonly LearnedLine[];
}

export interface LearnedTaken {
  readonly aircraft: string;
  readonly text: string;
  /** What makes words good, harmless or a fault milder: not taken without a yes. */
  readonly asks: readonly LearnedLine[];
}

export interface LearnedServices {
  book(aircraft: string): Promise<Outcome<LearnedBook>>;
  /** Undoes that a line was forgotten. */
  remember(line: string, aircraft: string): Promise<Outcome>;
  /** The file of an aircraft's phrasebooks, to be carried beside its catalogue. */
  give(aircraft: string): Promise<Outcome<{ name: string; blob: Blob }>>;
  /** Brings such a file in; `yes`: also what would be asked about. */
  take(file: File, yes?: boolean): Promise<Outcome<LearnedTaken>>;
}
