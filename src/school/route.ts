import { z } from 'zod';
import type { Role } from '#shared/school';
import type { Parts } from './parts.ts';
import type { Party } from './party.ts';
import { note } from './people.ts';
import { Refused } from './refused.ts';
import type { Caller } from './roles.ts';

/** A request whose signature and size hold. */
export interface Asked {
  readonly parts: Parts;
  readonly caller: Caller;
  readonly body: Uint8Array;
  /** The variable parts of the path, in order. */
  readonly path: readonly string[];
  readonly query: URLSearchParams;
  /** Where passkeys hold; null: not at the address that was asked. */
  readonly party: Party | null;
}

export type Answer =
  { readonly json: unknown } | { readonly bytes: Uint8Array } | { readonly text: string };

export interface Route {
  readonly method: 'GET' | 'POST' | 'PUT' | 'DELETE';
  /** "*" stands for one part. */
  readonly path: string;
  /** Who may; left out: every device that is in. */
  readonly roles?: readonly Role[];
  /** Bytes of the body at most; left out: none. */
  readonly limit?: number;
  run(asked: Asked): Promise<Answer>;
}

/** A route before a device is in: signed by the key that the body names. */
export interface OpenRoute {
  readonly path: string;
  run(parts: Parts, body: unknown, party: Party | null): Promise<Answer>;
}

/** Bytes of an ordinary request: names and roles. */
export const SMALL = 16 * 1024;

export const CHIEF = ['chief'] as const;

/** A desk that asks to be let in. */
export const Desk = z.object({
  school: z.string().max(40),
  device: z.string().regex(/^[\w-]{1,80}$/),
  publicKey: z.string().max(50),
  name: z.string().max(80),
});

/** Half a letter, and the one that no database keeps: nobody's name, and no id, has them. */
const isOdd = (words: string) => words.includes('\u0000') || /\p{Cs}/u.test(words);

/** Reads a JSON body; throws `Refused` with what is wrong. */
export function bodyAs<T>(schema: z.ZodType<T>, body: Uint8Array): T {
  let json: unknown;
  let odd = false;
  try {
    json = JSON.parse(new TextDecoder().decode(body), (key, value: unknown) => {
      odd ||= isOdd(key) || (typeof value === 'string' && isOdd(value));
      return value;
    });
  } catch {
    throw new Refused(400, 'What was sent is not JSON.');
  }
  if (odd) throw new Refused(400, 'What was sent has a letter that is none.');
  return parsed(schema, json);
}

/** The same of what was read already. */
export function parsed<T>(schema: z.ZodType<T>, json: unknown): T {
  const read = schema.safeParse(json);
  if (read.success) return read.data;
  const [issue] = read.error.issues;
  throw new Refused(
    400,
    `What was sent cannot be read: "${issue?.path.map(String).join('.') ?? ''}": ${issue?.message ?? 'unknown'}.`,
  );
}

/** What somebody did to the school, for its own record. */
export function deed(parts: Parts, caller: Caller, kind: string, of: string): Promise<void> {
  const { database, clock } = parts;
  return note(database, clock, caller.school, caller.person ?? caller.device, kind, of);
}
