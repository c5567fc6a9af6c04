import type { Catalogue, Change } from '#shared/catalogue';
import type { LearnedOffer } from '../learned-services.ts';
import type { Live, Outcome } from '../services.ts';

/** One edition of a catalogue on this device. */
export interface EditionLine {
  readonly edition: string;
  /** null: its author counts none. */
  readonly version: number | null;
  /** Who made it and why, as the catalogue says. */
  readonly change: Change | null;
  /** Walks on this device that were made with it. */
  readonly walks: number;
  /** Who gave it, and the key of their device in a form that can be read out; null: made here, or unsigned. */
  readonly from: { readonly by: string; readonly key: string } | null;
  /** Taken back by its author: no walk begins with it. */
  readonly withdrawn: boolean;
  /** The one that a walk begins with. */
  readonly current: boolean;
}

/** A catalogue with all its editions, oldest first. */
export interface BookLine {
  readonly id: string;
  readonly name: string;
  readonly kind: Catalogue['kind'];
  /** Ships with Talkround. */
  readonly starter: boolean;
  /** Not offered on the first screen. */
  readonly putAway: boolean;
  readonly stations: number;
  readonly checks: number;
  readonly editions: readonly EditionLine[];
  /** Aircraft that are walked by it. */
  readonly aircraft: readonly string[];
  /** Tellings that were learned on them. */
  readonly learned: number;
}

export interface DraftLine {
  readonly id: string;
  readonly name: string;
  /** Milliseconds since 1970. */
  readonly changed: number;
}

/** A catalogue that came from elsewhere and waits for a yes. */
export interface Offer {
  readonly id: string;
  readonly name: string;
  readonly version: number | null;
  readonly stations: number;
  readonly checks: number;
  /** What changes when it takes the place of the one that is here; null: there is none of that id. */
  readonly differences: readonly string[] | null;
  readonly aircraft: readonly string[];
  /** Aircraft of it that are walked by another catalogue here, and by which. */
  readonly moves: readonly { readonly aircraft: string; readonly from: string }[];
  /** What was learned on its aircraft and comes with it; null: nothing. */
  readonly learned: LearnedOffer | null;
  /** null: a file that nobody signed. */
  readonly signed: {
    readonly by: string;
    readonly key: string;
    /** The edition that is here came from the same device; null: it was not signed. */
    readonly sameAsBefore: boolean | null;
  } | null;
}

/** What a draft would change, before it is given out. */
export interface Review {
  readonly version: number;
  /** Against the edition that is walked now; null: it is the first. */
  readonly differences: readonly string[] | null;
  /** What is still to be confirmed. */
  readonly open: number;
}

/** From what a draft begins. */
export type DraftFrom =
  | { readonly from: 'text'; readonly text: string }
  | { readonly from: 'talk'; readonly utterances: readonly string[] }
  | { readonly from: 'catalogue'; readonly id: string; readonly as: 'edition' | 'copy' }
  | { readonly from: 'nothing'; readonly name: string; readonly kind: Catalogue['kind'] };

/** Something about a name that a pilot would stumble over. */
export interface Heed {
  /** Check that it is about; null: the whole file. */
  readonly check: string | null;
  readonly line: number | null;
  /** error: no walk can begin with it. */
  readonly sort: 'error' | 'doubt' | 'by-ear';
  readonly text: string;
  /** Sentences that are taken for each other, and what becomes of each. */
  readonly sentences: readonly { readonly said: string; readonly read: string }[];
}

/** A word as the recogniser expects to hear it. */
export interface WordSound {
  readonly word: string;
  /** ARPABET. */
  readonly phones: string;
  /** author: the catalogue says so. dictionary: it is known. spelling: guessed. */
  readonly by: 'author' | 'dictionary' | 'spelling';
}

