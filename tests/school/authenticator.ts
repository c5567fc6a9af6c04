import { createHash, generateKeyPairSync, randomBytes, sign, type KeyObject } from 'node:crypto';
import { encode } from 'cborg';
import type { PasskeyMade, PasskeyUsed, PasskeyWish, SignInWish } from '#shared/passkey';

/*
 * An authenticator and the browser before it, in software: ES256 (P-256), CBOR by
 * a library of its own, after W3C Web Authentication Level 3, sections 5.8.1 and
 * 6.1, and RFC 9053 for the key, from memory. Each of its answers can be wrong in one way.
 */

const base64 = (bytes: Uint8Array) => Buffer.from(bytes).toString('base64url');
const sha256 = (bytes: Uint8Array | string) => createHash('sha256').update(bytes).digest();

/** Flags of the authenticator data: somebody was there, it was they, a credential is attached. */
const UP = 0x01;
const UV = 0x04;
const AT = 0x40;

export interface Wrong {
  /** The page that asked; left out: the school's own. */
  readonly origin?: string;
  /** The name that the browser bound it to. */
  readonly rpId?: string;
  readonly crossOrigin?: boolean;
  readonly type?: string;
  /** Nobody proved who they are. */
  readonly unverified?: boolean;
  /** What it counts now; left out: one more. */
  readonly counter?: number;
  /** Signs with a key of somebody else's. */
  readonly forged?: boolean;
  readonly userHandle?: string;
}

export class Authenticator {
  readonly origin: string;
  readonly id = base64(randomBytes(32));
  counter = 0;
  handle = '';
  readonly #key: { readonly privateKey: KeyObject; readonly publicKey: KeyObject };

  constructor(origin: string) {
    this.origin = origin;
    this.#key = generateKeyPairSync('ec', { namedCurve: 'P-256' });
  }

  #clientData(type: string, challenge: string, wrong: Wrong): Uint8Array {
    return Buffer.from(
      JSON.stringify({
        type: wrong.type ?? type,
        challenge,
        origin: wrong.origin ?? this.origin,
        crossOrigin: wrong.crossOrigin ?? false,
      }),
    );
  }

  #data(rpId: string, wrong: Wrong, attached: Uint8Array = new Uint8Array()): Buffer {
    const head = Buffer.alloc(5);
    head[0] = UP | (wrong.unverified === true ? 0 : UV) | (attached.length > 0 ? AT : 0);
    this.counter = wrong.counter ?? this.counter + 1;
    head.writeUInt32BE(this.counter, 1);
    return Buffer.concat([sha256(wrong.rpId ?? rpId), head, attached]);
  }

  /** Makes a passkey. */
  make(wish: PasskeyWish, wrong: Wrong = {}): PasskeyMade {
    this.handle = wish.user.id;
    const { x = '', y = '' } = this.#key.publicKey.export({ format: 'jwk' });
    const cose = encode(
      new Map<number, unknown>([
        [1, 2],
        [3, -7],
        [-1, 1],
        [-2, Uint8Array.from(Buffer.from(x, 'base64url'))],
        [-3, Uint8Array.from(Buffer.from(y, 'base64url'))],
      ]),
    );
    const id = Buffer.from(this.id, 'base64url');
    const length = Buffer.alloc(2);
    length.writeUInt16BE(id.length);
    const attached = Buffer.concat([Buffer.alloc(16), length, id, cose]);
    const authData = Uint8Array.from(this.#data(wish.rp.id, wrong, attached));
    return {
      id: this.id,
      rawId: this.id,
      type: 'public-key',
      response: {
        clientDataJSON: base64(this.#clientData('webauthn.create', wish.challenge, wrong)),
        attestationObject: base64(encode({ fmt: 'none', attStmt: {}, authData })),
      },
    };
  }

  /** Signs a challenge. */
  use(wish: SignInWish, wrong: Wrong = {}): PasskeyUsed {
    const clientData = this.#clientData('webauthn.get', wish.challenge, wrong);
    const data = this.#data(wish.rpId, wrong);
    const { privateKey } =
      wrong.forged === true ? generateKeyPairSync('ec', { namedCurve: 'P-256' }) : this.#key;
    const signature = sign('sha256', Buffer.concat([data, sha256(clientData)]), privateKey);
    return {
      id: this.id,
      rawId: this.id,
      type: 'public-key',
      response: {
        clientDataJSON: base64(clientData),
        authenticatorData: base64(data),
        signature: base64(signature),
        userHandle: wrong.userHandle ?? this.handle,
      },
    };
  }
}
