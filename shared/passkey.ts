import { z } from 'zod';

/**
 * What a desk and its school tell each other about passkeys (W3C Web
 * Authentication Level 3, the JSON forms of its section 5.1): only the fields that are used.
 */

/** Letters of what an authenticator gives, base64url, at most: a few hundred bytes are usual. */
const LONGEST = 8_192;
const Bytes = z
  .string()
  .max(LONGEST)
  .regex(/^[\w-]*$/);

/** What a browser is asked for to make a passkey. */
export const PasskeyWish = z.object({
  challenge: Bytes,
  rp: z.object({ id: z.string(), name: z.string() }),
  user: z.object({ id: Bytes, name: z.string(), displayName: z.string() }),
  pubKeyCredParams: z.array(z.object({ type: z.literal('public-key'), alg: z.number().int() })),
  timeout: z.number(),
  excludeCredentials: z.array(z.object({ type: z.literal('public-key'), id: Bytes })),
  authenticatorSelection: z.object({
    residentKey: z.literal('required'),
    requireResidentKey: z.literal(true),
    userVerification: z.literal('required'),
  }),
  attestation: z.literal('none'),
});
export type PasskeyWish = z.infer<typeof PasskeyWish>;

/** What a browser is asked for to sign in; which passkey it is, its holder chooses. */
export const SignInWish = z.object({
  challenge: Bytes,
  rpId: z.string(),
  timeout: z.number(),
  userVerification: z.literal('required'),
});
export type SignInWish = z.infer<typeof SignInWish>;

/** A passkey that was made. */
export const PasskeyMade = z.object({
  id: Bytes,
  rawId: Bytes,
  type: z.literal('public-key'),
  response: z.object({ clientDataJSON: Bytes, attestationObject: Bytes }),
});
export type PasskeyMade = z.infer<typeof PasskeyMade>;

/** A challenge that a passkey has signed. */
export const PasskeyUsed = z.object({
  id: Bytes,
  rawId: Bytes,
  type: z.literal('public-key'),
  response: z.object({
    clientDataJSON: Bytes,
    authenticatorData: Bytes,
    signature: Bytes,
    userHandle: Bytes.optional(),
  }),
});
export type PasskeyUsed = z.infer<typeof PasskeyUsed>;

/** A passkey as the desk lists it. */
export const PasskeyLine = z.object({
  id: z.string(),
  person: z.object({ id: z.string(), name: z.string() }),
  /** What its holder calls it. */
  name: z.string(),
  /** Milliseconds since 1970. */
  added: z.number(),
  used: z.number().nullable(),
  /** It counted backwards, so that it may have been copied: it is shut. */
  copied: z.boolean(),
});
export type PasskeyLine = z.infer<typeof PasskeyLine>;