/** A name of the draft, said by its author to the recogniser of this device. */
export interface OwnVoiceView {
  readonly state: 'off' | 'starting' | 'listening' | 'hearing' | 'done' | 'trouble';
  /** The name that is tried. */
  readonly name: string;
  /** One sentence when it cannot listen. */
  readonly trouble: string | null;
  /** null until something was said. */
  readonly made: MadeOfName | null;
}

export interface MadeOfName {
  /** heard: as this name. other: taken for something else. not: for nothing. */
  readonly as: 'heard' | 'other' | 'not';
  /** The words that it was taken for, when it is other. */
  readonly other: string | null;
  /** The sounds that were heard, in ARPABET. */
  readonly sounds: readonly string[];
  readonly faint: boolean;
  readonly noisy: boolean;
  /** Words of the name that sounded otherwise than they are written down, and how. */
  readonly words: readonly { readonly word: string; readonly heard: string }[];
}

export interface OwnVoice {
  readonly now: Live<OwnVoiceView>;
  /** Listens for one utterance: this name of a check of the file. */
  start(text: string, station: string, name: string): void;
  stop(): Promise<void>;
}

export interface ProofLine {
  readonly check: string;
  readonly said: string;
  readonly understood: boolean;
  /** What was made of it. */
  readonly read: string;
}

/** How a catalogue sounds to the recogniser, while it is being written. */
export interface Hearing {
  /** Everything that the command line says of the file, and mistakes with their lines. */
  heed(text: string): Promise<readonly Heed[]>;
  /** What one sentence would do, said at a station. */
  tryOut(text: string, sentence: string, station: string | null): Promise<Outcome<string>>;
  /** Sample sentences of every check. */
  proof(text: string): Promise<Outcome<readonly ProofLine[]>>;
  sounds(text: string, names: readonly string[]): Promise<readonly WordSound[]>;
  /** Says it aloud with the voice of this device; false: there is none. */
  say(words: string): Promise<boolean>;
}

/** Catalogues: drafts, editions, and giving them away. */
export interface Workshop {
  readonly books: Live<readonly BookLine[]>;
  readonly drafts: Live<readonly DraftLine[]>;
  readonly offer: Live<Offer | null>;
  readonly hearing: Hearing;
  /** Left out: nothing listens on this device itself. */
  readonly ownVoice?: OwnVoice;
  /** Counts anew what was walked and learned with what is on the shelf. */
  refresh(): Promise<void>;

  /** Resolves to the id of the draft. */
  begin(from: DraftFrom): Promise<Outcome<string>>;
  /** The author's file of a draft. */
  draft(id: string): Promise<Outcome<string>>;
  keep(id: string, text: string): Promise<Outcome>;
  drop(id: string): Promise<Outcome>;
  review(id: string): Promise<Outcome<Review>>;
  /** Gives the draft out as the next edition on this device. */
  publish(id: string, by: string, why: string): Promise<Outcome<{ readonly text: string }>>;

  /** The author's file of the edition that is walked now. */
  source(id: string): Promise<Outcome<string>>;
  setAircraft(id: string, aircraft: readonly string[]): Promise<Outcome>;
  putAway(id: string, away: boolean): Promise<Outcome>;
  withdraw(edition: string, withdrawn: boolean): Promise<Outcome>;
  /** Never one that a walk needs. */
  remove(edition: string): Promise<Outcome>;

  /**
   * One file, signed by this device; `code`: what a QR code holds, null when it is too large for one.
   *
   * @param learned with what was learned on its aircraft, which names people
   */
  give(
    id: string,
    by: string,
    learned?: boolean,
  ): Promise<Outcome<{ readonly name: string; readonly blob: Blob; readonly code: string | null }>>;
  /** Reads what came from elsewhere; it waits as the offer. */
  take(text: string, file: string): Promise<Outcome>;
  /** The same out of a QR code. */
  takeCode(code: string): Promise<Outcome>;
  /** @param yes takes also what was learned that makes words good, harmless or a fault milder */
  accept(yes?: boolean): Promise<Outcome<{ readonly text: string }>>;
  decline(): void;
}
