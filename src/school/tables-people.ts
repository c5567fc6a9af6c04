import type { Generated } from 'kysely';

/** The tables of what people add to a school: how they sign in, what they fly, what their words were told to mean. */
export interface PeopleTables {
  passkey: {
    school: string;
    id: string;
    /** The authenticator's own id of it, base64url. */
    credential: string;
    person: string;
    /** COSE, base64url. */
    public_key: string;
    /** What it counted when it was used last; nought for those that never count. */
    counter: number;
    /** The name that it was made under. */
    party: string;
    name: string;
    added: number;
    added_by: string;
    used: number | null;
    shut: number | null;
    /** It counted backwards. */
    copied: Generated<boolean>;
  };
  /** Challenges that wait to be signed, as hashes: no server remembers one. */
  challenge: {
    school: string;
    hash: string;
    kind: string;
    device: string;
    public_key: string;
    person: string | null;
    party: string;
    expires: number;
    used: number | null;
  };
  aircraft: {
    school: string;
    id: string;
    name: string;
    /** What the name is compared by: letters and digits alone. */
    key: string;
    catalogue: string;
    added: number;
    retired: number | null;
  };
  /** Names that an aircraft had before: what was said under them stays its own. */
  aircraft_was: { school: string; key: string; name: string; aircraft: string; until: number };
  phrase: {
    school: string;
    /** Id of the telling, the same in whoever's log it is. */
    id: string;
    /** The number of what happened to it last; devices ask for what is later than they have. */
    seq: number;
    aircraft: string;
    speaker: string | null;
    /** The person by that name. */
    person: string | null;
    /** Who brought it first. */
    device: string;
    /** `Learned`, JSON; null: it was erased. */
    text: string | null;
    /** When it was forgotten, by whoever told it. */
    forgotten: number | null;
    erased: number | null;
  };
}

/** What a backup takes of these, in the order in which it is restored; challenges are good for minutes. */
export const PEOPLE_LISTS = ['passkey', 'aircraft', 'aircraft_was', 'phrase'] as const;
