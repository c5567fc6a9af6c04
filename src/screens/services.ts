import type { RecordedChunk } from '#capture';
import type { Asked } from '#shared/asked';
import type { Catalogue } from '#shared/catalogue';
import type { Circumstance } from '#shared/circumstance';
import type { Coverage, Finding, Standing } from '#shared/coverage';
import type { Decision, Event, ReadBy } from '#shared/event';
import type { Heard } from '#shared/heard';
import type { Line } from '#shared/phrasebook';
import type { Question } from '#shared/question';
import type { Severity } from '#shared/severity';
import type { SquawkStep } from '#shared/squawk';
import type { Statement } from '#shared/statement';
import type { KeyView, WalkDevices } from './device-views.ts';
import type { EarChecking, LocalEar } from './ear-views.ts';
import type { LearnedServices } from './learned-services.ts';
import type { PictureServices } from './picture-services.ts';
import type { Player } from './player.ts';
import type { SchoolServices } from './school-services.ts';
import type {
  AnswersTaken,
  AnswersWay,
  AskedCatalogue,
  FiledSquawk,
  SquawkBook,
} from './squawk-views.ts';
import type { Language } from './text/text.ts';
import type { Workshop } from './workshop/desk.ts';

/**
 * What the screens need from the rest of the house. Screens show what these
 * give and send intents; they decide nothing. src/main.tsx supplies the real
 * thing, the tests supply a double over the same shapes.
 */

/** A value that changes. `get` returns the same object until it does. */
export interface Live<T> {
  get(): T;
  /** Runs after every change; returns how to stop. */
  subscribe(run: () => void): () => void;
}

/** What came of an intent: a value, or one sentence that says what, where and what to do. */
export type Outcome<T = null> =
  { readonly ok: true; readonly value: T } | { readonly ok: false; readonly error: string };

/** Where the words come from. "typed": no microphone. */
export type EarKind = 'embedded' | 'browser' | 'typed' | 'file';

/** Whether it hears, as the screen shows it. */
export type Listening =
  /** The recogniser is being loaded; `loaded`: which share of it is here, 0 to 1, where that is known. */
  | { readonly state: 'starting'; readonly ear: EarKind; readonly loaded?: number }
  | {
      readonly state: 'listening';
      readonly ear: EarKind;
      readonly sentAway: boolean;
      /** Which recognisers of this device listen; left out: ours alone, or none of it. */
      readonly here?: 'both' | 'browser';
    }
  /** Our own voice speaks; the gate is closed (R11). */
  | { readonly state: 'speaking'; readonly ear: EarKind }
  | { readonly state: 'held'; readonly ear: EarKind }
  /** Words come from the keyboard only. */
  | { readonly state: 'typed'; readonly ear: 'typed' }
  /** It should hear and does not; `why` is one sentence with what to do. */
  | { readonly state: 'deaf'; readonly ear: EarKind; readonly why: string };

/** The last utterance and what was made of it. */
export interface LastHeard {
  /** Id of the `heard` event. */
  readonly event: string;
  readonly words: string;
  /** A line for each statement: "Drive belts: slack spoken for", "Not counted: an intention". */
  readonly made: readonly string[];
  /**
   * counted: something changed by it. nothing: heard, changes nothing (R2,
   * chatter). asked: a question came of it. not-understood: it sounded like a
   * result and could not be read (R5). finding: it made or amended a finding.
   */
  readonly sort: 'counted' | 'nothing' | 'asked' | 'not-understood' | 'finding';
  /** Checks that the words were put to; left out or empty: none. */
  readonly checks?: readonly string[];
  /** The finding that the words made or amended; left out: none. */
  readonly finding?: string;
  /** It changed something, and can be taken back or put on another check. */
  readonly changes?: boolean;
  /** It was taken back since (R6). */
  readonly taken?: boolean;
}

/** Speech that was detected and gave no words: nothing of it is on the sheet. */
export interface Unheard {
  readonly inARow: number;
  /** What is most likely wrong, once there were several; null before. */
  readonly advice: 'faint' | 'noise' | 'voice' | null;
}

