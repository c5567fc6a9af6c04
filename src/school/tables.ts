import type { ColumnType, Generated, Insertable, Selectable } from 'kysely';
import type { Role, Terms } from '#shared/school';
import type { PeopleTables } from './tables-people.ts';

/** JSON in, JSON out. */
type Json<T> = ColumnType<T, string, string>;

/**
 * Every table begins with the school, so that one database may hold many and
 * can be cut between any two of them. Times are milliseconds since 1970.
 */
export interface Tables extends PeopleTables {
  school: {
    id: string;
    name: string;
    terms: Json<Terms>;
    /** The number that was given last to an event; locks the school while events are written. */
    seq: Generated<number>;
    /** Grows when somebody may see more or less than before: devices then ask from the beginning. */
    epoch: Generated<number>;
    /** The school writes too (an erasure): its own chain. */
    device: string;
    public_key: string;
    secret: string;
    head: string | null;
    made: number;
  };
  person: {
    school: string;
    id: string;
    name: string;
    roles: Role[];
    voice: Generated<boolean>;
    since: number;
    gone: number | null;
  };
  teaches: { school: string; instructor: string; student: string };
  device: {
    school: string;
    id: string;
    public_key: string;
    name: string;
    /** Whose it is; null: shared by the pilots. */
    person: string | null;
    desk: boolean;
    joined: number;
    /** When a desk's sign-in ends; null: never. */
    until: number | null;
    /** By which passkey a desk was signed in; null: by a phone. */
    passkey: Generated<string | null>;
    shut: number | null;
    shut_by: string | null;
    /** Hash of the last event that came, counted or aside. */
    head: string | null;
    /** The walk that its last event belongs to. */
    walk: string | null;
    events: Generated<number>;
    seen: number | null;
    /** Editions that it says it has. */
    editions: Json<string[]>;
  };
  invitation: {
    school: string;
    /** SHA-256 of the code: who reads the table cannot join. */
    code: string;
    person: string | null;
    made_by: string;
    made: number;
    expires: number;
    used: number | null;
    device: string | null;
  };
  /** A desk that waits for somebody to sign it in. */
  asking: {
    school: string;
    code: string;
    device: string;
    public_key: string;
    name: string;
    expires: number;
    used: number | null;
  };
  event: {
    school: string;
    seq: number;
    hash: string;
    id: string;
    device: string;
    walk: string | null;
    /** For what belongs to no walk: the walk of its device that it lies in. */
    within: string | null;
    aircraft: string | null;
    kind: string;
    prev: string | null;
    text: string;
    arrived: number;
    /** Why it counts nowhere and is given to nobody; null: it counts. */
    aside: string | null;
  };
  walk: {
    school: string;
    id: string;
    device: string;
    aircraft: string;
    catalogue: string;
    edition: string;
    pilot: string | null;
    instructor: string | null;
    /** The people by those names. */
    pilot_id: string | null;
    instructor_id: string | null;
    begun: number;
    last: number;
    events: number;
    station: string | null;
    finished: boolean;
    signed: boolean;
  };
  sound: {
    school: string;
    recording: string;
    chunk: number;
    hash: string;
    device: string;
    walk: string | null;
    mime: string;
    /** When it came; null: only named so far. */
    kept: number | null;
    bytes: number | null;
    /** Why it is not kept, or no more; null: it is wanted. */
    dropped: string | null;
    /** A picture, which lies like a recording of one piece. */
    picture: Generated<boolean>;
    /** Of a picture: the statement of its walk that it shows. */
    statement: string | null;
    /** Of a picture: the squawk that shows it to everybody; null: none does. */
    squawk: string | null;
    /** Of a picture: the number of the event that names it. */
    named: number | null;
  };
  /** Which squawk the pictures of a statement are shown with. */
  picture_squawk: { school: string; walk: string; statement: string; squawk: string };
  /** Squawks that need no picture any more to be looked for. */
  squawk_settled: { school: string; squawk: string };
  /** With which number of the log an event about a picture becomes everybody's. */
  picture_shown: { school: string; seq: number; event: number };
  /** Bytes that are to be deleted where they lie. */
  unkept: { school: string; hash: string };
  catalogue: {
    school: string;
    edition: string;
    catalogue: string;
    name: string;
    number: number;
    text: string;
    added: number;
    added_by: string;
    current: boolean;
  };
  nonce: { slot: number; school: string; who: string; nonce: string; at: number };
  refusal: {
    school: string;
    id: string;
    at: number;
    device: string;
    event: string;
    walk: string | null;
    why: string;
  };
  /** What people did to the school itself: invited, shut out, changed. */
  deed: { school: string; id: string; at: number; by: string; kind: string; of: string };
}

export type EventRow = Selectable<Tables['event']>;
export type NewEvent = Insertable<Tables['event']>;
export type DeviceRow = Selectable<Tables['device']>;
export type WalkRow = Selectable<Tables['walk']>;
