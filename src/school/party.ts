import { isIP } from 'node:net';

/** Where passkeys of a school hold: a relying party, in the words of Web Authentication. */
export interface Party {
  /** The name; passkeys are bound to it by the browser. */
  readonly id: string;
  /** Pages that may ask for them. */
  readonly origins: readonly string[];
}

/**
 * Under which name somebody asks, from the Host of the request, which the server
 * has compared with its own names. Null: passkeys hold for names only, and over
 * HTTPS only, but for this very machine. A page that relays another name gains
 * nothing: a passkey is bound to the name that it was made under.
 */
export function partyOf(host: string | undefined): Party | null {
  const secure = `https://${host ?? ''}`;
  if (host === undefined || !URL.canParse(secure)) return null;
  const { hostname: id, origin } = new URL(secure);
  if (id === '' || id.startsWith('[') || isIP(id) !== 0) return null;
  const here = id === 'localhost' || id.endsWith('.localhost');
  return { id, origins: here ? [origin, new URL(`http://${host}`).origin] : [origin] };
}