/** A walk in progress. */
export interface WalkView {
  readonly id: string;
  readonly aircraft: string;
  readonly catalogue: Catalogue;
  readonly coverage: Coverage;
  /** Where the speaker is; null before the first station. */
  readonly station: string | null;
  /** Device clock, milliseconds, when the walk began. */
  readonly begun: number;
  readonly last: LastHeard | null;
  /** The last five utterances and what became of each, oldest first. */
  readonly lately?: readonly LastHeard[];
  /** The question that waits for its answer. */
  readonly question: Question | null;
  /** Open squawks carried into this walk. */
  readonly squawks: readonly {
    readonly squawk: string;
    readonly check: string | null;
    readonly text: string;
  }[];
  /** One sentence while something cannot be kept (disk full, evicted), else null. */
  readonly trouble: string | null;
  /**
   * Words of our own voice that could not be spoken, such as with no voice, to
   * be read instead; null when there are none. Not trouble: nothing is wrong.
   */
  readonly shown?: string | null;
  /** Begun on another device, which let this one in: it is handed over, and ended there. */
  readonly guest?: boolean;
  /** Words that were heard and could not be written yet (R10), oldest first. Left out or empty: none wait. */
  readonly unkept?: readonly string[];
  /** The last that was said gave no words. Left out: it did. */
  readonly unheard?: Unheard;
}

/** What changes many times a second, apart from the rest so that the rest need not be drawn again. */
export interface Pulse {
  /** Loudness of the microphone, 0 to 1. */
  readonly level: number;
  /** Words so far of an utterance that is not final; never counted. */
  readonly partial: string;
}

export interface AircraftChoice {
  /** As it is called: a made-up registration in the demonstration. */
  readonly aircraft: string;
  /** Catalogue id it was last walked with; null: never walked here, only its squawks are known. */
  readonly catalogue: string | null;
  readonly hours: number | null;
  readonly openSquawks: readonly string[];
  /** Checks that they are about: asked for today whatever else today asks. Left out: none is known. */
  readonly squawkedChecks?: readonly string[];
  /** The school has retired it: no walk of it is offered. Left out: it has not. */
  readonly retired?: boolean;
}

export interface CatalogueChoice {
  readonly id: string;
  readonly name: string;
  readonly kind: Catalogue['kind'];
  readonly edition: string;
  readonly stations: number;
  readonly checks: number;
  readonly asked: Asked;
  readonly notice: string | null;
  readonly cautions: readonly string[];
  /** Circumstances that any of its checks asks about. */
  readonly circumstances: readonly Circumstance[];
}

/** What the first screen offers. */
export interface Choices {
  readonly ready: boolean;
  readonly catalogues: readonly CatalogueChoice[];
  readonly aircraft: readonly AircraftChoice[];
  /** Chosen last time, so that one touch begins. */
  readonly last: { readonly aircraft: string; readonly catalogue: string } | null;
  /** A walk that was neither finished nor given up: offered again. */
  readonly unfinished: WalkLine | null;
  /** One sentence when the data base cannot be used, else null. */
  readonly trouble: string | null;
  /**
   * Room and storage: one sentence each, worst first ("Little room is left:
   * about 12 minutes of sound."). Left out or empty: nothing to warn of.
   */
  readonly warnings?: readonly string[];
  /** Much of what was said on the last walk gave no words: the ear check is worth its ten seconds. */
  readonly heardBadly?: boolean;
}

/** A newer version of the app that waits. It takes over only when it is asked to. */
export interface Update {
  /** What changed, one sentence. */
  readonly sentence: string;
  /** Loads the new version. The screens offer it only where no walk is in progress. */
  apply(): void;
}

export interface BeginRequest {
  readonly aircraft: string;
  readonly catalogue: string;
  readonly circumstances: readonly Circumstance[];
  readonly pilot: string | null;
  readonly instructor: string | null;
  /** Aircraft time in service, hours. */
  readonly hours: number | null;
  readonly ear: EarKind;
}

