import type { z } from 'zod';
import {
  DeskWalk,
  DeviceLine,
  Edition,
  FeedPage,
  Hello,
  Invitation,
  Invited,
  Person,
  Refusal,
  PieceName,
  PiecesTaken,
  Taken,
  type JoinRequest,
  type Role,
  type Terms,
} from '#shared/school';
import { PasskeyLine, PasskeyWish, SignInWish } from '#shared/passkey';
import type { PasskeyMade, PasskeyUsed } from '#shared/passkey';
import { FleetLine, PhrasePage } from '#shared/school-people';
import { z as zod } from 'zod';

/** The school said no; the message is its sentence. */
export class SchoolSaidNo extends Error {
  override readonly name = 'SchoolSaidNo';
  readonly status: number;
  constructor(status: number, sentence: string) {
    super(sentence);
    this.status = status;
  }
}

/** The school cannot be reached, or answers nothing that can be read. */
export class SchoolAway extends Error {
  override readonly name = 'SchoolAway';
}

/** What a request needs of the device and the platform. */
export interface ApiParts {
  /** Address of the school, ending in a slash. */
  readonly base: string;
  readonly device: string;
  readonly fetch: typeof fetch;
  now(): number;
  nonce(): string;
  sha256(bytes: Uint8Array): string;
  prove(proof: {
    school: string;
    at: number;
    nonce: string;
    method: string;
    path: string;
    body: string;
  }): Promise<string>;
}

/** How long an answer may take, milliseconds. A page of events on a poor network takes about 20 s. */
const PATIENCE = 60_000;

const Walks = zod.object({ walks: zod.array(DeskWalk), cursor: zod.string().nullable() });
const Wanted = zod.object({ wanted: zod.array(PieceName), cursor: zod.string().nullable() });
const Nothing = zod.object({});
const Named = zod.object({ name: zod.string() });
const Fleet = zod.object({
  aircraft: zod.array(FleetLine),
  unlisted: zod.array(zod.object({ name: zod.string(), catalogue: zod.string() })),
});

/** Bytes that go up, by the hash that the log names. */
export interface Piece {
  readonly hash: string;
  readonly bytes: Uint8Array;
}

/** A line that lists them, and their bytes behind it. */
function packed(pieces: readonly Piece[]): Uint8Array {
  const list = pieces.map(({ hash, bytes }) => ({ hash, bytes: bytes.length }));
  const head = new TextEncoder().encode(`${JSON.stringify(list)}\n`);
  const body = new Uint8Array(pieces.reduce((sum, p) => sum + p.bytes.length, head.length));
  body.set(head);
  let at = head.length;
  for (const { bytes } of pieces) {
    body.set(bytes, at);
    at += bytes.length;
  }
  return body;
}

async function bytesOf(response: Response): Promise<Uint8Array> {
  try {
    return new Uint8Array(await response.arrayBuffer());
  } catch (cause) {
    throw new SchoolAway('The answer of the school was cut off.', { cause });
  }
}

