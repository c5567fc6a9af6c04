import type {
  DeskWalk,
  DeviceLine,
  Hello,
  Invited,
  Person,
  Role,
  Terms,
  Told,
} from '#shared/school';
import type { PasskeyLine } from '#shared/passkey';
import type { FleetLine } from '#shared/school-people';
import type { SyncState } from '#sync';
import type { LearnedLine } from './learned-services.ts';
import type { Live, Outcome } from './services.ts';

/** How this device stands to a school. */
export interface SchoolView {
  /** The school that this page comes from; null: none, or not reached yet. */
  readonly about: {
    readonly school: string;
    readonly name: string;
    /** Passkeys hold at this address, and this browser has them. */
    readonly passkeys: boolean;
  } | null;
  /** What the school said last; null: this device is in no school. */
  readonly hello: Hello | null;
  readonly sync: SyncState;
  /** What was not taken, there or here, the latest first. */
  readonly told: readonly Told[];
  /** Grows whenever something came: lists are asked for again. */
  readonly news: number;
  /** What was learned elsewhere in the school; nothing of it counts here yet. */
  readonly offers: readonly PhraseOffer[];
}

/** Phrases of one aircraft that wait for a yes. */
export interface PhraseOffer {
  readonly aircraft: string;
  readonly lines: readonly LearnedLine[];
  /** Count here, and were forgotten by who taught them. */
  readonly forgets: readonly LearnedLine[];
}

export interface FleetView {
  readonly aircraft: readonly FleetLine[];
  /** Walked, and in no list. */
  readonly unlisted: readonly { readonly name: string; readonly catalogue: string }[];
}

export interface AircraftEdit {
  readonly name?: string;
  readonly catalogue?: string;
  readonly retired?: boolean;
}

/** A code to be scanned, as a drawing and as words. */
export interface CodeView {
  readonly code: string;
  readonly link: string;
  /** SVG as a data: address. */
  readonly drawn: string;
  /** Milliseconds since 1970. */
  readonly expires: number;
}

export interface PersonEdit {
  readonly roles?: readonly Role[];
  readonly voice?: boolean;
  readonly students?: readonly string[];
  readonly gone?: boolean;
}

/** What the screens ask of a school. */
export interface SchoolServices {
  readonly view: Live<SchoolView>;
  /** Finds out whether this page comes from a school. */
  look(): Promise<void>;
  invited(code: string): Promise<Outcome<Invited>>;
  join(code: string, invited: Invited, name: string): Promise<Outcome>;
  /** Shows a code with which somebody's phone signs this desk in; the view changes when it did. */
  askIn(): Promise<Outcome<CodeView>>;
  /** Signs a desk in, as the holder of this phone. */
  letDeskIn(code: string): Promise<Outcome<{ readonly name: string }>>;
  leave(): Promise<Outcome>;
  /** Asks the school now. */
  sync(): Promise<void>;
  walks(
    before: string | null,
  ): Promise<Outcome<{ readonly walks: readonly DeskWalk[]; readonly cursor: string | null }>>;
  people(): Promise<Outcome<readonly Person[]>>;
  addPerson(name: string, roles: readonly Role[]): Promise<Outcome>;
  changePerson(id: string, change: PersonEdit): Promise<Outcome>;
  eraseSoundOf(id: string): Promise<Outcome<{ readonly recordings: number }>>;
  devices(): Promise<Outcome<readonly DeviceLine[]>>;
  shutOut(device: string): Promise<Outcome>;
  /** A code for a phone of this person, or for one that the pilots share. */
  invite(person: string | null): Promise<Outcome<CodeView>>;
  setTerms(terms: Terms): Promise<Outcome>;
  /** The catalogue of this device by that id becomes the school's. */
  publish(catalogue: string): Promise<Outcome<{ readonly number: number }>>;
  /** Signs this desk in with a passkey. */
  signIn(): Promise<Outcome>;
  /** One's own; for a chief everybody's. */
  passkeys(): Promise<Outcome<readonly PasskeyLine[]>>;
  /** Makes a passkey for whoever is signed in here. */
  addPasskey(name: string): Promise<Outcome>;
  removePasskey(id: string): Promise<Outcome>;
  fleet(): Promise<Outcome<FleetView>>;
  addAircraft(name: string, catalogue: string): Promise<Outcome>;
  changeAircraft(id: string, change: AircraftEdit): Promise<Outcome>;
  /** Erases what a person taught from the school, and on every device as soon as it asks. */
  erasePhrasesOf(id: string): Promise<Outcome<{ readonly phrases: number }>>;
  /** Yes to everything that is offered of an aircraft. */
  takePhrases(aircraft: string): Promise<Outcome<{ readonly text: string }>>;
  /** No to it. */
  leavePhrases(aircraft: string): Promise<Outcome>;
}