/** One line in the list of kept walks. */
export interface WalkLine {
  readonly id: string;
  readonly aircraft: string;
  readonly catalogue: string;
  readonly catalogueName: string;
  readonly pilot: string | null;
  /** Milliseconds since 1970. */
  readonly begun: number;
  /** Seconds from begin to finish; null: not counted yet, or its times are unknown. */
  readonly seconds: number | null;
  readonly state: 'walking' | 'finished' | 'signed' | 'discarded';
  /** Null: not counted yet. */
  readonly open: number | null;
  readonly findings: number | null;
  /** Written by another device and brought in. */
  readonly brought: boolean;
}

/** What may be said of a walk's seal, and of what lies beside the walk. */
export interface WalkSeal {
  /** Sealed by a key of the walk, nothing missing, and nobody else claims to be it. */
  readonly whole: boolean;
  /** One sentence. */
  readonly text: string;
  /** What is missing, what was added, by whom, when: one sentence each. */
  readonly remarks: readonly string[];
  /** Who reviewed or amended it after the signature, one line each. */
  readonly beside: readonly string[];
  /** Other versions of the walk, which count nowhere; their findings are not lost (R4). */
  readonly versions: readonly {
    readonly id: string;
    readonly text: string;
    readonly findings: Coverage['findings'];
  }[];
}

/** A kept walk, opened. */
export interface WalkRecord {
  readonly id: string;
  readonly aircraft: string;
  readonly catalogue: Catalogue;
  /** What belongs to the walk; what was said beside it is not among them. */
  readonly events: readonly Event[];
  readonly coverage: Coverage;
  /** The same with the standings that reviewers gave, for the debrief. */
  readonly reviewed: Coverage;
  /** What the chain of hashes and the seal say; null when it has not been asked. */
  readonly seal: WalkSeal | null;
  /** Left out: nobody else is let in from here. */
  readonly devices?: WalkDevices;
}

/** How a walk would stand if its words were read today: an offer, never put in the place of what was recorded. */
export interface SecondReading {
  /** Who read it; null: the walk does not say. */
  readonly was: ReadBy | null;
  readonly now: ReadBy | null;
  /** Checks that would stand otherwise, or of which something else was said. */
  readonly checks: readonly {
    readonly check: string;
    readonly was: Stood;
    readonly now: Stood;
  }[];
  /** Findings that would not be made, and those that would. */
  readonly lost: readonly Finding[];
  readonly fresh: readonly Finding[];
}

export interface Stood {
  readonly standing: Standing;
  readonly told: readonly ('explained' | 'done' | 'reported')[];
}

/** Agreement between the sheet and the reviewer (Cohen's kappa). */
export interface Agreement {
  /** Checks that the reviewer marked. */
  readonly marked: number;
  readonly agreed: number;
  /** Marks that are missing before anything can be told of chance; 0: none. */
  readonly missing: number;
  /** null when it is not defined, such as when only one standing occurs. */
  readonly kappa: number | null;
  readonly interval: readonly [number, number] | null;
}

/** A reading as a reviewer would have it. The lead's wire turns it into a Statement. */
export interface ReadingCorrection {
  /** Statement that was read. */
  readonly statement: string;
  /** What should have been read: the check and its places, or nothing at all. */
  readonly instead: { readonly check: string; readonly instances: readonly string[] } | null;
  readonly by: string;
  readonly note: string;
}

export interface StandingCorrection {
  readonly check: string;
  readonly standing: Exclude<Standing, 'skipped'>;
  readonly by: string;
  readonly note: string;
}