/** The school's answers, each read through its schema. Rejects with `SchoolSaidNo` or `SchoolAway`. */
export function schoolApi(parts: ApiParts) {
  /** Server clock less ours, milliseconds: our own may be hours off. */
  let offset = 0;

  async function signed(
    school: string,
    method: string,
    path: string,
    body: Uint8Array,
  ): Promise<string> {
    const at = Math.round(parts.now() + offset);
    const nonce = parts.nonce();
    const hash = parts.sha256(body);
    const signature = await parts.prove({ school, at, nonce, method, path, body: hash });
    return `Talkround school="${school}", device="${parts.device}", at="${at}", nonce="${nonce}", body="${hash}", signature="${signature}"`;
  }

  async function send(
    school: string,
    method: string,
    path: string,
    body: Uint8Array = new Uint8Array(),
    signal: AbortSignal = AbortSignal.timeout(PATIENCE),
    again = true,
  ): Promise<Response> {
    const authorization = await signed(school, method, path, body);
    let response: Response;
    try {
      response = await parts.fetch(`${parts.base}${path}`, {
        method,
        headers: { authorization },
        ...(method === 'GET' ? {} : { body: Uint8Array.from(body) }),
        cache: 'no-store',
        signal,
      });
    } catch (cause) {
      throw new SchoolAway('The school cannot be reached.', { cause });
    }
    if (response.ok) return response;
    const refusal = Refusal.safeParse(await response.json().catch(() => null));
    if (!refusal.success) throw new SchoolAway('What answers is not the school.');
    if (again && response.headers.get('x-talkround-clock') === 'off') {
      offset = refusal.data.now - parts.now();
      return send(school, method, path, body, signal, false);
    }
    throw new SchoolSaidNo(response.status, refusal.data.error);
  }

  async function asked<T>(
    schema: z.ZodType<T>,
    school: string,
    method: string,
    path: string,
    body?: unknown,
  ): Promise<T> {
    const bytes = body === undefined ? undefined : new TextEncoder().encode(JSON.stringify(body));
    return read(schema, await send(school, method, path, bytes));
  }

  async function read<T>(schema: z.ZodType<T>, response: Response): Promise<T> {
    let json: unknown;
    try {
      json = await response.json();
    } catch (cause) {
      throw new SchoolAway('The answer of the school was cut off.', { cause });
    }
    const answer = schema.safeParse(json);
    if (!answer.success)
      throw new SchoolAway('The school answers in a way that this app cannot read.');
    return answer.data;
  }

  const text = (words: string) => new TextEncoder().encode(words);

  return {
    invited: (code: string, publicKey: string) =>
      asked(Invited, '', 'POST', 'invited', { code, publicKey, device: parts.device }),
    join: (request: JoinRequest) =>
      asked(zod.object({ school: zod.string() }), '', 'POST', 'join', request),
    askIn: (school: string, publicKey: string, name: string) =>
      asked(Invitation, '', 'POST', 'desk/ask', { school, publicKey, name, device: parts.device }),
    /** What a browser is asked for, so that somebody signs this desk in with a passkey. */
    askToSignIn: (school: string, publicKey: string, name: string) =>
      asked(SignInWish, '', 'POST', 'desk/passkey/ask', {
        school,
        publicKey,
        name,
        device: parts.device,
      }),
    signIn: (school: string, publicKey: string, name: string, answer: PasskeyUsed) =>
      asked(Named, '', 'POST', 'desk/passkey', {
        school,
        publicKey,
        name,
        device: parts.device,
        answer,
      }),

    in: (school: string) => ({
      hello: async (editions: readonly string[]) => {
        const hello = await asked(Hello, school, 'POST', 'hello', { editions });
        offset = hello.now - parts.now();
        return hello;
      },
      events: async (lines: readonly string[]) =>
        read(Taken, await send(school, 'POST', 'events', text(lines.join('\n')))),
      feed: (after: string | null) =>
        asked(FeedPage, school, 'GET', `feed${after === null ? '' : `?after=${after}`}`),
      /** Pieces that the school has not got of this device, page by page. */
      wanted: (after: string | null) =>
        asked(
          Wanted,
          school,
          'GET',
          `wanted${after === null ? '' : `?after=${encodeURIComponent(after)}`}`,
        ),
      givePieces: async (pieces: readonly Piece[]) =>
        read(PiecesTaken, await send(school, 'POST', 'pieces', packed(pieces))),
      sound: async (hash: string) => bytesOf(await send(school, 'GET', `sound/${hash}`)),
      picture: async (hash: string) => bytesOf(await send(school, 'GET', `pictures/${hash}`)),
      /** Of these pictures, those that the school has and this device may see. */
      picturesHere: async (hashes: readonly string[]) =>
        (
          await asked(zod.object({ here: zod.array(zod.string()) }), school, 'POST', 'pictures', {
            hashes,
          })
        ).here,
      edition: async (edition: string): Promise<unknown> =>
        read(zod.unknown(), await send(school, 'GET', `editions/${edition}`)),
      giveEdition: async (catalogue: string, current: boolean) =>
        read(
          Edition,
          await send(school, 'PUT', current ? 'editions/current' : 'editions', text(catalogue)),
        ),
      /** The stream of news, to be read as it comes. */
      live: (signal: AbortSignal) => send(school, 'GET', 'live', undefined, signal),

      letDeskIn: (code: string) => asked(Named, school, 'POST', 'desk/let', { code }),
      leaveDesk: () => asked(Nothing, school, 'POST', 'desk/leave', {}),
      walks: (before: string | null) =>
        asked(Walks, school, 'GET', `walks${before === null ? '' : `?before=${before}`}`),
      people: async () =>
        (await asked(zod.object({ people: zod.array(Person) }), school, 'GET', 'people')).people,
      addPerson: (name: string, roles: readonly Role[]) =>
        asked(zod.object({ id: zod.string() }), school, 'POST', 'people', { name, roles }),
      changePerson: (id: string, change: PersonChange) =>
        asked(Nothing, school, 'POST', `people/${id}`, change),
      eraseSoundOf: (id: string) =>
        asked(
          zod.object({ recordings: zod.number(), pictures: zod.number() }),
          school,
          'DELETE',
          `people/${encodeURIComponent(id)}/sound`,
        ),
      devices: async () =>
        (await asked(zod.object({ devices: zod.array(DeviceLine) }), school, 'GET', 'devices'))
          .devices,
      shutOut: (device: string) => asked(Nothing, school, 'POST', `devices/${device}/shut`, {}),
      invite: (person: string | null) =>
        asked(Invitation, school, 'POST', 'invitations', { person }),
      setTerms: (terms: Terms) => asked(Nothing, school, 'PUT', 'terms', terms),

      askToAddPasskey: () => asked(PasskeyWish, school, 'POST', 'passkeys/ask', {}),
      addPasskey: (name: string, made: PasskeyMade) =>
        asked(zod.object({ id: zod.string() }), school, 'POST', 'passkeys', { name, made }),
      passkeys: async () =>
        (await asked(zod.object({ passkeys: zod.array(PasskeyLine) }), school, 'GET', 'passkeys'))
          .passkeys,
      removePasskey: (id: string) => asked(Nothing, school, 'DELETE', `passkeys/${id}`),
      fleet: () => asked(Fleet, school, 'GET', 'fleet'),
      addAircraft: (name: string, catalogue: string) =>
        asked(zod.object({ id: zod.string() }), school, 'POST', 'aircraft', { name, catalogue }),
      changeAircraft: (id: string, change: AircraftChange) =>
        asked(Nothing, school, 'POST', `aircraft/${id}`, change),
      phrases: (after: string | null) =>
        asked(PhrasePage, school, 'GET', `phrases${after === null ? '' : `?after=${after}`}`),
      erasePhrasesOf: (id: string) =>
        asked(
          zod.object({ phrases: zod.number() }),
          school,
          'DELETE',
          `people/${encodeURIComponent(id)}/phrases`,
        ),
    }),
  };
}

export interface PersonChange {
  readonly roles?: readonly Role[];
  readonly voice?: boolean;
  readonly students?: readonly string[];
  readonly gone?: boolean;
}

export interface AircraftChange {
  readonly name?: string;
  readonly catalogue?: string;
  readonly retired?: boolean;
}

export type SchoolApi = ReturnType<typeof schoolApi>;
export type InSchool = ReturnType<SchoolApi['in']>;
