import { ed25519 } from '@noble/curves/ed25519.js';
import { hexToBytes } from '@noble/hashes/utils.js';

/**
 * The device's own key. Ed25519 (RFC 8032); the private half never leaves the
 * device, and where the browser can, not even this program can read it.
 */
export interface SealKey {
  /** Raw 32 bytes, base64url without padding. */
  readonly publicKey: string;
  /** Signature over the 32 bytes of a hash given in hex; 64 bytes, base64url. */
  sign(hash: string): Promise<string>;
}

/** What is kept of a key. A CryptoKey is kept as it is: the database can hold what a program cannot read. */
export type KeptKey =
  | { readonly kind: 'webcrypto'; readonly publicKey: string; readonly privateKey: CryptoKey }
  | { readonly kind: 'bytes'; readonly publicKey: string; readonly secret: Uint8Array };

/** base64url without padding (RFC 4648, section 5). */
export function toBase64Url(bytes: Uint8Array): string {
  let text = '';
  for (const byte of bytes) text += String.fromCharCode(byte);
  return btoa(text).replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');
}

/**
 * The bytes, or null when the text is not base64url. The last letter may say more
 * than the bytes need; unless those bits are zero it is refused (RFC 4648, section
 * 3.5), or one key and one signature could be written in several ways, and a
 * changed letter would go unnoticed.
 */
export function fromBase64Url(text: string): Uint8Array | null {
  if (!/^[\w-]*$/.test(text)) return null;
  try {
    const binary = atob(text.replaceAll('-', '+').replaceAll('_', '/'));
    const bytes = Uint8Array.from(binary, (c) => c.charCodeAt(0));
    return toBase64Url(bytes) === text ? bytes : null;
  } catch {
    return null;
  }
}

/** A new key: non-extractable where WebCrypto knows Ed25519, else bytes. */
export async function makeKey(subtle: SubtleCrypto | undefined): Promise<KeptKey> {
  if (subtle !== undefined) {
    try {
      const pair = await subtle.generateKey('Ed25519', false, ['sign', 'verify']);
      if ('privateKey' in pair) {
        const raw = new Uint8Array(await subtle.exportKey('raw', pair.publicKey));
        return {
          kind: 'webcrypto',
          publicKey: toBase64Url(raw),
          privateKey: pair.privateKey,
        };
      }
    } catch {
      // Older browsers do not know the algorithm. The key of bytes is the same
      // key to everybody who verifies.
    }
  }
  const { secretKey, publicKey } = ed25519.keygen();
  return { kind: 'bytes', publicKey: toBase64Url(publicKey), secret: secretKey };
}

/** The kept key, ready to sign. */
export function keyOf(kept: KeptKey, subtle: SubtleCrypto | undefined): SealKey {
  return {
    publicKey: kept.publicKey,
    async sign(hash) {
      const message = Uint8Array.from(hexToBytes(hash));
      if (kept.kind === 'bytes') return toBase64Url(ed25519.sign(message, kept.secret));
      if (subtle === undefined)
        throw new Error('The key of this device needs a secure page (https).');
      return toBase64Url(new Uint8Array(await subtle.sign('Ed25519', kept.privateKey, message)));
    },
  };
}

/**
 * Signatures that were looked at last: each takes 5 ms, and the judge, the check of
 * the chain and the meeting of its key ask for the same one. The answer depends on
 * nothing but what was asked.
 */
const looked = new Map<string, boolean>();
const LOOKED = 10_000;

/** true when the signature over the hash is the key's. Strict RFC 8032; never throws. */
export function sealHolds(publicKey: string, signature: string, hash: string): boolean {
  const question = `${publicKey} ${signature} ${hash}`;
  const known = looked.get(question);
  if (known !== undefined) return known;
  const holds = verified(publicKey, signature, hash);
  if (looked.size >= LOOKED) looked.clear();
  looked.set(question, holds);
  return holds;
}

function verified(publicKey: string, signature: string, hash: string): boolean {
  const key = fromBase64Url(publicKey);
  const sign = fromBase64Url(signature);
  if (key?.length !== 32 || sign?.length !== 64 || !/^[0-9a-f]{64}$/.test(hash)) return false;
  try {
    return ed25519.verify(sign, hexToBytes(hash), key, { zip215: false });
  } catch {
    // Not a point of the curve: nobody has signed with it.
    return false;
  }
}