export type { KeyView, LetIn, WalkDevices } from './device-views.ts';
export type {
  AircraftEdit,
  CodeView,
  FleetView,
  PersonEdit,
  PhraseOffer,
  SchoolServices,
  SchoolView,
} from './school-services.ts';
export type { EarChecking, EarCheckView, LocalEar, LocalEarView } from './ear-views.ts';
export type { PictureServices } from './picture-services.ts';
export type { Player, Told } from './player.ts';
export type * from './workshop/desk.ts';
export type {
  LearnedBook,
  LearnedLine,
  LearnedOffer,
  LearnedServices,
  LearnedTaken,
} from './learned-services.ts';
export type {
  AnswersTaken,
  AnswersWay,
  AskedCatalogue,
  FiledSquawk,
  SameFault,
  SquawkBook,
  SquawkView,
  TrendView,
} from './squawk-views.ts';

export type Theme = 'system' | 'light' | 'dark' | 'red';

/**
 * How much is said aloud. tones: earcons, and what is wrong with listening or
 * keeping; other words are on the screen.
 * exceptions: questions, findings, what could not be understood. everything:
 * each result is read back too. Orders ("what's left") are always answered.
 */
export type Talk = 'tones' | 'exceptions' | 'everything';

export interface Settings {
  readonly theme: Theme;
  readonly ear: EarKind;
  /** Keep the sound beside the words. */
  readonly keepSound: boolean;
  readonly talk: Talk;
  /** Earcons; false: silent. */
  readonly earcons: boolean;
  readonly pilot: string;
  readonly certificate: string;
  readonly paper: 'a4' | 'letter';
  /** Of the sentences on the screen. What is said and heard stays English. */
  readonly language: Language;
}

/** A file that the app hands out. */
export type Paper =
  | 'sheet-pdf'
  | 'sheet-html'
  | 'sheet-json'
  | 'sheet-csv'
  | 'sheet-text'
  | 'form-pdf'
  | 'debrief-pdf'
  | 'debrief-html';
export type SquawkPaper = 'pdf' | 'csv' | 'json';

/** Whose walk a file is. */
export interface BroughtWalk {
  readonly aircraft: string;
  readonly catalogue: string;
  readonly pilot?: string | null;
  readonly instructor?: string | null;
  /** Aircraft time in service, hours. */
  readonly hours?: number | null;
  /** When it was walked, milliseconds since 1970. */
  readonly begun?: number;
}

/** How far a file import has come. */
export interface Progress {
  readonly text: string;
  /** 0 to 1; null when it cannot be told. */
  readonly part: number | null;
}

/** Dictating outside a walk, such as a quick squawk. */
export interface Dictation {
  readonly now: Live<{
    readonly state: 'off' | 'starting' | 'listening' | 'deaf';
    /** Words so far, final ones included. */
    readonly words: string;
    /** One sentence while it should hear and does not, or did not understand the last that was said. */
    readonly why: string | null;
  }>;
  start(aircraft: string): void;
  /** Stops listening; resolves, after the last words came, to what is to be filed. */
  done(): Promise<Dictated>;
  /** Stops listening; what was not filed is not kept. */
  stop(): void;
}

/** What was dictated, as the ear delivered it. */
export interface Dictated {
  readonly heard: readonly Heard[];
  /** Slices of its sound, in order; none where no sound is kept. */
  readonly sound: readonly RecordedChunk[];
}

/** Beginning with a word or the headset's button, once the microphone has been allowed. */
export interface BeginByVoice {
  /** Whether it listens for "begin" now. */
  readonly on: Live<boolean>;
  /** Listens for this aircraft's walk to be begun; returns how to stop. */
  listen(catalogue: string, begin: () => void): () => void;
  /** Resolves when what was asked for last is done, such as the microphone given back. */
  closed(): Promise<void>;
}

/** The app is not kept on this device. */
export interface Uncopied {
  readonly sentence: string;
  /** Address of a page that says what can be done; null when there is none. */
  readonly help: string | null;
}

export interface Services {
  /** The school that this device may be in. Left out: none is offered. */
  readonly school?: SchoolServices;
  /** Left out: a walk is begun by touch. */
  readonly beginByVoice?: BeginByVoice;
  readonly choices: Live<Choices>;
  readonly settings: Live<Settings>;
  /** A new version that waits; null when there is none. Left out: never told. */
  readonly updates?: Live<Update | null>;
  /** Why there is no copy for use without a network; null when there is one. Left out: never told. */
  readonly uncopied?: Live<Uncopied | null>;
  change(part: Partial<Settings>): void;

  /** The walk in progress; null when there is none. Changes with every event. */
  readonly walk: Live<WalkView | null>;
  readonly listening: Live<Listening>;
  readonly pulse: Live<Pulse>;

  begin(request: BeginRequest): Promise<Outcome<string>>;
  /** Takes up a walk that was left; `quietly`: without opening an ear, to decide and sign. */
  takeUp(walk: string, how?: 'quietly'): Promise<Outcome<string>>;
  /** Throws an unfinished walk away: its words stay in the log, its findings stay squawks (R4). */
  discard(walk: string, why: string | null): Promise<Outcome>;
  hold(): void;
  resume(): void;
  /** "That was wrong": the last statement no longer counts; it stays in the log (R6). */
  wrong(): Promise<Outcome>;
  /** What a speaker's own words were told to mean on an aircraft. Left out: nothing is learned. */
  phrasebook?(aircraft: string, speaker: string | null): Promise<Outcome<readonly Line[]>>;
  /** Forgets one line of it, given by its id. */
  forget?(line: string, aircraft: string): Promise<Outcome>;
  /** All phrasebooks of an aircraft, to be looked at and given away. Left out: not offered. */
  readonly learned?: LearnedServices;
  /** Takes back one of the last utterances, given by its event. Left out: not offered. */
  takeBack?(event: string): Promise<Outcome>;
  /** Puts what one of them said on another check. */
  putOn?(event: string, check: string): Promise<Outcome>;
  /** Words from the keyboard, read like spoken ones. */
  say(words: string): Promise<Outcome>;
  /** Picks an option of the waiting question by its place. */
  answer(question: string, option: number): Promise<Outcome>;
  /** Settles an open check by hand: the same as the words "good" at that check. */
  settle(check: string, verdict: 'good'): Promise<Outcome>;
  setAside(check: string, reason: string): Promise<Outcome>;
  setCircumstance(circumstance: Circumstance, holds: boolean): Promise<Outcome>;
  goTo(station: string): Promise<Outcome>;
  rate(finding: string, severity: Severity): Promise<Outcome>;
  placeFinding(
    statement: string,
    check: string,
    instances: readonly string[],
    by: string,
  ): Promise<Outcome>;
  finish(): Promise<Outcome>;
  decide(
    decision: Decision,
    by: string,
    authority: string | null,
    note: string | null,
  ): Promise<Outcome>;
  sign(name: string, certificate: string | null): Promise<Outcome>;
  /** Leaves the finished walk; the next begins afresh. */
  close(): void;

  readonly walks: Live<readonly WalkLine[]>;
  /** Counts what is open on these walks, and what was found; `walks` then shows it. Left out: all are counted. */
  count?(walks: readonly string[]): Promise<Outcome<unknown>>;
  open(walk: string): Promise<Outcome<WalkRecord>>;
  reviewReading(walk: string, correction: ReadingCorrection): Promise<Outcome<WalkRecord>>;
  reviewStanding(walk: string, correction: StandingCorrection): Promise<Outcome<WalkRecord>>;
  agreement(record: WalkRecord): Agreement;
  /** Reads the words of a walk with today's reader, beside the record. Left out: not offered. */
  readAgain?(walk: string): Promise<Outcome<SecondReading>>;
  readonly player: Player;
  /** Left out: no picture is taken or shown. */
  readonly pictures?: PictureServices;

  /** Catalogues: drafts, editions, giving away. Left out: not offered. */
  readonly workshop?: Workshop;
  /** A transcript, a sound file or a catalogue, by drop or choice. Resolves to the id of the walk it became, or null for a catalogue. */
  bringIn(
    file: File,
    into: BroughtWalk | null,
    progress: (p: Progress) => void,
    /** Asks for the end: a walk that is not read yet is not brought in. */
    stop?: AbortSignal,
    // `go`: the screen where it goes on.
  ): Promise<Outcome<{ walk: string | null; text: string; go?: string }>>;
  backUp(): Promise<Outcome<{ name: string; blob: Blob }>>;
  /** `stop` asks for the end: what was restored by then stays, and `text` says how much is left. */
  restore(
    file: File,
    progress: (p: Progress) => void,
    stop?: AbortSignal,
  ): Promise<Outcome<{ text: string }>>;
  /**
   * Erases every recording in which this person speaks: walks with them in it,
   * or words under their name. The words stay, the gap is on the record. `text`
   * is one sentence: how many recordings. Left out: not offered.
   */
  eraseSound?(person: string): Promise<Outcome<{ readonly text: string }>>;
  /** This device and those that were met, with their keys. Left out: not offered. */
  keys?(): Promise<Outcome<readonly KeyView[]>>;
  nameDevice?(name: string): Promise<Outcome>;
  compareKey?(publicKey: string, compared: boolean, device?: string): Promise<Outcome>;
  /** The QR code of a fingerprint, as one SVG path in a square of `size` units. */
  keyCode?(key: KeyView): Promise<Outcome<{ readonly size: number; readonly path: string }>>;
  /** A key from the words that a camera read from another device's code. Left out: not offered. */
  readKey?(text: string): Promise<Outcome<KeyView>>;
  /**
   * Lets a device add to an open walk that was begun here, once two people have
   * compared its words; `by` is who says so. Left out: not offered.
   */
  letIn?(
    walk: string,
    key: Pick<KeyView, 'device' | 'publicKey' | 'name'>,
    by: string,
  ): Promise<Outcome<WalkRecord>>;
  /** Seals what was said here in a walk that let this device in, and leaves it. */
  handOver?(walk: string): Promise<Outcome>;
  /** One walk as a file for another device, with its sound. */
  walkFile?(walk: string): Promise<Outcome<{ name: string; blob: Blob }>>;
  /** Something that has to be said after the signature: beside the walk, never in it. */
  amend?(walk: string, by: string, note: string): Promise<Outcome<WalkRecord>>;
  /** The document of a walk, to save or share. */
  paper(walk: string, kind: Paper): Promise<Outcome<{ name: string; blob: Blob }>>;

  squawkBook(aircraft: string): Promise<Outcome<SquawkBook>>;
  /** Left out: no ear check is offered. */
  readonly earCheck?: EarChecking;
  /** Left out: this browser has no recogniser of its own, or none is offered. */
  readonly localEar?: LocalEar;
  /** Left out: squawks are typed. */
  readonly dictation?: Dictation;
  /** Files a squawk, typed or dictated, also with no walk begun. */
  fileSquawk(
    aircraft: string,
    said: string | Dictated,
    /** Its catalogue, where that was asked; null: none of these is its own. */
    catalogue?: string | null,
  ): Promise<Outcome<FiledSquawk | AskedCatalogue>>;
  /** Tells anew what is wrong; the words are read as a dictated squawk is. */
  correctSquawk(squawk: string, words: string, by: string, note: string): Promise<Outcome>;
  squawkStep(squawk: string, step: SquawkStep): Promise<Outcome>;
  squawkPaper(aircraft: string, kind: SquawkPaper): Promise<Outcome<{ name: string; blob: Blob }>>;
  squawkAnswers(file: File, how?: AnswersWay): Promise<Outcome<AnswersTaken>>;
}

/** What the walk of the first use is begun under: discarded at its end, it makes no aircraft known. */
export const PRACTICE = 'Practice';

/** Statements of one event list, by id. */
export function statementsOf(events: readonly Event[]): ReadonlyMap<string, Statement> {
  const found = new Map<string, Statement>();
  for (const event of events) {
    if (event.what.kind === 'stated') found.set(event.what.statement.id, event.what.statement);
  }
  return found;
}
